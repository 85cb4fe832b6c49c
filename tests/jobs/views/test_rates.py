"""Production rates on their page: starting ones until a company sets its own."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.scope.rates import find_rate
from jobs.models import Rate, User
from jobs.readers.scope import company_rates

pytestmark = pytest.mark.django_db


def typed(**changes: Any) -> dict[str, Any]:
    form = {"work": "lay:floor_area", "item": "", "hours": "2.5", "per": "100", "source": "timed"}
    return {"key": "k1", "version": 1} | form | changes


def laying(owner: User) -> Decimal:
    assert owner.company is not None
    rate = find_rate(company_rates(owner.company), "lay", "floor_area", "")
    assert rate is not None
    return rate.hours


def test_the_page_says_that_starting_rates_are_no_measure(visitor: Visitor) -> None:
    page = visitor.get(reverse("rate-list")).content.decode()
    assert "common practice without a source: set your own" in page


def test_an_own_rate_counts_in_place_of_the_starting_one(visitor: Visitor, owner: User) -> None:
    assert laying(owner) == 2
    assert visitor.post(reverse("rate-set"), typed()).status_code == 303
    assert laying(owner) == Decimal("2.5")


def test_the_form_comes_with_the_rate_that_was_asked_for(visitor: Visitor) -> None:
    page = visitor.get(reverse("rate-set") + "?task=tear_out&driver=tear_out&item=tile")
    assert 'value="6"' in page.content.decode()


def test_a_dropped_rate_gives_way_to_the_starting_one(visitor: Visitor, owner: User) -> None:
    visitor.post(reverse("rate-set"), typed())
    visitor.post(reverse("rate-remove", args=[Rate.objects.get().pk]))
    assert laying(owner) == 2


def test_a_rate_that_somebody_else_changed_is_told(visitor: Visitor, owner: User) -> None:
    visitor.post(reverse("rate-set"), typed())
    visitor.post(reverse("rate-set"), typed(key="k2", hours="3"))
    late = visitor.post(reverse("rate-set"), typed(key="k3", hours="4"))
    assert late.status_code == 409
    assert laying(owner) == 3


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"hours": "-1"}, "“-1” can&#x27;t be used; accepted: a number from 0 to 999"),
        ({"per": "0"}, "“0” can&#x27;t be used; accepted: a number from 0.01 to 99999"),
        ({"work": "lay:toilets"}, "lay:toilets"),
    ],
)
def test_a_rate_that_cannot_be_is_refused(
    visitor: Visitor, changes: dict[str, str], said: str
) -> None:
    page = visitor.post(reverse("rate-set"), typed(**changes))
    assert page.status_code == 422
    assert said in page.content.decode()
