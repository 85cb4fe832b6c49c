"""Calendar links: made once, renewed once, revoked for good."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction

from jobs.access import feed_by_token
from jobs.domain.link_token import token_hash
from jobs.models import AuditLine, CalendarFeed, User
from jobs.services.feeds.links import address_of, open_feed, revoke_feed
from tests.builders import make_company, make_crew, make_person

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    return make_person(make_company())


def opened(owner: User, version: int = 0) -> CalendarFeed:
    assert owner.company is not None
    return open_feed(company=owner.company, user=owner, version=version)


def test_only_the_hash_of_its_word_is_kept(owner: User) -> None:
    feed = opened(owner)
    assert CalendarFeed.objects.get().token_hash == token_hash(feed.token)
    assert feed.token not in str(CalendarFeed.objects.values().get())
    assert address_of(feed).endswith(f"/f/{feed.token}.ics")


def test_made_twice_it_is_one_link(owner: User) -> None:
    assert opened(owner).token == opened(owner).token


def test_renewed_twice_by_one_form_it_is_renewed_once(owner: User) -> None:
    before = opened(owner).token
    after = opened(owner, version=1).token
    assert opened(owner, version=1).token == after != before


def test_a_link_renewed_revoked_or_of_somebody_gone_opens_nothing(owner: User) -> None:
    from django.http import Http404

    first = opened(owner).token
    second = opened(owner, version=1)
    with pytest.raises(Http404):
        feed_by_token(first)
    assert feed_by_token(second.token) == second
    owner.is_active = False
    owner.save()
    with pytest.raises(Http404):
        feed_by_token(second.token)
    owner.is_active = True
    owner.save()
    revoke_feed(feed=second, user=owner)
    with pytest.raises(Http404):
        feed_by_token(second.token)


def test_after_a_change_of_the_secret_the_next_copy_opens(owner: User, settings: object) -> None:
    feed = opened(owner)
    settings.SECRET_KEY = "another secret of thirty-two signs and more"  # type: ignore[attr-defined]
    word = address_of(CalendarFeed.objects.get()).rpartition("/")[2].removesuffix(".ics")
    assert feed_by_token(word) == feed


def test_what_was_done_with_links_is_written_down(owner: User) -> None:
    revoke_feed(feed=opened(owner), user=owner)
    acts = AuditLine.objects.order_by("pk").values_list("act", flat=True)
    assert list(acts) == [
        f"Made the calendar link of {owner.name}",
        f"Revoked the calendar link of {owner.name}",
    ]


def test_a_link_is_of_a_crew_or_of_a_person(owner: User) -> None:
    assert owner.company is not None
    crew = make_crew(owner.company)
    for whose in ({}, {"crew": crew, "person": owner}):
        with pytest.raises(IntegrityError), transaction.atomic():
            CalendarFeed.objects.create(company=owner.company, token_hash="x", **whose)
