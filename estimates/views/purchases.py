"""What was bought for a job, for the office."""

from __future__ import annotations

from decimal import Decimal

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.access import priced_job_for, purchase_for
from estimates.forms.purchases import PurchaseForm
from estimates.models import PurchaseOf
from estimates.readers.review.since import cost_of
from estimates.services import purchases as services
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.forms.base import files_sent, sent
from jobs.http import render_page
from jobs.readers.moisture.waiting import order_holds
from jobs.readers.path import path_context
from jobs.services.files import serve
from jobs.views.edit_page import confirm_page, edit_page, edits, initial_of, picked

TEMPLATE = "estimates/purchases/purchase.html"


@require_safe
@signed_in
def purchase_list(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every purchase of a job, in the order of the days."""
    job = priced_job_for(request, pk)
    purchases = list(job.purchases.select_related("callback"))
    context = path_context(request, job, "Review") | {
        "purchases": purchases,
        "paid": sum((cost_of(row) for row in purchases), Decimal(0)),
        "currency": job.company.currency,
        "order_holds": order_holds(job) if job.closed_at is None else [],
    }
    return render_page(request, "estimates/purchases/purchases.html", context)


@edits
@signed_in
def purchase_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take down a purchase."""
    job = priced_job_for(request, pk)
    today = today_of(job.company)
    form = PurchaseForm(
        sent(request),
        files_sent(request),
        job=job,
        initial={"bought_on": today.isoformat(), "kind": PurchaseOf.BOUGHT},
        today=today,
    )
    back = reverse("purchase-list", args=[pk])
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_purchase(
            job=job,
            user=request.user,
            key=form.once_key,
            values=_values(form),
            receipt=form.picture,
        ),
        done="The purchase is in the book.",
        to=lambda _: back,
        context=path_context(request, job, "Review")
        | {"title": "New purchase", "button": "Save the purchase", "back": back},
        template=TEMPLATE,
    )


@edits
@signed_in
def purchase_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Correct a purchase."""
    row = purchase_for(request, pk)
    initial = initial_of(row, services.PURCHASE_FIELDS)
    initial["bought_on"] = row.bought_on.isoformat()
    initial["callback"] = row.callback_id
    form = PurchaseForm(
        sent(request),
        files_sent(request),
        job=row.job,
        initial=initial,
        version=row.version,
        today=today_of(row.job.company),
    )
    back = reverse("purchase-list", args=[row.job_id])
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_purchase(
            purchase=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=_values(form),
            receipt=form.picture,
        ),
        done="The purchase is changed.",
        to=lambda _: back,
        context=path_context(request, row.job, "Review")
        | {"title": row.label, "button": "Save the purchase", "back": back, "purchase": row},
        template=TEMPLATE,
    )


def _values(form: PurchaseForm) -> dict[str, object]:
    """Return what was typed of a purchase; of the job itself where no callback is named."""
    return picked(form, services.PURCHASE_FIELDS) | {"callback": form.cleaned_data.get("callback")}


@require_safe
@signed_in
def purchase_receipt(request: SignedInRequest, pk: int) -> HttpResponse:
    """The photograph of a receipt."""
    row = purchase_for(request, pk)
    if row.receipt is None:
        message = "This purchase has no photograph."
        raise Http404(message)
    return serve(row.receipt)  # type: ignore[return-value]


@edits
@signed_in
def purchase_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Strike a purchase out, after asking."""
    row = purchase_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove {row.label}",
        sentence="The review counts without it from then on.",
        action="Remove the purchase",
        write=lambda: services.remove_purchase(purchase=row, user=request.user),
        done=f"{row.label} is no longer among the purchases.",
        to=reverse("purchase-list", args=[row.job_id]),
        back=reverse("purchase-edit", args=[pk]),
    )
