"""A change agreed on by word, without a draft: as it stands, for an amount, by name."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.change_order import OrderContent, order_document
from estimates.models import ChangeOrder, Estimate
from estimates.services.orders.freezing import (
    OrderFigures,
    OrderWords,
    freeze_change,
    order_content,
)
from estimates.services.orders.pending import (
    PendingChange,
    pending_change,
    refuse_outdated,
    require_agreeable,
)
from jobs.models import Job, User
from jobs.services.records import audit_job, freeze, writes_once


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
    order_number: str = "",
) -> ChangeOrder:
    """Return the change order, frozen; its scope becomes the agreed one.

    Raises as `refuse_outdated` and `require_agreeable`.
    """
    locked = Job.objects.select_for_update().select_related("company", "client").get(pk=job.pk)
    refuse_outdated(locked)
    pending = require_agreeable(pending_change(locked, today), seen)
    estimate = freeze_change(locked, pending.then, user)
    content = order_content(
        locked,
        estimate,
        figures_of(pending),
        OrderWords(noted_on=today.isoformat(), order_number=order_number),
        amount=amount,
        agreed_by=agreed_by,
        today=today,
    )
    order = _frozen_order(locked, estimate, content, user)
    Job.objects.filter(pk=job.pk).update(agreed_scope=estimate.scope)
    act = f"{order} over {amount}, agreed by {agreed_by}"
    audit_job(job=locked, user=user, act=act)
    return order


def figures_of(pending: PendingChange) -> OrderFigures:
    """Return what a pending change comes to, for its document."""
    return OrderFigures(
        changes=tuple(change.text for change in pending.changes),
        lines=pending.lines,
        areas=pending.areas,
        notes=pending.notes,
        difference=pending.difference,
        tax_difference=pending.tax_difference,
        totals=pending.totals,
        priced_as_of=pending.then.quoted.as_of,
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
