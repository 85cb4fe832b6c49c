"""A crew's day put together: the job, the way in on that day alone, rows, holds, what to leave."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.clock import day_ends
from jobs.domain.packet.checks import EVENING, OLD_FLOOR_GONE, OLD_FLOOR_LOADED, OPEN_EDGE
from jobs.domain.packet.cover import ReadingRule
from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import OF_SUBFLOOR
from jobs.models import JobExtra, WorkDay
from jobs.readers.crews_day.arrival import DayClock, day_clock
from jobs.readers.crews_day.extras import agreed_extras
from jobs.readers.crews_day.first_cuts import FloorStart, floor_starts
from jobs.readers.days import TaskLine, half_hours_words, holds_ahead_of, laid_hours, task_lines
from jobs.readers.packets.cover import reading_rule
from jobs.readers.packets.standing import PacketStanding, packet_standing

ROAD = "travel"


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewsDay:
    """All that the crew's page of a day shows. ``access`` and ``pets`` are empty on any other day.

    ``until``: when a page that a phone kept no longer shows them. ``reading``: how moisture is read
    and its limit, where the day waits for that.
    """

    day: WorkDay
    count: int
    is_today: bool
    access: str
    pets: str
    until: str
    clock: DayClock
    hours: str
    lines: tuple[TaskLine, ...]
    holds: tuple[Caution, ...]
    starts: tuple[FloorStart, ...]
    going_home: tuple[str, ...]
    agreed: tuple[JobExtra, ...] = ()
    reading: ReadingRule | None = None
    packet: PacketStanding | None = None

    @property
    def goal(self) -> str:
        """Where the day stops: at the last row that it finishes; else its last task."""
        return goal_of(self.lines)

    @property
    def lines_by_plan(self) -> tuple[tuple[TaskLine, int | None], ...]:
        """The tasks, each with the key of the plan whose rows it lays; None: of none."""
        plans = {start.zone: start.plan for start in self.starts}
        return tuple((one, plans.get(one.zone) if one.rows else None) for one in self.lines)

    @property
    def by_reading(self) -> frozenset[str]:
        """Codes of holds that this reading opens."""
        return OF_SUBFLOOR

    @property
    def out_of_date(self) -> bool:
        """Whether other work is agreed on since this day was planned."""
        return self.day.scope_id != self.day.job.agreed_scope_id


def goal_of(lines: Sequence[TaskLine]) -> str:
    """Return where a day of these tasks stops: at the last row that it lays, else at a task."""
    rows = [line for line in lines if line.rows]
    if rows and rows[-1].rows:
        last = rows[-1].rows[1]
        return f"Finish at row {last}, the last" if rows[-1].finishes else f"Stop at row {last}"
    return f"Ends with: {lines[-1].name}" if lines else "Nothing is on this day"


def crews_day(day: WorkDay, today: date) -> CrewsDay:
    """Return a day as its crew sees it."""
    holds = holds_ahead_of(day, today)
    lines = tuple(line for line in task_lines(day, holds) if line.task != ROAD)
    titles = {title for line in lines for title in line.open_holds}
    shown = tuple(hold for hold in holds.values() if hold.title in titles)
    site = getattr(day.job, "site", None)
    on_the_day = day.date == today
    return CrewsDay(
        day=day,
        count=day.job.days.count(),
        is_today=on_the_day,
        access=site.access if site and on_the_day else "",
        pets=site.pets if site and on_the_day else "",
        until=day_ends(day.job.company, day.date),
        clock=day_clock(day),
        hours=half_hours_words(laid_hours(lines) if lines else Decimal(0)),
        lines=lines,
        holds=shown,
        starts=tuple(floor_starts(day.job, lines)),
        going_home=tuple(_going_home(day, lines)),
        agreed=agreed_extras(day.job),
        reading=reading_at(day, shown),
        packet=packet_standing(day.job),
    )


def reading_at(day: WorkDay, holds: Iterable[Caution]) -> ReadingRule | None:
    """Return how the subfloor's moisture is read and its limit, where a day waits for that."""
    return reading_rule(day.job) if any(hold.code in OF_SUBFLOOR for hold in holds) else None


def _going_home(day: WorkDay, lines: tuple[TaskLine, ...]) -> list[str]:
    """Return what must be true before the crew goes home."""
    said = [
        f"{line.zone}, row {line.rows[1]}: edge ramped and taped"
        for line in lines
        if line.rows and not line.finishes
    ]
    codes = {line.task for line in lines}
    if "dispose" in codes:
        said.append(OLD_FLOOR_GONE if "dump_run" in codes else OLD_FLOOR_LOADED)
    said += [note for note in day.notes if "wait until" in note]
    if any(line.rows and not line.finishes for line in lines):
        said.append(OPEN_EDGE)
    return [*said, *EVENING]
