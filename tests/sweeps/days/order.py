"""The order of the trade as the checker knows it, and how soon a job could end at best.

Told once more from what the trade does (common practice, no source), on purpose apart from what
lays the days out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from tests.sweeps.days.held import Facts

BEFORE: Mapping[str, tuple[str, ...]] = {
    "load": ("pick_up",),
    "setup": ("pick_up",),
    "carry": ("setup", "load"),
    "out": ("setup",),
    "fixtures_off": ("out",),
    "base_off": ("out",),
    "doors_off": ("out",),
    "tear_out": ("out", "fixtures_off", "base_off", "doors_off"),
    "dispose": (),
    "undercut": ("tear_out", "dispose", "doors_off"),
    "prep": ("tear_out", "dispose", "base_off", "undercut"),
    "level": ("prep", "tear_out", "dispose"),
    "paint": ("tear_out", "base_off", "undercut", "prep", "level"),
    "underlay": (),
    "lay": ("carry", "out", "doors_off", "fixtures_off", "prep", "undercut", "level", "paint"),
    "stairs": ("lay",),
    "transitions": ("lay",),
    "base": ("lay", "paint"),
    "shoe": ("base", "lay"),
    "fixtures_on": ("lay", "base", "shoe"),
    "back": ("lay", "base", "shoe", "transitions"),
    "doors_on": ("back", "lay", "transitions"),
    "clean": ("back", "doors_on", "fixtures_on", "base", "shoe", "stairs", "transitions", "lay"),
}
"""By kind of work what is done before it in the same room, or on the same floor."""

CLEAN = ("paint", "lay")
"""What is not begun on a floor before the old one is out of all its rooms but those lived in."""

ROOMY: Mapping[str, int] = {
    "load": 4, "setup": 3, "carry": 4, "clean": 3,
    "doors_off": 1, "undercut": 1, "doors_on": 1, "transitions": 1, "dump_run": 1,
    "lay": 3, "tear_out": 3, "base": 3,
}  # fmt: skip
"""How many find room at a kind of work; two where nothing stands here."""


def kind(work: str, part: str) -> str:
    """Return the kind of work: furniture is two."""
    return part if work == "furniture" else work


@dataclass(frozen=True)
class Clock:
    """The hours on site: half hours of a day less so many, and the days that are worked."""

    facts: Facts
    less: int = 0

    def works(self, day: date) -> bool:
        """Whether this day is worked."""
        return day.weekday() < 5 and day not in self.facts.holidays

    @property
    def halves(self) -> int:
        """Half hours on site of the one who works longest."""
        leg = ceil(self.facts.drive / len(self.facts.crew) / 2 * 4)
        return max(int(worker.hours * 2) for worker in self.facts.crew) - leg - self.less

    def ends(self, begins: float, halves: int) -> float:
        """Return the hour, counted from the first midnight, at which so much is done at once."""
        if not halves:
            return begins
        now, left = self._on_site(begins), halves
        while left:
            room = int((self._closes(now) - now) * 2)
            step = min(room, left)
            now, left = now + step / 2, left - step
            if left:
                now = self._on_site(now)
        return now

    def _opens(self, day: int) -> float:
        leg = ceil(self.facts.drive / len(self.facts.crew) / 2 * 4)
        return day * 24 + self.facts.starts + leg / 4

    def _closes(self, now: float) -> float:
        return self._opens(int(now // 24)) + self.halves / 2

    def _on_site(self, now: float) -> float:
        while True:
            day = int(now // 24)
            if self.works(self.facts.first + timedelta(days=day)):
                opens = self._opens(day)
                if now < opens:
                    return opens
                if now + 0.5 <= self._closes(now):
                    return opens + ceil((now - opens) * 2) / 2
            now = (day + 1) * 24.0


def filled(facts: Facts) -> date:
    """Return the day on which the crew would end that is never without work."""
    clock = Clock(facts)
    halves = sum(ceil(h * 2) for (code, _), h in facts.hours.items() if code != "travel")
    a_day = sum(int(worker.hours * 2) for worker in facts.crew)
    a_day -= len(facts.crew) * ceil(facts.drive / len(facts.crew) / 2 * 4)
    left, day = halves, facts.first
    while True:
        if clock.works(day):
            left -= a_day
            if left <= 0:
                return day
        day += timedelta(days=1)
