"""What the homeowner takes on is left out of the price, unless a question stands on it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.models import JobPrice, WorkSplit
from estimates.services.quotes import make_estimate, price_now
from jobs.domain.checks import BadValueError
from jobs.domain.tasks import TASKS, with_what_goes_along
from jobs.models import ExistingFloor, HoldClearance, Job, SiteFacts, User
from jobs.readers.site import open_questions
from tests.builders import make_planned_job
from tests.estimates.a_job import TODAY, company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job of 20.42 ft2 whose tile comes out."""
    job = make_planned_job(company_of(owner))
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    return job


def leave(job: Job, *codes: str, everything: bool = False) -> None:
    WorkSplit.objects.create(job=job, left_out=list(codes), everything=everything)
    job.left_to_homeowner = list(TASKS if everything else with_what_goes_along(codes))
    job.save()


def presume_asbestos(job: Job) -> None:
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970)


def test_the_price_leaves_out_what_the_homeowner_does(job: Job) -> None:
    _, before = price_now(job, TODAY)
    leave(job, "tear_out", "dispose")
    _, after = price_now(job, TODAY)
    # Tile at 6 h and 2 h per 100 ft2 on 20.42 ft2: 1.23 and 0.41 h, and 1.5 h to the dump, all at
    # 48; and 7.15 at the dump.
    assert before.hours - after.hours == Decimal("3.14")
    assert before.direct_cost - after.direct_cost == Decimal("150.72") + Decimal("7.15")
    assert after.faults == ()


def test_who_hauls_away_drives_to_the_dump(job: Job) -> None:
    leave(job, "dispose")
    _, priced = price_now(job, TODAY)
    assert next(line for line in priced.lines if line.code == "dump_run").cost == 0


def test_who_buys_all_material_brings_it(job: Job) -> None:
    JobPrice.objects.create(job=job, labor_only=True)
    _, priced = price_now(job, TODAY)
    assert next(line for line in priced.lines if line.code == "pick_up").cost == 0


def test_with_all_the_work_left_the_material_is_what_is_sold(job: Job) -> None:
    leave(job, everything=True)
    _, priced = price_now(job, TODAY)
    assert (priced.hours, priced.labor_cost) == (Decimal(0), Decimal(0))
    assert priced.material_cost > 0
    assert priced.contribution_per_day is None


def test_a_question_that_opens_later_stops_the_estimate(job: Job, owner: User) -> None:
    leave(job, "tear_out", "dispose")
    presume_asbestos(job)
    _, priced = price_now(job, TODAY)
    text = "Left to the homeowner while asbestos in the old floor is not cleared"
    assert text in priced.faults[0].text
    assert next(line for line in priced.lines if line.code == "tear_out").cost > 0
    with pytest.raises(BadValueError, match="asbestos in the old floor"):
        make_estimate(job=job, user=owner, key="e", today=TODAY)


def test_once_it_is_cleared_the_homeowner_may(job: Job) -> None:
    leave(job, "tear_out")
    presume_asbestos(job)
    HoldClearance.objects.create(job=job, code="asbestos", by="I. Spector", note="none found")
    assert open_questions(job) == {}
    _, priced = price_now(job, TODAY)
    assert next(line for line in priced.lines if line.code == "tear_out").cost == 0
