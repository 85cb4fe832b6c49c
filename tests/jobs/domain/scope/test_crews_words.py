"""What a crew calls its tasks: what comes out, which strips are set, how long cartons lie."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.crews_words import crews_word, in_crews_words
from jobs.domain.tasks import TASKS, Task


def task(code: str, **more: object) -> Task:
    made = Task(code=code, label=TASKS[code].label, hours=Decimal(1), basis="-", zone="Down")
    return replace(made, **more)  # type: ignore[arg-type]


def label(one: Task, *counted: Quantity) -> str:
    return in_crews_words([one], counted)[0].label


def strip(item: str, basis: str = "34 in", room: str = "Hall", zone: str = "Down") -> Quantity:
    return quantity("transitions", 1, basis, zone=zone, room=room, item=item)


def torn(item: str, zone: str = "Down") -> Quantity:
    return quantity("tear_out", 100, "old", zone=zone, item=item)


@pytest.mark.parametrize(
    ("code", "word"),
    [
        ("furniture", "Furniture"),
        ("base_off", "Base off"),
        ("doors_on", "Doors on, test-swing"),
        ("dispose", "Haul away"),
        ("clean", "Clean, hand over"),
        ("lay", "Lay the floor"),
    ],
)
def test_a_kind_of_task_has_the_crews_word(code: str, word: str) -> None:
    assert crews_word(code, TASKS[code].label) == word
    assert label(task(code)) == word


def test_a_subfloor_is_screwed_only_where_screws_were_counted() -> None:
    screws = quantity("subfloor_screws", 60, "loose in the hall", zone="Down")
    elsewhere = replace(screws, zone="Upstairs")
    assert label(task("prep"), screws) == "Clean and screw the subfloor"
    assert label(task("prep"), elsewhere) == label(task("prep")) == "Clean and check the subfloor"
    assert label(task("prep"), replace(screws, amount=Decimal(0))) == label(task("prep"))


def test_a_name_that_somebody_gave_stays() -> None:
    assert crews_word("base", "Base in the den, oak") == "Base in the den, oak"
    assert label(task("base", label="Base in the den, oak")) == "Base in the den, oak"
    assert crews_word("no such task", "Whatever") == "Whatever"


def test_strips_are_named_by_what_was_counted_each_once() -> None:
    counted = [strip("reducer"), strip("T-molding", room="Den"), strip("reducer", room="Bath")]
    assert label(task("transitions"), *counted) == "Set the reducer and T-molding"
    assert label(task("transitions"), counted[0]) == "Set the reducer"


def test_three_strips_are_listed() -> None:
    counted = [strip(name, room=name) for name in ("reducer", "T-molding", "end cap")]
    assert label(task("transitions"), *counted) == "Set the reducer, T-molding and end cap"


def test_the_words_of_a_strip_are_its_item_not_its_sentence() -> None:
    """A sentence about the doorway may be worded in any way."""
    assert label(task("transitions"), strip("end cap", "34 in, at the slider")) == "Set the end cap"


def test_a_scope_that_names_no_item_says_the_strip_first() -> None:
    assert label(task("transitions"), strip("", "reducer, 34 in")) == "Set the reducer"


@pytest.mark.parametrize("counted", [[], [strip("", "strips")], [strip("reducer", zone="Up")]])
def test_unknown_strips_are_strips(counted: list[Quantity]) -> None:
    assert label(task("transitions"), *counted) == "Set the strips"


def test_what_comes_out_is_named() -> None:
    assert label(task("tear_out"), torn("carpet")) == "Tear out carpet"
    assert label(task("tear_out"), torn("wood"), torn("tile")) == "Tear out wood floor and tile"
    assert label(task("tear_out"), torn("carpet", "Up")) == "Tear out the old floor"
    assert label(task("tear_out"), torn("")) == "Tear out the old floor"


def test_cartons_lie_for_their_hours() -> None:
    lies = task("acclimatise", hours=Decimal(0), wait_hours_after=Decimal("48.0"))
    assert label(lies) == "Acclimate 48 h"
    assert label(task("acclimatise", hours=Decimal(0))) == "Acclimate"
