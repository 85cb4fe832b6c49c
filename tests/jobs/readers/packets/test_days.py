"""A day of a packet by the clock: where it begins, who is named, whether lunch is in it."""

from __future__ import annotations

from datetime import date

from jobs.domain.days.placed.pieces import PlacedSpell
from jobs.readers.packets.days import begun_elsewhere, nameless, rests

MONDAY = date(2027, 3, 1)


def spell(task: str, begins: int, ends: int, person: str = "Lead") -> PlacedSpell:
    """A spell of a person on Monday, by quarters of an hour: 32 is 8 o'clock."""
    return PlacedSpell(
        day=MONDAY, person=person, task=task, room="", part="", begins=begins, ends=ends
    )


def test_a_day_that_begins_with_a_pick_up_is_at_the_site_later() -> None:
    assert begun_elsewhere([spell("pick_up", 33, 35), spell("setup", 37, 40)]) == "8:15"
    assert begun_elsewhere([spell("setup", 33, 40)]) == ""
    assert begun_elsewhere([spell("pick_up", 33, 35)]) == ""


def test_places_of_a_crew_without_a_name_are_told() -> None:
    spells = [spell("lay", 33, 60), spell("lay", 33, 60, person="Ada")]
    assert [*nameless(spells, {"Ada", "Ben"})] == ["Lead"]


def test_six_hours_without_half_an_hours_gap_leave_no_lunch() -> None:
    assert not rests([spell("lay", 32, 56)])
    assert rests([spell("lay", 32, 44), spell("lay", 46, 58)])
    assert rests([spell("lay", 32, 52)])  # five hours
