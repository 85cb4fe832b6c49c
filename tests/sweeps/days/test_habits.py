"""Two rooms worked by hand as a lead would, and each bad habit put into them on purpose.

A is leveled and painted, rows 1 to 10; B has furniture, rows 11 to 20. Two people, a week from
Monday: Monday furniture out, A and B torn out, cleaned, A poured at 12:00, so that it bears steps
at 16:30 and is dry at noon on Tuesday; Tuesday painted; Wednesday cartons, rows, furniture back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from tests.sweeps.days.habits import bad_habits
from tests.sweeps.days.held import Day, DayLine, Facts, Laid, OneOfCrew, RoomOf, TimeOn
from tests.sweeps.days.laid_days import LaidDays

MON, TUE, WED, THU, FRI = (date(2027, 3, 1) + timedelta(days=n) for n in range(5))
NEXT_MON = MON + timedelta(days=7)
BOTH = ("Lead", "Installer 2")


def at(
    who: Sequence[str], work: str, room: str, begins: float, ends: float, part: str = ""
) -> list[TimeOn]:
    """Return what people are at from one hour to another; the room's floor is Down, or Up."""
    floor = "" if work in ("carry", "dump_run") else "Up" if room.startswith("Up") else "Down"
    return [
        TimeOn(
            person=one,
            work=work,
            floor=floor,
            room="" if work in ("lay", "carry", "dump_run") else room,
            part=part,
            begins=int(begins * 60),
            ends=int(ends * 60),
        )
        for one in who
    ]


def room(name: str, rows: tuple[int, int], use: str = "", **hours: str) -> RoomOf:
    floor = "Up" if name.startswith("Up") else "Down"
    there = {work: Decimal(many) for work, many in hours.items()}
    cures = bool({"level", "paint"} & set(there))
    return RoomOf(name=name, floor=floor, use=use, rows=rows, cures=cures, hours=there)


A = room("A", (1, 10), tear_out="4", prep="0.5", level="1", paint="4")
B = room("B", (11, 20), furniture="2", tear_out="2", prep="0.5")


def laid(
    days: Mapping[date, Sequence[TimeOn]],
    rows: Mapping[date, Mapping[str, tuple[int, int]]],
    *,
    rooms: Sequence[RoomOf] = (A, B),
    agreed: Sequence[str] = (),
) -> Laid:
    """Return days of two people of eight hours, with the rows that are down on each."""
    floors = {one.floor: 20 for one in rooms}
    facts = Facts(
        crew=tuple(OneOfCrew(name=name, hours=Decimal(8)) for name in BOTH),
        starts=8,
        drive=Decimal(0),
        first=MON,
        holidays=frozenset(),
        rooms=tuple(rooms),
        rows=floors,
        hours={},
        cure=24,
        dry=12,
        bears=4,
        acclimate={},
        agreed=frozenset(agreed),
        days_off=bool(agreed),
    )
    made = []
    for day, strokes in days.items():
        lines = [
            DayLine(
                work="lay", floor=floor, part="", hours=Decimal(1), booked=Decimal(1), rows=span
            )
            for floor, span in rows.get(day, {}).items()
        ]
        made.append(Day(date=day, lines=tuple(lines), strokes=tuple(strokes)))
    return Laid(facts=facts, days=tuple(made))


def _line(floor: str, span: tuple[int, int]) -> DayLine:
    hour = Decimal(1)
    return DayLine(work="lay", floor=floor, part="", hours=hour, booked=hour, rows=span)


GOOD: dict[date, list[TimeOn]] = {
    MON: [
        *at(BOTH, "furniture", "B", 8, 8.5, "out"),
        *at(BOTH, "tear_out", "A", 8.5, 10.5),
        *at(BOTH, "tear_out", "B", 10.5, 11.5),
        *at(["Lead"], "prep", "A", 11.5, 12),
        *at(["Installer 2"], "prep", "B", 11.5, 12),
        *at(BOTH, "level", "A", 12, 12.5),
    ],
    TUE: at(BOTH, "paint", "A", 8, 10),
    WED: [
        *at(BOTH, "carry", "", 8, 9),
        *at(BOTH, "lay", "A", 9, 13),
        *at(BOTH, "furniture", "B", 13, 13.5, "back"),
    ],
}
ROWS: dict[date, dict[str, tuple[int, int]]] = {WED: {"Down": (1, 20)}}


def habits(days: Laid) -> set[str]:
    return {words.split(":")[0] for words in bad_habits(LaidDays(days))}


def without(day: date, *works: str, part: str = "") -> dict[date, list[TimeOn]]:
    """Return the good days, some work of a day left out."""
    kept = [s for s in GOOD[day] if s.work not in works or (part and s.part != part)]
    return {**GOOD, day: kept}


def test_nothing_is_wrong_with_days_as_a_lead_lays_them_out() -> None:
    assert list(bad_habits(LaidDays(laid(GOOD, ROWS)))) == []


def painted_over_dust() -> Laid:
    """The walls of A are begun at 11:30, while its subfloor is scraped until 12:00."""
    days = without(MON, "prep")
    days[MON] += [
        *at(["Lead"], "prep", "A", 11.5, 12),
        *at(["Installer 2"], "paint", "A", 11.5, 12),
    ]
    return laid(days, ROWS)


def painted_beside_tear_out() -> Laid:
    """A is painted from 10:30 on, while the carpet of B comes out beside it until 12:30."""
    days = without(MON, "tear_out", "prep", "level")
    days[MON] += [
        *at(BOTH, "tear_out", "A", 8.5, 10.5),
        *at(["Lead"], "paint", "A", 10.5, 12.5),
        *at(["Installer 2"], "tear_out", "B", 10.5, 12.5),
    ]
    return laid(days, ROWS)


def poured_behind_base() -> Laid:
    """A is bare at 10:30; cleaning and pouring take 1.5 h, and 4 h go to base that could wait."""
    days = without(MON, "level")
    days[MON] += at(BOTH, "base", "B", 12, 14)
    days[TUE] = [*at(BOTH, "level", "A", 8, 8.5), *at(BOTH, "paint", "A", 12.5, 14.5)]
    return laid(days, ROWS)


UP = room("Up", (1, 20), tear_out="4")


def torn_out_here_and_there() -> Laid:
    """Down on Monday, up on Tuesday, and what was left down on Wednesday."""
    days = {
        MON: at(BOTH, "tear_out", "A", 8, 12),
        TUE: at(BOTH, "tear_out", "Up", 8, 10),
        WED: at(BOTH, "tear_out", "B", 8, 10),
        THU: [*at(BOTH, "lay", "A", 8, 12), *at(BOTH, "lay", "Up", 12, 16)],
    }
    return laid(days, {THU: {"Down": (1, 20), "Up": (1, 20)}}, rooms=(A, B, UP))


def up_and_down_all_day() -> Laid:
    """Six times up or down on Thursday, for base of an hour each."""
    days = dict(GOOD)
    days[THU] = [
        s
        for number, place in enumerate(("A", "Up", "B", "Up", "A", "Up", "B"))
        for s in at(["Lead"], "base", place, 8 + number, 9 + number)
    ]
    return laid(days, ROWS)


def two_floors_half_laid() -> Laid:
    """On Friday both floors lie half, though on Thursday nothing kept the first from going on."""
    days = {
        **GOOD,
        WED: [*at(BOTH, "carry", "", 8, 9), *at(BOTH, "lay", "A", 9, 16)],
        FRI: at(BOTH, "lay", "Up", 8, 16),
        NEXT_MON: [
            *at(BOTH, "lay", "A", 8, 12),
            *at(BOTH, "lay", "Up", 12, 16),
            *at(BOTH, "furniture", "B", 16, 16.5, "back"),
        ],
    }
    rows = {
        WED: {"Down": (1, 10)},
        FRI: {"Up": (1, 10)},
        NEXT_MON: {"Down": (11, 20), "Up": (11, 20)},
    }
    return laid(days, rows, rooms=(A, B, room("Up", (1, 20))))


def furniture_that_never_comes_back() -> Laid:
    return laid(without(WED, "furniture", part="back"), ROWS)


def opened_for_the_weekend() -> Laid:
    """An hour of furniture on Friday in a bedroom whose nights were agreed; rows on Monday."""
    bedroom = room("B", (11, 20), "bedroom", furniture="2")
    days = {
        FRI: at(BOTH, "furniture", "B", 8, 8.5, "out"),
        NEXT_MON: [*at(BOTH, "lay", "A", 8, 12), *at(BOTH, "furniture", "B", 12, 12.5, "back")],
    }
    rows = {NEXT_MON: {"Down": (1, 20)}}
    return laid(days, rows, rooms=(room("A", (1, 10)), bedroom), agreed=["B"])


def opened_for_a_dead_day() -> Laid:
    """The bedroom is emptied on Monday; on Tuesday nobody comes, and nothing dries in it."""
    bedroom = room("B", (11, 20), "bedroom", furniture="2")
    days = {
        MON: at(BOTH, "furniture", "B", 8, 8.5, "out"),
        WED: [*at(BOTH, "lay", "A", 8, 12), *at(BOTH, "furniture", "B", 12, 12.5, "back")],
    }
    return laid(days, ROWS, rooms=(room("A", (1, 10)), bedroom), agreed=["B"])


def moved_by_one() -> Laid:
    days = without(WED, "furniture")
    days[WED] += at(["Installer 2"], "furniture", "B", 13, 14, "back")
    return laid(days, ROWS)


def carried_by_the_lead() -> Laid:
    """The lead carries cartons with a third from 9:00 to 10:00, while another lays."""
    days = without(WED, "carry", "lay")
    days[WED] += [
        *at(["Lead", "Installer 3"], "carry", "", 9, 10),
        *at(BOTH[1:], "lay", "A", 9, 13),
    ]
    three = laid(days, ROWS)
    crew = (*three.facts.crew, OneOfCrew(name="Installer 3", hours=Decimal(8)))
    return replace(three, facts=replace(three.facts, crew=crew))


def driven_by_the_lead() -> Laid:
    days = without(WED, "lay")
    days[WED] += [*at(["Lead"], "dump_run", "", 9, 10.5), *at(BOTH[1:], "lay", "A", 9, 13)]
    return laid(days, ROWS)


def one_lays_and_one_looks_on() -> Laid:
    """Four hours of rows for one, where three find room."""
    days = without(WED, "lay")
    days[WED] += at(["Lead"], "lay", "A", 9, 13)
    return laid(days, ROWS)


def poured_in_halves() -> Laid:
    days = without(MON, "level")
    days[MON] += at(["Lead"], "level", "A", 12, 12.5)
    days[TUE] = [*at(["Lead"], "level", "A", 8, 8.5), *at(BOTH, "paint", "A", 12.5, 14.5)]
    return laid(days, ROWS)


def driven_before_the_pour() -> Laid:
    """Alone, the lead drives from 12:00 to 13:30 with A ready for its leveler since then."""
    days = without(MON, "level")
    days[MON] += [*at(["Lead"], "dump_run", "", 12, 13.5), *at(["Lead"], "level", "A", 13.5, 14.5)]
    alone = laid(days, ROWS)
    return replace(alone, facts=replace(alone.facts, crew=alone.facts.crew[:1]))


def gone_home_at_noon() -> Laid:
    """B's floor comes out on Tuesday, though Monday was over at 12:30."""
    kept = [s for s in GOOD[MON] if (s.work, s.room) not in (("tear_out", "B"), ("prep", "B"))]
    torn = [*at(BOTH, "tear_out", "B", 8, 9), *at(BOTH, "prep", "B", 9, 9.5)]
    days = {**GOOD, MON: kept, TUE: [*torn, *at(BOTH, "paint", "A", 9.5, 11.5)]}
    return laid(days, ROWS)


@pytest.mark.parametrize(
    ("spoiled", "habit"),
    [
        (painted_over_dust(), "dust"),
        (painted_beside_tear_out(), "dust"),
        (poured_behind_base(), "pour"),
        (torn_out_here_and_there(), "stories"),
        (up_and_down_all_day(), "stories"),
        (two_floors_half_laid(), "half laid"),
        (furniture_that_never_comes_back(), "vanished"),
        (opened_for_the_weekend(), "dead days"),
        (opened_for_a_dead_day(), "dead days"),
        (moved_by_one(), "alone"),
        (carried_by_the_lead(), "lead"),
        (driven_by_the_lead(), "lead"),
        (one_lays_and_one_looks_on(), "idle"),
        (poured_in_halves(), "pour"),
        (driven_before_the_pour(), "pour"),
        (gone_home_at_noon(), "home early"),
    ],
)
def test_what_nobody_does_is_seen(spoiled: Laid, habit: str) -> None:
    assert habit in habits(spoiled)
