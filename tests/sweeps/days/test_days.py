"""A few of the random jobs in the suite, and days spoiled on purpose: the checker refuses each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from random import Random

import pytest

from tests.sweeps.days.__main__ import days_late
from tests.sweeps.days.bound import soonest
from tests.sweeps.days.checker import faults_of
from tests.sweeps.days.held import Day, Facts, Laid, OneOfCrew, RoomOf, TimeOn
from tests.sweeps.days.made import a_job

SPOILABLE = "12/57"
"""More than one person, four bedrooms, tear-out, leveler, paint and a stair in two passes."""


@cache
def drawn(seed: str) -> Laid:
    return a_job(Random(seed))


@pytest.mark.parametrize("number", range(12))
def test_days_of_random_jobs_keep_every_rule(number: int) -> None:
    assert faults_of(drawn(f"12/{number}")) == []


def test_most_random_jobs_end_a_day_after_they_could_at_most() -> None:
    assert sum(days_late(drawn(f"12/{number}")) <= 1 for number in range(12)) >= 11


def test_no_random_job_ends_sooner_than_its_bound() -> None:
    """Where one did, the bound would be none."""
    laid = [drawn(f"12/{number}") for number in range(12)]
    assert [soonest(one.facts) <= one.days[-1].date for one in laid] == [True] * 12


def a_kitchen(first: date) -> Facts:
    """A kitchen for one person of 8 h on site: torn out for 6 h, 24 rows of half an hour, 2 h last.

    Set-up and cartons take 2 h. Alone in its week it takes 8 + 8 + 4 h.
    """
    hours = {
        ("setup", ""): Decimal(1),
        ("carry", ""): Decimal(1),
        ("tear_out", "Down"): Decimal(6),
        ("lay", "Down"): Decimal(12),
        ("clean", ""): Decimal(2),
    }
    kitchen = RoomOf(
        name="Kitchen",
        floor="Down",
        use="kitchen",
        rows=(1, 24),
        cures=False,
        hours={"tear_out": Decimal(6)},
    )
    return Facts(
        crew=(OneOfCrew(name="Lead", hours=Decimal(8)),),
        starts=8,
        drive=Decimal(0),
        first=first,
        holidays=frozenset(),
        rooms=(kitchen,),
        rows={"Down": 24},
        hours=hours,
        cure=24,
        dry=12,
        bears=4,
        acclimate={},
        by_row={"Down": (Decimal("0.5"),) * 24},
    )


MONDAY = date(2027, 3, 1)


@pytest.mark.parametrize(("days", "ends"), [(0, 2), (2, 4), (3, 9), (4, 9)])
def test_a_kitchen_is_not_torn_out_over_the_weekend(days: int, ends: int) -> None:
    """By hand: 22 h are three days. Begun on a Thursday or Friday, it is torn out on Monday.

    Then tear-out and rows take 18 h from Monday on, its third day, and the clean-up that day too.
    """
    assert soonest(a_kitchen(MONDAY + timedelta(days=days))) == MONDAY + timedelta(days=ends)


def changed(laid: Laid, change: Callable[[TimeOn], TimeOn]) -> Laid:
    """Return days whose strokes are changed."""
    days = [replace(day, strokes=tuple(change(s) for s in day.strokes)) for day in laid.days]
    return replace(laid, days=tuple(days))


def with_days(laid: Laid, change: Callable[[Day], Day]) -> Laid:
    return replace(laid, days=tuple(change(day) for day in laid.days))


def moved(work: str, minutes: int) -> Callable[[Laid], Laid]:
    """Return what moves a kind of work within its day."""

    def spoil(laid: Laid) -> Laid:
        return changed(
            laid,
            lambda s: (
                replace(s, begins=s.begins + minutes, ends=s.ends + minutes)
                if s.work == work
                else s
            ),
        )

    return spoil


def swapped_days(laid: Laid) -> Laid:
    first, *middle, last = laid.days
    turned = (replace(last, date=first.date), *middle, replace(first, date=last.date))
    return replace(laid, days=turned)


def on_a_sunday(laid: Laid) -> Laid:
    return with_days(
        laid, lambda day: replace(day, date=day.date + timedelta(days=6 - day.date.weekday()))
    )


def a_little_less(laid: Laid) -> Laid:
    return with_days(
        laid,
        lambda day: replace(
            day,
            lines=tuple(replace(line, hours=line.hours - Decimal("0.01")) for line in day.lines),
        ),
    )


def booked_in_quarters(laid: Laid) -> Laid:
    return with_days(
        laid,
        lambda day: replace(
            day,
            lines=tuple(replace(line, booked=line.booked + Decimal("0.25")) for line in day.lines),
        ),
    )


def a_row_left_out(laid: Laid) -> Laid:
    return with_days(
        laid,
        lambda day: replace(
            day,
            lines=tuple(
                replace(line, rows=(line.rows[0] + 1, line.rows[1])) if line.rows else line
                for line in day.lines
            ),
        ),
    )


def without(work: str, part: str = "") -> Callable[[Laid], Laid]:
    """Return what leaves a kind of work out of the clock."""

    def spoil(laid: Laid) -> Laid:
        return with_days(
            laid,
            lambda day: replace(
                day,
                strokes=tuple(s for s in day.strokes if (s.work, s.part) != (work, part)),
            ),
        )

    return spoil


def alone(laid: Laid) -> Laid:
    """Furniture is one person's alone."""

    def of_one(day: Day) -> Day:
        carrier = min((s.person for s in day.strokes if s.work == "furniture"), default="")
        kept = (s for s in day.strokes if s.work != "furniture" or s.person == carrier)
        return replace(day, strokes=tuple(kept))

    return with_days(laid, of_one)


def nothing_hauled(laid: Laid) -> Laid:
    """The old floor is hauled away on the last day."""
    hauled = sum(
        (ln.hours for d in laid.days for ln in d.lines if ln.work == "dispose"), Decimal(0)
    )
    kept = [
        replace(day, lines=tuple(ln for ln in day.lines if ln.work != "dispose"))
        for day in laid.days
    ]
    line = next(ln for d in laid.days for ln in d.lines if ln.work == "dispose")
    kept[-1] = replace(kept[-1], lines=(*kept[-1].lines, replace(line, hours=hauled)))
    return replace(laid, days=tuple(kept))


def driven_off_at_last(laid: Laid) -> Laid:
    """The load stands there until the last day."""
    runs = tuple(s for d in laid.days for s in d.strokes if s.work == "dump_run")
    *days, last = with_days(
        laid,
        lambda d: replace(d, strokes=tuple(s for s in d.strokes if s.work != "dump_run")),
    ).days
    return replace(laid, days=(*days, replace(last, strokes=(*last.strokes, *runs))))


def driven_off_in_the_morning(laid: Laid) -> Laid:
    """The first load stands on the truck overnight."""
    place = next(n for n, d in enumerate(laid.days) if any(s.work == "dump_run" for s in d.strokes))
    day, following = laid.days[place : place + 2]
    runs = tuple(replace(s, begins=495, ends=585) for s in day.strokes if s.work == "dump_run")
    day = replace(day, strokes=tuple(s for s in day.strokes if s.work != "dump_run"))
    following = replace(following, strokes=(*runs, *following.strokes))
    return replace(laid, days=(*laid.days[:place], day, following, *laid.days[place + 2 :]))


def cut_short(laid: Laid) -> Laid:
    """The last day is an hour long, and nothing waits."""
    *days, last = laid.days
    short = tuple(replace(s, begins=495, ends=555) for s in last.strokes)
    facts = replace(laid.facts, cure=0, dry=0, acclimate={}, passes=1)
    return replace(laid, facts=facts, days=(*days, replace(last, strokes=short)))


def cures_long(laid: Laid) -> Laid:
    return replace(laid, facts=replace(laid.facts, cure=24 * 14))


def not_agreed(laid: Laid) -> Laid:
    """The homeowner agreed to no nights, and all that is opened is opened on the first day."""
    facts = replace(laid.facts, agreed=frozenset())
    rooms = tuple(replace(room, cures=False) for room in facts.rooms)
    opened = [s for day in laid.days for s in day.strokes if s.part == "out"]
    first, *others = laid.days
    others = [replace(d, strokes=tuple(s for s in d.strokes if s.part != "out")) for d in others]
    first = replace(first, strokes=(*first.strokes, *opened))
    return replace(laid, facts=replace(facts, rooms=rooms), days=(first, *others))


def no_nights(laid: Laid) -> Laid:
    return replace(laid, nights={"Floor 1 room 1": 77})


def stairs_at_once(laid: Laid) -> Laid:
    return changed(laid, lambda s: replace(s, part="even") if s.work == "stairs" else s)


SPOILED: list[tuple[Callable[[Laid], Laid], str]] = [
    (swapped_days, "order"),
    (on_a_sunday, "calendar"),
    (a_little_less, "hours"),
    (booked_in_quarters, "half hour"),
    (moved("tear_out", 10), "half hour"),
    (moved("lay", 600), "capacity"),
    (moved("clean", -240), "order"),
    (cures_long, "wait"),
    (a_row_left_out, "rows"),
    (alone, "two people"),
    (without("furniture", "back"), "furniture"),
    (nothing_hauled, "haul away"),
    (driven_off_at_last, "haul away"),
    (driven_off_in_the_morning, "haul away"),
    (cut_short, "two hours"),
    (not_agreed, "lived in"),
    (no_nights, "nights"),
    (stairs_at_once, "stairs"),
]


@pytest.mark.parametrize(("spoil", "fault"), SPOILED)
def test_spoiled_days_are_refused(spoil: Callable[[Laid], Laid], fault: str) -> None:
    faults = {words.split(":")[0] for words in faults_of(spoil(drawn(SPOILABLE)))}
    assert fault in faults
