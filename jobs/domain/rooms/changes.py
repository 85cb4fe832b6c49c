"""What changed in a room's measurements between two readings of it, in words. Pure.

Whoever saves second is told, field by field, what was there when the page was opened, what stands
there now, and what they have typed themselves where that differs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from jobs.domain.rooms.typed import EDGE_KINDS, HOLE_KINDS, TypedRoom, TypedRow

# For every kind of row: what its fields are called, with the row's number.
_FIELDS: Mapping[str, Mapping[str, str]] = {
    "walls": {
        "length": "Wall {n}",
        "turn": "The turn after wall {n}",
        "angle": "The angle after wall {n}",
        "edge": "What stands at wall {n}",
    },
    "diagonals": {
        "start": "The first corner of diagonal {n}",
        "end": "The other corner of diagonal {n}",
        "length": "Diagonal {n}",
    },
    "bows": {
        "wall": "The wall of bow reading {n}",
        "along": "The place of bow reading {n}",
        "into": "Bow reading {n}",
    },
    "holes": {
        "name": "What stands in row {n}",
        "x": "Its distance along the first wall, row {n},",
        "y": "Its distance square to it, row {n},",
        "width": "Its width, row {n},",
        "depth": "Its depth, row {n},",
    },
}
_ONE = {"walls": "Wall", "diagonals": "Diagonal", "bows": "Bow reading", "holes": "Row"}
_SIZE = {"walls": "length", "diagonals": "length", "bows": "into", "holes": "name"}


def room_changes(seen: TypedRoom | None, now: TypedRoom, mine: TypedRoom) -> list[str]:
    """Return a sentence for everything that stands otherwise ``now`` than it was ``seen``.

    ``mine`` is what the second saver typed. Without ``seen`` every difference between the two is
    told.
    """
    changes = [
        sentence
        for part in _FIELDS
        for sentence in _rows(part, None if seen is None else _of(seen, part), now, mine)
    ]
    before = mine if seen is None else seen
    if before.close_last != now.close_last:
        changes.append(
            f"The outline is {'' if now.close_last else 'not '}closed with one more wall now."
        )
    if before.sure_last != now.sure_last:
        changes.append(f"The last wall is {'' if now.sure_last else 'not '}sure now.")
    return changes


def _rows(
    part: str, seen: Sequence[TypedRow] | None, now: TypedRoom, mine: TypedRoom
) -> Iterator[str]:
    """Yield what changed in one kind of row."""
    theirs, yours = _of(now, part), _of(mine, part)
    before = yours if seen is None else seen
    for n in range(max(len(before), len(theirs))):
        was, stands, typed = (_at(rows, n) for rows in (before, theirs, yours))
        if was is None or stands is None:
            yield _come_or_gone(part, n, was, stands)
            continue
        for field, label in _FIELDS[part].items():
            old, new = _words(field, was), _words(field, stands)
            have = None if typed is None else _words(field, typed)
            if old != new:
                yield _changed(label.format(n=n + 1), old if seen is not None else None, new, have)


def _changed(label: str, old: str | None, new: str, have: str | None) -> str:
    """Return what a field was, is and is to be."""
    was = "is now" if old is None else f"was {old} and is now"
    yours = f"; you have {have}" if have is not None and have != new else ""
    return f"{label} {was} {new}{yours}."


def _come_or_gone(part: str, n: int, was: TypedRow | None, stands: TypedRow | None) -> str:
    label = f"{_ONE[part]} {n + 1}"
    if stands is not None:
        return f"{label} is new: {_words(_SIZE[part], stands)}."
    size = "nothing" if was is None else _words(_SIZE[part], was)
    return f"{label}, {size}, is gone."


def _words(field: str, row: TypedRow) -> str:
    """Return the value of a field as it was typed or chosen."""
    value = str(getattr(row, field))
    if field == "angle":
        return f"{value} degrees" if value else "square"
    if field == "edge":
        return EDGE_KINDS[value].lower()
    if field == "name":
        return HOLE_KINDS[value][0].lower()
    return value or ("round" if field == "depth" else "nothing")


def _of(room: TypedRoom, part: str) -> Sequence[TypedRow]:
    parts: Mapping[str, Sequence[TypedRow]] = {
        "walls": room.walls,
        "diagonals": room.diagonals,
        "bows": room.bows,
        "holes": room.holes,
    }
    return parts[part]


def _at(rows: Sequence[TypedRow], n: int) -> TypedRow | None:
    return rows[n] if n < len(rows) else None
