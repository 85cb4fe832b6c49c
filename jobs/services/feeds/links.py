"""Calendar links: made, renewed where one got into the wrong hands, revoked."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.utils import timezone

from jobs.domain.link_token import token_hash
from jobs.http import whole_address
from jobs.models import CalendarFeed, Company, Crew, User
from jobs.services.records import audit


@transaction.atomic
def open_feed(
    *, company: Company, user: User, version: int, crew: Crew | None = None
) -> CalendarFeed:
    """Return the calendar link of ``crew``, or of the user where none is named, open from now on.

    ``version`` is that of the link that the user saw, 0 for none. A link that was renewed since
    stays as it is, so that a form sent twice renews it once; the link before opens nothing more.
    """
    whose = {"crew": crew} if crew else {"person": user}
    locked = CalendarFeed.objects.select_for_update(of=("self",))
    feed = locked.filter(company=company, **whose).first()
    if feed is None:
        new = CalendarFeed(company=company, token_hash=secrets.token_hex(32), **whose)
        new.save()
        return _opened(new, user, "Made the calendar link")
    if feed.version != version:
        return feed
    feed.version += 1
    feed.revoked_at = None
    feed.read_at = None
    return _opened(feed, user, "Made a new calendar link")


@transaction.atomic
def revoke_feed(*, feed: CalendarFeed, user: User) -> CalendarFeed:
    """Return the link, which opens nothing any more."""
    feed = CalendarFeed.objects.select_for_update(of=("self",)).get(pk=feed.pk)
    if feed.revoked_at is None:
        feed.revoked_at = timezone.now()
        feed.save(update_fields=["revoked_at"])
        _note(feed, user, "Revoked the calendar link")
    return feed


def address_of(feed: CalendarFeed) -> str:
    """Return the whole address that an open link is, computed afresh; kept nowhere.

    Where the site's secret was changed since, the hash is written anew: what was copied before
    opens nothing, what is copied from now on does.
    """
    if token_hash(feed.token) != feed.token_hash:
        _stamp(feed)
    return whole_address("feed", feed.token)


def _opened(feed: CalendarFeed, user: User, act: str) -> CalendarFeed:
    _stamp(feed)
    _note(feed, user, act)
    return feed


def _stamp(feed: CalendarFeed) -> None:
    feed.token_hash = token_hash(feed.token)
    feed.save()


def _note(feed: CalendarFeed, user: User, act: str) -> None:
    subject = f"crew {feed.crew_id}" if feed.crew_id else f"person {feed.person_id}"
    audit(user=user, company=feed.company, subject=subject, act=f"{act} of {feed.whose}")
