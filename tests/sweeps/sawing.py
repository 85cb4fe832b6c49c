"""A whole sheet sawn, plank by plank, and what comes out held against the plan.

faults = sheet_faults(request, plan, sheet)              by the figures
faults = sheet_faults(request, plan, sheet, WORDS)       by the words alone
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from shapely.geometry import Polygon

from tests.sweeps.bench import Bench, PutAside, Reader, Sawn
from tests.sweeps.figures import FigureReader
from tests.sweeps.planks_wanted import (
    SIDES,
    Json,
    LeftoverListed,
    PlankWanted,
    leftover,
    planks_wanted,
)
from tests.sweeps.strokes import NEAR, SAME, alike, described, factory_length, off_by
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
        if sawn.stuck:
            return
        yield from self._leftovers(plank, sawn)
        yield from self._on_site(plank, cuts, sawn)

    def _saw(
        self, plank: PlankWanted, cuts: Sequence[Json], number: int | None = None, more: float = 0.0
    ) -> Sawn:
        reader = self.make_reader(self.request, plank)
        return Bench(plank, cuts, reader, self.unit).saw(number, more)

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

    def _on_site(self, plank: PlankWanted, cuts: Sequence[Json], sawn: Sawn) -> Iterator[str]:
        """Yield pieces that a figure found on site would spoil.

        At the limits of the figure nothing of another piece may be lost; where the wall stands
        off by the tolerance of the rules, every other piece comes out as drawn.
        """
        off = float(self.request["rules"].get("wall_error", 0.0))
        for i, (least, most) in sawn.limits.items():
            name = cuts[i]["then"]["in_hand"]
            for more in sorted({least, most, max(-off, least), min(off, most)} - {0.0}):
                again = self._saw(plank, cuts, i, more)
                exact = abs(more) <= off
                for text in self._spoiled(plank, again, name, exact=exact):
                    yield f"with {name} {more:+.4f} on site, {text}"

    def _spoiled(self, plank: PlankWanted, sawn: Sawn, name: str, *, exact: bool) -> Iterator[str]:
        """Yield the pieces besides one that are not as drawn, or of which something is lost."""
        if exact:
            yield from self._pieces(plank, sawn, but=name)
            return
        for piece in plank.pieces:
            made = sawn.pieces.get(piece.id, Polygon())
            if piece.id != name and not made.buffer(self.near, join_style="mitre").covers(
                piece.shape
            ):
                yield f"piece {piece.id} lost: comes out {described(made)}"

    def _leftovers(self, plank: PlankWanted, sawn: Sawn) -> Iterator[str]:
        """Yield leftovers that differ from what the plan lists of the plank."""
        listed = list(plank.leftovers)
        for made in sawn.beside:
            counts = self._counts(made)
            entry = self._entry_of(made, listed)
            if counts is False and made.kept:
                yield f"kept though it is too small to use: {described(made.shape)}"
            elif counts and not made.kept:
                yield f"waste though it can be used: {described(made.shape)}"
            elif counts and entry is None:
                yield f"the plan lists no leftover for {made.used_by}: {described(made.shape)}"
            if entry is not None and counts is not False:
                listed.remove(entry)
                yield from self._leftover(plank, made, entry)
        for entry in listed:
            if not self._at_hand(entry):
                shape = described(entry.shape)
                yield f"leftover {entry.id} for {entry.used_by} never comes: {shape}"

    def _counts(self, made: PutAside) -> bool | None:
        """Whether a part put aside is one that the plan must list, None where it is close."""
        if made.used_by is not None:
            return True
        x0, y0, x1, y1 = made.shape.bounds
        rules = self.request["rules"]
        over = min(x1 - x0 - rules["min_end_piece"], y1 - y0 - rules["min_row_width"])
        return None if abs(over) <= self.near else over > 0

    def _entry_of(self, made: PutAside, listed: Sequence[LeftoverListed]) -> LeftoverListed | None:
        """Return the leftover of the plan that a part put aside is."""
        same = [entry for entry in listed if entry.used_by == made.used_by]
        if made.used_by is None and not made.kept:
            same = [entry for entry in same if alike(made.shape, entry.shape, self.near)]
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
        for side in SIDES:
            left = factory_length(made.shape, plank.size, side, self.unit)
            # An edge about as short as one that counts may be either, by the rounding of words.
            if not 0 < left <= 2 * self.near and (left > 0) != (side in entry.keeps):
                yield f"leftover {entry.id} has {left:.3f} of its {side}, keeps {entry.keeps}"
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
