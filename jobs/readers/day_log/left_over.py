"""What logs leave to plan: rows that are on no day, a floor that came out unlike its plan.

For many jobs in one round trip.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from django.urls import reverse

from jobs.clock import today_of
from jobs.domain.day_log.rows import RowsOfDay, Run, not_yet, on_no_day
from jobs.models import Company, DayLog, LogEntry
from jobs.readers import today
from jobs.readers.days import rows_words
from jobs.readers.today import JOBS_UNDER_WAY, Waiting
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.DAYS, of_jobs.ENTRIES, of_jobs.DAY_LOGS, of_jobs.ZONES, of_jobs.PLANS)
"""The rows that tell what is left over."""

_LAYING = "lay"
_Floor = tuple[int, str]
"""A floor by its job and its name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RowsLeft:
    """The rows of a floor that lie on no day: a day's log ends before them."""

    job: int
    floor: str
    runs: tuple[Run, ...]
    at: datetime

    @property
    def words(self) -> str:
        """What lies on no day: rows 10 to 17 of Den are on no day."""
        rows = ", ".join(rows_words(*run) for run in self.runs)
        one = len(self.runs) == 1 and self.runs[0][0] == self.runs[0][1]
        return f"{rows} of {self.floor} {'is' if one else 'are'} on no day"


@dataclass(frozen=True, kw_only=True, slots=True)
class UnlikeItsPlan:
    """What the log of a floor says since its plan was made that the plan could not know."""

    zone: int
    job: int
    floor: str
    why: str
    at: datetime


class _Logged:
    """What is on days and in logs of jobs, by floor."""

    def __init__(self, rows: KindRows, on: date) -> None:
        self.entries: dict[_Floor, list[LogEntry]] = defaultdict(list)
        at_work: set[int] = set()
        laid: set[tuple[int, str]] = set()
        self.last_at: dict[int, datetime] = {}
        of_day = {day.pk: day.job_id for day in rows[of_jobs.DAYS]}
        for entry in rows[of_jobs.ENTRIES]:
            job = of_day[entry.day_id]
            self.last_at[job] = entry.at
            if entry.hours or entry.row_to:
                at_work.add(entry.day_id)
            if entry.task == _LAYING:
                self.entries[job, entry.zone].append(entry)
                laid.add((entry.day_id, entry.zone))
        self.days: dict[_Floor, list[RowsOfDay]] = defaultdict(list)
        for day in rows[of_jobs.DAYS]:
            for part in day.entries if day.job_id in self.last_at else ():
                if part["task"] != _LAYING or not part["rows"]:
                    continue
                over = day.pk in at_work and (day.date < on or (day.pk, part["zone"]) in laid)
                laying = RowsOfDay(rows=(part["rows"][0], part["rows"][1]), logged=over)
                self.days[day.job_id, part["zone"]].append(laying)

    def rows_down(self, floor: _Floor) -> list[Run]:
        """Return the rows of a floor that are logged."""
        entries = self.entries.get(floor, ())
        return [(one.row_from, one.row_to) for one in entries if one.row_from and one.row_to]

    def rows_to_lay(self, floor: _Floor) -> tuple[Run, ...]:
        """Return the rows of a floor that its days have and its log has not."""
        last = max((day.rows[1] for day in self.days.get(floor, ())), default=0)
        return not_yet((1, last), self.rows_down(floor))


def rows_left(jobs: Collection[int], on: date) -> list[RowsLeft]:
    """Return the rows of these jobs that a logged day was to lay and no day has any more."""
    return _rows_left(_Logged(rows_of(jobs, of_jobs.DAYS, of_jobs.ENTRIES), on))


def _rows_left(logged: _Logged) -> list[RowsLeft]:
    left = []
    for (job, name), days in logged.days.items():
        runs = on_no_day(days, logged.rows_down((job, name)))
        if runs:
            left.append(RowsLeft(job=job, floor=name, runs=runs, at=logged.last_at[job]))
    return left


def _unlike_their_plans(logged: _Logged, rows: KindRows) -> list[UnlikeItsPlan]:
    """Return the floors with rows still to lay whose logs since their plan don't go by it."""
    said: dict[int, list[DayLog]] = defaultdict(list)
    of_day = {day.pk: day.job_id for day in rows[of_jobs.DAYS]}
    for log in rows[of_jobs.DAY_LOGS]:
        said[of_day[log.day_id]].append(log)
    planned_at: dict[int, datetime] = {}
    for plan in rows[of_jobs.PLANS]:
        planned_at[plan.zone_id] = max(plan.made_at, planned_at.get(plan.zone_id, plan.made_at))
    unlike = []
    for zone in rows[of_jobs.ZONES]:
        floor = (zone.job_id, zone.name)
        if zone.pk not in planned_at or not logged.rows_to_lay(floor):
            continue
        since = [one for one in logged.entries[floor] if one.at > planned_at[zone.pk]]
        here = {one.log_id for one in since}
        logs = [log for log in said[zone.job_id] if log.pk in here]
        if why := _why(since, logs):
            at = max(one.at for one in since)
            unlike.append(
                UnlikeItsPlan(zone=zone.pk, job=zone.job_id, floor=zone.name, why=why, at=at)
            )
    return unlike


def _why(entries: Iterable[LogEntry], logs: Iterable[DayLog]) -> str:
    """Return in words what the logs of a floor say that its plan doesn't know; empty for nothing.

    A log of several floors doesn't say on which of them an offcut broke: it is said of each.
    """
    spoiled = sum(entry.planks_spoiled for entry in entries)
    broken = sum(log.broken for log in logs)
    widths = [log.last_width for log in logs if log.last_width]
    said = []
    if spoiled:
        said.append(f"{spoiled} {'plank' if spoiled == 1 else 'planks'} spoiled")
    if broken:
        said.append(f"{broken} {'offcut' if broken == 1 else 'offcuts'} broken")
    if widths:
        said.append(f"the last row comes out at {widths[-1]}")
    return ", ".join(said)


def register() -> None:
    """Let the office's first page look for rows on no day, and for what is left to plan anew."""
    today.register(_waits, under_way=[JOBS_UNDER_WAY, *KINDS])


def _waits(company: Company, rows: KindRows) -> Iterator[Waiting]:
    jobs = {job.pk: job for job in rows[JOBS_UNDER_WAY]}
    logged = _Logged(rows, today_of(company))
    for left in _rows_left(logged):
        if (job := jobs.get(left.job)) is None:
            continue
        yield Waiting(
            text=f"Job {job.number}, {job.title}: {left.words}; plan the days again",
            url=f"{reverse('job-days', args=[job.pk])}#lay-out",
            at=left.at,
            kind="rows",
            stops=job.pk,
        )
    for floor in _unlike_their_plans(logged, rows):
        if (job := jobs.get(floor.job)) is None:
            continue
        yield Waiting(
            text=f"Job {job.number}, {job.title}: {floor.floor} by the log: {floor.why}; "
            "plan what is left",
            url=reverse("zone-going-on", args=[floor.zone]),
            at=floor.at,
            kind="rest",
            stops=job.pk,
        )
