"""The open holds of many jobs, held against those of each job alone."""

from __future__ import annotations

import pytest

from jobs.models import ExistingFloor, HoldClearance, Job, SiteFacts
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from tests.builders import make_company, make_job, make_product, make_room, make_stair, make_zone
from tests.jobs.agreed import hold_asbestos

pytestmark = pytest.mark.django_db


def wet_slab(job: Job, read: str) -> None:
    """A slab whose product allows 85 %, with one reading."""
    make_zone(make_room(job), make_product(job.company, name=f"Plank {job.pk}", most_rh_pct=85))
    make_zone(
        make_room(job, name="Hall"),
        make_product(job.company, name=f"Oak {job.pk}", most_rh_pct=75),
        name="Hall floor",
    )
    reading = {"method": "rh", "value": read, "where": "hall", "on": "2026-11-25"}
    SiteFacts.objects.filter(job=job).update(readings=[reading], subfloor="slab")


def test_each_job_has_the_holds_that_it_has_alone() -> None:
    company = make_company()
    jobs = [make_job(company) for _ in range(7)]
    plain, asbestos, wet, dry, stairs, cleared, slab = jobs
    hold_asbestos(asbestos)
    wet_slab(wet, "80")
    wet_slab(dry, "70")
    make_stair(stairs, risers=["7 1/2"] * 12 + ["6"])
    hold_asbestos(cleared)
    HoldClearance.objects.create(job=cleared, code="asbestos", by="Ines", note="Tested")
    SiteFacts.objects.filter(job=slab).update(subfloor="slab", year_built=1950)
    SiteFacts.objects.filter(job=plain).update(existing_floor=ExistingFloor.CARPET)
    alone = {job.pk: open_holds_of(job) for job in jobs if open_holds_of(job)}
    assert {job: sorted(holds) for job, holds in alone.items()} == {
        asbestos.pk: ["asbestos"],
        wet.pk: ["moisture"],
        stairs.pk: ["risers"],
    }
    assert open_holds_by_job([job.pk for job in jobs]) == alone
