"""From what was typed in a room to its outline.

(5)-----(4)
 |  ell  |
 |      (3)----(2)
 |              |
(0)------------(1)
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from jobs.domain.rooms.outline import Drawn, draw_room
from jobs.domain.rooms.typed import TypedRoom, TypedThing, TypedWall
from jobs.domain.rooms.typed_lengths import MeasureError
from layout.values.outline import HoleKind

RECTANGLE = ("12'", "10'", "12'", "10'")

ELL = [("10'", "left"), ("4'", "left"), ("4'", "right"), ("4'", "left"), ("6'", "left")]


def walked(
    *walls: str | tuple[str, str],
    unit: str = "in",
    holes: Sequence[TypedThing] = (),
    close_last: bool = False,
) -> Drawn:
    """Return the room of these walls; a wall is its length, or length and turn."""
    rows = [(wall, "left") if isinstance(wall, str) else wall for wall in walls]
    typed = tuple(TypedWall(length=length, turn=turn) for length, turn in rows)
    room = TypedRoom(walls=typed, holes=tuple(holes), close_last=close_last)
    return draw_room(room, unit=unit)


def hole(name: str = "column", *, x: str = "2'") -> TypedThing:
    """Return a typed hole of 6 by 6 in, 2 ft from either wall."""
    return TypedThing(name=name, x=x, y="2'", width="6", depth="6")


def test_four_walls_make_a_rectangle() -> None:
    assert walked(*RECTANGLE).outline == ((0, 0), (144, 0), (144, 120), (0, 120))


def test_a_room_walked_to_the_right_has_the_same_area() -> None:
    right = [(length, "right") for length in RECTANGLE]
    assert walked(*right).area == walked(*RECTANGLE).area == 144 * 120


def test_an_ell_has_an_outside_corner() -> None:
    assert walked(*ELL, "8'").area == 144 * (10 * 4 + 6 * 4)


def test_bare_numbers_are_in_the_unit_of_the_job() -> None:
    assert walked("3760", "2000", "3760", "2000", unit="mm").walls == [3760, 2000, 3760, 2000]


def test_feet_and_inches_are_read_in_a_metric_job() -> None:
    drawn = walked("10'", "2 m", "10'", "2000 mm", unit="mm")
    assert drawn.walls[0] == pytest.approx(3048)


def test_a_wall_typed_in_the_other_system_is_told() -> None:
    drawn = walked("12'", "10'", "3.66 m", "10'")
    assert drawn.notes == ("Wall 3 was typed in meters: 3.66 m is read as 12'\u00a00⅛\".",)


def test_a_bare_number_beside_the_other_system_is_refused_at_its_wall() -> None:
    with pytest.raises(
        MeasureError, match="“120” names no unit, and wall 1 was typed in met"
    ) as no:
        walked("3.66 m", "10'", "3.66 m", "120")
    assert (no.value.part, no.value.row, no.value.field) == ("wall", 3, "length")
    assert "accepted: 120 in where it is in inches" in no.value.sentence


def test_feet_and_inches_without_marks_name_their_unit() -> None:
    assert walked("12 4 1/2", "3 m", "12 4 1/2", "3 m").walls[0] == 148.5


def test_an_angle_stands_between_the_two_walls() -> None:
    bay = TypedRoom(walls=(TypedWall(length="100", angle="60"),) * 3)
    assert draw_room(bay, unit="in").area == pytest.approx(100 * 100 * 3**0.5 / 4)


def test_the_last_wall_may_be_left_to_close() -> None:
    assert walked(*ELL, close_last=True).area == walked(*ELL, "8'").area


def test_a_small_closing_error_is_told_and_spread() -> None:
    drawn = walked("12'", "10'", "12' 1/2\"", "10'")
    assert drawn.misclosure_words == '½", 1 in 1,057'
    assert drawn.outline[0] == (0, 0)


@pytest.mark.parametrize(("over", "much"), [('1/2"', False), ('1"', False), ('1 1/8"', True)])
def test_a_closing_error_of_more_than_one_in_500_is_a_wall_misread(over: str, much: bool) -> None:
    """The walk is 44' and what is over: 529 in to 1 in is 1 in 529, 529.125 to 1.125 1 in 470."""
    assert walked("12'", "10'", f"12' {over}", "10'").misses_much is much


def test_a_walk_that_closes_has_no_closing_error() -> None:
    assert walked(*RECTANGLE).misclosure_words == ""
    assert not walked(*RECTANGLE).misses_much


def test_a_large_closing_error_names_the_wall_most_likely_wrong() -> None:
    with pytest.raises(MeasureError) as refused:
        walked("10'", "4'", "14'", "4'")
    assert (refused.value.part, refused.value.row, refused.value.field) == ("wall", 2, "length")
    assert refused.value.sentence == (
        'The walk ends 4\'\u00a00" from the first corner, 1 in 8; accepted: up to 1¹⁵\u2044₁₆", '
        "which is spread over the walls. It would close with 10'\u00a00\" for wall 3. "
        "Or 14'\u00a00\" for wall 1."
    )


def test_a_turn_to_the_wrong_side_is_found() -> None:
    with pytest.raises(MeasureError, match="turn to the left after wall 2") as refused:
        walked("12'", ("10'", "right"), "12'", "10'")
    assert refused.value.field == "turn"


def test_corners_that_do_not_add_up_are_told_with_a_turn_to_the_wrong_side() -> None:
    with pytest.raises(MeasureError, match="add up to 540 degrees; 4 corners make 360"):
        walked("12'", ("10'", "right"), "12'", "10'")


def angled(*angles: str) -> Drawn:
    """Return a square of 10 ft whose corners were read with an angle finder."""
    walls = tuple(TypedWall(length="10'", angle=angle) for angle in angles)
    return draw_room(TypedRoom(walls=walls), unit="in")


def test_angles_a_little_off_are_told_and_the_walls_decide() -> None:
    assert angled("90", "90", "90", "91").notes == (
        (
            "The corners add up to 361 degrees; the 4 corners of a room make 360, (4 - 2) x 180. "
            "The walls decide."
        ),
    )


def test_angles_that_do_not_add_up_are_refused_at_the_last_one_typed() -> None:
    with pytest.raises(MeasureError, match="add up to 367 degrees; the 4 corners") as refused:
        angled("90", "90", "90", "97")
    assert (refused.value.row, refused.value.field) == (3, "angle")


def toothed(corners: int) -> list[tuple[str, str]]:
    """Return a long room whose one side is notched, with so many corners."""
    teeth = (corners - 4) // 2
    side = [("10", "left" if n % 2 else "right") for n in range(2 * teeth)]
    turns = ["right", "left", "left", "right"] * (teeth // 2)
    notched = [("10", turn) for (_, _), turn in zip(side, turns, strict=False)]
    run = 10 * (len(notched) // 2)
    return [*notched, ("10", "left"), ("300", "left"), (str(run + 10), "left"), ("300", "left")]


def test_two_hundred_corners_are_drawn() -> None:
    drawn = walked(*toothed(200))
    assert len(drawn.outline) == 200


def test_more_walls_than_a_room_has_are_refused() -> None:
    with pytest.raises(MeasureError, match="204 walls typed; accepted: up to 200 in one room"):
        walked(*toothed(204))


def test_two_walls_make_no_room() -> None:
    with pytest.raises(MeasureError, match="2 walls typed; accepted: 3 or more"):
        walked("12'", "10'")


def test_walls_that_cross_are_named() -> None:
    crossed = [("10'", "left"), ("10'", "left"), ("5'", "left"), ("20'", "right"), ("5'", "right")]
    with pytest.raises(MeasureError, match="Wall 4 meets wall 1"):
        walked(*crossed, "10'")


def test_closing_a_walk_that_is_closed_is_refused() -> None:
    with pytest.raises(MeasureError, match="back at its first corner"):
        walked(*RECTANGLE, close_last=True)


def test_a_post_is_measured_from_the_first_corner() -> None:
    drawn = walked(*RECTANGLE, holes=[hole()])
    assert drawn.holes[0].ring[0] == (24.0, 24.0)
    assert drawn.area == 144 * 120 - 36


def test_a_post_lies_inside_also_where_the_room_was_walked_to_the_right() -> None:
    right = [(length, "right") for length in RECTANGLE]
    assert walked(*right, holes=[hole()]).holes[0].ring[0] == (24.0, -24.0)


def test_a_register_is_kept_as_a_register() -> None:
    drawn = walked(*RECTANGLE, holes=[hole("register")])
    assert drawn.holes[0].kind is HoleKind.REGISTER


@pytest.mark.parametrize(
    ("place", "fault"),
    [("20'", "lies outside the room"), ("11' 8\"", 'reaches 2" past a wall')],
)
def test_a_post_off_the_floor_is_refused(place: str, fault: str) -> None:
    with pytest.raises(MeasureError, match=f"Column or post {fault}") as refused:
        walked(*RECTANGLE, holes=[hole(x=place)])
    assert (refused.value.part, refused.value.row) == ("hole", 0)


def test_two_posts_in_one_place_are_refused() -> None:
    with pytest.raises(MeasureError, match="meets what stands in row 1"):
        walked(*RECTANGLE, holes=[hole(), hole(x="2' 3\"")])
