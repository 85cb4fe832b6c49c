"""One day of a packet: tasks, rows, waits, checks with boxes. Pure.

Checks are common practice without a source; the maker's sheet goes first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

_CHECKS: Mapping[str, tuple[str, ...]] = {
    "carry": ("All cartons of one lot; lot number noted", "Cartons flat, out of the sun"),
    "undercut": ("Casings cut with a gauge of floor and pad",),
    "prep": ("Subfloor flat, dry, screwed; nothing stands up",),
    "level": ("Filler dry before anything lies on it",),
    "underlay": ("Subfloor vacuumed", "Seams taped, no overlap that lifts the floor"),
    "lay": (
        "Subfloor vacuumed, locks wiped",
        "Boards flat, ends flush, no light in a joint",
        "Row line measured again every five rows",
        "Looked at from the doorway",
    ),
    "base": ("Nailed to the wall, never through the floor",),
    "shoe": ("Nailed to the base, never through the floor",),
    "doors_on": ("Every door swings and latches",),
    "clean": ("Spare boards, lot number and care sheet stay with the client",),
}
_FIRST_ROWS = "Rows one and two joined off the wall, straight, then slid back"
_EVENING = ("Exits free, one toilet usable", "Blades covered, power off, dust swept")


@dataclass(frozen=True, kw_only=True, slots=True)
class DayTask:
    """One task of a day; ``holds`` are titles of hold points that were open at issue.

    ``begins`` tells that the first row of a floor is laid.
    """

    code: str
    name: str
    hours: Decimal
    rows: str
    begins: bool
    helper: bool
    holds: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketDay:
    """One day of the packet."""

    number: int
    date: date
    crew: str
    people: tuple[str, ...]
    hours: Decimal
    tasks: tuple[DayTask, ...]
    notes: tuple[str, ...]


def day_content(day: PacketDay) -> dict[str, object]:
    """Return one day: tasks, rows, waits, checks with boxes."""
    return {
        "number": day.number,
        "date": day.date,
        "crew": day.crew,
        "people": list(day.people),
        "hours": day.hours,
        "tasks": [
            {
                "name": task.name,
                "hours": task.hours,
                "rows": task.rows,
                "helper": task.helper,
                "holds": list(task.holds),
            }
            for task in day.tasks
        ],
        "notes": list(day.notes),
        "holds": list(dict.fromkeys(hold for task in day.tasks for hold in task.holds)),
        "checks": checks_for(day.tasks),
    }


def checks_for(tasks: Sequence[DayTask]) -> list[str]:
    """Return what is checked on a day of these tasks, once each, the evening's last."""
    checks: list[str] = []
    for task in tasks:
        checks += [_FIRST_ROWS] if task.begins else []
        checks += _CHECKS.get(task.code, ())
    return list(dict.fromkeys([*checks, *_EVENING]))
