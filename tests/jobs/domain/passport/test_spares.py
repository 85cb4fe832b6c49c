"""Which leftover takes the place of a plank, on three rows worked out by hand.

Left over are 23.875 in with a left end, 35.875 in and 15.75 in with right ends.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.passport.spares import damaged_plank, fitting_leftovers
from layout.values.plan import Offcut, Plan
from tests.layout import three_rows

SIDES = {"low side", "high side"}


def fitting(plan: Plan, name: str) -> list[str]:
    return [offcut.id for offcut in fitting_leftovers(plan, damaged_plank(plan, name))]


@pytest.mark.parametrize(
    ("name", "length", "keeps", "full"),
    [
        ("1-1", 24, {"right end"}, False),
        ("1-2", 48, {"left end", "right end"}, True),
        ("1-3", 28, {"left end"}, False),
        ("3-1", 19.875, {"right end"}, False),
    ],
)
def test_what_a_plank_still_has(name: str, length: float, keeps: set[str], full: bool) -> None:
    plank = damaged_plank(three_rows.plan(), name)
    assert plank.length == pytest.approx(length)
    assert (plank.width, plank.full) == (7, full)
    assert plank.keeps == keeps | SIDES


@pytest.mark.parametrize(
    ("name", "leftovers"),
    [
        ("3-1", ["F3"]),  # the other right end is too short
        ("2-3", ["F2"]),
        ("1-1", ["F3"]),
        ("1-3", []),  # 28 in with a left end: that one is 23.875
        ("1-2", []),  # a whole plank has both ends
    ],
)
def test_long_enough_with_the_right_end(name: str, leftovers: list[str]) -> None:
    assert fitting(three_rows.plan(), name) == leftovers


def changed(plan: Plan, name: str, **values: object) -> Plan:
    offcuts: list[Offcut] = [
        replace(one, **values) if one.id == name else one  # type: ignore[arg-type]
        for one in plan.offcuts
    ]
    return replace(plan, offcuts=tuple(offcuts))


def test_what_was_used_is_narrow_or_notched_takes_no_place() -> None:
    plan = three_rows.plan()
    assert fitting(changed(plan, "F2", used_by="3-3"), "2-3") == []
    assert fitting(changed(plan, "F2", width=5.0), "2-3") == []
    notched = ((0.0, 0.0), (23.875, 0.0), (23.875, 7.0), (4.0, 7.0), (4.0, 3.0), (0.0, 3.0))
    assert fitting(changed(plan, "F2", outline=notched), "2-3") == []


def test_a_shade_takes_only_its_own() -> None:
    plan = three_rows.plan()
    shades = {1: "A", 6: "B"}  # F2 is left of plank 1; the piece 2-3 is of plank 6
    pieces = tuple(replace(one, variant=shades.get(one.plank, "A")) for one in plan.pieces)
    assert fitting(replace(plan, pieces=pieces), "2-3") == []


def test_a_plank_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError, match="9-9"):
        damaged_plank(three_rows.plan(), "9-9")
