"""Pages behind a link answer one address so often a minute; pages of the office always."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.core.cache import cache
from django.test import Client as Visitor
from django.urls import reverse
from pytest_django import Settings
from time_machine import travel

from tests.builders import make_company, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db

MOST = 10
AT = "2027-03-01 15:00:00Z"


@pytest.fixture(autouse=True)
def _few(settings: Settings) -> Iterator[None]:
    settings.LINK_REQUESTS = MOST
    cache.clear()
    yield
    cache.clear()


@pytest.mark.parametrize("name", ["quote-public", "change-public", "passport-public", "feed"])
def test_links_rest_an_address_that_asks_too_often(name: str) -> None:
    address = reverse(name, args=["guessed"])
    visitor = Visitor()
    statuses = [visitor.get(address).status_code for _ in range(MOST + 1)]
    assert statuses == [404] * MOST + [429]
    answer = visitor.get(address)
    assert "Wait 60 seconds" in words(answer)
    assert answer.headers["Retry-After"] == "60"


def test_links_are_counted_together_and_by_address() -> None:
    for name in ("quote-public", "passport-public"):
        for _ in range(MOST // 2):
            Visitor().get(reverse(name, args=["guessed"]))
    again = reverse("change-public", args=["guessed"])
    assert Visitor().get(again).status_code == 429
    assert Visitor(REMOTE_ADDR="203.0.113.9").get(again).status_code == 404


def test_after_a_minute_a_link_answers_again() -> None:
    address = reverse("quote-public", args=["guessed"])
    with travel(AT, tick=False) as clock:
        for _ in range(MOST + 1):
            answer = Visitor().get(address)
        assert answer.status_code == 429
        clock.shift(61)
        assert Visitor().get(address).status_code == 404


def test_pages_of_the_office_are_not_counted() -> None:
    visitor = Visitor()
    visitor.force_login(make_person(make_company()))
    assert {visitor.get(reverse("job-list")).status_code for _ in range(MOST * 2)} == {200}
