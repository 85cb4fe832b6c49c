"""The rows of a job read as the plain values that its margin review is made from."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import cast

from estimates.domain.money import share
from estimates.domain.price_book import OTHER
from estimates.domain.priced import LABOR, Priced
from estimates.domain.review.review import review
from estimates.domain.review.values import (
    Bought,
    Logged,
    PurchaseKind,
    Review,
    ReviewTerms,
)
from estimates.domain.terms.booked import days_of_scope
from estimates.models import ChangeOrder, Purchase
from estimates.readers.orders.stored import price_of_order, stored_order
from estimates.readers.prices import priced_of, terms_row
from estimates.readers.quote import acceptance_of, agreed_estimate
from jobs.domain.checks import ZERO
from jobs.domain.scope.changed.renamed import named_as
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Company, DaysChange, Job, LogEntry, Product
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.rates.entries import counted_entries, hours_counted, is_callback
from jobs.readers.scope import scope_value

HOUR = "h"
"""The unit of lines of a change order that are hours."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reviewed:
    """A job's review as it is shown, with what the crew wrote and spoiled.

    `notes` stand by task and zone: the reasons behind the hours. `closed_on` is the day on which it
    was frozen, empty while it still moves.
    """

    review: Review
    notes: Mapping[tuple[str, str], str]
    spoiled: tuple[tuple[str, int], ...]
    burdened_rate: Decimal
    logged: bool = True
    bought: bool = True
    closed_on: str = ""

    @property
    def begun(self) -> bool:
        """Whether something was logged or bought."""
        return self.logged or self.bought


def reviewed(job: Job) -> Reviewed | None:
    """Return the review of ``job`` as logs and purchases stand; None before a quote is accepted."""
    accepted = acceptance_of(job)
    if accepted is None or job.agreed_scope is None:
        return None
    estimate = agreed_estimate(accepted)
    quoted_priced = priced_of(estimate)
    orders = tuple(job.change_orders.select_related("document", "scope"))
    agreed = scope_value(job.agreed_scope)
    agreed_priced = price_of_order(orders[-1]) if orders else quoted_priced
    entries = tuple(counted_entries(LogEntry.objects.filter(day__job=job)))
    purchases = tuple(job.purchases.all())
    terms = review_terms(job, agreed, quoted_priced, agreed_priced, orders)
    lost = lost_dates(job)
    made = review(
        quoted=named_as(scope_value(estimate.scope), agreed),
        quoted_priced=quoted_priced,
        agreed=agreed,
        as_laid=tasks_as_laid(job, agreed),
        agreed_priced=agreed_priced,
        logs=[_logged(entry, job, lost) for entry in entries],
        purchases=[_bought(purchase) for purchase in purchases],
        terms=replace(terms, lost_days=lost_said(job)),
        closed=job.closed_at is not None,
    )
    return Reviewed(
        review=made,
        notes=_notes(entries),
        spoiled=_spoiled(entries),
        burdened_rate=terms.burdened_rate,
        logged=bool(entries),
        bought=bool(purchases),
    )


def _notes(entries: Iterable[LogEntry]) -> dict[tuple[str, str], str]:
    """Return what the crew wrote, by task and zone; work of the whole job has none."""
    notes: dict[tuple[str, str], dict[str, None]] = defaultdict(dict)
    for entry in entries:
        if entry.note.strip():
            notes[entry.task, entry.zone][entry.note.strip()] = None
    return {key: "; ".join(texts) for key, texts in notes.items()}


def _spoiled(entries: Iterable[LogEntry]) -> tuple[tuple[str, int], ...]:
    """Return planks spoiled by reason, the commonest first."""
    count: dict[str, int] = defaultdict(int)
    for entry in entries:
        if entry.planks_spoiled:
            count[entry.get_spoil_reason_display()] += entry.planks_spoiled
    return tuple(sorted(count.items(), key=lambda pair: -pair[1]))


def lost_dates(job: Job) -> frozenset[str]:
    """Return the dates on which a job could not be worked, as its days were changed."""
    changes = DaysChange.objects.filter(job=job, kind=DaysChange.Kind.LOST, undone_at=None)
    return frozenset(change.date.isoformat() for change in changes)


def lost_said(job: Job) -> tuple[str, ...]:
    """Return each lost day in words, with its reason."""
    changes = DaysChange.objects.filter(job=job, kind=DaysChange.Kind.LOST, undone_at=None)
    return tuple(
        f"{change.date:%b} {change.date.day} was lost: {change.reason}"
        for change in sorted(changes, key=lambda change: change.date)
    )


def review_terms(
    job: Job,
    agreed: FrozenScope,
    quoted: Priced,
    agreed_priced: Priced,
    orders: tuple[ChangeOrder, ...],
) -> ReviewTerms:
    """Return what the review reckons with: the quote's own rate, overhead and crew, not today's."""
    kept = agreed.schedule
    crew_hours = kept.crew_hours if kept else Decimal(job.company.crew_day_hours)
    return ReviewTerms(
        burdened_rate=_rate_of(quoted) or terms_row(job.company).burdened_rate,
        crew_hours_per_day=crew_hours,
        overhead=share(quoted.overhead, quoted.direct_cost) or ZERO,
        planned_days=days_of_scope(agreed, crew_hours) or ZERO,
        price_changes=sum((order.amount for order in orders), ZERO),
        plank_cost=_plank_cost(job.company, agreed, agreed_priced),
        job=f"job {job.number}",
        extra_hours=sum((_extra_hours(order) for order in orders), ZERO),
    )


def _extra_hours(order: ChangeOrder) -> Decimal:
    """Return the hours that a change order ordered beside what its plan counts."""
    lines = (line for line in stored_order(order).lines if line.beside and line.unit == HOUR)
    return max(sum((line.after - line.before for line in lines), ZERO), ZERO)


def _logged(entry: LogEntry, job: Job, lost: Collection[str]) -> Logged:
    day = entry.day.date.isoformat()
    first, last = entry.row_from, entry.row_to
    return Logged(
        task_code=entry.task,
        hours=hours_counted(entry),
        day=day,
        zone=entry.zone,
        spoiled=entry.planks_spoiled,
        spoil_reason=entry.spoil_reason,
        callback=is_callback(entry, job),
        lost=day in lost,
        rows=None if first is None or last is None else (first, last),
    )


def _bought(purchase: Purchase) -> Bought:
    """Return a purchase; what is not in the catalog is told apart by its name."""
    code = purchase.code
    return Bought(
        code=f"{OTHER}: {purchase.label}" if code == OTHER else code,
        label=purchase.label,
        quantity=purchase.quantity,
        unit=purchase.unit,
        paid=purchase.amount,
        kind=cast(PurchaseKind, purchase.kind),
    )


def _rate_of(priced: Priced) -> Decimal:
    """Return the burdened rate that the labor of a priced scope was reckoned with; 0 for none."""
    rates = (line.unit_cost for line in priced.lines if line.kind == LABOR)
    return max(rates, default=ZERO)


def _plank_cost(company: Company, scope: FrozenScope, priced: Priced) -> Decimal | None:
    """Return what a plank cost, where the job has one product and its carton has a price."""
    cartons = {(line.item, line.unit_cost) for line in priced.lines if line.code == "cartons"}
    names = {zone.product for zone in scope.zones}
    if len(cartons) != 1 or len(names) != 1:
        return None
    (_, price), name = cartons.pop(), names.pop()
    product = Product.objects.filter(company=company, name=name).first()
    return price / product.carton_boards if product and price else None
