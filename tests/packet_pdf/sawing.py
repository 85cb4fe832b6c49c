"""A packet's strips sawn: every piece made again from what the pages say, kerf and all.

Of the request only what the person and the saw bring is taken: the board, the kerf, from which
side the floor is laid. What comes out is then held against the plan.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence

from shapely.affinity import translate
from shapely.geometry import Polygon

from tests.packet_pdf.notched import NotchedReading, notched_of
from tests.packet_pdf.pages import ReadPage
from tests.packet_pdf.readings import CutReading, PieceReading
from tests.packet_pdf.strip_reader import StripReader, length_of
from tests.packet_pdf.strips import strips_of
from tests.sweeps.bench import Bench
from tests.sweeps.planks_wanted import Json, PlankWanted, planks_wanted
from tests.sweeps.strokes import (
    NEAR,
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
        down = {piece["id"] for piece in self.request.get("laid", [])}
        names = {piece["id"] for piece in self.plan["pieces"]} - down
        if lacking := names - set(self.pieces):
            yield f"the pages lack {sorted(lacking)}"
        if more := set(self.pieces) - names - down:
            yield f"the pages have {sorted(more)}"
        if lacking or more:
            return
        yield from self._sources()
        for plank in self.wanted.values():
            for text in self._plank(plank):
                yield f"plank {plank.number}: {text}"

    def _sources(self) -> Iterator[str]:
        """Yield pieces whose source is not where a rest was said to go."""
        there = {piece["id"] for piece in self.request.get("laid", [])}
        for piece in self.pieces.values():
            if piece.name in there or piece.source == "on hand" or self._held(piece):
                continue
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

    def _held(self, piece: PieceReading) -> bool:
        """Whether a piece is cut from an offcut that waited on a stack before the plan."""
        return (
            piece.source == "stack" and piece.name not in self.parent and self._begun_before(piece)
        )

    def _begun_before(self, piece: PieceReading) -> bool:
        """Whether something of a piece's plank was laid, or at hand, before the plan."""
        number = next(p["plank"] for p in self.plan["pieces"] if p["id"] == piece.name)
        hand = (self.request.get("on_hand") or {}).get("offcuts", [])
        return number in {one["plank"] for one in (*self.request.get("laid", []), *hand)}

    def _family(self, name: str) -> list[str]:
        """Return a piece and all that come of its rests."""
        names = [name]
        for rest in self.pieces[name].rests:
            names += self._family(rest.name)
        return names

    def _plank(self, plank: PlankWanted) -> Iterator[str]:
        """Yield what does not come out of a plank as the plan wants it."""
        roots = [p.id for p in plank.pieces if p.id not in self.parent]
        before = bool(roots) and self._begun_before(self.pieces[roots[0]])
        if len(roots) != 1 and not before:
            yield f"begun {len(roots)} times: {roots}"
            return
        family = [name for root in roots for name in self._family(root)]
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
            if abs(x1 - x0 - length_of(rest.long)) > near:
                yield f"the rest for {name} is {x1 - x0:.3f} long, the page says {rest.long}"
            if rest.wide and abs(y1 - y0 - length_of(rest.wide)) > near:
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


def _laid_upon(made: Polygon, wanted: Polygon, plank: PlankWanted, unit: str) -> Polygon:
    """Return a piece moved along where it keeps no end of its plank: its place on that is free."""
    if any(keeps(shape, plank.size, end, unit) for shape in (made, wanted) for end in _ENDS):
        return made
    return translate(made, wanted.bounds[0] - made.bounds[0], 0.0)
