"""A packet's strips sawn: every piece made again from what the pages say, kerf and all.

Of the request only what the person and the saw bring is taken: the board, the kerf, from which
side the floor is laid. What comes out is then held against the plan.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.ops import unary_union

from layout.values.outline import Region
from tests.packet_pdf.notched import NotchedCut, NotchedReading, PlacedNotched, notched_of
from tests.packet_pdf.pages import ReadPage
from tests.packet_pdf.readings import CutReading, PieceReading
from tests.packet_pdf.strips import strips_of
from tests.sweeps.bench import Bench, CutRead
from tests.sweeps.kneeling import TOWARD
from tests.sweeps.lengths import figure
from tests.sweeps.planks_wanted import Json, PlankWanted, Point, planks_wanted, polygons
from tests.sweeps.strokes import (
    DUST,
    NEAR,
    SAME,
    CannotCutError,
    Stroke,
    alike,
    described,
    keeps,
    off_by,
)

_ENDS = ("left end", "right end")


def packet_faults(
    request: Json, plan: Json, pages: Sequence[ReadPage], *, traced: Collection[str] = ()
) -> list[str]:
    """Return where what is sawn by the pages is not what the plan wants, a line for each fault.

    ``traced`` are pieces that no figures tell: they are cut by a template at true size.
    """
    saw = _PacketSaw(request, plan, strips_of(pages), notched_of(pages), frozenset(traced))
    return [*saw.faults()]


class _PacketSaw:
    """The rows of a packet beside its request and plan."""

    def __init__(
        self,
        request: Json,
        plan: Json,
        rows: Sequence[Sequence[PieceReading]],
        notched: dict[str, NotchedReading],
        traced: frozenset[str],
    ) -> None:
        self.request, self.plan = request, plan
        self.notched, self.traced = notched, traced
        self.pieces = {piece.name: piece for row in rows for piece in row}
        self.order = {name: i for i, name in enumerate(self.pieces)}
        self.wanted = planks_wanted(request, plan)
        self.parent = {
            rest.name: piece.name for piece in self.pieces.values() for rest in piece.rests
        }

    def faults(self) -> Iterator[str]:
        """Yield everything wrong."""
        names = {piece["id"] for piece in self.plan["pieces"]}
        if names != set(self.pieces):
            yield f"the pages lack {sorted(names - set(self.pieces))}"
            yield f"the pages have {sorted(set(self.pieces) - names)}"
            return
        yield from self._sources()
        for plank in self.wanted.values():
            for text in self._plank(plank):
                yield f"plank {plank.number}: {text}"

    def _sources(self) -> Iterator[str]:
        """Yield pieces whose source is not where a rest was said to go."""
        for piece in self.pieces.values():
            from_rest = piece.name in self.parent
            if (piece.source == "new") == from_rest:
                giver_name = self.parent.get(piece.name)
                yield f"{piece.name} is {piece.source}, a rest of {giver_name}"
            if not from_rest:
                continue
            giver = self.pieces[self.parent[piece.name]]
            rest = next(rest for rest in giver.rests if rest.name == piece.name)
            if rest.stack != piece.stack:
                yield f"{piece.name} is put on {rest.stack}, taken from {piece.stack}"
            if rest.stack is None and giver.row != piece.row:
                yield f"{piece.name} is not of the row that it is kept in hand for"

    def _family(self, name: str) -> list[str]:
        """Return a piece and all that come of its rests."""
        names = [name]
        for rest in self.pieces[name].rests:
            names += self._family(rest.name)
        return names

    def _plank(self, plank: PlankWanted) -> Iterator[str]:
        """Yield what does not come out of a plank as the plan wants it."""
        roots = [p.id for p in plank.pieces if p.id not in self.parent]
        if len(roots) != 1:
            yield f"begun {len(roots)} times: {roots}"
            return
        family = self._family(roots[0])
        if set(family) != {piece.id for piece in plank.pieces}:
            yield f"gives {sorted(family)}"
            return
        cuts = [*self._cuts(family)]
        if self.traced & set(family):
            return
        reader = StripReader(self.request, plank, self.notched)
        sawn = Bench(plank, cuts, reader, self.plan["unit"]).saw()
        yield from sawn.faults
        near = NEAR[self.plan["unit"]]
        for piece in plank.pieces:
            made = sawn.pieces.get(piece.id)
            if made is None:
                yield f"piece {piece.id} does not come out"
            elif not alike(
                _laid_upon(made, piece.shape, plank, self.plan["unit"]), piece.shape, near
            ):
                yield (
                    f"piece {piece.id} off by {off_by(made, piece.shape):.3f}: comes out "
                    f"{described(made)}, wanted {described(piece.shape)}"
                )
        yield from self._sizes(sawn.beside)

    def _sizes(self, beside: Sequence[object]) -> Iterator[str]:
        """Yield rests that are not as long as they are said to be."""
        near = NEAR[self.plan["unit"]]
        for part in beside:
            name = part.used_by  # type: ignore[attr-defined]
            if name is None or name not in self.parent:
                continue
            rest = next(r for r in self.pieces[self.parent[name]].rests if r.name == name)
            x0, y0, x1, y1 = part.shape.bounds  # type: ignore[attr-defined]
            if abs(x1 - x0 - _length(rest.long)) > near:
                yield f"the rest for {name} is {x1 - x0:.3f} long, the page says {rest.long}"
            if rest.wide and abs(y1 - y0 - _length(rest.wide)) > near:
                yield f"the rest for {name} is {y1 - y0:.3f} wide, the page says {rest.wide}"

    def _cuts(self, family: Sequence[str]) -> Iterator[Json]:
        """Yield the cuts of a plank as they are made: row by row, by their numbers within one."""
        by_row: dict[int, list[PieceReading]] = defaultdict(list)
        for name in sorted(family, key=self.order.__getitem__):
            by_row[self.pieces[name].row].append(self.pieces[name])
        for pieces in by_row.values():
            first = {
                p.name: min((c.n or 0 for c in (*p.cuts, *self._shaped(p))), default=0)
                for p in pieces
            }
            for piece in sorted(pieces, key=lambda p: first[p.name]):
                cuts = [*piece.cuts]
                if piece.notched:
                    cuts += self._shaped(piece)
                    cuts.sort(key=lambda cut: cut.n or 0)
                for i, cut in enumerate(cuts):
                    yield self._cut(piece, cut, only=len(cuts) == 1, n=i + 1)

    def _shaped(self, piece: PieceReading) -> Iterator[CutReading]:
        """Yield the cuts of a notched plank that its strip does not tell, by number."""
        reading = self.notched.get(piece.name) if piece.notched else None
        known = {cut.n for cut in piece.cuts}
        for n in reading.numbers if reading else ():
            if n is None or n not in known:
                yield CutReading(kind="shaped", side="right", n=n)
        if piece.notched and reading is None:
            yield CutReading(kind="shaped", side="right")

    def _cut(self, piece: PieceReading, cut: CutReading, *, only: bool, n: int) -> Json:
        """Return one cut, and what comes of the part that goes."""
        rests = [r for r in piece.rests if (only and r.n is None) or (r.n and r.n == cut.n)]
        if only and piece.rests and not rests:
            rests = piece.rests
        aside = [name for rest in rests for name in self._family(rest.name)]
        then = {
            "in_hand": piece.name,
            "aside": aside,
            "stack": rests[0].stack if rests else None,
            "waste": not rests,
        }
        return {"n": n, "kind": "crosscut", "then": then, "reading": cut, "row": piece.row}


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
            at = _length(read.figure)
            y = at if read.base == "near" else self.size[1] - at
            path: tuple[Point, Point] = ((0.0, y), (self.size[0], y))
            return Stroke(path=path, toward=TOWARD[read.side], kerf=self.rip_kerf)
        if read.kind == "wall":
            left, _, right, _ = part.bounds
            x = (
                left + _length(read.figure)
                if read.side == "right"
                else right - _length(read.figure)
            )
            path = ((x, 0.0), (x, self.size[1]))
        elif read.kind == "slant":
            near = self._mark(part, read.near, read.near_base, "near")
            far = self._mark(part, read.figure, read.base, "far")
            path = (near, far)
        else:
            x = self._along(_length(read.figure), read.base)
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
        x = self._along(_length(text), end)
        reach = SAME[self.unit]
        met = LineString([(x, low - 9), (x, high + 9)]).intersection(
            part.buffer(reach, join_style="mitre")
        )
        if met.is_empty:
            message = f"a mark at {text} lies off the part in hand"
            raise CannotCutError(message)
        return x, met.bounds[1] + reach if edge == "near" else met.bounds[3] - reach


def _laid_upon(made: Polygon, wanted: Polygon, plank: PlankWanted, unit: str) -> Polygon:
    """Return a piece moved along where it keeps no end of its plank: its place on that is free."""
    if any(keeps(shape, plank.size, end, unit) for shape in (made, wanted) for end in _ENDS):
        return made
    return translate(made, wanted.bounds[0] - made.bounds[0], 0.0)


def _length(text: str) -> float:
    """Return a bare figure as a length: inches with fractions, or whole millimeters."""
    return figure(f'{text}"')
