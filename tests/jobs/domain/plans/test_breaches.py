"""A rule that is broken in many rows is said once, with its rows and how far off it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.plans.breaches import breaches_of
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan, RuleWarning
from layout.values.request import read_request
from tests import rooms


@pytest.fixture(scope="module")
def clean() -> Plan:
    return plan_floor(read_request({**rooms.pantry(), "effort_iterations": 5}))


def warned(plan: Plan, *places: tuple[str, str, float, float]) -> Plan:
    warnings = [
        RuleWarning(rule=rule, where=where, value=value, limit=limit, text=f"{rule} in {where}.")
        for rule, where, value, limit in places
    ]
    return replace(plan, warnings=tuple(warnings))


def test_a_clean_plan_has_nothing_to_say(clean: Plan) -> None:
    assert breaches_of(clean) == []


def test_one_rule_broken_in_many_rows_is_said_once_with_the_worst_figure(clean: Plan) -> None:
    rule = "min_end_piece"
    places = [(rule, f"row {row}", 5.0 + row, 12.0) for row in (1, 2, 3, 5)]
    (said,) = breaches_of(warned(clean, *places))
    assert said.where == "rows 1 to 3, 5"
    assert said.text == 'End pieces as short as 6"; the rule asks for 1\'\xa00".'


def test_rows_that_touch_are_all_named(clean: Plan) -> None:
    rule = "min_joint_offset"
    places = [(rule, "rows 4 and 5", 3.0, 8.0), (rule, "rows 8 and 9", 2.5, 8.0)]
    (said,) = breaches_of(warned(clean, *places))
    assert said.where == "rows 4 to 5, 8 to 9"


def test_each_rule_has_a_word_of_its_own_and_a_post_keeps_its_own(clean: Plan) -> None:
    places = [
        ("min_end_piece", "row 1", 5.0, 8.0),
        ("min_row_width", "row 1", 1.5, 2.0),
        ("post", "row 3", 1.0, 0.0),
        ("post", "row 4", 1.0, 0.0),
        ("start", "the start wall", 1.0, 0.0),
    ]
    said = breaches_of(warned(clean, *places))
    assert [one.where for one in said] == ["row 1", "row 1", "row 3", "row 4"]
    assert said[0].text == "min_end_piece in row 1."
