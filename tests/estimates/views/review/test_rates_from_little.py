"""Rates learned from one log, and from nonsense, on the page where a person takes them."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.views.review.learning import about
from jobs.models import Job
from tests.estimates.a_job import a_day, log
from tests.estimates.views.review.test_review import laying_hours

pytestmark = pytest.mark.django_db


def taught(visitor: Visitor, job: Job, *factors: str) -> str:
    """The page after days that took so many times the hours of laying, the job being closed."""
    usual = laying_hours(job)
    for number, factor in enumerate(factors, start=1):
        log(a_day(job, number), "lay", str(usual * Decimal(factor)), zone="Den")
    Job.objects.filter(pk=job.pk).update(closed_at="2027-04-01T12:00:00Z")
    return visitor.get(reverse("rates-learned")).content.decode()


def rates_on(page: str) -> list[tuple[float, float, float, float]]:
    """Each rate on the page: now, by the logs, and its range."""
    cells = {
        label: re.findall(rf'data-label="{label}">([^<]+)<', page)
        for label in ("Hours now", "Hours by the logs", "Range")
    }
    ranges = [tuple(float(end) for end in each.split(" to ")) for each in cells["Range"]]
    both = zip(cells["Hours now"], cells["Hours by the logs"], ranges, strict=True)
    return [(float(now), float(then), low, high) for now, then, (low, high) in both]


def test_one_log_of_twice_the_hours_moves_a_rate_by_less_than_that(
    visitor: Visitor, job: Job
) -> None:
    page = taught(visitor, job, "2")
    rates = rates_on(page)
    assert len(rates) == 4
    for now, by_logs, low, high in rates:
        assert now < by_logs < now * 1.9
        assert low < by_logs < high
        assert high - low > now / 3
    assert page.count("1 log,") == 4
    assert "logs far off" not in page


def test_one_log_of_nonsense_moves_a_rate_by_a_tenth_at_most_and_is_named(
    visitor: Visitor, job: Job
) -> None:
    page = taught(visitor, job, "12")
    assert all(now <= by_logs < now * 1.1 for now, by_logs, _, _ in rates_on(page))
    assert "Logs of Lay the floor that stand far off" in page
    assert "12.12" in page  # 1.01 h of laying, twelve times
    assert "A slip of the pen is put right in the log of the job" in page


def test_a_log_of_nonsense_among_others_moves_them_no_further(visitor: Visitor, job: Job) -> None:
    rates = rates_on(taught(visitor, job, "1", "1", "1", "12"))
    assert all(abs(by_logs / now - 1) < 0.1 for now, by_logs, _, _ in rates)


@pytest.mark.parametrize(
    ("hours", "said"),
    [("0.6811", "0.68"), ("1.3189", "1.3"), ("0.0072", "0.0072"), ("12.4", "12"), ("0", "0")],
)
def test_a_range_is_told_to_two_figures(hours: str, said: str) -> None:
    assert about(Decimal(hours)) == said
