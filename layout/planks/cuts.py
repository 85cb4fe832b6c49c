"""The saw cuts that make a piece of its plank, read off the piece's outline.

Every cut says from which end or side of the plank it is measured and how far from there it lies;
what stays is always the measured part. Corners cut square are notches, slanted ones angles.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from shapely.geometry import Polygon, box

from layout.saw.measures import tool_of
from layout.values.plan import Cut
from layout.values.tolerances import NOTCH_TOLERANCE


def cuts_of(
    shape: Polygon,
    size: tuple[float, float],
    site_ends: dict[str, tuple[float, float]],
    same: tuple[float, float],
    kerfs: tuple[float, float],
) -> tuple[Cut, ...]:
    """Return the cuts of a piece, ``shape`` in its plank's coordinates (direction frame).

    ``same``: waste thinner than the first all over asks for no cut, and an end that leans by less
    is square; a notch no thicker than the second is none. ``site_ends`` names the ends ("left end",
    "right end") that are measured on site, with the least and the most that the piece may keep from
    the end across. ``kerfs`` are what a cut across and a rip take.
    """
    near, thin = same
    cuts = [*_straight(shape, size, site_ends, near)]
    left, low, right, high = shape.bounds
    waste = box(left, low, right, high).difference(Polygon(shape.exterior))
    parts = [p for p in getattr(waste, "geoms", [waste]) if isinstance(p, Polygon)]
    for part in parts:
        corner = _corner(part, shape, size)
        least = thin if corner.kind == "notch" else near
        cuts += [] if part.buffer(-least / 2).is_empty else [corner]
    cuts += [_hole(Polygon(ring)) for ring in shape.interiors]
    return tuple(replace(cut, tool=tool_of(cut.kind, kerfs)) for cut in cuts)


def _straight(
    shape: Polygon,
    size: tuple[float, float],
    site_ends: dict[str, tuple[float, float]],
    near: float,
) -> Iterator[Cut]:
    """Yield the crosscuts and rips: straight sides of the piece short of the plank's own."""
    left, low, right, high = shape.bounds
    length, width = size
    if left > near and _has_edge(shape, 0, left, near):
        yield _end_cut("right end", length - left, site_ends.get("left end"))
    if right < length - near and _has_edge(shape, 0, right, near):
        yield _end_cut("left end", right, site_ends.get("right end"))
    if low > near and _has_edge(shape, 1, low, near):
        yield Cut(kind="rip", measure_from="high side", at=width - low)
    if high < width - near and _has_edge(shape, 1, high, near):
        yield Cut(kind="rip", measure_from="low side", at=high)


def _end_cut(measure_from: str, at: float, limits: tuple[float, float] | None) -> Cut:
    """Return a crosscut, measured on site where the end across from ``measure_from`` asks so."""
    final = "exact" if limits is None else "measure on site"
    return Cut(kind="crosscut", measure_from=measure_from, at=at, final=final, limits=limits)


def _has_edge(shape: Polygon, axis: int, at: float, near: float) -> bool:
    """Whether an edge of the outline lies within ``near`` of the line ``at`` of an axis."""
    return any(
        abs(a[axis] - at) < near
        and abs(b[axis] - at) < near
        and abs(a[1 - axis] - b[1 - axis]) > near
        for a, b in pairwise(shape.exterior.coords)
    )


def _corner(waste: Polygon, shape: Polygon, size: tuple[float, float]) -> Cut:
    """Return the notch or angle that takes ``waste`` from the piece."""
    x0, y0, x1, y1 = waste.bounds
    left, _, right, _ = shape.bounds
    square = abs((x1 - x0) * (y1 - y0) - waste.area) < NOTCH_TOLERANCE * max(1.0, waste.area)
    near_right = abs(x1 - right) < abs(x0 - left)
    measure_from, at = ("left end", x0) if near_right else ("right end", size[0] - x1)
    return Cut(
        kind="notch" if square else "angle",
        measure_from=measure_from,
        at=at,
        detail={"waste": [list(point) for point in waste.exterior.coords[:-1]]},
    )


def _hole(waste: Polygon) -> Cut:
    """Return the cut-out inside a piece."""
    return Cut(
        kind="hole",
        measure_from="left end",
        at=waste.bounds[0],
        detail={"waste": [list(point) for point in waste.exterior.coords[:-1]]},
    )
