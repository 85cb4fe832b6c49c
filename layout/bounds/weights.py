"""The best weights for marks along a board, by a linear program.

For given places p a way to cut a line covers m whole boards + (1 - W(p < L - s)) + W(p < e + k),
with first piece s and last piece e, where W sums weights from the left end of the board. With the
partial sums W as columns every row of the program has few entries, so it stays small. Its best
weights are the prices of the threshold inequalities for reusing leftovers: a starter s comes from
the leftover of an ender e only where s + e + k <= L.

Good places lie on chains: a starter cut from the leftover of another row's ender is shorter by
the remainder of that row and the kerf, so places are walked from the shortest end pieces in such
steps, round the board.

Lines that touch are priced two by two: what both cover together, with their joints apart.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from layout.proof.lines import Line
from layout.proof.marks import Cells, Marks, apart, first_pieces
from layout.solver import Program, Stop, solve
from layout.values.tolerances import (
    BIN_TOLERANCE,
    COVER_TOLERANCE,
    JOINT_TOLERANCE,
    PLACE_TOLERANCE,
    TOUCHING_TOLERANCE,
)

MOST_PLACES = 480
FEW_CLASSES = 12  # with more classes than these, fewer places
FEWER_PLACES = 140
MOST_CLASSES = 60
MOST_COUPLES = 10
GRID = 48  # evenly spread places for marks
BINS = 24  # evenly spread places for joints
WEIGHT_OF_PLANK = 1_000_000

Floats = NDArray[np.float64]
Way = tuple[int, int, int]  # places before the first piece's part of its plank, places before the
# end of the last one's part, whole boards to add


@dataclass(frozen=True, slots=True, kw_only=True)
class _Class:
    """Lines of one length and one pair of shortest ends, and how many there are."""

    line: Line
    members: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Couple:
    """Two classes whose lines touch, how far the second begins right of the first, how often."""

    first: int
    second: int
    shift: float
    count: int


def best_marks(
    lines: Sequence[Line],
    length: float,
    kerf: float,
    *,
    offset: float = 0.0,
    couples: Sequence[tuple[Line, Line]] = (),
    stop: Stop | None = None,
) -> Marks | None:
    """Return marks of about the greatest sum of least weights over ``lines``; None if stopped.

    Lines that touch, lower and upper, are priced as ``couples``, their joints ``offset`` apart.
    """
    classes = _classes(lines, length)
    frequent, singles = _frequent(classes, couples)
    stops = [_stops(i, classes, frequent, length, offset) for i in range(len(classes))]
    places = _places(classes, stops, length, kerf)
    price = _Pricing(places=places, length=length, kerf=kerf)
    for i, (each, single) in enumerate(zip(classes, singles, strict=True)):
        price.add_class(i, each.line, single, stops[i] if frequent else [])
    for couple in frequent:
        price.add_couple(couple, offset)
    return price.marks(stop)


def _frequent(
    classes: Sequence[_Class], met: Sequence[tuple[Line, Line]]
) -> tuple[list[_Couple], list[int]]:
    """Return the frequent couples by their classes, and the lines of each class left single."""
    home = {id(line): i for i, each in enumerate(classes) for line in each.members}
    kinds = Counter(
        (home[id(low)], home[id(high)], round(high.left - low.left, 6)) for low, high in met
    )
    couples = [
        _Couple(first=i, second=j, shift=shift, count=count)
        for (i, j, shift), count in kinds.most_common(MOST_COUPLES)
    ]
    singles = [len(each.members) for each in classes]
    for couple in couples:
        singles[couple.first] -= couple.count
        singles[couple.second] -= couple.count
    return couples, singles


def _stops(
    index: int,
    classes: Sequence[_Class],
    couples: Sequence[_Couple],
    length: float,
    offset: float,
) -> list[float]:
    """Return the first pieces at which what a class may do changes: its own limits, and an
    offset either way of its partners' limits.
    """
    stops = {0.0, length, *_limits(classes[index].line, length)}
    for couple in couples:
        for mine, other, shift in (
            (couple.first, couple.second, couple.shift),
            (couple.second, couple.first, -couple.shift),
        ):
            if mine == index:
                for limit in _limits(classes[other].line, length):
                    stops |= {(limit + shift + step) % length for step in (-offset, offset)}
    return sorted(stops)


def _limits(line: Line, length: float) -> list[float]:
    """Return the shortest and longest first pieces of a line."""
    return [n for _, low, high in first_pieces(line, length) for n in (low, high)]


@dataclass(slots=True)
class _Bins:
    """Stretches of first pieces of one class, and the column of what each covers at least."""

    left: float
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    single: int | None = None

    def cells(self, shift: float) -> Cells:
        """Return the stretches as places of joints, ``shift`` to the right."""
        weight = np.zeros(len(self.low), dtype=np.int64)
        low, high = np.array(self.low) + shift, np.array(self.high) + shift
        return Cells(low=low, high=high, weight=weight, single=None)


class _Pricing:
    """The linear program being built: partial sums of weights, what lines cover."""

    def __init__(self, *, places: Sequence[float], length: float, kerf: float) -> None:
        self.places, self.length, self.kerf = np.array(places), length, kerf
        self.program = Program()
        self.bins: dict[int, _Bins] = {}
        # sums[i] is the weight of all places before the i-th.
        self.sums = [self.program.column(0.0, upper=0.0)]
        self.sums += [self.program.column(0.0, upper=1.0) for _ in places[1:]]
        self.sums.append(self.program.column(0.0, lower=1.0, upper=1.0))
        for low, high in pairwise(self.sums):
            self.program.row([(high, 1.0), (low, -1.0)], lower=0.0)

    def add_class(self, index: int, line: Line, singles: int, stops: Sequence[float]) -> None:
        """Add what lines of a class cover: in bins between ``stops``, and in all."""
        bins = self.bins[index] = _Bins(left=line.left)
        least = self.program.column(-float(singles))
        if line.length <= self.length:
            bins.single = self._least_of(self._anywhere(line.length))
            self._below(least, bins.single)
        grid = [self.length * k / BINS for k in range(BINS)] if stops else []
        for boards, shortest, longest in first_pieces(line, self.length):
            ends = line.length - boards * self.length
            marks = [shortest, *(n for n in sorted({*stops, *grid}) if shortest < n < longest)]
            for low, high in pairwise([*marks, longest]):
                near = (
                    max(low - 2 * JOINT_TOLERANCE, shortest),
                    min(high + 2 * JOINT_TOLERANCE, longest),
                )
                column = self._least_of(self._ways(boards, ends, *near))
                self._below(least, column)
                bins.low.append(line.left + low)
                bins.high.append(line.left + high)
                bins.columns.append(column)

    def add_couple(self, couple: _Couple, offset: float) -> None:
        """Add what two lines that touch cover together."""
        one, two = self.bins[couple.first], self.bins[couple.second]
        both = self.program.column(-float(couple.count))
        shift = couple.shift - (two.left - one.left)
        # Bins that only touch the offset with their edges belong to their neighbors.
        may = apart(one.cells(0.0), two.cells(shift), offset + BIN_TOLERANCE, self.length)
        if not may.any():
            may = apart(one.cells(0.0), two.cells(shift), offset, self.length)
        pairs = [(one.columns[i], two.columns[j]) for i, j in zip(*np.nonzero(may), strict=True)]
        if one.single is not None:
            pairs += [(one.single, column) for column in two.columns]
        if two.single is not None:
            pairs += [(column, two.single) for column in one.columns]
        if not pairs:
            pairs = [(a, b) for a in one.columns for b in two.columns]
        for first, second in pairs:
            terms = [(first, -2.0)] if first == second else [(first, -1.0), (second, -1.0)]
            self.program.row([(both, 1.0), *terms], upper=0.0)

    def marks(self, stop: Stop | None) -> Marks | None:
        """Return the best marks, in whole weights, places without left out; None if stopped."""
        values = solve(self.program, stop=stop).values
        if not values:
            return None
        sums = [values[column] for column in self.sums]
        carried = [
            (float(place), round((high - low) * WEIGHT_OF_PLANK))
            for place, (low, high) in zip(self.places, pairwise(sums), strict=True)
        ]
        carried = [(place, weight) for place, weight in carried if weight > 0]
        return Marks(
            length=self.length,
            kerf=self.kerf,
            places=tuple(place for place, _ in carried),
            weights=tuple(weight for _, weight in carried),
        )

    def _least_of(self, ways: Iterable[Way]) -> int:
        """Add a column that is at most what each of the ways covers."""
        column = self.program.column(0.0)
        for right, left, boards in ways:
            terms = [(column, 1.0)]
            if right != left:
                terms += [(self.sums[right], 1.0), (self.sums[left], -1.0)]
            self.program.row(terms, upper=float(boards))
        return column

    def _below(self, low: int, high: int) -> None:
        self.program.row([(low, 1.0), (high, -1.0)], upper=0.0)

    def _anywhere(self, length: float) -> set[Way]:
        """Return the ways to cut a piece from any place of its plank."""
        inside = self.places[self.places < self.length - length] + 2 * COVER_TOLERANCE
        begins = np.concatenate([[0.0], inside])
        return self._ways_at(
            begins + COVER_TOLERANCE, begins + length + self.kerf - COVER_TOLERANCE, 0
        )

    def _ways(self, boards: int, ends: float, low: float, high: float) -> set[Way]:
        """Return the ways with a first piece between ``low`` and ``high`` that could cover least:
        the shortest, and those that leave the last piece just short of a mark.
        """
        just_short = ends + self.kerf - self.places
        firsts = np.concatenate([[low], just_short[(just_short >= low) & (just_short <= high)]])
        right = self.length - firsts + COVER_TOLERANCE
        return self._ways_at(right, ends - firsts + self.kerf - COVER_TOLERANCE, boards + 1)

    def _ways_at(self, right: Floats, left: Floats, boards: int) -> set[Way]:
        """Return places along the board as numbers of marks before them."""
        rights, lefts = np.searchsorted(self.places, right), np.searchsorted(self.places, left)
        return {(int(i), int(j), boards) for i, j in zip(rights, lefts, strict=True)}


def _classes(lines: Sequence[Line], length: float) -> list[_Class]:
    """Return lines alike together, the most frequent first; near ones merged where too many."""
    grain = TOUCHING_TOLERANCE
    while True:
        groups: dict[tuple[int, ...], list[Line]] = defaultdict(list)
        for line in lines:
            ends = (line.least_left, line.least_right)
            groups[tuple(round(n / grain) for n in (line.length, *ends))].append(line)
        if len(groups) <= MOST_CLASSES:
            break
        grain = max(grain * 2, length / 4096)
    classes = []
    for alike in groups.values():
        shortest = min(alike, key=lambda line: line.length)
        can_be_cut = shortest.length <= length or any(first_pieces(shortest, length))
        line = shortest if can_be_cut else shortest.any_ends()
        classes.append(_Class(line=line, members=tuple(alike)))
    return sorted(classes, key=lambda each: (-len(each.members), each.line.length))


def _places(
    classes: Sequence[_Class], stops: Sequence[Sequence[float]], length: float, kerf: float
) -> list[float]:
    """Return rising places worth a mark: chains from the shortest end pieces, and a plain grid."""
    begin = [0.0]
    for each, of_class in zip(classes, stops, strict=True):
        for stop in of_class:
            # A little more than what joints may be nearer than the rule.
            for margin in (2 * COVER_TOLERANCE, 2 * JOINT_TOLERANCE):
                begin.append(length - stop + margin)
                begin.append(each.line.length - stop + kerf - margin)
    steps = list(dict.fromkeys((each.line.length + kerf) % length for each in classes))
    places = {k * length / GRID: None for k in range(GRID)}
    most = MOST_PLACES if len(classes) <= FEW_CLASSES else FEWER_PLACES
    queue = deque(place % length for place in begin)
    seen: set[int] = set()
    while queue and len(places) < most:
        place = queue.popleft()
        key = round(place / PLACE_TOLERANCE)
        if key in seen or not 0.0 <= place < length:
            continue
        seen.add(key)
        places[place] = None
        for step in steps:
            queue.append((place - step + 2 * COVER_TOLERANCE) % length)
            queue.append((place + step - 2 * COVER_TOLERANCE) % length)
    return sorted(places)
