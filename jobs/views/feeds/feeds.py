"""Calendar links: the page of them, the forms that make and revoke one, the calendar itself."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    crew_of_owner,
    feed_by_token,
    feed_for,
    signed_in,
)
from jobs.calendar import feed_calendar
from jobs.clock import time_zone_of
from jobs.domain.numerals import whole_number
from jobs.http import go_to, render_page
from jobs.models import Crew
from jobs.readers.feeds.days import calendar_name
from jobs.readers.feeds.links import FeedLine, feed_lines
from jobs.services.feeds.links import address_of, open_feed, revoke_feed
from jobs.services.feeds.publish import publish


@never_cache
@require_safe
def feed(request: HttpRequest, token: str) -> HttpResponse:
    """The days of a crew or person as a calendar (RFC 5545), for whoever has the link."""
    row = feed_by_token(token)
    company = row.company
    events = publish(feed=row, now=timezone.now())
    name, zone = calendar_name(row), time_zone_of(company)
    return HttpResponse(
        feed_calendar(name=name, zone=zone, events=events),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": 'inline; filename="days.ics"'},
    )


@require_safe
@signed_in
def feed_list(request: SignedInRequest) -> HttpResponse:
    """The calendar links of this person, and for the owner those of the crews."""
    lines = feed_lines(company_of(request), request.user)
    context = {"lines": [_shown(line) for line in lines], "company": company_of(request)}
    return render_page(request, "jobs/feeds/feeds.html", context)


@require_POST
@signed_in
def feed_person(request: SignedInRequest) -> HttpResponse:
    """Make or renew the link of the person's calendar."""
    return _open(request, None)


@require_POST
@signed_in
def feed_crew(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make or renew the link of a crew's calendar."""
    return _open(request, crew_of_owner(request, pk))


@require_POST
@signed_in
def feed_revoke(request: SignedInRequest, pk: int) -> HttpResponse:
    """Let a link open nothing any more."""
    row = revoke_feed(feed=feed_for(request, pk), user=request.user)
    messages.success(request, f"The calendar link of {row.whose} opens nothing any more.")
    return go_to(request, "feed-list")


def _open(request: SignedInRequest, crew: Crew | None) -> HttpResponse:
    typed = request.POST.get("version", "")
    version = whole_number(typed) or 0
    row = open_feed(company=company_of(request), user=request.user, version=version, crew=crew)
    messages.success(request, f"The calendar link of {row.whose} is open.")
    return go_to(request, "feed-list")


def _shown(line: FeedLine) -> dict[str, object]:
    """Return a line with its address, as https and as calendar programs open it by themselves."""
    address = address_of(line.feed) if line.feed and line.is_open else ""
    return {"line": line, "address": address, "program": f"webcal:{address.partition(':')[2]}"}
