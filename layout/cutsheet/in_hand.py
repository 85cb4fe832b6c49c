"""What is in hand when a cut of the sheet is made: the sheet's cuts followed, kerf and all.

Shapes lie in the plank's own coordinates, its lower-left corner at 0, 0.

        path                   what stays lies at the path, what goes a kerf beyond it; a notch's
    +----+-+------+            path runs with what stays on its left, and takes no kerf
    |    |k| goes |
    +----+-+------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.ops import polygonize, unary_union

from layout.values.leftovers import cut_by_plank, left_in
from layout.values.outline import Point, Region, polygons_of
from layout.values.request import PlanRequest
from layout.values.sheet import PlankCuts, SawCut
from layout.values.tolerances import LENGTH_TOLERANCE, PATH_TOLERANCE
from layout.values.units import INCH

LEAST_EDGE = 1 / 16  # in: what must be left of a factory end or side to measure from it
_TOWARD = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "low": (0.0, -1.0), "high": (0.0, 1.0)}


@dataclass(frozen=True, eq=False, kw_only=True)
class PartCut:
    """One cut made: the part that was in hand, what stays of it, what goes without the kerf.

    ``on_site``: the cuts made before whose place was found on site, not as drawn.
    """

    cut: SawCut
    part: Polygon
    stays: Region
    goes: Region
    on_site: tuple[SawCut, ...] = ()


def parts_cut(plank: PlankCuts, request: PlanRequest) -> Iterator[PartCut]:
    """Yield the cuts of a plank as they are made, each with the part that it is made in."""
    aside: list[_Aside] = [_Aside((), blank) for blank in blanks_of(plank, request)]
    name, held = "", Polygon()
    on_site: tuple[SawCut, ...] = ()
    for cut in plank.cuts:
        if cut.then.in_hand != name:
            name = cut.then.in_hand
            held = _taken_up(aside, cut)
        part = _met([held], cut)
        stays, goes = _halves(part, cut, request)
        held = stays
        if cut.then.aside:
            aside.append(_Aside(cut.then.aside, goes))
        yield PartCut(cut=cut, part=part, stays=stays, goes=goes, on_site=on_site)
        on_site += (cut,) if cut.final != "exact" else ()


class _Aside(NamedTuple):
    """A part put aside, the pieces that come of it (none named: whatever is left)."""

    names: tuple[str, ...]
    shape: Region


def _taken_up(aside: list[_Aside], cut: SawCut) -> Region:
    """Take up the part put aside that holds the piece of a cut."""
    named = [one for one in aside if cut.then.in_hand in one.names]
    among = named or [one for one in aside if not one.names] or aside
    if not among:
        return Polygon()
    taken = max(among, key=lambda one: _reach(_met([one.shape], cut), cut))
    aside.remove(taken)
    return taken.shape


def blanks_of(plank: PlankCuts, request: PlanRequest) -> list[Region]:
    """Return what there is of a plank before its first cut: all of it, or what is left of it.

    That is its leftovers at hand, or what the pieces that are down have left of it.
    """
    whole = box(0, 0, *plank.size)
    laid = cut_by_plank(request.laid, request.rules.direction_deg or 0.0).get(plank.plank, [])
    gone = [piece.buffer(request.rules.saw_kerf, join_style="mitre") for piece in laid]
    if request.on_hand is None:
        return list(polygons_of(whole.difference(unary_union(gone)))) if gone else [whole]
    offcuts = [offcut for offcut in request.on_hand.offcuts if offcut.plank == plank.plank]
    shapes = [Polygon(one.outline) if one.outline else left_in(one, gone) for one in offcuts]
    return [*shapes] or [whole]


def kept_sides(part: Region, size: tuple[float, float], unit: str) -> frozenset[str]:
    """Return the factory ends and sides of which a part has enough to measure from."""
    near = LENGTH_TOLERANCE[unit]
    least = LEAST_EDGE * INCH[unit] - near
    length, width = size
    sides = {"left end": (0, 0.0), "right end": (0, length), "low side": (1, 0.0)}
    sides["high side"] = (1, width)
    has = dict.fromkeys(sides, 0.0)
    for polygon in polygons_of(part):
        for a, b in pairwise(polygon.exterior.coords):
            for name, (axis, at) in sides.items():
                if abs(a[axis] - at) <= near and abs(b[axis] - at) <= near:
                    has[name] += math.dist(a, b)
    return frozenset(name for name, long in has.items() if long >= least)


def _met(shapes: Sequence[Region], cut: SawCut) -> Polygon:
    """Return the polygon through which a cut runs furthest, the largest of several."""
    polygons = [polygon for shape in shapes for polygon in polygons_of(shape)]
    return max(polygons, key=lambda polygon: _reach(polygon, cut), default=Polygon())


def _reach(polygon: Polygon, cut: SawCut) -> tuple[float, float]:
    """Return how far a cut runs through a polygon, and the polygon's area."""
    return float(LineString(cut.path).intersection(polygon).length), float(polygon.area)


def _halves(part: Polygon, cut: SawCut, request: PlanRequest) -> tuple[Region, Region]:
    """Return what stays of a part and what goes."""
    if cut.kind in {"notch", "hole"}:
        waste = _waste(part, cut)
        return part.difference(waste), waste
    rules = request.rules
    kerf = rules.kerf_across if cut.kind == "rip" else rules.saw_kerf
    return part.difference(_beyond(part, cut, 0.0)), part.intersection(_beyond(part, cut, kerf))


def _beyond(part: Polygon, cut: SawCut, kerf: float) -> Polygon:
    """Return all that lies more than ``kerf`` from a straight cut on the side that goes."""
    (ax, ay), (bx, by) = cut.path[0], cut.path[-1]
    long = math.dist((ax, ay), (bx, by)) or 1.0
    ux, uy = (bx - ax) / long, (by - ay) / long
    nx, ny = -uy, ux
    toward = _TOWARD[cut.goes]
    if nx * toward[0] + ny * toward[1] < 0:
        nx, ny = -nx, -ny
    far = 4 * sum(abs(value) for value in part.bounds) + 4 * long
    return Polygon(
        [
            (ax + along * far * ux + off * nx, ay + along * far * uy + off * ny)
            for along, off in ((-1, kerf), (1, kerf), (1, far), (-1, far))
        ]
    )


def _waste(part: Polygon, cut: SawCut) -> Region:
    """Return what a notch or a hole takes: what lies on the right of its path."""
    if cut.path[0] == cut.path[-1]:
        return Polygon(cut.path)
    cuts = unary_union([part.boundary, LineString(_run_on(cut.path))])
    pieces = [one for one in polygonize(cuts) if part.covers(one.representative_point())]
    right = _right_of(cut.path)
    return min(pieces, key=lambda one: one.distance(right), default=Polygon())


def _right_of(path: Sequence[Point]) -> Spot:
    """Return a point just right of the longest stretch of a path."""
    (ax, ay), (bx, by) = max(pairwise(path), key=lambda ends: math.dist(*ends))
    long = math.dist((ax, ay), (bx, by)) or 1.0
    off = min(PATH_TOLERANCE, PATH_TOLERANCE * long)
    return Spot((ax + bx) / 2 + off * (by - ay) / long, (ay + by) / 2 - off * (bx - ax) / long)


def _run_on(path: Sequence[Point]) -> list[Point]:
    """Return a path run on a little at both ends, so that it meets the edges it ends at."""

    def beyond(before: Point, end: Point) -> Point:
        share = PATH_TOLERANCE / (math.dist(before, end) or 1.0)
        return end[0] + share * (end[0] - before[0]), end[1] + share * (end[1] - before[1])

    return [beyond(path[1], path[0]), *path[1:-1], beyond(path[-2], path[-1])]
