"""Makes a stroke of what a strip or the page of a notched plank says of a cut."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import hypot

from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.ops import unary_union

from layout.values.outline import Region
from tests.packet_pdf.notched import NotchedCut, NotchedReading, PlacedNotched
from tests.packet_pdf.readings import CutReading
from tests.sweeps.bench import CutRead
from tests.sweeps.kneeling import TOWARD
from tests.sweeps.lengths import figure
from tests.sweeps.planks_wanted import Json, PlankWanted, Point, polygons
from tests.sweeps.strokes import DUST, SAME, CannotCutError, Stroke


@dataclass(frozen=True, kw_only=True)
class _Outline(Stroke):
    """A notched plank's outline stays; what ``later`` cuts take is left to them."""

    shape: Polygon
    later: tuple[Stroke, ...] = ()

    def divide(self, part: Polygon) -> tuple[list[Polygon], list[Polygon]]:
        """Return what stays of a part and what goes."""
        gone: Region = part.difference(self.shape)
        for stroke in self.later:
            stays, _ = stroke.divide(part)
            gone = gone.intersection(unary_union(stays))
        gone = gone.buffer(-DUST["in"] / 8, join_style="mitre")
        gone = gone.buffer(DUST["in"] / 8, join_style="mitre")
        return polygons(part.difference(gone)), polygons(gone)


class StripReader:
    """Makes a stroke of what a strip says of a cut."""

    def __init__(
        self, request: Json, plank: PlankWanted, notched: dict[str, NotchedReading]
    ) -> None:
        self.notched = notched
        rules, lay = request["rules"], request.get("lay") or {}
        self.unit, self.size = request["unit"], plank.size
        self.kerf = float(rules["saw_kerf"])
        self.rip_kerf = float(rules.get("rip_kerf", self.kerf))
        self.high = lay.get("start", "low") == "high"
        self.control_row: int | None = lay.get("control_row")
        self.laid: dict[str, PlacedNotched] = {}

    def __call__(self, cut: Json, part: Polygon, more: float = 0.0) -> CutRead:
        """Return the stroke of a cut; ``more`` is none here."""
        backward = self.control_row is not None and cut["row"] < self.control_row
        turned = self.high != backward
        middle = (self.size[0] / 2, self.size[1] / 2)
        seen = rotate(part, 180, origin=middle) if turned else part
        stroke = self._stroke_of(cut["then"]["in_hand"], cut["reading"], seen)
        return CutRead(stroke=self._turned(stroke) if turned else stroke)

    def _turned(self, stroke: Stroke) -> Stroke:
        """Return a stroke on the plank as it lies in the floor, seen from its other side."""
        if not isinstance(stroke, _Outline):
            return stroke.turned_round(self.size)
        middle = (self.size[0] / 2, self.size[1] / 2)
        return _Outline(
            path=stroke.path,
            shape=rotate(stroke.shape, 180, origin=middle),
            later=tuple(one.turned_round(self.size) for one in stroke.later),
        )

    def _stroke_of(self, name: str, read: CutReading, part: Polygon) -> Stroke:
        """Return the stroke of a cut in the person's view; a notched plank is held by its page."""
        reading = self.notched.get(name)
        if reading is not None and name not in self.laid:
            self.laid[name] = reading.on(part, self.size, self.unit)
        if read.kind != "shaped":
            return self._stroke(read, part)
        if reading is None:
            message = f"no notched plank {name} on the pages"
            raise CannotCutError(message)
        laid = self.laid[name]
        cut = next(one for one in laid.cuts if one.n == read.n)
        if cut.edge is not None:
            return self._through(cut, laid.shape)
        later = [one for one in laid.cuts if one.edge and (one.n or 0) > (read.n or 0)]
        strokes = tuple(self._through(one, laid.shape) for one in later)
        return _Outline(path=tuple(laid.shape.exterior.coords), shape=laid.shape, later=strokes)

    def _through(self, cut: NotchedCut, shape: Polygon) -> Stroke:
        """Return a straight cut, along an edge of the outline or by its marks."""
        assert cut.edge is not None
        if cut.side:
            return Stroke(path=cut.edge, toward=TOWARD[cut.side], kerf=self.kerf)
        (ax, ay), (bx, by) = cut.edge
        long = hypot(bx - ax, by - ay) or 1.0
        nx, ny = (by - ay) / long, (ax - bx) / long
        off = SAME[self.unit]
        inside = shape.contains(Spot((ax + bx) / 2 + nx * off, (ay + by) / 2 + ny * off))
        toward = (-nx, -ny) if inside else (nx, ny)
        level = abs(by - ay) < off
        return Stroke(path=cut.edge, toward=toward, kerf=self.rip_kerf if level else self.kerf)

    def _stroke(self, read: CutReading, part: Polygon) -> Stroke:
        """Return the stroke of a cut in the person's view."""
        if read.kind == "rip":
            at = length_of(read.figure)
            y = at if read.base == "near" else self.size[1] - at
            path: tuple[Point, Point] = ((0.0, y), (self.size[0], y))
            return Stroke(path=path, toward=TOWARD[read.side], kerf=self.rip_kerf)
        if read.kind == "wall":
            left, _, right, _ = part.bounds
            x = (
                left + length_of(read.figure)
                if read.side == "right"
                else right - length_of(read.figure)
            )
            path = ((x, 0.0), (x, self.size[1]))
        elif read.kind == "slant":
            near = self._mark(part, read.near, read.near_base, "near")
            far = self._mark(part, read.figure, read.base, "far")
            path = (near, far)
        else:
            x = self._along(length_of(read.figure), read.base)
            path = ((x, 0.0), (x, self.size[1]))
        return Stroke(path=path, toward=TOWARD[read.side], kerf=self.kerf)

    def _along(self, value: float, end: str) -> float:
        return value if end == "left" else self.size[0] - value

    def _mark(self, part: Polygon, text: str, end: str, edge: str) -> Point:
        """Return a mark on an edge of the part in hand, or its corner."""
        left, low, right, high = part.bounds
        corner = re.fullmatch("(left|right) corner", text)
        if corner:
            return (left if corner[1] == "left" else right), (low if edge == "near" else high)
        x = self._along(length_of(text), end)
        reach = SAME[self.unit]
        met = LineString([(x, low - 9), (x, high + 9)]).intersection(
            part.buffer(reach, join_style="mitre")
        )
        if met.is_empty:
            message = f"a mark at {text} lies off the part in hand"
            raise CannotCutError(message)
        return x, met.bounds[1] + reach if edge == "near" else met.bounds[3] - reach


def length_of(text: str) -> float:
    """Return a bare figure as a length: inches with fractions, or whole millimeters."""
    return figure(f'{text}"')
