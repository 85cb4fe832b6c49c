"""Proven lower bounds on the planks of a floor.

The certificate and its check live in ``layout.proof.certificate``, the marks it rests on are found
in ``layout.bounds.weights``; here the levels for the lines are chosen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from shapely.geometry import Polygon

from layout.bounds.levels import heights_of, phases_of
from layout.bounds.weights import best_marks
from layout.proof.balance import Span
from layout.proof.certificate import FORMAT, demand_in
from layout.proof.floor import (
    area_bound,
    bound_of,
    can_be_marked,
    can_be_mixed,
    floor_bands,
    floor_lines,
    floor_to_cover,
    rips_of_balance,
    saw_takes,
    tied,
)
from layout.proof.lines import Band, Line, Linked, length_at
from layout.proof.marks import Marks, least_weight_of_all
from layout.proof.widths import demand_of, fewest_cartons, fewest_planks
from layout.solver import Stop
from layout.values.request import PlanRequest
from layout.values.tolerances import PHASE_TOLERANCE

PHASES_LOOKED_AT = 6  # of which so many, those that cross most of the floor, are looked at
PHASES_SOLVED = 3  # of which so many get weights of their own
PHASES_BY_CASE = 2  # the same for each stretch of first rips
MOST_STRETCHES = 16
HEIGHTS = 40  # level lines that stand for a floor of several widths
WIDEST_STRETCH = 0.25  # of the board width


_Level = tuple[float, Linked]  # height of the lines, the lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A number of planks that no plan of the direction goes below, and its certificate.

    Where widths are mixed it speaks of plans of at most so many ``cartons``, else of all (None),
    and no plan takes fewer than ``fewest_cartons``; where piles are counted, cartons are those
    bought beside them.
    """

    value: int
    proof: dict[str, object]
    cartons: int | None = None
    fewest_cartons: int = 0


def lower_bound(
    request: PlanRequest,
    direction_deg: float,
    *,
    stop: Stop | None = None,
    planks: int | None = None,
    cartons: int | None = None,
) -> Bound:
    """Return the best proven bound found for plans in ``direction_deg``.

    Where widths are mixed, for plans of at most ``cartons``; without these by area alone.
    ``planks`` is the count of a plan that stands: work ends once the bound meets it, and a bound
    above it, possible only where that plan breaks a rule under a warning, is given up for one
    that leaves that rule out. ``stop`` ends the work early with what is proven by then.
    """
    area = area_bound(request)
    best = Bound(value=area, proof={"format": FORMAT, "kind": "area", "value": area})
    floor = floor_to_cover(request, direction_deg)
    if not floor.is_empty and can_be_mixed(request) and cartons is not None:
        return _of_widths(request, floor, cartons, planks) or best
    if floor.is_empty or not can_be_marked(request):
        return best
    for end_pieces, offsets in ((True, True), (True, False), (False, False)):
        if best.value == planks:
            break
        proving = _Proving(
            request=request,
            floor=floor,
            end_pieces=end_pieces,
            offsets=offsets,
            stop=stop or (lambda: False),
            planks=planks,
        )
        better = proving.bound()
        if better is not None and (planks is None or better.value <= planks):
            return max(better, best, key=lambda bound: bound.value)
    return best


def _of_widths(
    request: PlanRequest, floor: Polygon, cartons: int, planks: int | None
) -> Bound | None:
    """Return the bound for rows of several widths, None where it says nothing of such a plan."""
    for end_pieces in (True, False):
        bands = floor_bands(request, floor, end_pieces=end_pieces)
        bounds = [
            bound
            for marks in _mixed_marks(request, bands)
            if (bound := _in_marks(request, bands, marks, cartons, end_pieces=end_pieces))
            and (planks is None or bound.value <= planks)
        ]
        if bounds:
            return max(bounds, key=lambda bound: (bound.value, bound.fewest_cartons))
    return None


def _in_marks(
    request: PlanRequest, bands: Sequence[Band], marks: Marks, cartons: int, *, end_pieces: bool
) -> Bound | None:
    """Return what one set of marks proves, None where it leaves such plans no room."""
    pairs = [list(pair) for pair in zip(marks.places, marks.weights, strict=True)]
    demand, sizes = demand_in(request, bands, pairs), request.sizes
    value = fewest_planks(demand, sizes, cartons)
    if value is None:
        return None
    fewest = fewest_cartons(demand, sizes, cartons)
    proof: dict[str, object] = {
        "format": FORMAT,
        "kind": "widths",
        "value": value,
        "cartons": cartons,
        "fewest_cartons": fewest,
        "end_pieces": end_pieces,
        "marks": pairs,
    }
    return Bound(value=value, proof=proof, cartons=cartons, fewest_cartons=fewest)


def _mixed_marks(request: PlanRequest, bands: Sequence[Band]) -> list[Marks]:
    """Return marks worth trying: the best for all heights, and for the least of them."""
    length = request.product.board.length
    pitch = sum(band.rise for band in bands) / HEIGHTS
    every = [
        replace(line)
        for band in bands
        for _ in range(max(1, round(band.rise / pitch)))
        for line in band.lines
    ]
    least = min(bands, key=lambda band: sum(line.length for line in band.lines), default=None)
    if not every or least is None:
        return []
    kerf = saw_takes(request, every)
    sets = [lines for lines in (every, list(least.lines)) if lines]
    sought = [best_marks(lines, length, kerf) for lines in (sets if len(bands) > 1 else sets[:1])]
    return [marks for marks in sought if marks is not None]


def planks_a_row(request: PlanRequest, part: Polygon) -> float:
    """Return the planks that a row of ``part`` takes on average, at least; for several widths."""
    bands = floor_bands(request, part, end_pieces=True)
    area = float(part.area) / (part.bounds[3] - part.bounds[1]) / request.product.board.length
    by_marks = [
        demand.heights / demand.across / demand.plank
        for marks in _mixed_marks(request, bands)[:1]
        if (demand := demand_of(bands, marks)).across > 0
    ]
    return float(max([area, *by_marks]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """Marks found for one level of the lines (and, with ``rips``, for first rips between them)."""

    value: int
    phase: float
    marks: Marks
    rips: Span | None = None

    def as_json(self) -> dict[str, object]:
        marks = [list(pair) for pair in zip(self.marks.places, self.marks.weights, strict=True)]
        rips = {} if self.rips is None else {"rips": list(self.rips)}
        return {**rips, "phase": self.phase, "marks": marks}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Proving:
    """A floor, which rules the plans meant keep, and when the work may end."""

    request: PlanRequest
    floor: Polygon
    end_pieces: bool
    offsets: bool
    stop: Stop
    planks: int | None

    def bound(self) -> Bound | None:
        """Return the best bound by marks, None where no line crosses the floor.

        First wherever the row lines fall; then, if that is not enough, for each stretch of first
        rips that the balance rule leaves, knowing which rows the lines lie in.
        """
        best = self._case(None, PHASES_SOLVED)
        if best is None:
            return None
        cases = [best]
        if not self._enough(best.value) and self.end_pieces:
            cases = self._case_by_case(best) or cases
        value = min(case.value for case in cases)
        proof: dict[str, object] = {
            "format": FORMAT,
            "kind": "marks",
            "value": value,
            "end_pieces": self.end_pieces,
            "offsets": self.offsets,
            "cases": [case.as_json() for case in cases],
        }
        return Bound(value=value, proof=proof)

    def _enough(self, value: int) -> bool:
        return (self.planks is not None and value >= self.planks) or self.stop()

    def _case_by_case(self, best: _Case) -> list[_Case]:
        """Return cases over all first rips of the balance rule, each above ``best``; or none."""
        spans = rips_of_balance(self.request, self.floor) or ()
        stretches = [part for span in spans for part in self._stretches(span)]
        cases: list[_Case] = []
        if len(stretches) > MOST_STRETCHES:
            return []
        for rips in stretches:
            case = self._case(rips, PHASES_BY_CASE)
            if case is None or case.value <= best.value or self.stop():
                return []
            cases.append(case)
        return cases

    def _stretches(self, span: Span) -> list[Span]:
        """Return a span of first rips in short stretches, cut where a row line passes a corner."""
        start, width = float(self.floor.bounds[1]), self.request.product.board.width
        corners = {round(y - start, 6) % width for y in heights_of(self.floor)}
        cuts = [
            c for c in sorted(corners) if span[0] + PHASE_TOLERANCE < c < span[1] - PHASE_TOLERANCE
        ]
        stretches: list[Span] = []
        for low, high in pairwise([span[0], *cuts, span[1]]):
            parts = max(1, ceil((high - low) / (width * WIDEST_STRETCH)))
            steps = [low + (high - low) * i / parts for i in range(parts + 1)]
            stretches += pairwise(steps)
        return stretches

    def _case(self, rips: Span | None, most: int) -> _Case | None:
        """Return the best case found over several levels of the lines."""
        levels = self._levels(rips)
        best: _Case | None = None
        length = self.request.product.board.length
        for number in range(most):
            if not levels or self.stop() or (best is not None and self._enough(best.value)):
                break
            marks = best.marks if best else None
            level = max(levels, key=lambda level: _promise(level[1], marks, length))
            levels.remove(level)
            for coupled in (False, True):
                if coupled and (number > 0 or not self._coupled()):
                    break
                case = self._solved(*level, rips, coupled=coupled)
                if case is not None and (best is None or case.value > best.value):
                    best = case
                if self.stop() or (best is not None and self._enough(best.value)):
                    break
        return best

    def _levels(self, rips: Span | None) -> list[_Level]:
        """Return the levels worth trying: those that cross most of the floor."""
        width = self.request.product.board.width
        phases = phases_of(self.floor, width)
        if rips is not None:
            # Slanted walls are longest at the low or the high side of a row.
            start, edge = float(self.floor.bounds[1]), width / 1000
            heights = (rips[1] + edge, (rips[0] + rips[1] + width) / 2, rips[0] + width - edge)
            phases += [round((start + height) % width, 6) for height in heights]
        phases.sort(key=lambda phase: -length_at(self.floor, phase, width))
        levels: list[_Level] = []
        for phase in phases[:PHASES_LOOKED_AT]:
            lines = floor_lines(
                self.request, self.floor, phase, end_pieces=self.end_pieces, rips=rips
            )
            if lines:
                levels.append((phase, tied(self.request, self.floor, lines, offsets=self.offsets)))
        return levels

    def _coupled(self) -> bool:
        return self.offsets and self.request.rules.min_joint_offset > 0

    def _solved(
        self, phase: float, lines: Linked, rips: Span | None, *, coupled: bool
    ) -> _Case | None:
        """Return the case of the best marks for some lines; ``coupled``: priced two by two.

        None where the work was stopped before.
        """
        alone = [line for line, _ in lines]
        marks = best_marks(
            alone,
            self.request.product.board.length,
            saw_takes(self.request, alone),
            offset=self.request.rules.min_joint_offset,
            couples=_couples(lines) if coupled else (),
            stop=self.stop,
        )
        if marks is None:
            return None
        value = bound_of(self.request, lines, marks)
        return _Case(value=value, phase=phase, marks=marks, rips=rips)


def _couples(lines: Linked) -> list[tuple[Line, Line]]:
    """Return pairs of lines tied to each other, no line in two of them."""
    taken: set[int] = set()
    couples: list[tuple[Line, Line]] = []
    for place, (line, below) in enumerate(lines):
        if below is not None and below not in taken:
            taken |= {place, below}
            couples.append((lines[below][0], line))
    return couples


def _promise(lines: Linked, marks: Marks | None, length: float) -> float:
    """Return what marks found for another level give here; before any, the boards by length."""
    if marks is None:
        return sum(line.length for line, _ in lines) / length
    return least_weight_of_all(marks, [(line, None) for line, _ in lines], 0.0) / marks.total
