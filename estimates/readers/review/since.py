"""What came after a job was closed: dated entries beside its review, which stays as it was."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from estimates.domain.money import cents
from estimates.models import Purchase, PurchaseOf
from jobs.clock import day_of
from jobs.domain.checks import ZERO
from jobs.models import Callback, HoursStanding, Job, LogCorrection, LogEntry
from jobs.readers.log import task_name
from jobs.readers.rates.entries import counted_entries, is_callback


@dataclass(frozen=True, kw_only=True, slots=True)
class SinceEntry:
    """What was put down after closing: when, by whom, what, and what it did to the money."""

    on: date
    what: str
    amount: Decimal
    who: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class CallbackCharge:
    """A callback with its hours so far and what it costs: labor by its log, and what was bought."""

    callback: Callback
    hours: Decimal
    cost: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class SinceClosing:
    """All that came after a job was closed."""

    entries: tuple[SinceEntry, ...]
    callbacks: tuple[CallbackCharge, ...]

    @property
    def amount(self) -> Decimal:
        """What it did to the contribution: below nought it cost."""
        return sum((entry.amount for entry in self.entries), ZERO)


def since_closing(job: Job, burdened_rate: Decimal) -> SinceClosing:
    """Return what came after ``job`` was closed, in the order of its days; nothing while open."""
    if job.closed_at is None:
        return SinceClosing(entries=(), callbacks=())
    entries = list(counted_entries(_counting(job)).select_related("day", "who"))
    back = [entry for entry in entries if is_callback(entry, job) and entry.hours]
    late = [
        entry
        for entry in entries
        if entry.at > job.closed_at and entry.hours and not is_callback(entry, job)
    ]
    said = [
        *_corrected(job, burdened_rate),
        *(_of_entry(entry, "Logged late: ", burdened_rate) for entry in late),
        *(_of_entry(entry, "Callback: ", burdened_rate) for entry in back),
        *_bought_since(job),
    ]
    return SinceClosing(
        entries=tuple(sorted(said, key=lambda entry: entry.on)),
        callbacks=_charges(job, back, burdened_rate),
    )


def _counting(job: Job) -> QuerySet[LogEntry]:
    """Return the entries whose hours count; none that is asked about."""
    return LogEntry.objects.filter(day__job=job, standing=HoursStanding.COUNTS)


def _of_entry(entry: LogEntry, before: str, burdened_rate: Decimal) -> SinceEntry:
    return SinceEntry(
        on=entry.day.date,
        what=f"{before}{task_name(entry)}, {_hours(entry.hours)}",
        amount=cents(-entry.hours * burdened_rate),
        who=entry.who.name,
    )


def _corrected(job: Job, burdened_rate: Decimal) -> list[SinceEntry]:
    """Return the corrections since closing, each held against what counted before it."""
    rows = LogCorrection.objects.filter(entry__day__job=job).select_related("entry__day", "who")
    counted: dict[int, Decimal] = {}
    said = []
    for row in rows:
        before = counted.get(row.entry_id, row.entry.hours)
        counted[row.entry_id] = row.hours
        if job.closed_at is None or row.at < job.closed_at:
            continue
        day = row.entry.day.date
        said.append(
            SinceEntry(
                on=day_of(row.at, job.company),
                what=f"Log of {day:%b} {day.day} corrected: {task_name(row.entry)}, "
                f"{_hours(row.hours)} in place of {_hours(before)}. {row.reason}",
                amount=cents((before - row.hours) * burdened_rate),
                who=row.who.name if row.who else "",
            )
        )
    return said


def _hours(hours: Decimal) -> str:
    return f"{hours.normalize():f} h"


def _bought_since(job: Job) -> list[SinceEntry]:
    rows = job.purchases.filter(created_at__gt=job.closed_at, amount__gt=0)
    return [
        SinceEntry(
            on=row.bought_on,
            what=f"{row.get_kind_display()}: {row.label}",
            amount=-cost_of(row),
        )
        for row in rows
    ]


def cost_of(purchase: Purchase) -> Decimal:
    """Return what a purchase cost; less than nothing for a credit."""
    return -purchase.amount if purchase.kind == PurchaseOf.RETURNED else purchase.amount


def _charges(job: Job, back: list[LogEntry], burdened_rate: Decimal) -> tuple[CallbackCharge, ...]:
    charges = []
    for row in job.callbacks.select_related("day__crew").prefetch_related("purchases"):
        hours = sum((entry.hours for entry in back if entry.day_id == row.day_id), ZERO)
        bought = sum((cost_of(each) for each in row.purchases.all()), ZERO)
        cost = cents(hours * burdened_rate) + bought
        charges.append(CallbackCharge(callback=row, hours=hours, cost=cost))
    return tuple(charges)
