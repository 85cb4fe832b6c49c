"""Spreading variants over planks so that few touching parts are alike: annealing and a bound.

Two planks trade variants, or two planks trade the second part that is cut from each where both
still fit; what makes more parts touch alike is taken now and then, ever more seldom (S.
Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by simulated annealing", Science 220, 1983).
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import ceil, exp
from random import Random

from layout.solver import Program, Verdict, solve
from layout.values.tolerances import BOUND_TOLERANCE

Pair = tuple[int, int]
Fits = Callable[[int, int], bool]

_HOT, _COLD = 0.5, 0.12  # pairs more alike that are taken about once in three times
_MOVES_A_PLANK = 1500
_MOST_MOVES = 200_000
_WITH_CUTS = 2  # times that second parts are traded too
_SHARE_OF_CUTS = 0.3  # of the moves: second parts traded
_MOST_TRIANGLES = 4000
_NODES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Puzzle:
    """Parts that touch, and how often; the parts of every plank; how many planks of every variant.

    ``supplies`` has the planks of every variant for each board size, ``sizes`` the place of every
    plank's size in them (without: all of the first). The variant None is like no other. ``known``
    are planks whose variant is given; they take nothing of the supplies.
    """

    touching: Mapping[Pair, int]
    planks: tuple[tuple[int, ...], ...]
    supplies: tuple[Mapping[str | None, int], ...]
    sizes: tuple[int, ...] = ()
    known: Mapping[int, str | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The variant of every plank, the parts of every plank, and how many touching pairs are alike.

    ``least`` is what no choice of variants for these planks goes below.
    """

    variants: tuple[str | None, ...]
    planks: tuple[tuple[int, ...], ...] = ()
    alike: int
    least: int = 0


def spread(puzzle: Puzzle, *, thorough: bool = True, fits: Fits | None = None) -> Spread:
    """Return a variant for every plank, within the supplies, so that few touching parts are alike.

    Unless ``thorough`` plank after plank takes what it meets least, and that is that. Where some
    are alike after all and ``fits`` tells which parts go into one plank, second parts are traded
    too. The same arguments give the same answer.
    """
    table = _Table(puzzle)
    for number, may in enumerate((None, *(fits,) * _WITH_CUTS)):
        if thorough and table.best.alike and (number == 0 or may is not None):
            table.anneal(Random(len(puzzle.planks) + number), may)
    return table.best


class _Table:
    """Variants laid out on planks, and on planks to spare that no part is cut from."""

    def __init__(self, puzzle: Puzzle) -> None:
        names = {*puzzle.known.values(), *(name for s in puzzle.supplies for name in s)}
        self._names = sorted(name for name in names if name is not None)
        self._planks = [list(parts) for parts in puzzle.planks]
        self._count = len(self._planks)
        parts = 1 + max((part for of_plank in self._planks for part in of_plank), default=-1)
        self._beside: list[list[Pair]] = [[] for _ in range(parts)]
        for (one, two), times in puzzle.touching.items():
            if one != two:
                self._beside[one].append((two, times))
                self._beside[two].append((one, times))
        self._variant = [-1] * parts
        self._of_plank = [-1] * self._count
        self._supplies = [[s.get(name, 0) for name in self._names] for s in puzzle.supplies]
        left = [list(supply) for supply in self._supplies]
        self._size = list(puzzle.sizes or (0,) * self._count)
        self._open = [plank for plank in range(self._count) if plank not in puzzle.known]
        for plank, name in puzzle.known.items():
            self._give(plank, self._names.index(name) if name in self._names else -1)
        for plank in self._open:
            self._begin(plank, left[self._size[plank]])
        self._set_aside(left)
        self._of_size = self._by_size(self._open)
        self._alike = sum(
            times
            for (one, two), times in puzzle.touching.items()
            if one == two or self._variant[one] == self._variant[two] != -1
        )
        self.best = self._as_spread()

    def _set_aside(self, left: Sequence[Sequence[int]]) -> None:
        """Add the planks to spare, which may be traded for others of their size."""
        for size, of_size in enumerate(left):
            for variant, amount in enumerate(of_size):
                for _ in range(amount):
                    self._open.append(len(self._planks))
                    self._planks.append([])
                    self._of_plank.append(variant)
                    self._size.append(size)

    def _by_size(self, planks: Sequence[int]) -> list[list[int]]:
        """Return planks by their size."""
        of_size: list[list[int]] = [[] for _ in self._supplies]
        for plank in planks:
            of_size[self._size[plank]].append(plank)
        return of_size

    def _begin(self, plank: int, left: list[int]) -> None:
        """Give a plank the variant it meets least, of these the one most of which is left.

        Where none is left, it is like no other.
        """
        some = [v for v in range(len(left)) if left[v] > 0]
        if not some:
            self._give(plank, len(self._names) + plank)
            return
        met = [0] * len(left)
        for part in self._planks[plank]:
            for other, times in self._beside[part]:
                if 0 <= self._variant[other] < len(left):
                    met[self._variant[other]] += times
        share = [max(1, count) for count in self._supplies[self._size[plank]]]
        best = min(some, key=lambda v: (met[v], -left[v] / share[v], v))
        left[best] -= 1
        self._give(plank, best)

    def _give(self, plank: int, variant: int) -> None:
        self._of_plank[plank] = variant
        for part in self._planks[plank]:
            self._variant[part] = variant

    def _as_spread(self) -> Spread:
        """Return what lies now."""
        cut = self._of_plank[: self._count]
        return Spread(
            variants=tuple(self._names[v] if 0 <= v < len(self._names) else None for v in cut),
            planks=tuple(tuple(parts) for parts in self._planks[: self._count]),
            alike=self._alike,
        )

    def anneal(self, rng: Random, fits: Fits | None = None) -> None:
        """Trade from hot to cold; with ``fits`` second parts as well as variants."""
        moves = min(_MOST_MOVES, _MOVES_A_PLANK * self._count)
        cooling = (_COLD / _HOT) ** (1 / max(1, moves))
        cut = [plank for plank in self._open if len(self._planks[plank]) == 2]
        share = _SHARE_OF_CUTS if fits is not None and len(cut) > 1 else 0.0
        cut_of_size, size_of = self._by_size(cut), self._size
        warmth = _HOT
        chance, of_plank, planks = rng.random, self._of_plank, self._planks
        for _ in range(moves if len(self._open) > 1 else 0):
            warmth *= cooling
            cuts = bool(share) and chance() < share
            some = cut if cuts else self._open
            one = some[int(chance() * len(some))]
            mates = (cut_of_size if cuts else self._of_size)[size_of[one]]
            two = mates[int(chance() * len(mates))]
            if of_plank[one] == of_plank[two]:
                continue
            if cuts:
                if fits is None or not self._may_trade(one, two, fits):
                    continue
                moved = [(part, of_plank[two]) for part in planks[one][1:]]
                moved += [(part, of_plank[one]) for part in planks[two][1:]]
            else:
                moved = [(part, of_plank[two]) for part in planks[one]]
                moved += [(part, of_plank[one]) for part in planks[two]]
            if self._trade(moved, warmth, chance):
                self._done(one, two, cut=cuts)

    def _may_trade(self, one: int, two: int, fits: Fits) -> bool:
        """Whether two planks cut in two may trade their second parts."""
        (first, second), (third, fourth) = self._planks[one], self._planks[two]
        return fits(first, fourth) and fits(third, second)

    def _trade(self, moved: Sequence[Pair], warmth: float, chance: Callable[[], float]) -> bool:
        """Whether another variant for each part was kept; it is taken back where that is worse."""
        variants, change = self._variant, 0
        before = [variants[part] for part, _ in moved]
        for part, after in moved:
            variant_before = variants[part]
            for other, times in self._beside[part]:
                variant = variants[other]
                if variant == after:
                    change += times
                elif variant == variant_before:
                    change -= times
            variants[part] = after
        if change <= 0 or chance() < exp(-change / warmth):
            self._alike += change
            return True
        for (part, _), variant in zip(moved, before, strict=True):
            variants[part] = variant
        return False

    def _done(self, one: int, two: int, *, cut: bool) -> None:
        """Write down what two planks traded."""
        if cut:
            first, second = self._planks[one], self._planks[two]
            first[1], second[1] = second[1], first[1]
        else:
            self._of_plank[one], self._of_plank[two] = self._of_plank[two], self._of_plank[one]
        if self._alike < self.best.alike:
            self.best = self._as_spread()


def least_alike(puzzle: Puzzle) -> int:
    """Return how many touching pairs are alike at least, whatever variants these planks take.

    Of three planks that all touch, two at most are of the two most plentiful variants; so planks
    of the others must be among every such three. Where more planks are needed for that than the
    others have, every one too few leaves a pair alike. Nothing is said where variants are known.
    """
    home = {part: plank for plank, parts in enumerate(puzzle.planks) for part in parts}
    pairs = {
        tuple(sorted((home[a], home[b]))) for a, b in puzzle.touching if a in home and b in home
    }
    supply: Counter[str | None] = Counter()
    for of_size in puzzle.supplies:
        supply.update(of_size)
    if puzzle.known or not supply or None in supply:
        return 0
    within = sum(n for (a, b), n in puzzle.touching.items() if home[a] == home[b])
    others = sum(sorted(supply.values())[:-2])
    return within + max(0, _hitting([(a, b) for a, b in pairs if a != b]) - others)


def _hitting(pairs: Sequence[Pair]) -> int:
    """Return how many planks it takes, at least, to have one of every three that all touch."""
    beside: dict[int, set[int]] = defaultdict(set)
    for one, two in pairs:
        beside[one].add(two)
        beside[two].add(one)
    threes = [
        (one, two, three)
        for one in sorted(beside)
        for two, three in combinations(sorted(n for n in beside[one] if n > one), 2)
        if three in beside[two]
    ]
    if not threes or len(threes) > _MOST_TRIANGLES:
        return 0
    program = Program()
    columns = {n: program.column(1.0, upper=1.0, whole=True) for n in sorted(beside)}
    for three in threes:
        program.row([(columns[n], 1.0) for n in three], lower=1.0)
    outcome = solve(program, node_limit=_NODES)
    known = outcome.verdict in (Verdict.BEST, Verdict.FEASIBLE, Verdict.CUT_SHORT)
    return max(0, ceil(outcome.bound - BOUND_TOLERANCE)) if known else 0
