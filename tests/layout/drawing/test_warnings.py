"""What breaks a rule stands on the drawing, in the row it is about."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

from layout.drawing.plan import draw_plan
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan, RuleWarning
from layout.values.request import PlanRequest, read_request


def narrow() -> tuple[PlanRequest, Plan]:
    """Return a closet with an arm 1 1/2 in deep: no row there is wide enough."""
    outline: list[list[Any]] = [[0, 0], [96, 0], [96, 15], [60, 15], [60, 1.5], [0, 1.5]]
    form = {
        "format": 1,
        "unit": "in",
        "zone": {"outline": outline},
        "product": {"length": 48, "width": 7, "per_carton": 10},
        "rules": {
            "expansion_gap": 0,
            "saw_kerf": 0.125,
            "min_end_piece": 8,
            "min_joint_offset": 8,
            "min_row_width": 2,
            "balance": False,
        },
        "effort_iterations": 50,
    }
    request = read_request(form)
    return request, plan_floor(request, stop=lambda: False)


def marked(request: PlanRequest, plan: Plan) -> list[str]:
    """Return the words that mark warnings on the drawing."""
    root = ElementTree.fromstring(draw_plan(request, plan))
    return [
        "".join(node.itertext()).strip()
        for node in root.iter()
        if node.tag.endswith("text") and "warning" in node.get("class", "")
    ]


def of_row(row: int, rule: str = "min_row_width") -> RuleWarning:
    """Return a warning about a row."""
    return RuleWarning(rule=rule, where=f"row {row}", value=1, limit=2, text="narrow")


def test_a_plan_without_warnings_has_no_mark() -> None:
    request, plan = narrow()
    assert marked(request, replace(plan, warnings=())) == []


def test_a_row_is_marked_once_for_each_rule() -> None:
    request, plan = narrow()
    warnings = (of_row(1), of_row(1), of_row(1, "min_end_piece"), of_row(2))
    words = marked(request, replace(plan, warnings=warnings))
    assert sorted(words) == ["narrow, row 1", "narrow, row 2", "short end, row 1"]


def test_a_warning_about_the_whole_floor_has_no_place() -> None:
    request, plan = narrow()
    warning = RuleWarning(rule="variants", where="floor", value=3, limit=0, text="3 pairs")
    assert marked(request, replace(plan, warnings=(warning,))) == []


def test_warnings_of_the_planner_are_marked() -> None:
    request, plan = narrow()
    rows = {int(w.where.split()[1]) for w in plan.warnings if w.rule == "min_row_width"}
    assert rows
    assert rows == {int(word.split()[-1]) for word in marked(request, plan) if "narrow" in word}
