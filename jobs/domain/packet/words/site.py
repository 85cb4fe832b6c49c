"""What a floor's sheet says before row one: walls, doorways, base and shoe, rows 1 and 2. Pure."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon

from layout.cutsheet.strips.values import FloorStrips
from layout.drawing.floor.landmarks import Landmark
from layout.values.outline import EdgeKind, edges_of
from layout.values.request import PlanRequest
from layout.values.tolerances import AREA_TOLERANCE

OFF, ON, SHOE = "base_off", "base", "shoe"
"""Codes of the tasks that change what stands at a wall."""


def wall_words(codes: Collection[str], gap: str) -> str:
    """Return what the tape goes to and what covers the gap, by the tasks of a floor."""
    after = " and ".join([*["base"] * (ON in codes), *["shoe"] * (SHOE in codes)])
    if OFF in codes:
        to = "Base comes off first: tape to the drywall."
    elif ON in codes:
        to = "New base comes after the floor: tape to the drywall."
    else:
        to = "Base stays on: tape to its face, to the drywall where there is none."
    if after:
        return f"{to} {after.capitalize()} over the gap after the floor."
    return f"{to} No task covers the gap of {gap}: ask the office what does."


def door_words(*, doorways: int, turned_alike: bool = False) -> str:
    """Return what is said of a floor that no doorway was measured of; else nothing.

    ``turned_alike``: turned half around it is the same room, so either long wall may be wall 1.
    """
    if doorways:
        return ""
    like = "either" if turned_alike else "call"
    return (
        "No doorway measured: call before a row meets one. Back to wall 1, the start wall, found by"
        f" its length (two alike: {like}), left and right are as drawn. Door in wall"
    )


def turned_alike(request: PlanRequest) -> bool:
    """Whether a room turned half around is the same room: its outline alike, its walls too."""
    shape = Polygon(request.zone.outline)
    if request.zone.holes or request.zone.edges:
        return False
    other = rotate(shape, 180, origin=shape.envelope.centroid)
    return bool(shape.symmetric_difference(other).area <= AREA_TOLERANCE[request.unit])


def under_words(*, thick: str, attached: bool, pad: bool, barrier: bool) -> str:
    """Return how thick a plank is, and what lies under it, as a gauge for casings is made."""
    layers = [*["a separate pad"] * pad, *["a vapor barrier"] * barrier]
    backing = "its own pad on its back" if attached else "no pad of its own"
    under = f"under it {' and '.join(layers)}" if layers else "nothing else under it"
    return f"Plank {thick} thick, {backing}; {under}."


def walls_of_lines(request: PlanRequest, landmarks: Sequence[Landmark]) -> Mapping[int, str]:
    """Return the wall beside each line of a floor, by the number of the line's edge."""
    walls = [one for one in landmarks if one.words.startswith("wall ") and len(one.ends) == 2]
    edges = [*edges_of(request.zone.outline)]
    lines = {
        number: LineString(edges[number]).centroid
        for number, edge in request.zone.edges.items()
        if edge.kind is EdgeKind.TRANSITION
    }
    return {
        number: min(walls, key=lambda wall: LineString(wall.ends).distance(middle)).words
        for number, middle in lines.items()
        if walls
    }


def first_two(strips: FloorStrips, request: PlanRequest) -> Mapping[int, Sequence[str]]:
    """Return when the first two rows are joined: a note under row 1; none where they are down."""
    if request.lay.control_row is not None or [row.row for row in strips.rows[:2]] != [1, 2]:
        return {}
    words = (
        "Rows 1 and 2 on the spacers, ends joined, sides open: fill boxes, cut; then join off the"
        " wall, slide back as one."
    )
    return {1: (words,)}


def tasks_in(goal: str, most: int) -> str:
    """Return the tasks of a day in so many words at most: whole tasks, then how many more."""
    tasks = goal.split("; ")
    short = [task if len(task.split()) <= most else task.partition(" (")[0] for task in tasks]
    kept: list[str] = []
    for task in short:
        if kept and len(" ".join([*kept, task]).split()) > most:
            break
        kept.append(task)
    more = len(short) - len(kept)
    return "; ".join(kept) + (f"; and {more} more on its sheet" if more else "")
