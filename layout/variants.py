"""Spreading the variants of a carton (prints, shades) so that like pieces do not touch.

Planks that share an edge of two of their pieces should differ. The cartons give so many planks of
every variant; within that, planks take and trade variants until none touch alike or nothing helps
(tabu search in the manner of A. Hertz and D. de Werra, "Using tabu search techniques for graph
coloring", Computing 39, 1987).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from shapely.geometry import Polygon

from layout.assembly import Cutting
from layout.plan import RuleWarning
from layout.rows import line_stretches

_CRUMB = 1e-6
_STEPS_A_PLANK = 60
_TRADES_TRIED = 96
_TABU = 9

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The variant of every plank, and how many touching pairs of pieces are alike all the same."""

    variants: tuple[str, ...]
    alike: int


def touching_planks(cutting: Cutting) -> Counter[Pair]:
    """Return how many pairs of pieces touch between two planks (counted from 0), by plank pair.

    Pieces of one plank that touch are counted under (plank, plank).
    """
    rows: dict[int, list[tuple[int, Polygon]]] = {}
    for slot, plank in zip(cutting.slots, cutting.plank_of, strict=True):
        rows.setdefault(slot.row, []).extend((plank, shape) for shape in slot.shapes)
    lines = {slot.row: slot.origin[1] for slot in cutting.slots}
    found: Counter[Pair] = Counter()
    for number, pieces in rows.items():
        for one, two in _end_to_end(pieces):
            found[min(one, two), max(one, two)] += 1
        if number + 1 in rows:
            for one, two in _side_by_side(pieces, rows[number + 1], lines[number + 1]):
                found[min(one, two), max(one, two)] += 1
    return found


def _end_to_end(pieces: Sequence[tuple[int, Polygon]]) -> Iterator[Pair]:
    """Yield the planks of pieces of a row that meet at a joint."""
    for plank, shape in pieces:
        for other, beside in pieces:
            if abs(shape.bounds[2] - beside.bounds[0]) < _CRUMB:
                low = max(shape.bounds[1], beside.bounds[1])
                if min(shape.bounds[3], beside.bounds[3]) - low > _CRUMB:
                    yield plank, other


def _side_by_side(
    lower: Sequence[tuple[int, Polygon]], upper: Sequence[tuple[int, Polygon]], line: float
) -> Iterator[Pair]:
    """Yield the planks of pieces that meet along the line between two rows."""
    feet = [(plank, u, v) for plank, shape in upper for u, v in line_stretches(shape, line)]
    for plank, shape in lower:
        for u, v in line_stretches(shape, line):
            for other, foot, end in feet:
                if min(v, end) - max(u, foot) > _CRUMB:
                    yield plank, other


def spread(
    touching: Mapping[Pair, int], planks: int, supply: Mapping[str, int], *, thorough: bool = True
) -> Spread:
    """Return a variant for every plank, within the supply, so that few touching pieces are alike.

    Unless ``thorough`` plank after plank takes what it meets least, and that is that. The same
    arguments give the same answer.
    """
    names = sorted(supply)
    search = _Search(touching, planks, [supply[name] for name in names], Random(planks))
    search.run(_STEPS_A_PLANK * planks if thorough else 0)
    same = sum(count for (one, two), count in touching.items() if one == two)
    return Spread(variants=tuple(names[i] for i in search.best), alike=search.fewest + same)


class _Search:
    """Variants chosen, how often each plank meets every variant, and what is left of the supply."""

    def __init__(
        self, touching: Mapping[Pair, int], planks: int, supply: Sequence[int], rng: Random
    ) -> None:
        self._rng = rng
        self._beside: list[dict[int, int]] = [{} for _ in range(planks)]
        for (one, two), count in touching.items():
            if one != two:
                self._beside[one][two] = self._beside[two][one] = count
        self._left = list(supply)
        self._share = [max(1, amount) for amount in supply]
        self._met = [[0] * len(supply) for _ in range(planks)]
        self._chosen = [-1] * planks
        self._alike = 0
        for plank in range(planks):
            self._begin(plank)
        self.best, self.fewest = list(self._chosen), self._alike

    def _begin(self, plank: int) -> None:
        """Give a plank the variant it meets least, of these the one most of which is left."""
        options = [v for v in range(len(self._left)) if self._left[v] > 0]
        best = min(options, key=lambda v: (self._met[plank][v], -self._left[v] / self._share[v], v))
        self._take(plank, best)

    def _take(self, plank: int, variant: int) -> None:
        """Give a plank another variant."""
        before = self._chosen[plank]
        if before >= 0:
            self._left[before] += 1
            self._alike -= self._met[plank][before]
        self._left[variant] -= 1
        self._alike += self._met[plank][variant]
        self._chosen[plank] = variant
        for other, count in self._beside[plank].items():
            if before >= 0:
                self._met[other][before] -= count
            self._met[other][variant] += count

    def run(self, steps: int) -> None:
        """Take or trade variants at planks that touch alike, never straight back."""
        barred: dict[Pair, int] = {}
        for step in range(steps):
            if self.fewest == 0:
                return
            plank = self._one_alike()
            move = self._best_move(plank, barred, step)
            if move is None:
                continue
            variant, partner = move
            before = self._chosen[plank]
            self._take(plank, variant)
            barred[plank, before] = step + _TABU
            if partner is not None:
                self._take(partner, before)
                barred[partner, variant] = step + _TABU
            if self._alike < self.fewest:
                self.best, self.fewest = list(self._chosen), self._alike

    def _one_alike(self) -> int:
        """Return some plank that touches its like."""
        alike = [p for p, v in enumerate(self._chosen) if self._met[p][v] > 0]
        return self._rng.choice(alike)

    def _best_move(
        self, plank: int, barred: dict[Pair, int], step: int
    ) -> tuple[int, int | None] | None:
        """Return the variant to take and the plank to trade with, None for out of the supply."""
        own, met = self._chosen[plank], self._met[plank]
        options: list[tuple[int, float, int, int | None]] = [
            (met[variant] - met[own], self._rng.random(), variant, None)
            for variant in range(len(met))
            if variant != own and self._left[variant] > 0
        ]
        for partner in self._rng.sample(
            range(len(self._chosen)), min(_TRADES_TRIED, len(self._chosen))
        ):
            variant = self._chosen[partner]
            if variant != own:
                change = met[variant] - met[own]
                change += self._met[partner][own] - self._met[partner][variant]
                change -= 2 * self._beside[plank].get(partner, 0)
                options.append((change, self._rng.random(), variant, partner))
        good = [
            option
            for option in options
            if barred.get((plank, option[2]), -1) < step or self._alike + option[0] < self.fewest
        ]
        return min(good)[2:] if good else None


def like_pieces(spread: Spread) -> tuple[RuleWarning, ...]:
    """Return the warning of touching pieces that are alike all the same, if any."""
    if not spread.alike:
        return ()
    pairs = "pair" if spread.alike == 1 else "pairs"
    return (
        RuleWarning(
            rule="variants",
            where="floor",
            value=spread.alike,
            limit=0,
            text=f"{spread.alike} {pairs} of touching pieces are of one variant; "
            "the cartons allow no better spread that was found.",
        ),
    )
