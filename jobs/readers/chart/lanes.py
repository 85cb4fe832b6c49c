"""The days of a job one under another, each with a lane for every person: for a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jobs.domain.days.placed.pieces import PlacedSpell, clock_of
from jobs.models import WorkDay
from jobs.readers.chart.placed import PlacedJob
from jobs.readers.days import PARTS

WIDE, HIGH, LETTER = 326, 30, 5.6
SHORT = {
    "pick_up": "pick up",
    "load": "load",
    "setup": "set up",
    "carry": "carry in",
    "fixtures_off": "pull toilets",
    "base_off": "base off",
    "doors_off": "doors off",
    "tear_out": "tear out",
    "dump_run": "to the dump",
    "undercut": "undercut",
    "prep": "subfloor",
    "paint": "paint",
    "level": "level",
    "underlay": "pad",
    "lay": "rows",
    "transitions": "strips",
    "base": "base on",
    "shoe": "shoe",
    "fixtures_on": "reset",
    "doors_on": "doors on",
    "clean": "clean",
}
"""What a task is called where only a word or two fit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaneBar:
    """What somebody is at, as a bar with its words where they fit."""

    x: float
    wide: float
    words: str
    title: str
    """All of it: what, in which rooms, from when to when."""

    @property
    def middle(self) -> float:
        """Where its words stand."""
        return round(self.x + self.wide / 2, 1)


@dataclass(frozen=True, kw_only=True, slots=True)
class PersonLane:
    """One person's day."""

    person: str
    bars: tuple[LaneBar, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class DayLanes:
    """A day with its lanes, from when to when its crew is on site."""

    day: WorkDay
    lanes: tuple[PersonLane, ...]
    opens: str
    closes: str
    wide: int = WIDE
    high: int = HIGH


def day_lanes(job: PlacedJob, days: Sequence[WorkDay]) -> list[DayLanes]:
    """Return the lanes of each day."""
    return [_lanes(job, day) for day in days]


def _lanes(job: PlacedJob, day: WorkDay) -> DayLanes:
    spells = [spell for spell in job.placed.spells if spell.day == day.date]
    people = [person for person in job.people if any(s.person == person for s in spells)]
    return DayLanes(
        day=day,
        lanes=tuple(
            PersonLane(person=person, bars=tuple(_bars(job, spells, person))) for person in people
        ),
        opens=clock_of(min(spell.begins for spell in spells)),
        closes=clock_of(max(spell.ends for spell in spells)),
    )


def _bars(job: PlacedJob, spells: Sequence[PlacedSpell], person: str) -> Iterator[LaneBar]:
    scale = WIDE / (job.clock.closes - job.clock.opens)
    for spell in spells:
        if spell.person != person:
            continue
        wide = round((spell.ends - spell.begins) * scale, 1)
        words = _short(job, spell)
        if len(words) * LETTER > wide - 4:
            words = ""
        x = round((spell.begins - job.clock.opens) * scale, 1)
        yield LaneBar(x=x, wide=wide, words=words, title=_title(job, spell))


def _title(job: PlacedJob, spell: PlacedSpell) -> str:
    """Return all that somebody is at: Take doors off in Hall and Bath, 9:15 to 9:45."""
    task = job.placed.tasks.get(spell.task)
    label = task.label if task else spell.task
    label = PARTS.get((spell.task.split(":")[0], spell.part), label)
    rooms = f" in {' and '.join((spell.room, *spell.also))}" if spell.room else ""
    return f"{label}{rooms}, {clock_of(spell.begins)} to {clock_of(spell.ends)}"


def _short(job: PlacedJob, spell: PlacedSpell) -> str:
    code = spell.task.split(":")[0]
    if (code, spell.part) in PARTS:
        return PARTS[code, spell.part].lower()
    task = job.placed.tasks.get(spell.task)
    return SHORT.get(code, task.label if task else code)
