"""Freezing a change order: its scope and estimate at the prices of then, and what it says."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimates.domain.change_order import OrderContent
from estimates.domain.estimate import estimate_document
from estimates.domain.orders.difference import ChangedArea, ChangedLine, tax_of
from estimates.domain.priced import refuse_unpriced
from estimates.models import ChangeOffer, ChangeOrder, Estimate
from estimates.readers.orders.agreed import AgreedTotals, PricedAsThen
from estimates.readers.quote import acceptance_of, agreed_estimate
from jobs.domain.checks import BadValueError
from jobs.models import Job, Scope, User
from jobs.readers.payers.payer import payer_row
from jobs.readers.scope import rates_used, scope_value
from jobs.services.records import audit_job, freeze, next_number
from jobs.services.scope import freeze_scope


@dataclass(frozen=True, kw_only=True, slots=True)
class OrderWords:
    """What a change order says beside its figures: what, why, for whom, since when."""

    what: str = ""
    why: str = ""
    asked_by: str = ""
    noted_on: str = ""
    order_number: str = ""
    photo_sha256: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class OrderFigures:
    """What a change order comes to: sentences, lines, and their sums before and for tax."""

    changes: tuple[str, ...]
    lines: tuple[ChangedLine, ...]
    areas: tuple[ChangedArea, ...]
    notes: tuple[str, ...]
    difference: Decimal
    tax_difference: Decimal
    totals: AgreedTotals
    priced_as_of: str


def freeze_change(job: Job, then: PricedAsThen, user: User) -> Estimate:
    """Return the scope of ``job`` as it stands now, frozen and priced as its quote was.

    Raises BadValueError where something has no rate or no price.
    """
    scope = freeze_scope(job=job, user=user)
    value = scope_value(scope)
    priced = then.price(value)
    refuse_unpriced(priced)
    basis = priced.basis and replace(priced.basis, rates=value.rates or rates_used(job.company))
    priced = replace(priced, scope_sha256=scope.document.sha256, basis=basis)
    content = estimate_document(priced)
    estimate = Estimate.objects.create(
        job=job,
        scope=scope,
        number=next_number(job.estimates.all()),
        document=freeze(company=job.company, kind="estimate", content=content, user=user),
        cost=priced.cost,
        total=priced.total,
    )
    audit_job(job=job, user=user, act=f"Made {estimate} for a change order, {estimate.total}")
    return estimate


def agreed_scope(job: Job) -> Scope:
    """Return the scope that a job is agreed on. Raises BadValueError where nothing is agreed."""
    if job.agreed_scope is None:
        accepted = "a job whose quote is accepted; before that a change is a new quote"
        raise BadValueError(field="job", value="nothing agreed", accepted=accepted)
    return job.agreed_scope


def estimate_agreed(job: Job) -> Estimate:
    """Return the estimate that the agreed scope of a job was priced by."""
    scope, accepted = agreed_scope(job), acceptance_of(job)
    order = job.change_orders.filter(scope=scope).select_related("document").last()
    if order is None and accepted is not None:
        return agreed_estimate(accepted)
    return job.estimates.filter(scope=scope).select_related("document", "scope").latest()


def order_content(
    job: Job,
    estimate: Estimate,
    figures: OrderFigures,
    words: OrderWords,
    *,
    amount: Decimal,
    today: date,
    agreed_by: str = "",
) -> OrderContent:
    """Return what a change order says; ``agreed_by`` is empty where it is sent to be agreed on."""
    payer = payer_row(job).payer
    return OrderContent(
        number=next_order_number(job),
        job_number=job.number,
        title=job.title,
        currency=job.company.currency,
        changes=figures.changes,
        scope_before_sha256=agreed_scope(job).document.sha256,
        scope_sha256=estimate.scope.document.sha256,
        estimate_sha256=estimate.document.sha256,
        difference=figures.difference,
        tax_difference=figures.tax_difference,
        agreed_price=figures.totals.subtotal,
        amount=amount,
        agreed_by=agreed_by,
        agreed_on=today if agreed_by else None,
        what=words.what,
        why=words.why,
        asked_by=words.asked_by,
        noted_on=words.noted_on,
        order_number=words.order_number,
        payer=payer.name if payer else "",
        client=job.client.name,
        photo_sha256=words.photo_sha256,
        lines=figures.lines,
        areas=figures.areas,
        notes=figures.notes,
        priced_as_of=figures.priced_as_of,
        issued_on=today,
        tax=tax_of(amount, figures.difference, figures.tax_difference),
        total_before=figures.totals.total,
    )


def next_order_number(job: Job) -> int:
    """Return the next number among the change orders of a job, sent or agreed on."""
    sent = next_number(ChangeOffer.objects.filter(job=job))
    return max(sent, next_number(ChangeOrder.objects.filter(job=job)))
