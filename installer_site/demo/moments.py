"""When the papers of the demo were sent and signed: on the days that its story tells.

Rows are stored now, whatever day the story is of; a quote accepted after its days began would be
no story. What is measured, planned and logged keeps the clock's moments.
"""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

from django.db.models import QuerySet

from estimates.models import (
    Acceptance,
    ChangeOffer,
    ChangeOrder,
    Estimate,
    Invoice,
    InvoicePayment,
    Quote,
    QuoteEvent,
    QuoteLink,
)
from jobs.clock import time_zone_of
from jobs.models import Job, JobExtra

MORNING, EVENING = time(9, 20), time(19, 5)


def quoted_on(job: Job, on: date) -> None:
    """Let a job's estimates and quotes be of the morning of a day."""
    at = _at(job, on, MORNING)
    _of(Estimate, job=job).update(made_at=at)
    _of(Quote, job=job).update(issued_at=at)
    _of(QuoteLink, quote__job=job).update(made_at=at)
    _of(QuoteEvent, quote__job=job).exclude(kind=QuoteEvent.Kind.ACCEPTED).update(at=at)


def accepted_on(job: Job, on: date) -> None:
    """Let a job's quote be accepted in the evening of a day, and the deposit be asked then."""
    at = _at(job, on, EVENING)
    _of(Acceptance, quote__job=job).update(at=at)
    _of(QuoteEvent, quote__job=job, kind=QuoteEvent.Kind.ACCEPTED).update(at=at)
    for invoice in _of(Invoice, job=job):
        _of(Invoice, pk=invoice.pk).update(issued_at=at)
        for payment in _of(InvoicePayment, invoice=invoice):
            paid = _at(job, payment.received_on, EVENING)
            _of(InvoicePayment, pk=payment.pk).update(noted_at=paid)


def extra_on(job: Job, on: date) -> None:
    """Let a job's extra be asked for in the morning of a day, and be accepted in its evening."""
    _of(JobExtra, job=job).update(at=_at(job, on, MORNING))
    at = _at(job, on, EVENING)
    _of(ChangeOffer, job=job).update(issued_at=at, answered_at=at)
    _of(ChangeOrder, job=job).update(agreed_at=at)


def _at(job: Job, on: date, clock: time) -> datetime:
    return datetime.combine(on, clock, time_zone_of(job.company))


def _of(model: Any, **wanted: object) -> QuerySet[Any]:
    rows: QuerySet[Any] = model.objects.filter(**wanted)
    return rows
