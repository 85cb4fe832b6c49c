"""Plans spoiled in what they claim: totals, the bound, row marks, warnings, what was bought."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from layout.values.advice import Relaxation, Spent
from layout.values.plan import Look, Plan, RowMarks, RuleWarning
from layout.values.request import PlanRequest
from layout.values.units import INCH
from tests.layout.judge.spoiling import Make, spoilings, with_totals


def _more(count: float) -> float:
    return count + 1


def _look(**changes: Callable[[Any], Any]) -> Make:
    """Return what changes the look of the totals."""

    def changed(look: Look) -> Look:
        return replace(look, **{name: make(getattr(look, name)) for name, make in changes.items()})

    return with_totals(look=changed)


def _marks(change: Callable[[RowMarks, float], RowMarks | None]) -> Make:
    """Return what changes the marks from the first edge that has two or more."""

    def make(request: PlanRequest, plan: Plan) -> Plan | None:
        first = next((row for row in plan.row_marks if len(row.marks) > 1), None)
        changed = None if first is None else change(first, INCH[request.unit])
        if changed is None:
            return None
        marks = (changed if row is first else row for row in plan.row_marks)
        return replace(plan, row_marks=tuple(marks))

    return make


def _all_off(row: RowMarks, inch: float) -> RowMarks:
    return replace(row, marks=tuple(mark + inch / 4 for mark in row.marks))


def _one_off(row: RowMarks, inch: float) -> RowMarks:
    return replace(row, marks=(*row.marks[:-1], row.marks[-1] - inch / 4))


def _proof(**changes: Any) -> Make:
    """Return what changes the certificate."""
    return lambda _, plan: replace(plan, proof={**plan.proof, **changes})


def _scribed(row: RowMarks, inch: float) -> RowMarks:
    return replace(row, scribe=((0.0, 0.0), (10 * inch, inch / 2)))


def _warned(rule: str, value: float, limit: float) -> Make:
    """Return what adds a warning of row 2."""
    warning = RuleWarning(rule=rule, where="row 2", value=value, limit=limit, text="No other way.")
    return lambda _, plan: replace(plan, warnings=(*plan.warnings, warning))


def _warned_of_ends(request: PlanRequest, plan: Plan) -> Plan | None:
    limit = request.rules.min_end_piece
    return _warned("min_end_piece", limit / 2, limit)(request, plan)


def _warned_of_offsets(request: PlanRequest, plan: Plan) -> Plan | None:
    limit = request.rules.min_joint_offset
    return _warned("min_joint_offset", limit / 2, limit)(request, plan)


def _warned_of_walls(request: PlanRequest, plan: Plan) -> Plan | None:
    limit = max(request.rules.wall_error, 0.5)
    return _warned("wall_error", limit / 2, limit)(request, plan)


def _a_warning_less(_: PlanRequest, plan: Plan) -> Plan | None:
    return replace(plan, warnings=plan.warnings[:-1]) if plan.warnings else None


def _no_warnings(_: PlanRequest, plan: Plan) -> Plan | None:
    return replace(plan, warnings=()) if plan.warnings else None


def _a_warning_twice(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with its first measured warning told once more."""
    measured = [w for w in plan.warnings if w.rule not in {"post", "start"}]
    return replace(plan, warnings=(*plan.warnings, measured[0])) if measured else None


def _a_milder_warning(_: PlanRequest, plan: Plan) -> Plan | None:
    measured = [w for w in plan.warnings if w.rule not in {"post", "start", "balance"}]
    if not measured:
        return None
    milder = replace(measured[0], value=(measured[0].value + measured[0].limit) / 2 + 0.02)
    return replace(plan, warnings=tuple(milder if w is measured[0] else w for w in plan.warnings))


def _relaxed(rule: str, factor: float) -> Make:
    """Return what tells to give up a rule."""

    def make(request: PlanRequest, plan: Plan) -> Plan | None:
        limit = float(getattr(request.rules, rule))
        ease = Relaxation(rule=rule, limit=limit, eased=limit * factor, clean=not plan.warnings)
        return replace(plan, relax=(*plan.relax, ease))

    return make


def _relaxed_again(**changes: Callable[[Relaxation], Any]) -> Make:
    """Return what changes the first rule to give up; with nothing to change it is told twice."""

    def make(_: PlanRequest, plan: Plan) -> Plan | None:
        if not plan.relax:
            return None
        first, *others = plan.relax
        changed = replace(first, **{name: change(first) for name, change in changes.items()})
        return replace(plan, relax=(changed, *others, *([] if changes else [first])))

    return make


def _halfway(ease: Relaxation) -> float:
    return (ease.limit + ease.eased) / 2


def _a_tenth_more(ease: Relaxation) -> float:
    return ease.limit * 1.1


def _denied(ease: Relaxation) -> bool:
    return not ease.clean


def _relax_left_out(_: PlanRequest, plan: Plan) -> Plan | None:
    return replace(plan, relax=plan.relax[1:]) if plan.relax else None


def _bought(_: PlanRequest, plan: Plan) -> Plan | None:
    look = plan.totals.look
    spent = Spent(
        planks=0,
        h_joints=(look.h_joints, look.h_joints),
        staircases=(look.staircases, look.staircases),
        crosscuts=(plan.totals.crosscuts, plan.totals.crosscuts),
    )
    return replace(plan, bought=spent) if plan.bought is None else None


def _bound(step: int) -> Make:
    """Return what moves the lower bound, and keeps the status right."""

    def make(_: PlanRequest, plan: Plan) -> Plan:
        bound = plan.totals.lower_bound + step
        status = "proven" if bound == plan.totals.fewest else "best_found"
        return replace(plan, status=status, totals=replace(plan.totals, lower_bound=bound))

    return make


def _status(_: PlanRequest, plan: Plan) -> Plan:
    return replace(plan, status="best_found" if plan.status == "proven" else "proven")


CLAIMS = spoilings(
    ("a plank too few in the totals", "totals", with_totals(planks=lambda n: n - 1)),
    ("a plank too many in the totals", "totals", with_totals(planks=_more)),
    ("fewer planks the fewest than taken", "totals", with_totals(fewest=lambda n: n - 1)),
    ("more planks the fewest than taken", "totals", with_totals(fewest=_more)),
    ("a digest that is none", "totals", with_totals(fewest_plan=lambda _: "as planned before")),
    ("a carton too few", "totals", with_totals(cartons=lambda n: n - 1)),
    ("a carton too many", "totals", with_totals(cartons=_more)),
    ("a larger floor", "totals", with_totals(floor_area=lambda area: area * 1.01)),
    ("a larger laid area", "totals", with_totals(laid_area=lambda area: area * 1.01)),
    ("less waste", "totals", with_totals(waste=lambda waste: waste - 0.01)),
    ("another rack", "totals", with_totals(rack_max=_more)),
    ("a crosscut more in the totals", "totals", with_totals(crosscuts=_more)),
    ("a rip more in the totals", "totals", with_totals(rips=_more)),
    ("a notch more in the totals", "totals", with_totals(notches=_more)),
    ("a full piece more in the totals", "totals", with_totals(full_pieces=_more)),
    ("a shortage that is none", "totals", with_totals(shortage_planks=_more)),
    ("an H-joint more", "totals", _look(h_joints=_more)),
    ("a staircase more", "totals", _look(staircases=_more)),
    ("a larger smallest offset", "totals", _look(smallest_offset=lambda off: (off or 0) + 1)),
    ("a bound above the planks", "lower_bound", with_totals(lower_bound=lambda n: n + 1000)),
    ("a bound above its proof", "proof", _bound(1)),
    ("a status that does not follow", "status", _status),
    (
        "a proof of no kind",
        "proof",
        lambda _, plan: replace(plan, proof={**plan.proof, "kind": "word of honor"}),
    ),
    (
        "a proof of another format",
        "proof",
        lambda _, plan: replace(plan, proof={**plan.proof, "format": 99}),
    ),
    (
        "row marks off by 1/4 in",
        "row_marks",
        _marks(lambda row, inch: replace(row, marks=tuple(m + inch / 4 for m in row.marks))),
    ),
    (
        "one row mark off by 1/4 in",
        "row_marks",
        _marks(lambda row, inch: replace(row, marks=(*row.marks[:-1], row.marks[-1] - inch / 4))),
    ),
    ("a row mark left out", "row_marks", _marks(lambda row, _: replace(row, marks=row.marks[1:]))),
    ("row marks from no edge", "row_marks", _marks(lambda row, _: replace(row, source="edge 99"))),
    ("scribe offsets of a straight wall", "row_marks", _marks(_scribed)),
    ("a needless warning of ends", "warning", _warned_of_ends),
    ("a needless warning of offsets", "warning", _warned_of_offsets),
    ("a needless warning of walls", "warning", _warned_of_walls),
    ("a needless warning of strips", "warning", _warned("min_row_width", 1, 2)),
    ("a needless warning of balance", "warning", _warned("balance", 3, 3.5)),
    ("a needless warning of a post", "warning", _warned("post", 1, 0)),
    ("a warning of no rule", "warning", _warned("damp", 1, 0)),
    ("a needless count of like pieces", "variants, warning", _warned("variants", 3, 0)),
    ("a warning less", "min_row_width, wall_error, variants, post, balance", _a_warning_less),
    ("no warnings", "min_row_width, wall_error, variants, post, balance", _no_warnings),
    ("a warning twice", "warning, variants", _a_warning_twice),
    ("a warning of less than is broken", "warning, variants", _a_milder_warning),
    ("a rule to give up that is kept", "relax", _relaxed("min_end_piece", 0.5)),
    ("a rule to give up twice", "relax", _relaxed_again()),
    ("a rule to give up for less than is broken", "relax", _relaxed_again(eased=_halfway)),
    ("a rule to give up from another limit", "relax", _relaxed_again(limit=_a_tenth_more)),
    ("a rule to give up that would leave more", "relax", _relaxed_again(clean=_denied)),
    ("a rule to give up left out", "relax", _relax_left_out),
    ("planks bought that were not spent", "bought", _bought),
)
