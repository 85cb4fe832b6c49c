"""What a cut is measured from: a factory end or side that the part in hand has when it is made."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from shapely.geometry import Polygon

from layout.saw.bench import SawBench
from layout.saw.jigsaw import corners_of
from layout.saw.lines import Corners, SawLine, clipped

_ENDS, _SIDES = ("left end", "right end"), ("low side", "high side")


def line_measure(bench: SawBench, line: SawLine, part: Polygon, path: Corners) -> tuple[str, float]:
    """Return what a straight cut is measured from, and its figure.

    Where it can be the figure is what stays; of a slanted cut it is the nearer mark.
    """
    corners = corners_of(part)
    names = _SIDES if line.kind == "rip" else _ENDS
    stays = [name for name in bench.keeps(clipped(corners, line)) if name in names]
    there = [name for name in bench.keeps(corners) if name in names]
    measured = [(name, distance(bench, name, path)) for name in stays or there or names]
    if line.kind == "angle" and stays:
        # The marks lie far from the end that stays where the other end goes.
        opposite = {"left": "right end", "right": "left end"}.get(line.goes)
        measured.sort(key=lambda each: (each[0] != opposite, each[1]))
    return measured[0]


def nibble_measure(
    bench: SawBench, part: Polygon, after: Polygon, path: Corners
) -> tuple[str, float]:
    """Return the end that a notch or a hole is measured from, and how far its nearest mark is.

    ``after``: what stays of the part. A corner that lies at the end itself is no mark.
    """
    there = [name for name in bench.keeps(corners_of(part)) if name in _ENDS]
    stays = [name for name in bench.keeps(corners_of(after)) if name in there]
    measured = []
    for name in stays or there or _ENDS:
        marks = [distance(bench, name, (point,)) for point in path]
        nearest = min((mark for mark in marks if mark > bench.near), default=0.0)
        whole = min(marks) > bench.near
        measured.append((not whole, nearest, name))
    _, at, name = min(measured)
    return name, at


def distance(bench: SawBench, name: str, points: Iterable[tuple[float, float]]) -> float:
    """Return how far the nearest of some points lies from an end or side of the plank."""
    nearest = inf
    for x, y in points:
        away = {
            "left end": x,
            "right end": bench.length - x,
            "low side": y,
            "high side": bench.width - y,
        }[name]
        nearest = min(nearest, away)
    return nearest + 0.0


def tool_of(kind: str, kerfs: tuple[float, float]) -> str:
    """Return what a cut is made with, where cuts across and rips take ``kerfs``.

    What takes nothing is scored and snapped.
    """
    if kind in ("notch", "hole"):
        return "jigsaw"
    return "saw" if kerfs[kind == "rip"] > 0 else "score"
