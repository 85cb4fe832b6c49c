"""Proven lower bounds on the planks of a floor.

The certificate and its check live in ``layout.certificate``, the marks it rests on are found in
``layout.weights``; here the levels for the lines are chosen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from layout.certificate import (
    FORMAT,
    area_bound,
    can_be_marked,
    covered,
    floor_lines,
    floor_to_cover,
    planks_free,
    saw_takes,
)
from layout.linework import Line, chains_of
from layout.marking import Marks, least_weight
from layout.outline import Region, polygons_of
from layout.request import PlanRequest
from layout.solver import Stop
from layout.weights import best_marks

PHASES = 40  # levels tried for the lines, at most
PHASES_SOLVED = 3  # of which so many get weights of their own


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A number of planks that no plan of the direction goes below, and its certificate."""

    value: int
    proof: dict[str, Any]


def lower_bound(
    request: PlanRequest,
    direction_deg: float,
    *,
    stop: Stop | None = None,
    planks: int | None = None,
) -> Bound:
    """Return the best proven bound found for plans in ``direction_deg``.

    ``planks`` is the count of a plan that stands: work ends once the bound meets it, and a bound
    above it, possible only where that plan breaks a rule under a warning, is given up for one
    that leaves that rule out. ``stop`` ends the work early with what is proven by then.
    """
    area = area_bound(request)
    best = Bound(value=area, proof={"format": FORMAT, "kind": "area", "value": area})
    if not can_be_marked(request) or best.value == planks:
        return best
    region = floor_to_cover(request, direction_deg)
    for end_pieces, offsets in ((True, True), (True, False), (False, False)):
        rules = _Rules(end_pieces=end_pieces, offsets=offsets)
        found = _by_marks(request, region, rules, stop, planks)
        if found is not None and (planks is None or found.value <= planks):
            return max(found, best, key=lambda bound: bound.value)
    return best


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rules:
    """Which rules the plans meant by a bound keep."""

    end_pieces: bool
    offsets: bool


def _by_marks(
    request: PlanRequest,
    region: Region,
    rules: _Rules,
    stop: Stop | None,
    planks: int | None,
) -> Bound | None:
    """Return the best bound by marks over several levels, None where no line crosses the floor."""
    board = request.product.board
    choices: list[tuple[float, list[Line]]] = []
    for phase in _phases(region, board.width):
        lines = floor_lines(request, region, phase, end_pieces=rules.end_pieces)
        if lines:
            choices.append((phase, lines))
    best: Bound | None = None
    solved: list[tuple[float, list[Line], Marks]] = []
    for _ in range(PHASES_SOLVED):
        if not choices or (best is not None and (best.value == planks or (stop and stop()))):
            break
        marks = solved[-1][2] if solved else None
        phase, lines = max(choices, key=lambda choice: _promise(choice[1], marks, board.length))
        choices.remove((phase, lines))
        marks = best_marks(lines, board.length, saw_takes(request, lines))
        solved.append((phase, lines, marks))
        best = _better(best, _certified(request, region, phase, lines, marks, rules))
    for phase, lines, marks in sorted(solved, key=lambda s: -_promise(s[1], s[2], board.length))[
        :2
    ]:
        if (
            not (rules.offsets and request.rules.min_joint_offset > 0)
            or (best and best.value == planks)
            or (stop and stop())
        ):
            break
        marks = _coupled_marks(request, region, lines)
        best = _better(best, _certified(request, region, phase, lines, marks, rules))
    return best


def _coupled_marks(request: PlanRequest, region: Region, lines: Sequence[Line]) -> Marks:
    """Return marks for lines that touch and keep their joints apart."""
    board, offset = request.product.board, request.rules.min_joint_offset
    return best_marks(
        lines,
        board.length,
        saw_takes(request, lines),
        offset=offset,
        chains=chains_of(region, lines, board.width, board.length + offset),
    )


def _better(best: Bound | None, found: Bound) -> Bound:
    return found if best is None or found.value > best.value else best


def _certified(
    request: PlanRequest,
    region: Region,
    phase: float,
    lines: Sequence[Line],
    marks: Marks,
    rules: _Rules,
) -> Bound:
    """Return the bound that marks prove, with its certificate."""
    weight = covered(request, region, lines, marks, offsets=rules.offsets)
    value = max(0, -(-weight // marks.total) - planks_free(request))
    proof = {
        "format": FORMAT,
        "kind": "marks",
        "value": value,
        "phase": phase,
        "marks": [list(pair) for pair in zip(marks.places, marks.weights, strict=True)],
        "end_pieces": rules.end_pieces,
        "offsets": rules.offsets,
    }
    return Bound(value=value, proof=proof)


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
