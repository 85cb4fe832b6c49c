"""Proven lower bounds: the best weights for marks along a board, by a linear program.

The certificate and its check live in ``layout.certificate``; here the marks are found. For given
places p the least weight V of a line is at most m whole boards + (1 - W(p < L - s)) + W(p < e + k)
for every first piece s with its last piece e, where W sums weights from the left end of the board.
With the partial sums W as columns every such row has four entries at most, so the program stays
small. Its best weights are the prices of the threshold inequalities for reusing leftovers: a
starter s comes from the leftover of an ender e only where s + e + k <= L.

Good places lie on chains: a starter cut from the leftover of another row's ender is shorter by
the remainder of that row and the kerf, so places are walked from the shortest end pieces in such
steps, round the board.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Any

import numpy as np
from numpy.typing import NDArray

from layout.certificate import (
    FORMAT,
    area_bound,
    can_be_marked,
    floor_lines,
    floor_to_cover,
    proven_by_marks,
    saw_takes,
)
from layout.linework import Line
from layout.marking import NEAR, Marks, least_weight
from layout.outline import Region, polygons_of
from layout.request import PlanRequest
from layout.solver import Program, Stop, solve

PHASES = 40  # levels tried for the lines, at most
PHASES_SOLVED = 4  # of which so many get weights of their own
MOST_PLACES = 240
MOST_CLASSES = 60
GRID = 48  # evenly spread places among them
WEIGHT_OF_PLANK = 1_000_000

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A number of planks that no plan of the direction goes below, and its certificate."""

    value: int
    proof: dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Class:
    """Lines of one length and one pair of shortest ends, and how many there are."""

    line: Line
    count: int


def lower_bound(
    request: PlanRequest,
    direction_deg: float,
    *,
    stop: Stop | None = None,
    planks: int | None = None,
) -> Bound:
    """Return the best proven bound found for plans in ``direction_deg``.

    ``planks`` is the count of a plan that stands: a bound above it, possible only where that plan
    breaks ``min_end_piece`` under a warning, is given up for one that holds for it as well; and
    work ends once the two meet. ``stop`` ends it early with what is proven by then.
    """
    area = area_bound(request)
    best = Bound(value=area, proof={"format": FORMAT, "kind": "area", "value": area})
    if not can_be_marked(request) or best.value == planks:
        return best
    for end_pieces in (True, False):
        found = _by_marks(request, direction_deg, stop, planks, end_pieces=end_pieces)
        if found is not None and (planks is None or found.value <= planks):
            return max(found, best, key=lambda bound: bound.value)
    return best


def _by_marks(
    request: PlanRequest,
    direction_deg: float,
    stop: Stop | None,
    planks: int | None,
    *,
    end_pieces: bool,
) -> Bound | None:
    """Return the best bound by marks over several phases, None where no line crosses the floor."""
    board = request.product.board
    choices: list[tuple[float, list[Line]]] = []
    region = floor_to_cover(request, direction_deg)
    for phase in _phases(region, board.width):
        lines = floor_lines(request, region, phase, end_pieces=end_pieces)
        if lines:
            choices.append((phase, lines))
    best: Bound | None = None
    marks: Marks | None = None
    for _ in range(PHASES_SOLVED):
        if not choices or (best is not None and (best.value == planks or (stop and stop()))):
            break
        phase, lines = max(choices, key=lambda choice: _promise(choice[1], marks, board.length))
        choices.remove((phase, lines))
        marks = best_marks(lines, board.length, saw_takes(request, lines))
        found = _certified(request, direction_deg, phase, marks, end_pieces=end_pieces)
        if best is None or found.value > best.value:
            best = found
    return best


def _phases(region: Region, width: float) -> list[float]:
    """Return levels within a board width worth trying: one between any two corners' levels.

    Between them the lines cross the same edges; only slanted edges make a difference. Where there
    are many corners, the widest of these stretches.
    """
    corners = {
        round(float(y) % width, 6)
        for polygon in polygons_of(region)
        for ring in (polygon.exterior, *polygon.interiors)
        for _, y in ring.coords
    }
    levels = sorted(corners)
    stretches = list(zip(levels, [*levels[1:], levels[0] + width], strict=True))
    stretches.sort(key=lambda ends: ends[0] - ends[1])
    return [round((low + high) / 2, 6) for low, high in stretches[:PHASES] if high - low > 1e-3]


def _promise(lines: Sequence[Line], marks: Marks | None, length: float) -> float:
    """Return what marks found for another phase give here; before any, the boards by length."""
    if marks is None:
        return sum(line.length for line in lines) / length
    return sum(least_weight(marks, line) for line in lines) / marks.total


def _certified(
    request: PlanRequest, direction_deg: float, phase: float, marks: Marks, *, end_pieces: bool
) -> Bound:
    """Return the bound as its certificate proves it."""
    proof: dict[str, Any] = {
        "format": FORMAT,
        "kind": "marks",
        "value": 0,
        "phase": phase,
        "marks": [list(pair) for pair in zip(marks.places, marks.weights, strict=True)],
        "end_pieces": end_pieces,
        "offsets": True,
    }
    value = proven_by_marks(request, direction_deg, proof)
    return Bound(value=value, proof={**proof, "value": value})


def best_marks(lines: Sequence[Line], length: float, kerf: float) -> Marks:
    """Return marks of about the greatest sum of least weights over ``lines``."""
    classes = _classes(lines, length)
    places = _places(classes, length, kerf)
    program = Program()
    # sums[i] is the weight of all places before the i-th.
    sums = [program.column(0.0, upper=0.0)]
    sums += [program.column(0.0, upper=1.0) for _ in places[1:]]
    sums.append(program.column(0.0, lower=1.0, upper=1.0))
    for low, high in pairwise(sums):
        program.row([(high, 1.0), (low, -1.0)], lower=0.0)
    for each in classes:
        value = program.column(-float(each.count))
        for (right, left), boards in _ways(each.line, places, length, kerf).items():
            terms = [(value, 1.0)]
            if right != left:
                terms += [(sums[right], 1.0), (sums[left], -1.0)]
            program.row(terms, upper=float(boards))
    values = solve(program).values
    return _rounded(places, [values[column] for column in sums], length, kerf)


def _classes(lines: Sequence[Line], length: float) -> list[_Class]:
    """Return lines alike together, the most frequent first; near ones merged where too many."""
    grain = 1e-6
    while True:
        groups: dict[tuple[int, ...], list[Line]] = defaultdict(list)
        for line in lines:
            ends = (line.least_left, line.least_right)
            groups[tuple(round(n / grain) for n in (line.length, *ends))].append(line)
        if len(groups) <= MOST_CLASSES:
            break
        grain = max(grain * 2, length / 4096)
    classes = [
        _Class(line=min(alike, key=lambda line: line.length), count=len(alike))
        for alike in groups.values()
    ]
    return sorted(classes, key=lambda each: (-each.count, each.line.length))


def _places(classes: Sequence[_Class], length: float, kerf: float) -> list[float]:
    """Return rising places worth a mark: chains from the shortest end pieces, and a plain grid."""
    begin = [0.0]
    for each in classes:
        begin.append(length - each.line.least_left + 2 * NEAR)
        begin.append(each.line.least_right + kerf - 2 * NEAR)
    steps = list(dict.fromkeys((each.line.length + kerf) % length for each in classes))
    places = {k * length / GRID: None for k in range(GRID)}
    queue = deque(place % length for place in begin)
    seen: set[int] = set()
    while queue and len(places) < MOST_PLACES:
        place = queue.popleft()
        key = round(place / 1e-7)
        if key in seen or not 0.0 <= place < length:
            continue
        seen.add(key)
        places[place] = None
        for step in steps:
            queue.append((place - step + 2 * NEAR) % length)
            queue.append((place + step - 2 * NEAR) % length)
    return sorted(places)


def _ways(
    line: Line, places: Sequence[float], length: float, kerf: float
) -> dict[tuple[int, int], int]:
    """Return the ways to cut a line that could cover least: places before the first piece's part
    of its plank, places before the end of the last one's part, and the whole boards to add.
    """
    at = np.array(places)
    ways: dict[tuple[int, int], int] = {}

    def note(right: Floats, left: Floats, boards: int) -> None:
        pairs = zip(np.searchsorted(at, right), np.searchsorted(at, left), strict=True)
        for pair in {(int(i), int(j)) for i, j in pairs}:
            ways[pair] = min(boards, ways.get(pair, boards))

    if line.length <= length:
        begins = np.concatenate([[0.0], at[at < length - line.length] + 2 * NEAR])
        note(begins + NEAR, begins + line.length + kerf - NEAR, 0)
    whole = max(0, ceil(line.length / length) - 2)
    while whole * length <= line.length:
        ends = line.length - whole * length
        shortest = max(line.least_left, ends - length, 0.0)
        longest = min(length, ends - line.least_right)
        starters = np.concatenate([[shortest], ends + kerf - at])
        starters = starters[(starters >= shortest) & (starters <= longest)]
        note(length - starters + NEAR, ends - starters + kerf - NEAR, whole + 1)
        whole += 1
    return ways


def _rounded(places: Sequence[float], sums: Sequence[float], length: float, kerf: float) -> Marks:
    """Return the places that carry weight, in whole weights."""
    carried = [
        (place, round((high - low) * WEIGHT_OF_PLANK))
        for place, (low, high) in zip(places, pairwise(sums), strict=True)
    ]
    carried = [(place, weight) for place, weight in carried if weight > 0]
    return Marks(
        length=length,
        kerf=kerf,
        places=tuple(place for place, _ in carried),
        weights=tuple(weight for _, weight in carried),
    )
