"""A whole sheet sawn, plank by plank, and what comes out held against the plan.

faults = sheet_faults(request, plan, sheet)              by the figures
faults = sheet_faults(request, plan, sheet, WORDS)       by the words alone
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from shapely.geometry import Polygon

from tests.sweeps.bench import DRAWN, LEAST, MOST, Bench, PutAside, Reader, Sawn
from tests.sweeps.figures import FigureReader
from tests.sweeps.planks_wanted import (
    SIDES,
    Json,
    LeftoverListed,
    PlankWanted,
    leftover,
    planks_wanted,
)
from tests.sweeps.strokes import NEAR, SAME, alike, described, keeps, off_by
from tests.sweeps.words import WordReader

MOST_WAITING = 10  # leftovers on one stack
MakeReader = Callable[[Json, PlankWanted], Reader]
FIGURES: MakeReader = FigureReader
WORDS: MakeReader = WordReader


def sheet_faults(request: Json, plan: Json, sheet: Json, reader: MakeReader = FIGURES) -> list[str]:
    """Return what is wrong with a sheet, one short line for each fault."""
    return list(_Sawyer(request, plan, sheet, reader).faults())


class _Sawyer:
    """A sheet beside its request and plan."""

    def __init__(self, request: Json, plan: Json, sheet: Json, reader: MakeReader) -> None:
        self.request, self.plan, self.sheet = request, plan, sheet
        self.make_reader = reader
        self.unit = plan["unit"]
        self.near = NEAR[self.unit]
        self.wanted = planks_wanted(request, plan)

    def faults(self) -> Iterator[str]:
        """Yield everything wrong."""
        yield from self._heads()
        entries = {entry["plank"]: entry for entry in self.sheet["planks"]}
        for number, plank in self.wanted.items():
            entry = entries.get(number, {"plank": number, "size": plank.size, "cuts": []})
            for text in self._plank(plank, entry):
                yield f"plank {number}: {text}"
        yield from self._stacks()

    def _heads(self) -> Iterator[str]:
        """Yield what is wrong with the list of planks."""
        numbers = [entry["plank"] for entry in self.sheet["planks"]]
        if strange := [number for number in numbers if number not in self.wanted]:
            yield f"planks {strange} give no piece"
        if len(set(numbers)) < len(numbers):
            yield "a plank stands twice"
        firsts = [self.wanted[number].first for number in numbers if number in self.wanted]
        if firsts != sorted(firsts):
            yield "the planks do not stand as their first pieces are laid"
        if self.sheet.get("unit") != self.unit or self.sheet.get("format") != 2:
            yield f"unit {self.sheet.get('unit')}, format {self.sheet.get('format')}"

    def _plank(self, plank: PlankWanted, entry: Json) -> Iterator[str]:
        """Yield what is wrong with one plank."""
        cuts = entry["cuts"]
        if any(
            abs(a - b) > SAME[self.unit] for a, b in zip(plank.size, entry["size"], strict=True)
        ):
            yield f"size {entry['size']}, of the plan {plank.size}"
        if [cut["n"] for cut in cuts] != list(range(1, len(cuts) + 1)):
            yield f"cuts count {[cut['n'] for cut in cuts]}"
        sawn = self._saw(plank, cuts)
        yield from sawn.faults
        yield from self._pieces(plank, sawn)
        yield from self._leftovers(plank, sawn)
        yield from self._on_site(plank, cuts)

    def _saw(
        self,
        plank: PlankWanted,
        cuts: Sequence[Json],
        number: int | None = None,
        figure: str = DRAWN,
    ) -> Sawn:
        reader = self.make_reader(self.request, plank)
        return Bench(plank, cuts, reader, self.unit).saw(number, figure)

    def _pieces(self, plank: PlankWanted, sawn: Sawn, but: str | None = None) -> Iterator[str]:
        """Yield pieces that do not come out as the plan wants them."""
        for piece in plank.pieces:
            if piece.id == but:
                continue
            made = sawn.pieces.get(piece.id)
            if made is None:
                yield f"piece {piece.id} does not come out"
            elif not alike(made, piece.shape, self.near):
                yield (
                    f"piece {piece.id} off by {off_by(made, piece.shape):.3f}: comes out "
                    f"{described(made)}, wanted {described(piece.shape)}"
                )
        for name in sawn.pieces:
            if plank.piece(name) is None:
                yield f"{name} is no piece of this plank"

    def _on_site(self, plank: PlankWanted, cuts: Sequence[Json]) -> Iterator[str]:
        """Yield pieces that a figure measured on site would spoil somewhere in its limits."""
        for i, cut in enumerate(cuts):
            limits = cut.get("limits")
            if limits is None:
                continue
            name = cut["then"]["in_hand"]
            for figure, place in zip((LEAST, MOST), limits, strict=True):
                sawn = self._saw(plank, cuts, i, figure)
                for text in self._pieces(plank, sawn, but=name):
                    yield f"with {name} cut at {place:.4f} on site, {text}"

    def _leftovers(self, plank: PlankWanted, sawn: Sawn) -> Iterator[str]:
        """Yield leftovers that differ from what the plan lists of the plank."""
        listed = list(plank.leftovers)
        for made in sawn.beside:
            if not self._counts(made):
                if made.kept:
                    yield f"kept though it is too small to use: {described(made.shape)}"
                continue
            if not made.kept:
                yield f"waste though it can be used: {described(made.shape)}"
            entry = self._entry_of(made, listed)
            if entry is None:
                yield f"the plan lists no leftover for {made.used_by}: {described(made.shape)}"
                continue
            listed.remove(entry)
            yield from self._leftover(plank, made, entry)
        for entry in listed:
            if not self._at_hand(entry):
                shape = described(entry.shape)
                yield f"leftover {entry.id} for {entry.used_by} never comes: {shape}"

    def _counts(self, made: PutAside) -> bool:
        """Whether a part put aside is one that the plan must list."""
        if made.used_by is not None:
            return True
        x0, y0, x1, y1 = made.shape.bounds
        rules, same = self.request["rules"], SAME[self.unit]
        long = x1 - x0 >= rules["min_end_piece"] - same
        return bool(long and y1 - y0 >= rules["min_row_width"] - same)

    def _entry_of(self, made: PutAside, listed: Sequence[LeftoverListed]) -> LeftoverListed | None:
        """Return the leftover of the plan that a part put aside is."""
        same = [entry for entry in listed if entry.used_by == made.used_by]
        return min(same, key=lambda entry: off_by(made.shape, entry.shape), default=None)

    def _at_hand(self, entry: LeftoverListed) -> bool:
        """Whether a leftover was at hand before the plan."""
        held = (self.request.get("on_hand") or {}).get("offcuts", [])
        return any(
            alike(leftover(other).shape, entry.shape, self.near)
            for other in held
            if other["id"] == entry.id
        )

    def _leftover(self, plank: PlankWanted, made: PutAside, entry: LeftoverListed) -> Iterator[str]:
        """Yield what a leftover of the plan says falsely."""
        if not alike(made.shape, entry.shape, self.near):
            off = off_by(made.shape, entry.shape)
            yield (
                f"leftover {entry.id} off by {off:.3f}: comes out {described(made.shape)}, "
                f"listed {described(entry.shape)}"
            )
        kept = {side for side in SIDES if keeps(made.shape, plank.size, side, self.unit)}
        if kept != entry.keeps:
            yield f"leftover {entry.id} keeps {sorted(kept)}, listed {sorted(entry.keeps)}"
        stack = self._stack_wanted(plank, made)
        if (made.stack is None) != (entry.stack is None) or made.stack != entry.stack:
            yield f"leftover {entry.id} on stack {entry.stack}, by the sheet {made.stack}"
        elif (entry.stack is not None) != stack:
            yield f"leftover {entry.id} on stack {entry.stack}, used by {entry.used_by}"

    def _stack_wanted(self, plank: PlankWanted, made: PutAside) -> bool:
        """Whether a part put aside waits on a stack: a piece of another row is cut from it."""
        later = plank.piece(made.used_by or "")
        now = plank.piece(made.cut_with)
        return later is not None and now is not None and later.row != now.row

    def _stacks(self) -> Iterator[str]:
        """Yield stacks on which too many leftovers wait at once."""
        waiting: Counter[str] = Counter()
        for _, change, stack in sorted(self._moves()):
            waiting[stack] += change
            if change > 0 and waiting[stack] > MOST_WAITING:
                yield f"stack {stack} holds {waiting[stack]} leftovers"

    def _moves(self) -> Iterator[tuple[int, int, str]]:
        """Yield (piece being cut, 1 or -1, stack) as leftovers come and go."""
        order = {piece.id: piece.order for plank in self.wanted.values() for piece in plank.pieces}
        entries = {entry["plank"]: entry["cuts"] for entry in self.sheet["planks"]}
        for number, plank in self.wanted.items():
            for made in self._saw(plank, entries.get(number, [])).beside:
                if made.stack is not None and made.used_by in order:
                    yield order[made.cut_with], 1, made.stack
                    yield order[made.used_by], -1, made.stack


def whole_of(shape: Polygon) -> tuple[float, float]:
    """Return the length and width of a shape's bounds."""
    x0, y0, x1, y1 = shape.bounds
    return x1 - x0, y1 - y0
