"""Change orders: what differs from the agreed scope, what it costs, and the word on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.change_order import OrderContent, order_document
from estimates.domain.options.work_split import as_split
from estimates.domain.priced import Priced, refuse_unpriced, unpriced
from estimates.domain.pricing import price_scope
from estimates.models import ChangeOrder, Estimate
from estimates.readers.prices import book_and_terms, priced_of
from estimates.readers.quote import acceptance_of, agreed_estimate
from estimates.services.quotes import freeze_estimate
from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.documents import digest
from jobs.domain.plans.older import OlderPlanError
from jobs.domain.scope.changed.changes import ScopeChange
from jobs.domain.scope.scope import scope_text
from jobs.models import FloorZone, Job, User
from jobs.readers.scope import scope_value
from jobs.services.records import audit_job, freeze, next_number, writes_once
from jobs.services.scope import changes_since_agreed, floors_to_plan_again, work_out


@dataclass(frozen=True, kw_only=True, slots=True)
class PendingChange:
    """A scope that differs from the agreed one: how, and both priced by today's book.

    Pricing both on one day leaves what did not change out of the difference. `seen` is the digest
    of the scope as it stands now; `agreed_price` is the quote with its change orders, before tax.
    `older`: floors that must be planned again first, since older rules made their plans.
    """

    changes: tuple[ScopeChange, ...]
    before: Priced
    after: Priced
    agreed_price: Decimal
    seen: str
    older: tuple[FloorZone, ...]

    @property
    def difference(self) -> Decimal:
        """By how much the price would change, before sales tax."""
        return self.after.subtotal - self.before.subtotal

    @property
    def tax_difference(self) -> Decimal:
        """By how much the sales tax would change."""
        return self.after.tax - self.before.tax

    @property
    def faults(self) -> tuple[str, ...]:
        """What has no price today, in words."""
        return unpriced(self.after, self.before)


def agreed_price(job: Job) -> Decimal | None:
    """Return the accepted price with its change orders, before sales tax; None before a word."""
    accepted = acceptance_of(job)
    if accepted is None:
        return None
    orders = sum((order.amount for order in job.change_orders.all()), ZERO)
    return priced_of(agreed_estimate(accepted)).subtotal + orders


def pending_change(job: Job, today: date) -> PendingChange | None:
    """Return what differs from the agreed scope of ``job`` and its price; None where nothing."""
    changes = changes_since_agreed(job)
    agreed = agreed_price(job)
    if not changes or job.agreed_scope is None or agreed is None:
        return None
    book, terms = book_and_terms(job, today)
    now, agreed_work = work_out(job), scope_value(job.agreed_scope)
    return PendingChange(
        changes=changes,
        before=price_scope(agreed_work, book, as_split(terms, agreed_work)),
        after=price_scope(now, book, terms),
        agreed_price=agreed,
        seen=digest(scope_text(now)),
        older=floors_to_plan_again(job),
    )


@writes_once(ChangeOrder, "agree change")
def agree_change(
    *,
    job: Job,
    user: User,
    key: str,
    amount: Decimal,
    agreed_by: str,
    seen: str,
    today: date,
) -> ChangeOrder:
    """Return the change order, frozen; its scope becomes the agreed one.

    Raises:
        BadValueError: nothing differs, it differs from what was ``seen``, or a price is missing.
        OlderPlanError: older rules made the plan of a floor that is not begun.
    """
    locked = Job.objects.select_for_update().select_related("company").get(pk=job.pk)
    pending = _still_pending(locked, seen, today)
    estimate = freeze_estimate(job=locked, user=user, today=today)
    content = _content(locked, pending, estimate, amount=amount, agreed_by=agreed_by, today=today)
    order = _frozen_order(locked, estimate, content, user)
    Job.objects.filter(pk=job.pk).update(agreed_scope=estimate.scope)
    act = f"{order} over {amount}, agreed by {agreed_by}"
    audit_job(job=locked, user=user, act=act)
    return order


def _content(
    job: Job,
    pending: PendingChange,
    estimate: Estimate,
    *,
    amount: Decimal,
    agreed_by: str,
    today: date,
) -> OrderContent:
    """Return what a change order says of the work, its price and the word on it."""
    return OrderContent(
        number=next_number(job.change_orders.all()),
        job_number=job.number,
        title=job.title,
        currency=job.company.currency,
        changes=tuple(change.text for change in pending.changes),
        scope_before_sha256=None if job.agreed_scope is None else job.agreed_scope.document.sha256,
        scope_sha256=estimate.scope.document.sha256,
        estimate_sha256=estimate.document.sha256,
        difference=pending.difference,
        tax_difference=pending.tax_difference,
        agreed_price=pending.agreed_price,
        amount=amount,
        agreed_by=agreed_by,
        agreed_on=today,
    )


def _frozen_order(job: Job, estimate: Estimate, content: OrderContent, user: User) -> ChangeOrder:
    document = order_document(content)
    return ChangeOrder.objects.create(
        job=job,
        number=content.number,
        scope=estimate.scope,
        document=freeze(company=job.company, kind="change-order", content=document, user=user),
        amount=content.amount,
        agreed_by=content.agreed_by,
    )


def _still_pending(job: Job, seen: str, today: date) -> PendingChange:
    """Return the change that was seen. Raises BadValueError where it is another one, or none."""
    pending = pending_change(job, today)
    if pending is None:
        accepted = "a floor, room or product that was changed since the scope was agreed"
        raise BadValueError(field="scope", value="as agreed", accepted=accepted)
    if pending.seen != seen:
        accepted = "the change as it stands now; read it and send it again"
        raise BadValueError(field="scope", value="changed again meanwhile", accepted=accepted)
    refuse_unpriced(pending.after, pending.before)
    for zone in pending.older:
        raise OlderPlanError(zone.name)
    return pending
