"""What a job brings by the day on site, on its price page; another name changes no price.

The den is 60 by 49 in, 20.42 ft2. Only two things take time there: 34 h of setting up, and laying
at 4.9 h for 100 ft2, 1.00 h. Two people of eight hours, an hour on the road each day:

    Monday      1 + 15 of setting up                16 h    1
    Tuesday     1 + 15 of setting up                16 h    1
    Wednesday   1 +  4 of setting up + 1 of laying   6 h    0.5
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobPrice
from estimates.services.quotes import price_now
from jobs.domain.scope.rates import STARTING_RATES
from jobs.models import Company, FloorZone, Job, Rate, Room, User
from jobs.readers.scope import scope_value
from tests.builders import make_planned_job
from tests.estimates.a_job import TODAY, an_agreed_job, an_estimate, company_of
from tests.jobs.agreed import a_crew, laid_out
from tests.reading import words

pytestmark = pytest.mark.django_db

HOURS = {("setup", "visits"): Decimal(34), ("lay", "floor_area"): Decimal("4.9")}


def only_two_tasks(company: Company, hours: Mapping[tuple[str, str], Decimal] = HOURS) -> None:
    """Let nothing take time but setting up and laying, or what these hours are for."""
    Rate.objects.bulk_create(
        Rate(
            company=company,
            task=rate.task_code,
            driver=rate.driver,
            item=rate.item,
            hours=hours.get((rate.task_code, rate.driver), Decimal(0)),
            per=rate.per,
        )
        for rate in STARTING_RATES
    )


@pytest.fixture
def two_and_a_half(owner: User) -> Job:
    """A job of two and a half days, labor only: the sums need no material."""
    company = company_of(owner)
    only_two_tasks(company)
    job = make_planned_job(company)
    JobPrice.objects.create(job=job, labor_only=True)
    return job


def price_page(visitor: Visitor, job: Job) -> str:
    return page(visitor, "job-price", job)


def test_contribution_a_day_of_two_and_a_half_booked_days(
    visitor: Visitor, two_and_a_half: Job
) -> None:
    # 34 + 1 h and three trips are 38 h at 48: 1 824; with 12 % 2 042.88; / 0.75 = 2 723.84.
    # 2 723.84 - 1 824 = 899.84 for two days and a half: 359.936 each. By the hour of a crew's day,
    # as nobody is booked, it would be 899.84 x 16 / 38 = 378.88.
    priced = price_now(two_and_a_half, TODAY)[1]
    assert (priced.hours, priced.subtotal) == (Decimal(38), Decimal("2723.84"))
    assert (priced.days_on_site, priced.contribution) == (Decimal("2.5"), Decimal("899.84"))
    page = price_page(visitor, two_and_a_half)
    assert "Contribution a day on site" in page
    assert "$359.94" in page
    assert "by 2.5 days as booked" in page


CLEANED = {
    ("setup", "visits"): Decimal(28),
    ("clean", "visits"): Decimal(7),
    ("lay", "floor_area"): Decimal("4.9"),
}


def test_contribution_a_day_where_a_split_leaves_a_day_out(visitor: Visitor, owner: User) -> None:
    # Of 28 h of setting up, 1 of laying and 7 of cleaning 15 fit on each day beside the drive:
    # 15 | 13 + 1 + 1 | 6, which is 2.5 days and 39 h with three drives. At 48: 1 872; with 12 %
    # 2 096.64; / 0.75 = 2 795.52; 923.52 stay, by 2.5 days 369.41.
    company = company_of(owner)
    only_two_tasks(company, CLEANED)
    job = make_planned_job(company)
    JobPrice.objects.create(job=job, labor_only=True)
    whole = price_now(job, TODAY)[1]
    assert (whole.hours, whole.days_on_site) == (Decimal(39), Decimal("2.5"))
    assert (whole.subtotal, whole.contribution_per_day) == (Decimal("2795.52"), Decimal("369.41"))
    # The homeowner cleans: 15 | 13 + 1, two days and two drives, 31 h. At 48: 1 488; with 12 %
    # 1 666.56; / 0.75 = 2 222.08; 734.08 stay, by two days 367.04. The third drive is gone too.
    page = reverse("job-work-split", args=[job.pk])
    sent = {"clean": "on", "key": "k" * 20, "version": 1}
    said = words(visitor.post(page, sent, follow=True))
    assert "$573.44" in said
    scope, left = price_now(job, TODAY)
    assert (left.hours, left.days_on_site) == (Decimal(31), Decimal(2))
    assert (left.subtotal, left.contribution_per_day) == (Decimal("2222.08"), Decimal("367.04"))
    assert scope.schedule is not None
    assert [day.hours for day in scope.schedule.days] == [16, 15]
    assert "$367.04" in price_page(visitor, job)


def test_the_estimate_keeps_the_days_of_its_scope(owner: User, two_and_a_half: Job) -> None:
    scope = scope_value(an_estimate(owner, two_and_a_half).scope)
    assert scope.schedule is not None
    assert [day.hours for day in scope.schedule.days] == [16, 16, 6]
    assert [day.booked for day in scope.schedule.days] == [1, 1, Decimal("0.5")]


def test_other_names_say_nowhere_that_the_scope_changed(visitor: Visitor, job: Job) -> None:
    Room.objects.filter(job=job).update(name="Study")
    FloorZone.objects.filter(job=job).update(name="Ground floor")
    assert "scope changed" not in price_page(visitor, job)
    assert "differs from the agreed scope" not in page(visitor, "job-changes", job)
    assert "scope changed" not in page(visitor, "job-days", job)


def test_the_days_page_says_what_was_booked(visitor: Visitor, owner: User) -> None:
    only_two_tasks(company_of(owner))
    job = an_agreed_job(owner)
    said = "laid out on 2.5 days on site, whole and half: 3 trips of 2 people, 8 h a day each"
    assert said in page(visitor, "job-days", job)


def test_the_days_page_says_where_days_are_not_those_agreed_on(
    visitor: Visitor, owner: User
) -> None:
    only_two_tasks(company_of(owner))
    job = an_agreed_job(owner)
    laid_out(job, a_crew(job.company, people=2))
    assert "Other days than were priced" not in page(visitor, "job-days", job)
    # One person: 3 h on the road and 7 h of work a day beside it, 35 h in five days.
    laid_out(job, a_crew(job.company, people=1))
    assert "Trips: priced 3, on these days 5." in page(visitor, "job-days", job)


def page(visitor: Visitor, name: str, job: Job) -> str:
    return words(visitor.get(reverse(name, args=[job.pk])))
