"""The one clock of pages, papers and lists: today and now where the company works.

Moments are stored in UTC. Code that names a day or an hour asks here. Templates name those of the
company while `local_to` holds: on every page of a signed-in person (`company_time`), on a
homeowner's page, in an errand, in a command.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from django.conf import settings
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

if TYPE_CHECKING:
    from jobs.models.company import Company

log = logging.getLogger(__name__)

Answer = Callable[[HttpRequest], HttpResponse]

_OF_ONE_MACHINE = {"localtime", "Factory"}
"""Names in the list of a machine that mean another time on the next one, or none."""


def is_time_zone(name: str) -> bool:
    """Whether ``name`` is that of a time zone, the same on every machine."""
    return name in available_timezones() - _OF_ONE_MACHINE


def time_zone_names() -> list[str]:
    """Return the name of every time zone, in order."""
    return sorted(available_timezones() - _OF_ONE_MACHINE)


def time_zone_of(company: Company, site_time_zone: str = "") -> tzinfo:
    """Return the time zone of the site where one is named, else that of the company.

    A name that this machine does not know is logged, and the site's own TIME_ZONE taken: the pages
    on which it is put right must open.
    """
    name = site_time_zone or company.time_zone
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        log.error("Time zone %r of %s is not known; its days are those of TIME_ZONE", name, company)
        return timezone.get_default_timezone()


def now_of(company: Company, site_time_zone: str = "") -> datetime:
    """Return the moment as the clock on the wall of the site, or of the company, shows it."""
    return timezone.localtime(timezone=time_zone_of(company, site_time_zone))


def today_of(company: Company, site_time_zone: str = "") -> date:
    """Return today's date at the site, or where the company works."""
    return now_of(company, site_time_zone).date()


def day_ends(company: Company, day: date) -> str:
    """Return the midnight at which a day ends where the company works, in ISO form."""
    midnight = datetime.combine(day + timedelta(days=1), datetime.min.time(), time_zone_of(company))
    return midnight.isoformat()


def day_of(moment: datetime, company: Company, site_time_zone: str = "") -> date:
    """Return the day on which a stored moment fell at the site, or where the company works.

    Raises ValueError for a moment without a time zone.
    """
    return timezone.localdate(moment, time_zone_of(company, site_time_zone))


def shown_to(company: Company, moment: datetime) -> datetime:
    """Return a stored moment as the clock on the company's wall showed it."""
    return timezone.localtime(moment, time_zone_of(company))


def on_the_wall(moment: datetime, zone: tzinfo) -> datetime:
    """Return a moment as clocks of a zone show it."""
    return timezone.localtime(moment, zone)


def lasting(begins: datetime, length: timedelta) -> datetime:
    """Return when something ends that lasts so long, in the zone in which it begins."""
    return timezone.localtime(timezone.localtime(begins, UTC) + length, begins.tzinfo)


@dataclass(frozen=True, kw_only=True, slots=True)
class ZoneRule:
    """What clocks of a zone show from a moment on: ``shown_before`` is what they showed at it.

    ``before`` and ``after`` are how far they are ahead of UTC; ``saves`` in summer time.
    """

    shown_before: datetime
    before: timedelta
    after: timedelta
    name: str
    saves: bool


def zone_rules(zone: tzinfo, first: datetime, last: datetime) -> list[ZoneRule]:
    """Return the rules of a zone between two moments: what holds first, then every change."""
    hour = timedelta(hours=1)
    moment = timezone.localtime(first, UTC).replace(minute=0, second=0, microsecond=0)
    rules = [_rule(zone, moment, _ahead(zone, moment))]
    while moment < last:
        before = _ahead(zone, moment)
        moment += hour
        if _ahead(zone, moment) != before:
            rules.append(_rule(zone, moment, before))
    return rules


def _rule(zone: tzinfo, moment: datetime, before: timedelta) -> ZoneRule:
    local = moment.astimezone(zone)
    return ZoneRule(
        shown_before=(moment + before).replace(tzinfo=None),
        before=before,
        after=_ahead(zone, moment),
        name=local.tzname() or "",
        saves=bool(local.dst()),
    )


def _ahead(zone: tzinfo, moment: datetime) -> timedelta:
    return moment.astimezone(zone).utcoffset() or timedelta()


@contextmanager
def local_to(company: Company, site_time_zone: str = "") -> Iterator[None]:
    """Let templates show every moment as the clock of the site, or of the company, showed it."""
    with timezone.override(time_zone_of(company, site_time_zone)):
        yield


def company_time(get_response: Answer) -> Answer:
    """Return the middleware that answers a signed-in person in the time of their company."""

    def answer(request: HttpRequest) -> HttpResponse:
        company = _company_signed_in(request)
        if company is None:
            return get_response(request)
        with local_to(company):
            return get_response(request)

    return answer


def _company_signed_in(request: HttpRequest) -> Company | None:
    """Return the company of the person who asks; without a session the database is not asked."""
    if settings.SESSION_COOKIE_NAME not in request.COOKIES:
        return None
    try:
        company: Company | None = getattr(request.user, "company", None)
    except DatabaseError:
        # Whether the database answers is for the page to say.
        return None
    return company
