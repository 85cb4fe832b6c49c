"""The demo's rooms are rooms that a person could have typed."""

from __future__ import annotations

import pytest

from installer_site.demo.rooms import DemoRoom
from installer_site.demo.story import JOBS
from installer_site.demo.telling import walked_wall
from jobs.domain.rooms.outline import draw_room
from jobs.domain.rooms.typed import TypedRoom

ROOMS = [(job.units, room) for job in JOBS for room in job.rooms]


@pytest.mark.parametrize(("units", "room"), ROOMS, ids=[room.name for _, room in ROOMS])
def test_every_corner_is_one_that_the_form_takes(units: str, room: DemoRoom) -> None:
    walls = tuple(walked_wall(*wall) for wall in room.walls)
    assert all(1 <= wall.corner_deg <= 179 for wall in walls)
    drawn = draw_room(TypedRoom(walls=walls), unit="in" if units == "imperial" else "mm")
    assert drawn.area > 0
