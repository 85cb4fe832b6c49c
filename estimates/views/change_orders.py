"""Change orders of a job, for the office."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse

from estimates.access import priced_job_for
from estimates.forms.change_orders import ChangeForm
from estimates.models import ChangeOrder
from estimates.readers.orders.stored import stored_order
from estimates.services.orders.agree import agree_change
from estimates.services.orders.pending import PendingChange, agreed_price, pending_change
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
    context = path_context(request, job, "Quote") | _change_context(job, pending) | {"form": form}
    return render_page(
        request, "estimates/change_orders/change_orders.html", context, status=form.status
    )


def _proposed(pending: PendingChange | None) -> dict[str, object]:
    return {} if pending is None else {"amount": pending.difference, "seen": pending.seen}


def _change_context(job: Job, pending: PendingChange | None) -> dict[str, object]:
    orders = job.change_orders.select_related("document")
    return {
        "pending": pending,
        "agreed_price": agreed_price(job),
        "orders": [_order(row) for row in orders],
        "currency": job.company.currency,
    }


def _order(row: ChangeOrder) -> dict[str, object]:
    """Return a change order and its lines, or why these can't be read."""
    try:
        return {"row": row, "changes": stored_order(row).changes}
    except BrokenDocumentError as broken:
        return {"row": row, "broken": broken}
