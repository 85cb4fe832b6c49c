"""Where to start: the start wall, or the control row, that leaves the fewest pieces trapped.

Counted only where the floor runs under something. A plan that traps nothing can't be bettered: the
other starts are counted on first plans. Otherwise each is planned with the same effort as the plan
itself, as far as the caller's stop allows. A control row is first counted on the plan's own pieces,
laid in another order; the best one is planned.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Protocol

from layout.planks.trapping import overhung, surroundings
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.advice import StartChoice
from layout.values.material import Lay, Side
from layout.values.plan import Plan, RuleWarning
from layout.values.request import PlanRequest


class Planner(Protocol):
    """Plans a request: in ``full``, as far as it may, or the first plan that stands."""

    def __call__(self, request: PlanRequest, /, *, full: bool) -> Plan:
        """Return a plan."""
        ...


def with_starts(plan: Plan, starts: Sequence[StartChoice]) -> Plan:
    """Return a plan with what each start leaves trapped, and a word where another leaves fewer.

    ``starts`` begin with the plan's own, of which the plan itself tells what is trapped.
    """
    if len(starts) < 2:
        return plan
    starts = (replace(starts[0], trapped=trapped_of(plan)), *starts[1:])
    chosen, best = starts[0], min(starts, key=lambda start: start.trapped)
    if best.trapped == chosen.trapped:
        return replace(plan, starts=starts)
    text = (
        f"Started from {chosen.words}, {_pieces(chosen.trapped)} trapped; "
        f"from {best.words}, {_pieces(best.trapped)}."
    )
    proposal = RuleWarning(
        rule="start", where="plan", value=chosen.trapped, limit=best.trapped, text=text
    )
    return replace(plan, starts=starts, warnings=(*plan.warnings, proposal))


def propose_start(request: PlanRequest, plan: Plan, planned: Planner) -> tuple[StartChoice, ...]:
    """Return the start of a plan and the other ones, each with the pieces it leaves trapped.

    Nothing where no edge overhangs the floor, or where pieces that are down have fixed the start.
    The first entry is the plan's own; the fewest trapped is the proposal, the plan's own in a tie.
    """
    if request.laid or not overhung(request):
        return ()
    rules = replace(request.rules, direction_deg=plan.direction_deg)
    trapped = trapped_of(plan)
    starts = [_choice(request.lay, trapped)]
    for lay in _others(request, plan):
        other = planned(replace(request, lay=lay, rules=rules), full=trapped > 0)
        starts.append(_choice(lay, trapped_of(other)))
    return tuple(starts)


def trapped_of(plan: Plan) -> int:
    """Return how many pieces of a plan are trapped."""
    return sum(piece.trapped for piece in plan.pieces)


def _others(request: PlanRequest, plan: Plan) -> Iterator[Lay]:
    """Yield the other ways to lay: from either side, from the control row that traps fewest."""
    lay = request.lay
    for side in Side:
        other = replace(lay, start=side, control_row=None)
        if other != lay:
            yield other
    if request.product.backward and request.rules.wall_error == 0:
        row = _best_control_row(request, plan)
        if row not in (None, lay.control_row):
            yield replace(lay, control_row=row)


def _best_control_row(request: PlanRequest, plan: Plan) -> int | None:
    """Return the first row that, laid first, traps the fewest pieces; None where there is none.

    The last row is none: laid first it is the start from the other side.
    """
    frame = Frame(direction_deg=plan.direction_deg, lay=request.lay)
    around = surroundings(Ground.at_gaps(request, frame), plan)
    trapped = {
        row: sum(way is not None for way in around.ways(replace(request.lay, control_row=row)))
        for row in range(2, max(piece.row for piece in plan.pieces))
    }
    return min(trapped, key=lambda row: (trapped[row], row), default=None)


def _choice(lay: Lay, trapped: int) -> StartChoice:
    """Return what a way to lay leaves trapped."""
    if lay.control_row is not None:
        return StartChoice(control_row=lay.control_row, trapped=trapped)
    return StartChoice(start=lay.start, trapped=trapped)


def _pieces(count: int) -> str:
    """Return a number of pieces in words."""
    return f"{count} {'piece is' if count == 1 else 'pieces are'}" if count else "no piece is"
