"""Bowed walls, what stands at a wall and against it: the sides of an outline.

          2"
    .----'''----.        a wall of 10 ft that bows out of the room
(0)               (1)
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from jobs.domain.rooms.obstacles import round_ring
from jobs.domain.rooms.outline import Drawn, draw_room
from jobs.domain.rooms.sides import names_of
from jobs.domain.rooms.typed import BowReading, TypedRoom, TypedThing, TypedWall
from jobs.domain.rooms.typed_lengths import MeasureError
from layout.values.outline import ring_area

WALLS = ("10'", "8'", "10'", "8'")


def room(
    *,
    turn: str = "left",
    edges: dict[int, str] | None = None,
    bows: Sequence[BowReading] = (),
    holes: Sequence[TypedThing] = (),
) -> Drawn:
    """Return a room of 10 by 8 ft; ``edges`` by wall from 0."""
    kinds = edges or {}
    walls = tuple(
        TypedWall(length=length, turn=turn, edge=kinds.get(n, "wall"))
        for n, length in enumerate(WALLS)
    )
    return draw_room(TypedRoom(walls=walls, bows=tuple(bows), holes=tuple(holes)), unit="in")


def bow(wall: int, along: str, into: str) -> BowReading:
    """Return a typed reading along a bowed wall."""
    return BowReading(wall=wall, along=along, into=into)


def thing(name: str, x: str, y: str, width: str, depth: str = "") -> TypedThing:
    """Return a typed thing; without a depth it is round."""
    return TypedThing(name=name, x=x, y=y, width=width, depth=depth)


def test_a_reading_out_of_the_room_adds_a_corner_there() -> None:
    drawn = room(bows=[bow(1, "5'", "-2")])
    assert list(drawn.outline) == [(0, 0), (60, -2), (120, 0), (120, 96), (0, 96)]
    assert drawn.area == 120 * 96 + 120


def test_a_reading_into_the_room_takes_floor_away_also_walked_to_the_right() -> None:
    assert room(turn="right", bows=[bow(1, "5'", "2")]).area == 120 * 96 - 120


def test_the_sides_of_a_bowed_wall_are_named_by_its_number() -> None:
    drawn = room(bows=[bow(2, "4'", "1"), bow(2, "2'", "1/2")])
    assert names_of(drawn.sides) == ["1", "2a", "2b", "2c", "3", "4"]
    assert [y for _, y in drawn.outline[1:5]] == [0, 24, 48, 96]


def test_a_bowed_wall_keeps_what_stands_at_it() -> None:
    drawn = room(edges={0: "toe kick"}, bows=[bow(1, "5'", "1")])
    assert [side.kind for side in drawn.sides] == ["toe kick", "toe kick", "wall", "wall", "wall"]


@pytest.mark.parametrize(
    ("reading", "field", "sentence"),
    [
        (
            bow(1, "10'", "1"),
            "along",
            "10'\u00a00\" is not on wall 1; accepted: between its corners",
        ),
        (bow(5, "1'", "1"), "wall", "There is no wall 5; accepted: 1 to 4."),
        (
            bow(1, "5'", "14"),
            "into",
            "1'\u00a02\" is no bow; accepted: up to 1'\u00a00\" either way",
        ),
    ],
)
def test_a_reading_off_its_wall_is_refused(reading: BowReading, field: str, sentence: str) -> None:
    with pytest.raises(MeasureError, match=sentence) as refused:
        room(bows=[reading])
    assert (refused.value.part, refused.value.row, refused.value.field) == ("bow", 0, field)


def test_two_readings_in_one_place_are_refused() -> None:
    with pytest.raises(MeasureError, match="Wall 1 has a reading there") as refused:
        room(bows=[bow(1, "5'", "1"), bow(1, "60", "2")])
    assert refused.value.row == 1


def test_a_cabinet_against_a_wall_is_cut_out_of_the_floor() -> None:
    drawn = room(holes=[thing("cabinet", "3'", "0", "3'", "2'")])
    assert drawn.area == 120 * 96 - 36 * 24
    assert list(drawn.outline[:6]) == [(0, 0), (36, 0), (36, 24), (72, 24), (72, 0), (120, 0)]
    kinds = [side.kind for side in drawn.sides]
    assert kinds == ["wall", "cabinet", "cabinet", "cabinet", "wall", "wall", "wall", "wall"]
    assert drawn.holes == ()


def test_the_sides_of_a_cabinet_are_no_walls() -> None:
    drawn = room(holes=[thing("cabinet", "3'", "0", "3'", "2'")])
    assert names_of(drawn.sides) == ["1a", "", "", "", "1b", "2", "3", "4"]


def test_around_the_walls_counts_no_side_of_a_cabinet() -> None:
    drawn = room(holes=[thing("cabinet", "3'", "0", "3'", "2'")])
    assert drawn.perimeter == 2 * (120 + 96) - 36


def test_a_hearth_in_a_corner_takes_the_corner_away() -> None:
    drawn = room(holes=[thing("hearth", "8'", "6'", "2'", "2'")])
    assert drawn.area == 120 * 96 - 24 * 24
    assert len(drawn.outline) == 6


def test_cabinets_side_by_side_are_one_bay() -> None:
    row = [thing("cabinet", "0", "0", "3'", "2'"), thing("cabinet", "0", "2'", "2'", "3'")]
    assert room(holes=row).area == 120 * 96 - 36 * 24 - 24 * 36


def test_a_cabinet_nearly_at_the_wall_stands_against_it() -> None:
    assert room(holes=[thing("cabinet", "3'", "3/8", "3'", "2'")]).area == 120 * 96 - 36 * 24.375


def test_a_cabinet_across_the_whole_room_is_refused() -> None:
    with pytest.raises(MeasureError, match="Island or fixed cabinet parts the floor") as refused:
        room(holes=[thing("cabinet", "4'", "0", "2'", "8'")])
    assert refused.value.part == "hole"


def test_a_register_at_the_wall_is_refused() -> None:
    with pytest.raises(MeasureError, match="Floor register touches a wall; accepted: a place cle"):
        room(holes=[thing("register", "3'", "0", "10", "4")])


def test_islands_that_touch_in_the_middle_are_refused() -> None:
    pair = [thing("cabinet", "3'", "3'", "1'", "2'"), thing("cabinet", "4'", "3'", "1'", "2'")]
    with pytest.raises(
        MeasureError, match="Island or fixed cabinet meets island or fixed cabinet beside"
    ):
        room(holes=pair)


def test_a_pipe_is_measured_to_its_middle_and_no_plank_reaches_into_it() -> None:
    (hole,) = room(holes=[thing("pipe", "3'", "2'", "2")]).holes
    xs, ys = zip(*hole.ring, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((35, 37), abs=1e-5)
    assert (min(ys), max(ys)) == pytest.approx((23, 25), abs=1e-5)
    assert abs(ring_area(hole.ring)) > 3.14159


@pytest.mark.parametrize(("across", "corners"), [(2, 8), (6, 12), (12, 16), (20, 24)])
def test_a_wider_round_has_more_corners(across: float, corners: int) -> None:
    ring = round_ring(0, 0, across, "in")
    assert len(ring) == corners
    assert max((x * x + y * y) ** 0.5 for x, y in ring) <= across / 2 + 0.126


def test_a_pilaster_is_wall() -> None:
    drawn = room(holes=[thing("column", "4'", "0", "1'", "6")])
    assert {side.kind for side in drawn.sides} == {"wall"}
