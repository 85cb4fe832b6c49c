"""Rolls of pad as the price book has them, from the row of the book to the price. By hand.

A parlor of 100 by 90 in takes strips of 36 in across 90: three of 100 in, 300 in of roll.
A common roll is 400 in long: one. A roll of 20 ft2 is 20 x 144 / 36 = 80 in long: 3.75, so four.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem
from estimates.readers.roll_sizes import roll_sizes
from estimates.services.quotes import price_now
from jobs.models import FloorZone, Job, User
from jobs.services.scope import changes_since_agreed
from tests.builders import make_job, make_product, make_room, make_zone
from tests.estimates.a_job import TODAY, a_quote, accepted, company_of, set_price
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A parlor with a separate pad, planned."""
    job = make_job(company_of(owner))
    parlor = make_room(job, "Parlor", size=(100, 90))
    planned(make_zone(parlor, make_product(job.company, name="Oak"), pad=True))
    return job


def buy(job: Job, covers: str, amount: str = "24.00", day: date = date(2021, 1, 1)) -> PriceItem:
    """Set the price of a roll of pad that covers so much."""
    row = set_price(job.company, "pad", amount, day)
    row.pack, row.covers = "roll", Decimal(covers)
    row.save()
    return row


def pads(job: Job) -> tuple[Decimal, Decimal]:
    """Rolls of pad and what they cost."""
    (line,) = [line for line in price_now(job, TODAY)[1].lines if line.code == "pad"]
    return line.quantity, line.cost


def test_without_coverage_a_common_roll_is_counted(job: Job) -> None:
    PriceItem.objects.filter(code="pad").update(covers=None)
    assert pads(job)[0] == 1


def test_smaller_rolls_are_more_rolls(job: Job) -> None:
    buy(job, "20")
    assert pads(job) == (Decimal(4), Decimal("96.00"))


def test_the_price_page_says_whose_roll_it_is(visitor: Visitor, job: Job) -> None:
    buy(job, "20")
    page = words(visitor.get(reverse("job-price", args=[job.pk])))
    assert re.search(r"6\.7.{1,9}to a roll \(20.{1,24}a roll, as the price book has it\)", page)


def test_a_price_to_come_and_a_price_of_long_ago_count_for_nothing(job: Job) -> None:
    buy(job, "20")
    buy(job, "40", day=date(2022, 1, 1))
    buy(job, "99", day=date(2030, 1, 1))
    assert roll_sizes(job.company, TODAY)["pad"] == 40


def test_another_roll_bought_later_is_no_change_of_agreed_work(owner: User, job: Job) -> None:
    buy(job, "20")
    accepted(a_quote(owner, job))
    agreed = Job.objects.get(pk=job.pk)
    buy(agreed, "60", day=date(2022, 1, 1))
    assert changes_since_agreed(agreed) == ()


def test_a_job_agreed_with_common_rolls_keeps_them(owner: User, job: Job) -> None:
    PriceItem.objects.filter(code="pad").update(covers=None)
    accepted(a_quote(owner, job))
    agreed = Job.objects.get(pk=job.pk)
    buy(agreed, "20", day=date(2022, 1, 1))
    assert changes_since_agreed(agreed) == ()


def test_pad_that_comes_in_after_the_word_is_counted_in_the_rolls_of_today(
    owner: User, job: Job
) -> None:
    FloorZone.objects.update(pad=False)
    accepted(a_quote(owner, job))
    buy(job, "20")
    FloorZone.objects.update(pad=True)
    agreed = Job.objects.get(pk=job.pk)
    assert any("4 roll" in change.text for change in changes_since_agreed(agreed))
