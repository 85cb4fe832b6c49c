"""Base and shoe are bought by the cut list where runs are known, else by their length."""

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.scope.inputs import TrimTake
from jobs.domain.scope.rules import (
    TakeoffRules,
)
from jobs.domain.scope.takeoff import take_off
from jobs.domain.trim.stock import TrimLength
from tests.jobs.floors import (
    a_job,
    a_room,
    codes,
    the,
)


def test_base_of_a_published_exercise_fits_27_sticks() -> None:
    # Dagostino and Peterson, Estimating in Building Construction, example 13-25: outside walls
    # 148 ft, inside walls 149 ft on two sides, less 25 ft of doors = 421 ft. 16 ft sticks: 27.
    run = Decimal((148 + 2 * 149 - 25) * 12)
    room = a_room(perimeter_in=run, base_run_in=run, base_treatment="replace")
    rules = TakeoffRules(base_stick_in=Decimal(192), trim_allowance=Decimal(0))

    quantities = take_off(a_job(rooms=(room,)), rules)

    assert the(quantities, "base_on").amount == 421
    assert the(quantities, "base_stock").amount == 27


def test_new_base_has_ten_percent_for_cuts() -> None:
    # 480 in x 1.10 = 528 in = 3.67 sticks of 144 in.
    quantities = take_off(a_job(rooms=(a_room(base_treatment="replace"),)))

    assert the(quantities, "base_stock").amount == 4
    assert (
        the(quantities, "base_stock").basis
        == "40.0 ft and 10 % for cuts, 12.0 ft sticks, rounded up"
    )


def a_run(name: str, length: int, **more: Any) -> TrimTake:
    """A run of base of the bedroom."""
    return TrimTake(kind="base", cut=TrimLength(name=name, length_in=Decimal(length)), **more)


def test_base_whose_runs_are_known_is_bought_by_the_cut_list() -> None:
    # 168 needs a 16 ft stick; 120 and 40 share another; 96 is an 8 ft one. No allowance.
    trim = tuple(a_run(f"wall {n}", length) for n, length in enumerate((168, 120, 40, 96), start=1))
    room = a_room(base_treatment="replace", base_run_in=Decimal(424), trim=trim)

    quantities = take_off(a_job(rooms=(room,)))

    assert the(quantities, "base_stock", item="wood, 16 ft").amount == 2
    assert the(quantities, "base_stock", item="wood, 8 ft").amount == 1
    assert the(quantities, "base_stock", item="wood, 8 ft").basis == (
        "cut list: 35.3 ft in 4 runs from 2 of 16 ft, 1 of 8 ft; fewer feet can't do it"
    )


def test_sticks_come_in_the_lengths_that_the_job_names() -> None:
    room = a_room(base_treatment="replace", trim=(a_run("wall 1", 100),))
    stock = (Decimal("94.488189"), Decimal("141.732283"))

    quantities = take_off(a_job(rooms=(room,), trim_stock_in=stock))

    assert the(quantities, "base_stock").item == "wood, 3.6 m"


@pytest.mark.parametrize(
    ("treatment", "action", "bought"),
    [
        ("replace", "", True),
        ("reinstall", "", False),
        ("keep", "replace", True),
        ("replace", "keep", False),
    ],
)
def test_a_run_is_bought_where_it_or_its_room_is_replaced(
    treatment: str, action: Any, bought: bool
) -> None:
    room = a_room(base_treatment=treatment, trim=(a_run("wall 1", 90, action=action),))
    assert ("base_stock" in codes(take_off(a_job(rooms=(room,))))) == bought


def test_shoe_has_a_length_of_its_own_where_base_stays() -> None:
    room = a_room(shoe_treatment="replace", shoe_run_in=Decimal(240), base_run_in=Decimal(0))

    assert the(take_off(a_job(rooms=(room,))), "shoe_on").amount == 20


@pytest.mark.parametrize(
    ("kind", "material"), [("dry", "wood"), ("damp", "moisture-proof"), ("wet", "moisture-proof")]
)
def test_no_wood_where_it_gets_wet(kind: str, material: str) -> None:
    quantities = take_off(a_job(rooms=(a_room(kind=kind, base_treatment="replace"),)))

    assert the(quantities, "base_stock").item == material


def test_base_of_two_rooms_is_cut_from_the_same_sticks() -> None:
    # 2 x 60 in x 1.10 = 132 in: one stick of 144 in, not two.
    rooms = tuple(
        a_room(name=name, base_run_in=Decimal(60), base_treatment="replace")
        for name in ("bedroom", "closet")
    )

    assert the(take_off(a_job(rooms=rooms)), "base_stock").amount == 1


def test_base_reinstalled_is_taken_off_and_put_on_but_not_bought() -> None:
    quantities = take_off(a_job(rooms=(a_room(base_treatment="reinstall"),)))

    assert the(quantities, "base_off").amount == the(quantities, "base_on").amount == 40
    assert "base_stock" not in codes(quantities)


@pytest.mark.parametrize("treatment", ["keep", "none"])
def test_base_that_stays_or_never_was_is_no_work(treatment: str) -> None:
    quantities = take_off(a_job(rooms=(a_room(base_treatment=treatment),)))

    assert not {"base_off", "base_on", "base_nails"} & codes(quantities)


def test_base_is_nailed_twice_at_each_stud() -> None:
    # 480 in: studs at 0, 16, ... 480 are 31.
    quantities = take_off(a_job(rooms=(a_room(base_treatment="replace"),)))

    assert the(quantities, "base_nails").amount == 62
