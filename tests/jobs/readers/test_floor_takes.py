"""The rings of a floor as the takeoff knows them: in inches, holes left where they are."""

from __future__ import annotations

import pytest

from jobs.domain.lengths import MM_PER_IN
from jobs.models import FloorZone
from jobs.readers.plan_request import request_value
from jobs.readers.scope import rings_of
from tests.builders import make_company, make_job, make_room, make_zone

pytestmark = pytest.mark.django_db

HEARTH = [[20, 10], [40, 10], [40, 30], [20, 30]]


def a_floor(units: str, scale: float) -> FloorZone:
    """A den of 60 by 49 in with a hearth of 20 by 20 in, in the units of a job."""
    ring = [[x * scale, y * scale] for x, y in HEARTH]
    job = make_job(make_company(), units=units)
    room = make_room(job, size=(60 * scale, 49 * scale), holes=[{"kind": "post", "ring": ring}])
    return make_zone(room)


@pytest.mark.parametrize(("units", "scale"), [("imperial", 1.0), ("metric", float(MM_PER_IN))])
def test_outline_and_holes_of_a_floor_are_read_in_inches(units: str, scale: float) -> None:
    outline, holes = rings_of(request_value(a_floor(units, scale)))

    corners = [(round(x, 3), round(y, 3)) for x, y in outline]
    assert sorted(corners) == [(0, 0), (0, 49), (60, 0), (60, 49)]
    assert [len(hole) for hole in holes] == [4]
    assert sorted((round(x, 3), round(y, 3)) for x, y in holes[0]) == [
        *((20, 10), (20, 30)),
        *((40, 10), (40, 30)),
    ]
