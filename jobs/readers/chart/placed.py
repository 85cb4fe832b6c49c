"""The days of a job as the chart knows them: pieces, waits, gates, reasons and slack."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from jobs.calendar import HolidayPlace, place_of, working_days
from jobs.domain.checks import ZERO
from jobs.domain.days.placed.network import Placed, waits_of
from jobs.domain.days.placed.pieces import (
    Moment,
    PlacedSpell,
    SiteClock,
    pieces_of,
    spells_of,
)
from jobs.domain.days.placed.reasons import PieceStanding, standings
from jobs.domain.scope.crews_words import in_crews_words
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import Caution
from jobs.models import WorkDay

SATURDAY = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Gate:
    """An open hold on the chart: what it is called, the piece that it keeps from beginning."""

    title: str
    task: str
    room: str
    moment: Moment


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedJob:
    """All that the chart shows; `leg` is the drive one way in quarters, `people` those in lanes."""

    placed: Placed
    standings: tuple[PieceStanding, ...]
    gates: tuple[Gate, ...]
    people: tuple[str, ...]
    leg: int
    clock: SiteClock


def placed_job(
    scope: FrozenScope | None, days: Sequence[WorkDay], holds: Mapping[str, Caution]
) -> PlacedJob | None:
    """Return the days of a job as placed.

    None where a day doesn't know its lanes, or has tasks of an earlier scope than this.
    """
    if scope is None or not days or not all(day.lanes for day in days):
        return None
    spells = [spell for day in days for spell in spells_of(day.date, day.lanes)]
    tasks = {t.key: t for t in in_crews_words(scope.crews_tasks, scope.quantities)}
    if any(spell.task not in tasks for spell in spells):
        return None
    pieces = pieces_of(spells)
    placed = Placed(tasks=tasks, spells=spells, pieces=pieces, waits=waits_of(tasks, pieces))
    people = tuple(dict.fromkeys(sorted((s.person for s in spells), key=_by_rank)))
    drive = sum((task.per_day for task in scope.crews_tasks), ZERO)
    clock = _clock([day.date for day in days], spells, place_of(days[0].job.company))
    return PlacedJob(
        placed=placed,
        standings=standings(placed, clock),
        gates=tuple(_gates(placed, holds)),
        people=people,
        leg=ceil(drive / len(people) * 2),
        clock=clock,
    )


def _by_rank(person: str) -> tuple[int, str]:
    ranks = {"Lead": 0, "Installer": 1, "Helper": 2}
    return ranks.get(person.split(" ")[0], 3), person


def _clock(
    dates: Collection[date], spells: Sequence[PlacedSpell], place: HolidayPlace
) -> SiteClock:
    """Return when work could be done: weekdays without holidays, and all days of the job."""
    works = working_days(place=place, saturdays=any(day.weekday() == SATURDAY for day in dates))
    first, last = min(dates), max(dates)
    every = (first + timedelta(days=number) for number in range((last - first).days + 1))
    return SiteClock(
        dates=tuple(day for day in every if day in dates or works(day)),
        opens=min(spell.begins for spell in spells),
        closes=max(spell.ends for spell in spells),
    )


def _gates(placed: Placed, holds: Mapping[str, Caution]) -> list[Gate]:
    """Return each open hold at the first piece that it keeps from beginning."""
    gates = []
    for hold in holds.values():
        piece = next((p for p in placed.pieces if p.task.split(":")[0] in hold.blocks), None)
        if piece is not None:
            gates.append(
                Gate(title=hold.title, task=piece.task, room=piece.room, moment=piece.start)
            )
    return gates


def slack_words(slack: Decimal) -> str:
    """Return how far a piece may slip, in words."""
    if not slack:
        return "none"
    return f"{slack.normalize():f} h"


def also_words(standing: Sequence[PieceStanding]) -> str:
    """Return in which further rooms the same half hours are: “, Hall too”."""
    also = dict.fromkeys(room for one in standing for room in one.piece.also)
    return f", {' and '.join(also)} too" if also else ""
