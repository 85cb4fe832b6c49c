"""What floors are made of, read for one floor or for all floors of a job at once."""

from __future__ import annotations

import pytest

from jobs.models import FloorZone
from jobs.readers.floors.floors import floor_rows, zone_of
from jobs.readers.plan_request import request_of
from jobs.readers.plans import newest_plans
from tests.builders import make_room, make_zone
from tests.growing import OwnersBook, floors, joined_rooms
from tests.jobs.plans import planned_alike

pytestmark = pytest.mark.django_db


@pytest.fixture
def zones() -> list[FloorZone]:
    """A floor of three joined rooms, and two of one room each, the first of them begun."""
    book = OwnersBook()
    for number in (1, 2):
        joined_rooms(book, number)
        floors(book, number + 2)
    return list(book.job.zones.all())


def test_a_floor_has_its_own_rooms(zones: list[FloorZone]) -> None:
    rows = floor_rows(zones)
    names = [[room.name for room in rows[zone.pk].rooms] for zone in zones]
    assert names == [["Room 0", "Room 1", "Room 2"], ["Room 3"], ["Room 4"]]


def test_a_begun_floor_has_the_plan_that_was_followed(zones: list[FloorZone]) -> None:
    rows = floor_rows(zones)
    assert [rows[zone.pk].begun for zone in zones] == [None, zones[1].plans.get(), None]


def test_a_floor_is_joined_among_others_as_it_is_alone(zones: list[FloorZone]) -> None:
    rows = floor_rows(zones)
    assert [zone_of(zone, rows[zone.pk]) for zone in zones] == [zone_of(zone) for zone in zones]


def test_a_floor_is_asked_for_among_others_as_it_is_alone(zones: list[FloorZone]) -> None:
    rows = floor_rows(zones)
    together = [request_of(zone, rows[zone.pk]) for zone in zones]
    assert together == [request_of(zone) for zone in zones]


def test_the_newest_plan_of_a_floor_is_its_own(zones: list[FloorZone]) -> None:
    second = planned_alike(zones[1])
    bare = make_zone(make_room(zones[0].job, "Attic"))
    newest = newest_plans([*zones, bare])
    assert newest == {zone.pk: zone.plans.latest() for zone in zones}
    assert newest[zones[1].pk] == second
