"""Options of a planned job: counted from its own plan, told by the hour and in half days."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem
from estimates.readers.options import Choice, options_of
from jobs.models import ExistingFloor, Job, SiteFacts, TrimRun, User
from tests.builders import make_job, make_planned_job
from tests.estimates.a_job import TODAY, company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job of 20.42 ft2; its base is kept."""
    return make_planned_job(company_of(owner))


def pads(job: Job) -> Choice:
    return options_of(job, TODAY).choices[0]


def test_an_attached_pad_saves_rolling_one_out(job: Job) -> None:
    saving = pads(job).saving
    assert saving is not None
    # 20.4 ft2 at 0.3 h per 100 ft2 are 0.06 h; at 48 an hour 2.88.
    assert (saving.hours_saved, saving.worth_by_the_hour) == (Decimal("0.06"), Decimal("2.88"))


def test_hours_inside_a_half_day_are_worth_nothing(job: Job) -> None:
    saving = pads(job).saving
    assert saving is not None
    assert saving.half_days_saved == 0
    assert saving.worth_in_half_days == 0


def test_the_pad_saved_tells_what_the_boards_may_cost_more(job: Job) -> None:
    choice = pads(job)
    # A roll of pad is 32.00, one of tape for its seam 9.00: spread over the floor, with the labor
    # and without it.
    assert choice.worth_per_ft2_in_half_days == round(Decimal(41) / choice.area_ft2, 2)
    assert choice.worth_per_ft2_by_the_hour == round(Decimal("34.88") / choice.area_ft2, 2)


def test_base_is_compared_only_where_base_is_put_on(job: Job) -> None:
    assert [choice.second for choice in options_of(job, TODAY).choices] == ["Pad attached"]
    TrimRun.objects.create(room=job.rooms.get(), wall=0, kind="base", length_mm=Decimal(1524))
    assert [choice.second for choice in options_of(job, TODAY).choices][1:] == ["Base put back"]


def test_base_put_back_saves_stick_and_caulk(job: Job) -> None:
    TrimRun.objects.create(room=job.rooms.get(), wall=0, kind="base", length_mm=Decimal(1524))
    saving = options_of(job, TODAY).choices[1].saving
    assert saving is not None
    # 5 ft of new base are one stick at 14.00 and a tube of caulk at 4.00; the hours are the same.
    assert saving.dearer_material == Decimal("-18.00")
    assert saving.hours_saved == 0


def test_what_has_no_price_is_named_in_place_of_a_saving(job: Job) -> None:
    PriceItem.objects.filter(code="pad").delete()
    choice = pads(job)
    assert choice.saving is None
    assert "no price per roll" in choice.faults[0]


def test_the_client_may_not_tear_out_what_may_hold_asbestos(job: Job, owner: User) -> None:
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970, tear_out=True)
    shares = {share.code: share.refused for share in options_of(job, TODAY).shares}
    assert shares["tear_out"] == "not while this is open: asbestos"


def test_a_job_without_a_floor_says_what_is_needed(owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    job = make_job(company_of(owner))
    page = visitor.get(reverse("job-options", args=[job.pk])).content.decode()
    assert "Floor: none. Needed: a planned floor" in page
