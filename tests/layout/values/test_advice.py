"""What a plan says beside its pieces is written and read back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.values.advice import Relaxation, ShortPile, Spent, SpreadRule
from layout.values.errors import InputError
from layout.values.plan import Plan
from layout.values.plan_form import plan_to_json, read_plan
from tests.layout.three_rows import plan, totals


def _advised() -> Plan:
    return plan(
        relax=(Relaxation(rule="min_joint_offset", limit=8, eased=6.5, clean=True),),
        bought=Spent(planks=3, h_joints=(9, 0), staircases=(1, 0), crosscuts=(118, 104)),
        spread=SpreadRule(shades=4, rule="no like plank within 2 rows and 1 plank"),
        totals=totals(fewest_plan="ab12", short_piles=(ShortPile(width=9, variant="A", planks=2),)),
    )


def test_advice_is_read_back_as_it_was_written() -> None:
    form = plan_to_json(_advised())
    again = read_plan(form)
    for name in ("relax", "bought", "spread"):
        assert getattr(again, name) == getattr(_advised(), name)
    assert again.totals.short_piles == _advised().totals.short_piles


def test_what_to_give_up_stands_with_its_limits() -> None:
    form = plan_to_json(_advised())
    expected = {"rule": "min_joint_offset", "from": 8, "to": 6.5, "clean": True}
    assert form["relax"] == [expected]


def test_a_count_without_an_after_is_refused() -> None:
    form = plan_to_json(_advised())
    form["bought"] = {"planks": 3, "h_joints": [9], "staircases": [1, 0], "crosscuts": [1, 1]}
    with pytest.raises(InputError, match=r"bought\.h_joints: 1 numbers"):
        read_plan(form)


def test_a_plan_of_format_1_is_written_without_what_it_never_had() -> None:
    form = plan_to_json(replace(plan(), format=1))
    assert "fewest" not in form["totals"]  # type: ignore[operator]
    assert read_plan(form).format == 1
