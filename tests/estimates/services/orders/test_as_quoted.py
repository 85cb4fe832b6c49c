"""A change of a job of two rooms, billed at the prices and rates of its accepted quote."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import ChangeOrder
from estimates.readers.prices import priced_of
from estimates.services.orders.agree import agree_change
from estimates.services.orders.pending import OutdatedPlanError, PendingChange, pending_change
from jobs.models import Job, User
from tests.estimates.a_job import LATER, TODAY, set_price
from tests.orders.two_rooms import (
    hall_of,
    learn,
    make_dearer,
    plan_hall,
    two_rooms,
    widen,
)
from tests.reading import words

pytestmark = pytest.mark.django_db

# By hand, from the counts of the two plans (area, pieces, crosscuts, rips, spacers, cartons):
#   hall as quoted  40.83 ft2, 22, 13, 3     hall as it is  73.50 ft2, 36, 13, 5
#   prep   0.4 h / 100 ft2     0.1633 = 0.16 h    0.294  = 0.29 h
#   lay    2 h / 100 ft2, 0.01, 0.03, 0.08
#          0.8166 + 0.22 + 0.39 + 0.24 = 1.67 h   1.47 + 0.36 + 0.39 + 0.40 = 2.62 h
#   clean  1 h + 0.15 h / 100 ft2 with the den's 20.42:  1.09 h   1.14 h
#   1.13 h more at 48 = 54.24; a carton of 60; 16 spacers of 0.15 = 2.40: 116.64 more of cost.
#   604.83 + 12 % = 677.41, / 0.75 =   903.21, as quoted
#   721.47 + 12 % = 808.05, / 0.75 = 1,077.40
QUOTED = Decimal("903.21")
DIFFERENCE = Decimal("174.19")


def pending(job: Job) -> PendingChange:
    change = pending_change(job, LATER)
    assert change is not None
    return change


def agree(job: Job, owner: User) -> ChangeOrder:
    change = pending(job)
    return agree_change(
        job=job,
        user=owner,
        key="c1",
        amount=change.difference,
        agreed_by="Ines Okafor",
        seen=change.seen,
        today=LATER,
    )


@pytest.fixture
def job(owner: User) -> Job:
    """The job after its quote was accepted, rates were learned and everything became dearer."""
    quoted = two_rooms(owner)
    learn(quoted.company)
    make_dearer(quoted.company, LATER)
    return Job.objects.get(pk=quoted.pk)


def test_a_longer_hall_costs_exactly_the_difference_at_the_old_rates(job: Job) -> None:
    change = pending(plan_hall(widen(job)))
    assert (change.before.subtotal, change.difference) == (QUOTED, DIFFERENCE)
    assert change.agreed_price == QUOTED


def test_each_line_says_how_much_there_was_and_is(job: Job) -> None:
    lines = pending(plan_hall(widen(job))).lines
    said = [(line.place, line.label, line.before, line.after) for line in lines if line.unit]
    assert said == [
        ("", "Flooring, Oak", 4, 5),
        ("", "Spacers", 29, 45),
        ("Hall", "Clean and screw the subfloor", Decimal("0.16"), Decimal("0.29")),
        ("Hall", "Lay the floor", Decimal("1.67"), Decimal("2.62")),
        ("", "Clean and hand over", Decimal("1.09"), Decimal("1.14")),
    ]
    assert sum(line.amount for line in lines) == DIFFERENCE


def test_a_floor_that_was_changed_after_its_plan_is_not_agreed_on(job: Job, owner: User) -> None:
    with pytest.raises(OutdatedPlanError, match=r"the plan of Hall is 'outdated.*rooms"):
        agree_change(
            job=widen(job),
            user=owner,
            key="c1",
            amount=DIFFERENCE,
            agreed_by="Ines Okafor",
            seen="0" * 64,
            today=LATER,
        )
    assert not job.change_orders.exists()
    assert agree(plan_hall(job), owner).amount == DIFFERENCE


def test_the_page_of_an_outdated_plan_leads_to_its_floor_and_has_no_agreement(
    job: Job, visitor: Visitor
) -> None:
    page = visitor.get(reverse("job-changes", args=[widen(job).pk])).content.decode()
    floor = reverse("zone", args=[hall_of(job).zone_id])
    assert "The plan is outdated" in page
    assert f'<a href="{floor}">Hall</a>' in page
    assert 'name="agreed_by"' not in page
    assert 'name="agreed_by"' in words(
        visitor.get(reverse("job-changes", args=[plan_hall(job).pk]))
    )


def test_its_estimate_keeps_the_prices_of_the_quote(job: Job, owner: User) -> None:
    order = agree(plan_hall(widen(job)), owner)
    estimate = job.estimates.get(scope=order.scope)
    priced = priced_of(estimate)
    assert priced.basis is not None
    assert (priced.basis.burdened_rate, priced.basis.margin) == (Decimal(48), Decimal("0.25"))
    assert {used.amount for used in priced.basis.prices if used.code == "cartons"} == {60}


def test_a_second_change_is_billed_as_the_quote_was_too(job: Job, owner: User) -> None:
    agree(plan_hall(widen(job)), owner)
    back = plan_hall(widen(job, (120, 49)))
    assert pending(back).difference == -DIFFERENCE


def test_what_the_quote_did_not_price_has_the_price_of_its_day(job: Job) -> None:
    # Pad by the roll was 32 on the quote's day; by now it is 70.
    set_price(job.company, "pad", "70.00", LATER)
    job.zones.update(pad=True)
    change = pending(plan_hall(job))
    pad = [line for line in change.after.lines if line.code == "pad"]
    assert {line.unit_cost for line in pad} == {32}
    assert change.notes == ()


def test_what_had_no_price_on_the_quotes_day_has_that_of_today_and_it_is_said(job: Job) -> None:
    job.company.prices.filter(code="pad").delete()
    set_price(job.company, "pad", "70.00", LATER)
    job.zones.update(pad=True)
    change = pending(plan_hall(job))
    assert {line.unit_cost for line in change.after.lines if line.code == "pad"} == {70}
    day = f"{TODAY:%B} {TODAY.day}, {TODAY.year}"
    (note,) = change.notes
    assert note.startswith(f"At today's price, since there was none on {day}: Pad")
