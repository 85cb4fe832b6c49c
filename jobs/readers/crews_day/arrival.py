"""When a crew is at the site on a day, by that day's own clock: one figure for all who read it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time

from jobs.domain.days.placed.pieces import PlacedSpell, clock_of, spells_of
from jobs.models import WorkDay
from jobs.readers.feeds.arrival import arrival_of
from jobs.readers.packets.days import BEFORE_SITE, begun_elsewhere, rests

QUARTERS = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class DayClock:
    """A day by the clock: when it begins elsewhere, when the crew is there, until when.

    All are empty on a day without a clock. `lunch`: whether the clock leaves room for one.
    """

    begins: str = ""
    arrives: str = ""
    leaves: str = ""
    lunch: bool = True


def day_clock(day: WorkDay) -> DayClock:
    """Return a day by the clock, as its packet has it."""
    spells = spells_of(day.date, day.lanes)
    if not spells:
        return DayClock()
    return DayClock(
        begins=begun_elsewhere(spells),
        arrives=clock_of(min(spell.begins for spell in at_site(day))),
        leaves=clock_of(max(spell.ends for spell in spells)),
        lunch=rests(spells),
    )


def at_site(day: WorkDay) -> list[PlacedSpell]:
    """Return what is done at the site on a day; all, where nothing is."""
    spells = spells_of(day.date, day.lanes)
    return [spell for spell in spells if spell.task not in BEFORE_SITE] or spells


def arrives_at(day: WorkDay) -> time:
    """Return when the crew of a day is there; a day without a clock has the company's hour."""
    spells = at_site(day)
    if not spells:
        return arrival_of(day.job.company)
    hour, quarter = divmod(min(spell.begins for spell in spells), QUARTERS)
    return time(hour % 24, quarter * 15)


def arrives_words(day: WorkDay) -> str:
    """Return when the crew of a day is there as a client reads it: 8:15 AM."""
    return f"{arrives_at(day):%I:%M %p}".lstrip("0")
