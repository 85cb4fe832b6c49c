"""The marks of a cut, each from an end or edge that is still there, and which part goes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, product

from shapely.geometry import Point as Spot

from layout.cutsheet.cut_view import ACROSS, EDGES, ENDS, CutView
from layout.values.outline import Point
from layout.values.tolerances import LENGTH_TOLERANCE, TOUCHING_TOLERANCE

Corner = tuple[str, str]
_ACROSS_FROM = {**ACROSS, "": ""}
CORNERS: tuple[Corner, ...] = tuple(product(EDGES, ENDS))


def listed(names: Sequence[str]) -> str:
    """Return things in a list, the last after "and"."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


@dataclass(frozen=True, slots=True, kw_only=True)
class SetMark:
    """A mark in words, where the person sets it, and what it measures as `CutView` has it."""

    text: str
    at: Point
    figures: tuple[tuple[str, float], ...] = ()


class CutMarks:
    """The marks of one cut, from the end and the edge that they are measured from."""

    def __init__(self, view: CutView, *, corner: tuple[str, str] | None = None) -> None:
        self.view, self.part = view, view.part
        edge, end = corner or ("", "")
        named = view.name(view.cut.measure_from)
        self.end = self._first((_ACROSS_FROM[end], named, *view.kept), ENDS)
        self.edge = self._first((_ACROSS_FROM[edge], named, *EDGES), EDGES)

    def _first(self, wanted: Sequence[str], among: Sequence[str]) -> str:
        """Return the first end or edge wanted that is still there, or is named by the cut."""
        there = [one for one in wanted if one in among and one in self.view.kept]
        return there[0] if there else next((one for one in wanted if one in among), among[0])

    def along(self, x: float) -> str:
        """Return a place along the board."""
        return f"{self.view.words(self.view.along(x, self.end))} from the {self.end} end"

    def across(self, y: float) -> str:
        """Return a place across the board."""
        return f"{self.view.words(self.view.across(y, self.edge))} from the {self.edge} edge"

    def inside(self, point: Point) -> str:
        """Return a place that lies on no edge and no end, by both."""
        return self.kept_in_mind(self._inside(point)).text

    def line(self) -> tuple[SetMark, SetMark]:
        """Return the two marks of a slanted cut; as told it takes something of the part in hand."""
        one, other = self.view.path
        pairs = [
            (self.mark(p), self.mark(q))
            for p, q in product(self._further_in(one), self._further_in(other))
        ]

        def off(pair: tuple[SetMark, SetMark]) -> tuple[bool, float]:
            far = max(math.dist(pair[0].at, one), math.dist(pair[1].at, other))
            return not self._takes(*pair), far

        first, second = min(pairs, key=off)
        return self.kept_in_mind(first), self.kept_in_mind(second)

    def set(self, point: Point) -> str:
        """Return the mark of a point in words."""
        return self.kept_in_mind(self.mark(point)).text

    def corner_of_notch(self, point: Point, corner: Corner) -> tuple[str, str]:
        """Return the inner corner of a square notch along and across; it takes something."""
        x0, y0, x1, y1 = self.part.bounds
        edge, end = corner
        spot = (x0 if end == "left" else x1, y0 if edge == "near" else y1)
        placed, half = self._placed(point), self.view.step / 2
        x, y = (
            at + (half if at > bound else -half) if abs(set_at - bound) < half else at
            for at, set_at, bound in zip(point, placed, spot, strict=True)
        )
        self.view.figures.extend([(self.end, x), (self.edge, y)])
        return self.along(x), self.across(y)

    def bay(self, side: str) -> str:
        """Return a square notch that opens to an end or edge: from where to where, how deep."""
        one, other = self.view.path[1:3]
        across = side in ENDS
        base = self.edge if across else self.end
        measure = self.view.across if across else self.view.along
        axis = 1 if across else 0
        reach = sorted(measure(point[axis], base) for point in (one, other))
        deep = (self.view.along if across else self.view.across)(one[1 - axis], side)
        self.view.figures.extend((base, point[axis]) for point in (one, other))
        self.view.figures.append((side, one[1 - axis]))
        least, most, depth = map(self.view.words, (*reach, max(deep, self.view.step)))
        where = f"{least} to {most} from the {base} {_kind(base)}"
        return f"notch out {where}, {depth} deep from the {side} {_kind(side)}"

    def kept_in_mind(self, mark: SetMark) -> SetMark:
        """Return a mark that is used: what it measures is noted."""
        self.view.figures.extend(mark.figures)
        return mark

    def mark(self, point: Point) -> SetMark:
        """Return the mark of a point; an end or edge that was found on site is none to mark on."""
        x0, y0, x1, y1 = self.part.bounds
        near = LENGTH_TOLERANCE[self.view.unit]
        edge_off, end_off = (self.view.is_on_site(point, rip=rip) for rip in (True, False))
        for edge, end in CORNERS:
            spot = (x0 if end == "left" else x1, y0 if edge == "near" else y1)
            off = any(self.view.is_on_site(spot, rip=rip) for rip in (True, False))
            if not off and self._is_corner(spot) and math.dist(point, spot) < self.view.step / 2:
                return SetMark(text=f"the {edge} {end} corner", at=spot)
        along, across = (self.end, point[0]), (self.edge, point[1])
        for edge, y in (("near", y0), ("far", y1)):
            if abs(point[1] - y) <= near and not edge_off:
                text = f"{self.along(point[0])} on the {edge} edge"
                return SetMark(text=text, at=(self._placed(point)[0], y), figures=(along,))
        for end, x in (("left", x0), ("right", x1)):
            if abs(point[0] - x) <= near and not end_off:
                text = f"{self.across(point[1])} on the {end} end"
                return SetMark(text=text, at=(x, self._placed(point)[1]), figures=(across,))
        return self._inside(point)

    def _inside(self, point: Point) -> SetMark:
        """Return the mark of a point by an end and an edge."""
        text = f"{self.along(point[0])} by {self.across(point[1])}"
        figures = ((self.end, point[0]), (self.edge, point[1]))
        return SetMark(text=text, at=self._placed(point), figures=figures)

    def _further_in(self, point: Point) -> Iterator[Point]:
        """Yield a point, and places that are told a step further from what goes."""
        x, y = self.view.way_gone
        half = self.view.step / 2
        yield point
        yield (point[0] - math.copysign(half, x), point[1])
        yield (point[0], point[1] - math.copysign(half, y))

    def _takes(self, one: SetMark, other: SetMark) -> bool:
        """Whether a line from mark to mark leaves something of the part on the side that goes."""
        (ax, ay), (bx, by) = one.at, other.at
        out, away = ay - by, bx - ax
        x, y = self.view.way_gone
        if out * x + away * y < 0:
            out, away = -out, -away
        beyond = max((px - ax) * out + (py - ay) * away for px, py in self.part.exterior.coords)
        return bool(beyond > TOUCHING_TOLERANCE)

    def _placed(self, point: Point) -> Point:
        """Return a point as its figures tell it."""
        x, y = self.view.along(point[0], self.end), self.view.across(point[1], self.edge)
        length, width = self.view.size
        return (x if self.end == "left" else length - x, y if self.edge == "near" else width - y)

    def _is_corner(self, spot: Point) -> bool:
        """Whether the part has a corner at a corner of its bounds."""
        near = LENGTH_TOLERANCE[self.view.unit]
        return any(math.dist(spot, corner) <= near for corner in self.part.exterior.coords)


class GonePart:
    """The part that a notch takes, and how it is told from the part that stays."""

    def __init__(self, view: CutView) -> None:
        self.view = view
        self.near = LENGTH_TOLERANCE[view.unit]
        self.goes, self.stays = view.seen(view.made.goes), view.seen(view.made.stays)
        self.bounds = view.part.bounds

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """The corners of the part in hand that go."""
        return tuple(corner for corner in CORNERS if self._nearer(corner) > 0)

    @property
    def corner(self) -> Corner | None:
        """The one corner that goes, None where it is not one."""
        one = self.corners[0] if len(self.corners) == 1 else None
        return one if one and self._nearer(one) > self.near else None

    def words(self, marks: CutMarks) -> str:
        """Return which part goes, in words that fit no other one."""
        if self.corner:
            return f"the {' '.join(self.corner)} corner goes"
        side = next((one for one in (*ENDS, *EDGES) if self._is_side(one)), None)
        if side:
            return f"the {side} part goes"
        left = [corner for corner in CORNERS if corner not in self.corners]
        if len(left) == 1 and self._nearer(left[0]) < -self.near:
            return f"only the {' '.join(left[0])} corner stays, the rest goes"
        if self.under and len(self.corners) in (0, 4):
            what = "stays, the rest goes" if self.corners else "goes"
            return f"what lies between them and the {self.under} {_kind(self.under)} {what}"
        spot = self.goes.representative_point()
        return f"what holds the mark {marks.inside((spot.x, spot.y))} goes"

    def _spot(self, corner: Corner) -> Spot:
        """Return a corner of the bounds of the part in hand."""
        x0, y0, x1, y1 = self.bounds
        edge, end = corner
        return Spot(x0 if end == "left" else x1, y0 if edge == "near" else y1)

    def _nearer(self, corner: Corner) -> float:
        """Return by how much what goes lies nearer to a corner than what stays."""
        spot = self._spot(corner)
        return float(self.stays.distance(spot) - self.goes.distance(spot))

    def _is_side(self, side: str) -> bool:
        """Whether what goes is all that lies furthest to a side, both corners there."""
        if {corner for corner in CORNERS if side in corner} != set(self.corners):
            return False
        axis = 0 if side in ENDS else 1
        first = side in ("left", "near")
        goes, stays = (each.bounds[axis + (0 if first else 2)] for each in (self.goes, self.stays))
        return bool((stays - goes if first else goes - stays) > self.near)

    @cached_property
    def under(self) -> str | None:
        """The end or edge on which a cut begins and ends, None where it is not one."""
        begin, end = self.view.path[0], self.view.path[-1]
        for name, axis, at in zip(
            ("left", "near", "right", "far"), (0, 1, 0, 1), self.bounds, strict=True
        ):
            if max(abs(begin[axis] - at), abs(end[axis] - at)) <= self.near:
                return name
        return None

    @property
    def bay(self) -> str | None:
        """The factory end or edge that a square notch opens to, both corners staying, or None."""
        path, under = self.view.path, self.under
        if len(path) != 4 or self.corners or under not in self.view.kept:
            return None
        return under if is_level(path, self.near) else None


def is_level(path: Sequence[Point], near: float) -> bool:
    """Whether a path runs straight along and straight across the board."""
    return all(min(abs(ax - bx), abs(ay - by)) <= near for (ax, ay), (bx, by) in pairwise(path))


def _kind(side: str) -> str:
    """Return what a side is: an end or an edge."""
    return "end" if side in ENDS else "edge"
