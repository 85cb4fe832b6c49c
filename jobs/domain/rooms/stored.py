"""The form in which a room keeps what was typed in it, written and read. Pure.

Keys that a room kept before they were thought of may be missing: they say what is usual.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import TypeVar

from jobs.domain.checks import BadValueError, require_choice
from jobs.domain.rooms.typed import (
    EDGE_KINDS,
    HOLE_KINDS,
    TURNS,
    BowReading,
    TypedDiagonal,
    TypedRoom,
    TypedThing,
    TypedWall,
)

StoredRow = Mapping[object, object]
Value = TypeVar("Value")


def stored_room(room: TypedRoom) -> dict[str, object]:
    """Return what was typed in a room in the form in which the room keeps it."""
    return {
        "walls": [_stored_wall(wall) for wall in room.walls],
        "close_last": room.close_last,
        **({"sure_last": True} if room.sure_last else {}),
        "diagonals": [
            {"start": str(one.start), "end": str(one.end), "length": one.length}
            for one in room.diagonals
        ],
        "bows": [
            {"wall": str(one.wall), "along": one.along, "into": one.into} for one in room.bows
        ],
        "holes": [_stored_thing(thing) for thing in room.holes],
    }


def _stored_wall(wall: TypedWall) -> dict[str, str]:
    return {"length": wall.length, "turn": wall.turn, "angle": wall.angle, "edge": wall.edge}


def _stored_thing(thing: TypedThing) -> dict[str, str]:
    """Return a thing in its stored form; a round one has no depth there."""
    places = {"x": thing.x, "y": thing.y, "width": thing.width}
    depth = {"depth": thing.depth} if thing.depth else {}
    return {"kind": thing.kind, "name": thing.name, **places, **depth}


def typed_room(stored: object) -> TypedRoom:
    """Return what was typed in a room from the form in which the room keeps it.

    Raises BadValueError, naming the place, for what no room keeps.
    """
    room = _mapping(stored, "room")
    return TypedRoom(
        walls=_rows(room, "walls", _wall),
        close_last=bool(room.get("close_last")),
        sure_last=bool(room.get("sure_last")),
        diagonals=_rows(room, "diagonals", _diagonal),
        bows=_rows(room, "bows", _bow),
        holes=_rows(room, "holes", _thing),
    )


def _rows(room: StoredRow, part: str, read: Callable[[StoredRow, str], Value]) -> tuple[Value, ...]:
    """Return the rows of one kind, none where the room has none."""
    rows = room.get(part, [])
    if not isinstance(rows, list):
        raise BadValueError(field=f"room.{part}", value=rows, accepted="a list")
    places = [f"room.{part}[{n}]" for n in range(len(rows))]
    pairs = zip(places, rows, strict=True)
    return tuple(read(_mapping(row, place), place) for place, row in pairs)


def _wall(row: StoredRow, place: str) -> TypedWall:
    return TypedWall(
        length=_text(row, "length", place),
        turn=_choice(row, "turn", place, TURNS, "left"),
        angle=_text(row, "angle", place, otherwise=""),
        edge=_choice(row, "edge", place, EDGE_KINDS, "wall"),
    )


def _diagonal(row: StoredRow, place: str) -> TypedDiagonal:
    ends = {"start": _number(row, "start", place), "end": _number(row, "end", place)}
    return TypedDiagonal(**ends, length=_text(row, "length", place))


def _bow(row: StoredRow, place: str) -> BowReading:
    wall = _number(row, "wall", place)
    return BowReading(wall=wall, along=_text(row, "along", place), into=_text(row, "into", place))


def _thing(row: StoredRow, place: str) -> TypedThing:
    return TypedThing(
        name=_choice(row, "name", place, HOLE_KINDS, "column"),
        x=_text(row, "x", place),
        y=_text(row, "y", place),
        width=_text(row, "width", place),
        depth=_text(row, "depth", place, otherwise=""),
    )


def _mapping(value: object, place: str) -> StoredRow:
    if not isinstance(value, dict):
        raise BadValueError(field=place, value=value, accepted="a mapping")
    return value


def _text(row: StoredRow, name: str, place: str, *, otherwise: str | None = None) -> str:
    value = row.get(name, otherwise)
    if not isinstance(value, str):
        raise BadValueError(field=f"{place}.{name}", value=value, accepted="a text")
    return value


def _choice(row: StoredRow, name: str, place: str, choices: Collection[str], otherwise: str) -> str:
    value = _text(row, name, place, otherwise=otherwise) or otherwise
    require_choice(f"{place}.{name}", value, choices)
    return value


def _number(row: StoredRow, name: str, place: str) -> int:
    value = _text(row, name, place)
    if not value.isdecimal():
        raise BadValueError(field=f"{place}.{name}", value=value, accepted="a whole number")
    return int(value)
