"""What a packet's drawing names its walls and doorways by: as pages and cautions do."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.models import Treatment
from jobs.readers.packets.landmarks import landmarks_of
from layout.drawing.floor.landmarks import Landmark
from tests.builders import make_company, make_doorway, make_job, make_room, make_zone

pytestmark = pytest.mark.django_db


def marks(beyond_floor: str) -> tuple[Landmark, ...]:
    """The landmarks of a hall of 254 by 46 in with a door of 30 in, 10 in along its wall 2."""
    job = make_job(make_company())
    hall = make_room(job, "Hall", size=(254, 46))
    make_doorway(
        hall,
        wall=1,
        offset_mm=Decimal(254),
        width_mm=Decimal(762),
        depth_mm=Decimal(114),
        treatment=Treatment.REDUCER,
        beyond_floor=beyond_floor,
    )
    zone = make_zone(hall)
    return landmarks_of([zone])[zone.pk]


def test_walls_are_numbered_as_cautions_name_them() -> None:
    by_words = {mark.words: mark.ends for mark in marks("")}
    assert set(by_words) == {"wall 1", "wall 2", "wall 3", "wall 4", "door"}
    assert by_words["wall 1"] == ((0.0, 0.0), (254.0, 0.0))
    assert by_words["wall 2"] == ((254.0, 0.0), (254.0, 46.0))
    # 254 mm along the wall are 10 in, 762 mm wide are 30.
    (first, last) = by_words["door"]
    assert first == pytest.approx((254.0, 10.0))
    assert last == pytest.approx((254.0, 40.0))


def test_a_doorway_is_named_by_where_it_leads() -> None:
    doorways = [mark.words for mark in marks("Bathroom, tile") if mark.doorway]
    assert doorways == ["door to the bathroom"]
