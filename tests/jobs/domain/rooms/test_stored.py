"""What was typed in a room, kept and read again."""

from __future__ import annotations

import json
from typing import Any

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.rooms.outline import draw_room
from jobs.domain.rooms.stored import stored_room, typed_room
from jobs.domain.rooms.typed import BowReading, TypedDiagonal, TypedRoom, TypedThing, TypedWall
from tests.conftest import ROOT

TABLES = ROOT / "tests" / "books" / "0_2" / "rows"
FULL = {
    "walls": [{"length": "12' 4 1/2\"", "turn": "right", "angle": "130.25", "edge": "radiator"}],
    "close_last": True,
    "diagonals": [{"start": "1", "end": "3", "length": "20' 3\""}],
    "bows": [{"wall": "2", "along": "5'", "into": "-1/2"}],
    "holes": [
        {"kind": "cabinet", "name": "cabinet", "x": "0", "y": "2'", "width": "3'", "depth": "2'"},
        {"kind": "post", "name": "pipe", "x": "1'", "y": "1'", "width": "2"},
    ],
}


def rows(table: str) -> list[dict[str, Any]]:
    """Return the rows of a table of the kept book."""
    return [json.loads(line) for line in (TABLES / f"{table}.jsonl").read_text().splitlines()]


KEPT = rows("jobs.Room")
kept = pytest.mark.parametrize("row", KEPT, ids=[row["name"] for row in KEPT])


def test_a_room_is_read_as_what_was_typed() -> None:
    assert typed_room(FULL) == TypedRoom(
        walls=(TypedWall(length="12' 4 1/2\"", turn="right", angle="130.25", edge="radiator"),),
        close_last=True,
        diagonals=(TypedDiagonal(start=1, end=3, length="20' 3\""),),
        bows=(BowReading(wall=2, along="5'", into="-1/2"),),
        holes=(
            TypedThing(name="cabinet", x="0", y="2'", width="3'", depth="2'"),
            TypedThing(name="pipe", x="1'", y="1'", width="2"),
        ),
    )


def test_a_room_is_kept_in_the_form_it_was_read_from() -> None:
    assert stored_room(typed_room(FULL)) == FULL


def test_a_room_of_nothing_was_typed_nothing_in() -> None:
    assert typed_room({}) == TypedRoom()


@kept
def test_a_room_of_the_kept_book_loses_nothing(row: dict[str, Any]) -> None:
    again = json.loads(json.dumps(stored_room(typed_room(row["measured"]))))
    walls = zip(row["measured"]["walls"], again["walls"], strict=True)
    assert all(old.items() <= new.items() for old, new in walls)
    assert again["holes"] == row["measured"]["holes"]


@kept
def test_a_room_of_the_kept_book_is_drawn_as_it_was(row: dict[str, Any]) -> None:
    units = {job["id"]: job["units"] for job in rows("jobs.Job")}
    unit = "mm" if units[row["job_id"]] == "metric" else "in"
    drawn = draw_room(typed_room(row["measured"]), unit=unit)
    assert [list(corner) for corner in drawn.outline] == row["outline"]


@pytest.mark.parametrize(
    ("stored", "sentence"),
    [
        ([1], r"room is \[1\]; accepted: a mapping"),
        ({"walls": 3}, "room.walls is 3; accepted: a list"),
        ({"walls": [4]}, r"room.walls\[0\] is 4; accepted: a mapping"),
        ({"walls": [{"turn": "left"}]}, r"room.walls\[0\].length is missing; accepted: a text"),
        ({"walls": [{"length": "1'", "edge": "moat"}]}, r"walls\[0\].edge is 'moat'; accepted"),
        ({"bows": [{"wall": "two"}]}, r"bows\[0\].wall is 'two'; accepted: a whole number"),
    ],
)
def test_what_no_room_keeps_is_refused_at_its_place(stored: object, sentence: str) -> None:
    with pytest.raises(BadValueError, match=sentence):
        typed_room(stored)
