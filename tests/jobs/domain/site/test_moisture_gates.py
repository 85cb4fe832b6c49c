"""The gates of moisture: which are closed, and which reading opens each."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.site.cautions import cautions_for, holds_from
from jobs.domain.site.facts import MoistureReading, VisitFacts
from jobs.domain.site.moisture_gates import MoistureGates, gates_for, range_of_boards

ROW_ONE = date(2027, 3, 3)
OAK = {"Oak": False}


def read(code: str, value: str, on: date | None = None) -> MoistureReading:
    return MoistureReading(method=code, value=Decimal(value), limit=None, code=code, on=on)


def closed(
    *readings: MoistureReading, subfloor: str = "slab", **gates: Any
) -> dict[str, tuple[str, ...]]:
    """Return the closed gates with what each blocks."""
    facts = VisitFacts(subfloor=subfloor, readings=readings)  # type: ignore[arg-type]
    return {one.code: one.blocks for one in gates_for(facts, MoistureGates(**gates))}


@pytest.mark.parametrize("subfloor", ["slab", "unknown"])
def test_without_a_reading_nothing_is_ordered_or_carried_in(subfloor: str) -> None:
    assert closed(subfloor=subfloor) == {"moisture-open": ("pick_up", "load", "carry")}


def test_wood_is_read_where_a_product_has_a_limit_for_it() -> None:
    assert closed(subfloor="wood") == {}
    assert list(closed(subfloor="wood", limit_on_wood=True)) == ["moisture-open"]


def test_row_one_waits_for_a_reading_of_its_morning() -> None:
    early, that_day = read("rh", "70", date(2027, 2, 1)), read("rh", "71", ROW_ONE)
    assert closed(early) == {}
    assert closed(early, row_one=ROW_ONE) == {"moisture-row-one": ("underlay", "lay")}
    assert closed(early, that_day, row_one=ROW_ONE) == {}
    assert list(closed(read("rh", "70"), row_one=ROW_ONE)) == ["moisture-row-one"]


@pytest.mark.parametrize(
    ("boards", "is_open"), [("5.9", False), ("6", True), ("10", True), ("10.1", False)]
)
def test_wide_boards_wait_until_they_are_within_two_points_of_a_wood_subfloor(
    boards: str, is_open: bool
) -> None:
    """NWFA Installation Guidelines, 2008: 2 points for boards wider than strip. Subfloor 8 %."""
    gates = closed(read("wood", "8"), read("boards", boards), subfloor="wood", boards=OAK)
    assert ("moisture-boards" not in gates) == is_open


def test_strip_may_be_four_points_off_and_on_a_slab_boards_read_six_to_nine() -> None:
    wood = VisitFacts(subfloor="wood", readings=(read("wood", "8"),))
    assert range_of_boards(wood, MoistureGates(boards={"Strip": True})) == (Decimal(4), Decimal(12))
    assert range_of_boards(VisitFacts(subfloor="slab"), MoistureGates(boards=OAK)) == (
        Decimal(6),
        Decimal(9),
    )


def test_the_newest_reading_of_the_boards_counts() -> None:
    dried = (read("wood", "8"), read("boards", "14"), read("boards", "9"))
    assert closed(*dried, subfloor="wood", boards=OAK) == {}
    assert "moisture-boards" in closed(*dried[:2], subfloor="wood", boards=OAK)


def test_a_reading_of_the_boards_is_none_of_the_subfloor() -> None:
    assert list(closed(read("boards", "8"), boards=OAK)) == ["moisture-open"]


def test_what_a_reading_opens_is_no_hold_of_the_scope() -> None:
    cautions = cautions_for(VisitFacts(subfloor="slab", existing_floor="none"), MoistureGates())
    assert "moisture-open" in {one.code for one in cautions}
    assert "moisture-open" not in {code for _, code in holds_from(cautions)}
