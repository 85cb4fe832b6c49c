"""Change orders of a job, for the office: what differs, drafts, what was sent, what is agreed."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse

from estimates.access import priced_job_for
from estimates.forms.orders.orders import ChangeForm
from estimates.models import ChangeDraft, ChangeOrder
from estimates.readers.orders.agreed import AgreedTotals, agreed_subtotal, agreed_totals
from estimates.readers.orders.offers import Standing, draft_state, standing_of
from estimates.readers.orders.stored import stored_order
from estimates.services.orders.agree import agree_change
from estimates.services.orders.pending import PendingChange, pending_change, plan_trouble
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.formats import BrokenDocumentError
from jobs.forms.base import sent
from jobs.http import go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context
from jobs.views.edit_page import edits


@edits
@signed_in
def job_changes(request: SignedInRequest, pk: int) -> HttpResponse:
    """What differs from the agreed scope, what it costs, and the word on it."""
    job = priced_job_for(request, pk)
    today = today_of(job.company)
    pending = pending_change(job, today)
    form = ChangeForm(sent(request), initial=_proposed(pending))
    if request.method == "POST" and form.is_valid():
        agreement = {name: form.cleaned_data[name] for name in ("amount", "agreed_by", "seen")}
        order = form.carry_out(
            lambda: agree_change(
                job=job, user=request.user, key=form.once_key, today=today, **agreement
            )
        )
        if order is not None:
            messages.success(request, f"Change order {order.number} is agreed.")
            return go_to(request, "job-changes", job.pk)
    context = path_context(request, job, "Quote") | {"form": form}
    context |= _change_context(job, pending, today)
    return render_page(request, "estimates/orders/changes.html", context, status=form.status)


def _proposed(pending: PendingChange | None) -> dict[str, object]:
    return {} if pending is None else {"amount": pending.difference, "seen": pending.seen}


def _change_context(job: Job, pending: PendingChange | None, today: date) -> dict[str, object]:
    totals = _totals(job)
    standing = standing_of(job)
    drafts = job.change_drafts.filter(dropped_at__isnull=True).select_related("extra__who")
    return {
        "pending": pending,
        "trouble": plan_trouble(job),
        "agreed_price": agreed_subtotal(job),
        "totals": totals,
        "drafts": [
            _draft(row, today, standing) for row in drafts.prefetch_related("offers__document")
        ],
        "orders": [_order(row) for row in job.change_orders.select_related("document")],
        "currency": job.company.currency,
    }


def _totals(job: Job) -> AgreedTotals | None:
    """Return what a job is agreed at; None also where a change order in its list can't be read."""
    try:
        return agreed_totals(job)
    except BrokenDocumentError:
        return None


def _draft(row: ChangeDraft, today: date, standing: Standing) -> dict[str, object]:
    """Return a draft and how it stands, or why what was sent of it can't be read."""
    try:
        return {"row": row, "state": draft_state(row, today, standing)}
    except BrokenDocumentError as broken:
        return {"row": row, "state": "broken", "broken": broken}


def _order(row: ChangeOrder) -> dict[str, object]:
    """Return a change order and its lines, or why these can't be read."""
    try:
        content = stored_order(row)
    except BrokenDocumentError as broken:
        return {"row": row, "broken": broken}
    return {"row": row, "content": content, "changes": content.changes}
