"""What the second of two savers is told about a room's measurements."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.rooms.changes import room_changes
from jobs.domain.rooms.typed import TypedRoom, TypedThing, TypedWall


def measured(*lengths: str) -> TypedRoom:
    """Return a room of these walls."""
    return TypedRoom(walls=tuple(TypedWall(length=text) for text in lengths))


SEEN = measured("12'", "10'", "12'", "10'")


def test_a_wall_that_changed_is_told_with_what_it_was() -> None:
    now = measured("12'", "11'", "12'", "11'")
    assert room_changes(SEEN, now, now) == [
        "Wall 2 was 10' and is now 11'.",
        "Wall 4 was 10' and is now 11'.",
    ]


def test_what_i_typed_is_told_where_it_differs() -> None:
    now, mine = measured("12'", "11'", "12'", "10'"), measured("12'", "10' 6\"", "12'", "10'")
    assert room_changes(SEEN, now, mine) == ["Wall 2 was 10' and is now 11'; you have 10' 6\"."]


def test_what_only_i_changed_is_no_news() -> None:
    assert room_changes(SEEN, SEEN, measured("13'", "10'", "13'", "10'")) == []


def test_turn_angle_and_edge_are_told_in_words() -> None:
    first, second, *others = SEEN.walls
    second = replace(second, turn="right", angle="135", edge="radiator")
    now = replace(SEEN, walls=(first, second, *others))
    assert room_changes(SEEN, now, now) == [
        "The turn after wall 2 was left and is now right.",
        "The angle after wall 2 was square and is now 135 degrees.",
        "What stands at wall 2 was wall and is now radiator.",
    ]


def test_rows_that_came_or_went_are_told() -> None:
    post = TypedThing(name="column", x="1'", y="1'", width="6", depth="6")
    now = replace(measured("12'", "10'", "12'"), holes=(post,))
    assert room_changes(SEEN, now, SEEN) == [
        "Wall 4, 10', is gone.",
        "Row 1 is new: column or post.",
    ]


def test_closing_with_one_more_wall_is_told() -> None:
    now = replace(SEEN, close_last=True)
    assert room_changes(SEEN, now, SEEN) == ["The outline is closed with one more wall now."]


def test_a_last_wall_that_is_sure_is_told() -> None:
    now = replace(SEEN, sure_last=True)
    assert room_changes(SEEN, now, SEEN) == ["The last wall is sure now."]


def test_without_what_was_seen_the_two_are_told_apart() -> None:
    now = measured("12'", "11'", "12'", "10'")
    assert room_changes(None, now, SEEN) == ["Wall 2 is now 11'; you have 10'."]
