"""What a floor's page says where the layout core refuses it."""

from __future__ import annotations

import json
from datetime import timedelta
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Errand, FloorZone, Room, User
from jobs.services.plans import KIND, subject_of
from jobs.worker import claims
from jobs.worker.worker import carry_out
from tests.builders import make_doorway, make_job, make_room, make_zone
from tests.jobs.errand_lab import handlers as lab
from tests.layout.core_refusals import CORE_WORDS, refusals
from tests.reading import words

pytestmark = pytest.mark.django_db


def failed(zone: FloorZone, place: str) -> Errand:
    """Return the floor's planning, failed by the core's refusal at a place of its source."""
    named = {"company": zone.job.company, "kind": "lab-core", "subject": subject_of(zone)}
    Errand.objects.create(**named, payload=json.dumps({"place": place}))
    errand = claims.claim(worker=lab.__name__, lease=timedelta(hours=1))
    assert errand is not None
    carry_out(errand)
    Errand.objects.filter(pk=errand.pk).update(kind=KIND)
    return Errand.objects.get(pk=errand.pk)


def test_every_refusal_of_the_core_reaches_the_page_in_the_trades_words(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company is not None
    zone = make_zone(make_room(make_job(owner.company)))
    said = {errand.error: errand for errand in (failed(zone, place) for place, _ in refusals())}
    assert len(said) > 20
    for sentence, errand in said.items():
        Errand.objects.exclude(pk=errand.pk).update(kind="told")
        Errand.objects.filter(pk=errand.pk).update(kind=KIND)
        assert f"<p>{sentence}</p>".replace("\u00a0", " ") in words(
            visitor.get(reverse("zone", args=[zone.pk]))
        )
        assert not CORE_WORDS.search(sentence)


ROOM_IN, WALL_IN, MM = 120, 4.5, Decimal("25.4")


def four_rooms(owner: User) -> FloorZone:
    """Return a floor of four rooms round a block of walls, a strip in the fourth doorway."""
    assert owner.company is not None
    job = make_job(owner.company)
    apart = (ROOM_IN + Decimal(str(WALL_IN))) * MM
    places = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    rooms = {name: make_room(job, name=name, size=(ROOM_IN, ROOM_IN)) for name in places}
    zone = make_zone(rooms["A"])
    for name, (x, y) in places.items():
        at = {"place_x_mm": apart * x, "place_y_mm": apart * y, "zone": zone}
        Room.objects.filter(pk=rooms[name].pk).update(**at)
    sizes = {"offset_mm": 44 * MM, "width_mm": 32 * MM, "depth_mm": Decimal(str(WALL_IN)) * MM}
    ways = [("A", 1, "B", "carry through"), ("B", 2, "C", "carry through")]
    ways += [("C", 3, "D", "carry through"), ("D", 0, "A", "T-molding"), ("A", 2, "D", "T-molding")]
    for name, wall, beyond, treatment in ways:
        more = {"beyond": rooms[beyond], "treatment": treatment}
        make_doorway(rooms[name], wall=wall, **sizes, **more)
    return zone


def test_a_floor_of_four_rooms_with_a_strip_under_one_door_is_planned(
    visitor: Visitor, owner: User
) -> None:
    zone = four_rooms(owner)
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "runs into itself" not in page
    assert visitor.post(reverse("zone-plan", args=[zone.pk])).status_code == 303
    assert Errand.objects.filter(kind=KIND, subject=subject_of(zone)).exists()
