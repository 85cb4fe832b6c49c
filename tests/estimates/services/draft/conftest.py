"""A den and a hall in planks of 1/4 in, and a thicker plank in which both are planned."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.lengths import MM_PER_IN
from jobs.models import Job, Product, User
from tests.builders import (
    make_doorway,
    make_job,
    make_plan,
    make_product,
    make_room,
    make_run,
    make_zone,
)
from tests.estimates.a_job import TODAY, company_of, set_price
from tests.jobs.plans import planned_in

INCH = MM_PER_IN


@pytest.fixture
def job(owner: User) -> Job:
    """A den with a hall, both planned in 1/4 in; the base of the den comes off and goes back."""
    job = make_job(company_of(owner))
    thin = make_product(job.company, name="Slate Oak", thickness_mm=Decimal("6.35"))
    den, hall = make_room(job), make_room(job, "Hall", (96, 40))
    make_run(den)
    make_doorway(
        den,
        beyond_kind="tile",
        beyond_high_mm=INCH * Decimal("0.75"),
        treatment="reducer",
        clearance_mm=INCH * Decimal("0.75"),
        swing="in",
    )
    make_doorway(
        hall,
        beyond_kind="tile",
        treatment="T-molding",
        clearance_mm=INCH * Decimal("0.7"),
        swing="in",
    )
    for room in (den, hall):
        make_plan(make_zone(room, thin))
    return Job.objects.get(pk=job.pk)


@pytest.fixture
def thick(job: Job) -> Product:
    """A plank of 3/8 in by 9 in in which both floors are planned."""
    product = make_product(
        job.company,
        name="Harbor Oak",
        thickness_mm=INCH * 3 / 8,
        width_mm=INCH * 9,
        per_carton=6,
    )
    for zone in job.zones.all():
        planned_in(zone, product)
    set_price(job.company, "cartons", "84.00", TODAY)
    return product
