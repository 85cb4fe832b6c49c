"""Production rates on their page: starting ones until a company sets its own."""

from __future__ import annotations

from decimal import Decimal
from itertools import count
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.scope.rates import ProductionRate, find_rate
from jobs.models import PastRate, Rate, User
from jobs.readers.rates.history import history_of
from jobs.readers.scope import company_rates
from jobs.services.rates import take_rates
from tests.queries import assert_same_queries

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


def page_of(visitor: Visitor, name: str = "rate-list", query: str = "") -> str:
    return " ".join(visitor.get(reverse(name) + query).content.decode().split())


def test_a_rate_says_whether_it_is_a_default_set_or_from_the_logs(
    visitor: Visitor, owner: User
) -> None:
    assert ">your own<" not in page_of(visitor)
    visitor.post(reverse("rate-set"), typed())
    assert ">your own<" in page_of(visitor)
    assert owner.company is not None
    learned = ProductionRate(
        task_code="lay",
        driver="pieces",
        hours=Decimal("0.02"),
        source="learned from 3 jobs",
        jobs=3,
    )
    take_rates(company=owner.company, user=owner, key="take", rates=[learned])
    page = page_of(visitor)
    assert "from your logs" in page
    assert "3 closed jobs" in page


def test_every_rate_that_a_work_had_stands_in_its_history(visitor: Visitor, owner: User) -> None:
    visitor.post(reverse("rate-set"), typed())
    visitor.post(reverse("rate-set"), typed(key="k2", hours="2.75", source="timed again"))
    visitor.post(reverse("rate-remove", args=[Rate.objects.get().pk]))
    visitor.post(reverse("rate-set"), typed(key="k3", hours="3"))
    assert owner.company is not None
    history = history_of(owner.company, ("lay", "floor_area", ""))
    assert [str(then.hours.normalize()) for then in history] == ["3", "2.75", "2.5", "2"]
    page = page_of(visitor, "rate-set", "?task=lay&driver=floor_area&item=")
    assert "timed again" in page
    assert page.count("default†") == 1


def test_a_rate_saved_as_it_was_has_no_past(visitor: Visitor) -> None:
    visitor.post(reverse("rate-set"), typed())
    visitor.post(reverse("rate-set"), typed(key="k2"))
    assert not PastRate.objects.exists()


def test_a_rate_that_somebody_else_changed_leaves_no_past_of_ones_own(visitor: Visitor) -> None:
    visitor.post(reverse("rate-set"), typed())
    visitor.post(reverse("rate-set"), typed(key="k2", hours="3"))
    visitor.post(reverse("rate-set"), typed(key="k3", hours="4"))
    assert PastRate.objects.count() == 1


def test_a_rate_set_anew_is_no_longer_from_the_logs(visitor: Visitor, owner: User) -> None:
    assert owner.company is not None
    figures = {"task": "lay", "driver": "floor_area", "hours": 2, "per": 100}
    Rate.objects.create(company=owner.company, jobs=4, source="learned from 4 jobs", **figures)
    visitor.post(reverse("rate-set"), typed())
    assert Rate.objects.get().jobs == 0


def test_a_rate_opened_from_a_price_leads_back_to_it(visitor: Visitor) -> None:
    answer = visitor.post(reverse("rate-set") + "?job=7", typed())
    assert answer.headers["location"] == "/jobs/7/price"


def test_html_in_a_source_stays_text(visitor: Visitor) -> None:
    visitor.post(reverse("rate-set"), typed(source="<script>x</script>"))
    assert "<script>x" not in page_of(visitor)


def test_the_history_of_a_rate_is_read_at_once(visitor: Visitor, owner: User) -> None:
    company = owner.company
    assert company is not None
    numbers = count(1)

    def make_rows(rows: int) -> None:
        for _ in range(rows):
            rate = {"task": "lay", "driver": "floor_area", "hours": next(numbers), "per": 100}
            PastRate.objects.create(company=company, set_at=owner.date_joined, **rate)

    url = reverse("rate-set") + "?task=lay&driver=floor_area&item="
    assert_same_queries(visitor, url, make_rows)
