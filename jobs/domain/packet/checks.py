"""What is checked as the work goes and before going home, with its figures and sources. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.packet.row_edges import EVERY
from jobs.domain.quantities import PRACTICE

FLAT = "3/16 in under a 10 ft straightedge, 1/8 in under 6 ft"
"""How flat a subfloor must be where the floor's maker says nothing; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Check:
    """One check: what is looked at, with its figure, and where the figure comes from."""

    text: str
    source: str = PRACTICE


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorChecks:
    """The figures of one floor of a day.

    ``rows`` are laid that day. ``marks``: of every fifth row and the last, how far its far edge
    lies from the start wall; ``line``: the same of row 1. ``flat``: the maker's flatness in words;
    empty: not said.
    """

    name: str
    rows: tuple[int, int]
    finishes: bool
    gap: str
    gap_source: str
    offset: str
    offset_source: str
    marks: Mapping[int, str]
    line: str = ""
    flat: str = ""
    flat_source: str = ""


_BY_TASK: Mapping[str, tuple[str, ...]] = {
    "carry": ("All cartons of one lot; lot number in the log", "Cartons flat, out of the sun"),
    "furniture": ("Furniture stands where nothing is done today or tomorrow; agreed on: ____",),
    "paint": ("Coats as agreed: ____; the last one dry before a row lies under it",),
    "undercut": (
        "Casings cut with a gauge of the floor's thickness; a plank slides under by hand",
    ),
    "level": ("Filler dry before anything lies on it; door shut, a note on it: off until ____",),
    "underlay": ("Subfloor vacuumed", "Seams taped, no overlap that lifts the floor"),
    "base": ("Nailed to the wall, never through the floor",),
    "shoe": ("Nailed to the base, never through the floor",),
    "transitions": ("Track screwed to the subfloor, never through the floor",),
    "doors_on": ("Every door swings and latches over the new floor",),
    "fixtures_on": ("Nothing drips after ten minutes; nothing rocks",),
    "clean": ("Spare planks, lot number and care sheet stay with the homeowner",),
}
OPEN_EDGE = "Photos of the open edge"
EVENING = (
    "Way out free, bathroom usable",
    "Blades covered, power off, dust swept",
    "Log saved",
)
BEFORE_TOUCHING = (
    "Each room from its doorway, and back to the door",
    "The floor that is down: stains, loose and broken places",
    "Base, casings, doors: every nick that is there already",
    "Walls along the way in, stairs, the outside door",
    "Appliances and furniture that are moved, each side",
)
"""Photographs of day one, before anything is touched."""
_UNTOUCHED: Mapping[int, tuple[frozenset[str], str]] = {
    1: (frozenset({"tear_out"}), "no task takes it out: ask before it is covered"),
    4: (frozenset({"furniture", "fixtures_off"}), "no task moves them: call if any stand there"),
}
"""By the photograph: what is done about it by which tasks, and what is said where none does."""


def photographs(codes: Collection[str]) -> Iterator[str]:
    """Yield the photographs of a job with tasks of these codes; what no task touches is said."""
    for place, photo in enumerate(BEFORE_TOUCHING):
        touched, words = _UNTOUCHED.get(place, (frozenset(codes), ""))
        yield photo if touched & set(codes) or not words else f"{photo}; {words}"


OLD_FLOOR_GONE = "Old floor at the dump, truck empty, none of it left behind"
OLD_FLOOR_LOADED = "Old floor in the truck, none of it left behind"


def as_you_go(codes: Sequence[str], floors: Sequence[FloorChecks]) -> list[Check]:
    """Return what is checked while the tasks of a day are done, each once, in working order."""
    checks: list[Check] = []
    for code in dict.fromkeys(codes):
        if code == "prep":
            checks += _flatness(floors)
        elif code == "lay":
            checks += _lines(floors)
            for floor in floors:
                checks += _laying(floor)
        else:
            checks += [Check(text=text) for text in _BY_TASK.get(code, ())]
    return list(dict.fromkeys(checks))


def going_home(codes: Sequence[str], floors: Sequence[FloorChecks]) -> list[Check]:
    """Return what must be true before the crew of such a day goes home."""
    checks = [_stop(floor) for floor in floors if not floor.finishes]
    if "dispose" in codes:
        checks.append(Check(text=OLD_FLOOR_GONE if "dump_run" in codes else OLD_FLOOR_LOADED))
    if any(not floor.finishes for floor in floors):
        checks.append(Check(text=OPEN_EDGE))
    return [*checks, *(Check(text=text) for text in EVENING)]


def _flatness(floors: Sequence[FloorChecks]) -> Iterator[Check]:
    said = {(floor.flat, floor.flat_source) for floor in floors if floor.flat}
    for flat, source in sorted(said):
        yield Check(text=f"Subfloor flat to {flat}; dry, screwed, nothing stands up", source=source)
    if not said or any(not floor.flat for floor in floors):
        yield Check(text=f"Subfloor flat to {FLAT}; dry, screwed, nothing stands up")


def _lines(floors: Sequence[FloorChecks]) -> Iterator[Check]:
    """Yield the lines that are snapped for row 1, of all floors of a day together."""
    named = len(floors) > 1
    lines = [
        f"{one.name} {one.line}" if named else one.line
        for one in floors
        if one.rows[0] == 1 and one.line
    ]
    if lines:
        yield Check(text=f"Line of row 1 snapped off the start wall: {', '.join(lines)}")


def _laying(floor: FloorChecks) -> Iterator[Check]:
    first, last = floor.rows
    yield Check(text="Subfloor vacuumed, locks wiped")
    if first == 1:
        yield from _flatness([floor])
        yield Check(text="Rows 1 and 2 joined off the wall, straight, then slid back")
    yield Check(text=f"Gap of {floor.gap} at every wall and post", source=floor.gap_source)
    yield Check(
        text=f"End joints {floor.offset} or more from those of the row before",
        source=floor.offset_source,
    )
    yield Check(text="Planks flat, ends flush, no light in a joint")
    marks = [
        f"row {row} at {far}"
        for row, far in floor.marks.items()
        if first <= row <= last and (row % EVERY == 0 or floor.finishes)
    ]
    if marks:
        said = "; ".join(marks)
        yield Check(text=f"{floor.name}, story stick on the row line, every fifth row: {said}")
    yield Check(text="Looked at from the doorway")


def _stop(floor: FloorChecks) -> Check:
    row = floor.rows[1]
    edge = f", its far edge {floor.marks[row]} from the start wall" if row in floor.marks else ""
    return Check(text=f"{floor.name}: stopped at row {row}{edge}; edge ramped and taped")
