"""The openings of rooms, read for one room or for many at once."""

from __future__ import annotations

import pytest

from jobs.models import Job
from jobs.readers.openings.openings import openings_by_room, openings_of
from tests.builders import make_company, make_doorway, make_job, make_room

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A den between a hall and a bath, the bath's doorway measured in the bath; a loft alone."""
    job = make_job(make_company())
    den, hall, bath, _ = (make_room(job, name) for name in ("Den", "Hall", "Bath", "Loft"))
    make_doorway(den, beyond=hall, beyond_wall=2, beyond_offset_mm=100)
    make_doorway(den, wall=2, beyond_floor="the porch")
    make_doorway(bath, beyond=den, beyond_wall=1, beyond_offset_mm=200)
    return job


def seen(job: Job) -> dict[str, list[tuple[str, int]]]:
    """Return what is seen from each room: where its openings lead, and in which wall."""
    rooms = list(job.rooms.all())
    openings = openings_by_room(rooms)
    return {room.name: [(one.leads, one.wall) for one in openings[room.pk]] for room in rooms}


def test_an_opening_is_seen_from_both_rooms(job: Job) -> None:
    assert seen(job) == {
        "Den": [("Hall", 0), ("the porch", 2), ("Bath", 1)],
        "Hall": [("Den", 2)],
        "Bath": [("Den", 0)],
        "Loft": [],
    }


def test_a_room_alone_has_the_openings_it_has_among_others(job: Job) -> None:
    rooms = job.rooms.all()
    alone = {room.name: [(one.leads, one.wall) for one in openings_of(room)] for room in rooms}
    assert alone == seen(job)
