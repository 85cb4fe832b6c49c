"""Cartons by job and a run round a hearth, in a browser: counted, shown, within reach."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from estimates.models import PriceItem
from jobs.models import FloorZone, Job, Room, TrimRun, User
from jobs.services.trim import derive_trim
from tests.browser.hands import Hands, look_at
from tests.builders import make_job, make_product, make_room, make_zone
from tests.estimates.a_job import set_price, set_prices
from tests.jobs.plans import planned

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INCH = Decimal("25.4")


@pytest.fixture
def job(owner: User) -> Job:
    """Three floors, two of oak at 60.00 a carton and one of slate at 41.50, with spares of 3.

    Oak 9 + 28 + 6 = 43 planks, 5 cartons; slate 14 + 3 = 17, 2 cartons: 300.00 and 83.00. Floor
    by floor it would be 2 + 4 and 2 cartons: 360.00 and 83.00.
    """
    assert owner.company is not None
    job = make_job(owner.company, title="Three floors")
    oak, slate = (make_product(owner.company, name=name) for name in ("Oak", "Slate"))
    for name, product, size in (("Den", oak, (60, 49)), ("Parlor", oak, (100, 90))):
        planned(make_zone(make_room(job, name, size=size), product))
    planned(make_zone(make_room(job, "Attic", size=(84, 56)), slate))
    set_prices(owner.company)
    row = set_price(owner.company, "cartons", "41.50", date(2021, 1, 1))
    PriceItem.objects.filter(pk=row.pk).update(item="Slate")
    return job


def test_cartons_of_three_floors_are_those_of_the_job(hands: Hands, job: Job) -> None:
    hands.open(reverse("zone-list", args=[job.pk]))
    hands.expect("Cartons of the job")
    hands.expect("37 planks in the plans (Den 9, Parlor 28), 6 spares; 10 in a carton")
    look_at(hands, "cartons-of-the-job")
    hands.open(reverse("job-price", args=[job.pk]))
    hands.expect("$300.00")
    hands.expect("$83.00")


def test_a_carton_for_the_attic_is_one_for_the_product(hands: Hands, job: Job) -> None:
    FloorZone.objects.filter(product__name="Oak").update(attic_carton=True)
    hands.open(reverse("zone-list", args=[job.pk]))
    hands.expect("rounded up once for the job, and one for the attic; all of one lot")
    hands.expect("6 cartons")
    hands.open(reverse("zone", args=[job.zones.get(name="Den").pk]))
    hands.expect("For this floor alone")
    look_at(hands, "floor-of-a-shared-product")


@pytest.fixture
def hearth(owner: User) -> Room:
    """A den with a hearth of 60 by 20 in against its first wall; base is new."""
    assert owner.company is not None
    room = make_room(make_job(owner.company), size=(168, 120), base="replace")
    room.outline = [[0, 0], [54, 0], [54, 20], [114, 20], [114, 0], [168, 0], [168, 120], [0, 120]]
    room.edges = [{"wall": w, "kind": "wall"} for w in (0, None, None, None, 0, 1, 2, 3)]
    room.save()
    derive_trim(job=room.job)
    return room


def test_base_goes_round_a_hearth_only_when_it_is_added(hands: Hands, hearth: Room) -> None:
    assert sum(run.length_mm for run in hearth.trim_runs.all()) == 516 * INCH
    hands.open(reverse("room-trim", args=[hearth.pk]))
    look_at(hands, "trim-of-a-hearth-room")
    hands.press("Add a run")
    hands.fill(beside="Hearth", length="100")
    look_at(hands, "trim-run-added")
    hands.press("Add the run")
    hands.expect("The run is added.")
    hands.expect("Base, Hearth")
    assert sum(run.length_mm for run in hearth.trim_runs.all()) == 616 * INCH
    hands.press("Base, Hearth")
    hands.press("Remove the run")
    hands.expect("The run is removed.")
    assert not TrimRun.objects.filter(room=hearth, wall__gte=TrimRun.ADDED_FROM).exists()
