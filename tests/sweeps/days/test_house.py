"""Days as a lead lays them out, and what nobody does to a house put into them on purpose."""

from __future__ import annotations

from datetime import date

import pytest

from tests.sweeps.days.held import Laid, TimeOn
from tests.sweeps.days.house import for_the_end, unkind_to_the_house
from tests.sweeps.days.laid_days import LaidDays
from tests.sweeps.days.test_habits import BOTH, GOOD, MON, ROWS, TUE, WED, A, at, laid, room

BEDROOM = room("B", (11, 20), "bedroom", furniture="2", tear_out="2", prep="0.5")


def faults(days: Laid) -> set[str]:
    here = LaidDays(days)
    return {words.split(":")[0] for words in (*unkind_to_the_house(here), *for_the_end(here))}


def but(day: date, *strokes: TimeOn, without: str = "") -> dict[date, list[TimeOn]]:
    """Return the good days, something more done on one of them; tear-out of B left out, if so."""
    kept = [s for s in GOOD[day] if not without or (s.work, s.room) != (without, "B")]
    return {**GOOD, day: [*kept, *strokes]}


def test_days_as_a_lead_lays_them_out_are_kind_to_the_house() -> None:
    assert faults(laid(GOOD, ROWS, rooms=(A, BEDROOM), agreed=["B"])) == set()


@pytest.mark.parametrize(("agreed", "said"), [(["B"], {"emptied"}), ([], set())])
def test_a_bedroom_is_not_emptied_the_evening_before_where_its_nights_are_free(
    agreed: list[str], said: set[str]
) -> None:
    """Its carpet comes out on Tuesday; without nights over days off that evening may be needed."""
    days = but(MON, without="tear_out")
    days[TUE] = [*GOOD[TUE], *at(BOTH, "tear_out", "B", 10, 11)]
    days[MON] = [s for s in days[MON] if (s.work, s.room) != ("prep", "B")]
    assert faults(laid(days, ROWS, rooms=(A, BEDROOM), agreed=agreed)) == said


def test_treads_before_the_last_tear_out_are_named() -> None:
    days = but(MON, *at(BOTH, "stairs", "", 9, 10))
    days[TUE] = [*GOOD[TUE], *at(BOTH, "tear_out", "B", 13, 14)]
    assert "stairs" in faults(laid(days, ROWS))


def test_treads_on_scattered_days_are_named() -> None:
    days = {**GOOD, WED: [*GOOD[WED], *at(BOTH, "stairs", "", 15, 16)]}
    days[MON] = [*GOOD[MON], *at(BOTH, "stairs", "", 13, 14)]
    assert faults(laid(days, ROWS)) == {"scattered"}


def test_old_floor_beside_wet_leveler_is_named() -> None:
    assert faults(laid(but(MON, *at(BOTH, "tear_out", "B", 12, 12.5)), ROWS)) == {"wet"}


def test_a_room_torn_out_before_and_after_another_is_named() -> None:
    """A today and on Wednesday, B on Tuesday between them."""
    days = but(MON, without="tear_out")
    days[TUE] = [*GOOD[TUE], *at(BOTH, "tear_out", "B", 13, 14)]
    days[WED] = [*at(BOTH, "tear_out", "A", 7, 8), *GOOD[WED]]
    assert "bites" in faults(laid(days, ROWS))
