"""What logs leave to plan: rows that are on no day, a floor that came out unlike its plan.

In as many queries for many jobs as for one.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Max, Q
from django.urls import reverse

from jobs.clock import today_of
from jobs.domain.day_log.rows import RowsOfDay, Run, not_yet, on_no_day
from jobs.models import Company, DayLog, FloorZone, Job, LogEntry, WorkDay
from jobs.readers import today
from jobs.readers.days import rows_words
from jobs.readers.today import Waiting

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

    def __init__(self, jobs: Collection[int], on: date) -> None:
        entries = LogEntry.objects.filter(day__job__in=jobs).select_related("day")
        self.entries: dict[_Floor, list[LogEntry]] = defaultdict(list)
        at_work: set[int] = set()
        laid: set[tuple[int, str]] = set()
        self.last_at: dict[int, datetime] = {}
        for entry in entries.order_by("at", "pk"):
            self.last_at[entry.day.job_id] = entry.at
            if entry.hours or entry.row_to:
                at_work.add(entry.day_id)
            if entry.task == _LAYING:
                self.entries[entry.day.job_id, entry.zone].append(entry)
                laid.add((entry.day_id, entry.zone))
        self.days: dict[_Floor, list[RowsOfDay]] = defaultdict(list)
        for day in WorkDay.objects.filter(job__in=jobs, job__days__log__isnull=False).distinct():
            for part in day.entries:
                if part["task"] != _LAYING or not part["rows"]:
                    continue
                over = day.pk in at_work and (day.date < on or (day.pk, part["zone"]) in laid)
                rows = RowsOfDay(rows=(part["rows"][0], part["rows"][1]), logged=over)
                self.days[day.job_id, part["zone"]].append(rows)

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
    logged = _Logged(jobs, on)
    left = []
    for (job, name), days in logged.days.items():
        runs = on_no_day(days, logged.rows_down((job, name)))
        if runs:
            left.append(RowsLeft(job=job, floor=name, runs=runs, at=logged.last_at[job]))
    return left


def unlike_their_plans(jobs: Collection[int], on: date) -> list[UnlikeItsPlan]:
    """Return the floors with rows still to lay whose logs since their plan don't go by it."""
    logged = _Logged(jobs, on)
    said: dict[int, list[DayLog]] = defaultdict(list)
    odd = DayLog.objects.filter(day__job__in=jobs).filter(~Q(last_width="") | Q(broken__gt=0))
    for log in odd.select_related("day").order_by("at", "pk"):
        said[log.day.job_id].append(log)
    zones = FloorZone.objects.filter(job__in=jobs, plans__isnull=False)
    zones = zones.annotate(planned_at=Max("plans__made_at")).order_by("pk")
    unlike = []
    for zone in zones:
        floor = (zone.job_id, zone.name)
        if not logged.rows_to_lay(floor):
            continue
        since = [one for one in logged.entries[floor] if one.at > zone.planned_at]
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
    today.register(_rows_waiting)
    today.register(_plans_waiting)


def _rows_waiting(company: Company) -> Iterator[Waiting]:
    jobs = _open_jobs(company)
    for left in rows_left(jobs, today_of(company)):
        job = jobs[left.job]
        yield Waiting(
            text=f"Job {job.number}, {job.title}: {left.words}; plan the days again",
            url=f"{reverse('job-days', args=[job.pk])}#lay-out",
            at=left.at,
            kind="rows",
        )


def _plans_waiting(company: Company) -> Iterator[Waiting]:
    jobs = _open_jobs(company)
    for floor in unlike_their_plans(jobs, today_of(company)):
        job = jobs[floor.job]
        yield Waiting(
            text=f"Job {job.number}, {job.title}: {floor.floor} by the log: {floor.why}; "
            "plan what is left",
            url=reverse("zone-going-on", args=[floor.zone]),
            at=floor.at,
            kind="rest",
        )


def _open_jobs(company: Company) -> dict[int, Job]:
    """Return the jobs under way, by their key."""
    jobs = Job.objects.filter(company=company, closed_at=None, archived_at=None)
    under_way = jobs.filter(days__log__isnull=False).distinct().select_related("client")
    return {job.pk: job for job in under_way}
