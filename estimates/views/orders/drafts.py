"""Drafts of change orders: written, priced by the accepted quote, sent."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import change_draft_for, change_line_for, priced_job_for
from estimates.forms.orders.orders import DraftForm, LineForm, SendForm
from estimates.models import ChangeDraft
from estimates.readers.orders.offers import draft_state
from estimates.services.orders import drafts as services
from estimates.services.orders.figures import draft_price
from estimates.services.orders.offers import send_change
from estimates.services.orders.pending import plan_trouble
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.forms.base import OnceForm, sent
from jobs.http import Context, go_to, render_page
from jobs.readers.path import path_context
from jobs.views.edit_page import confirm_page, edit_page, edits, initial_of, refusals

LINE, SEND = "line", "send"
"""What the names of the fields begin with that stand beside the words of a draft."""


@edits
@signed_in
def change_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Write a new draft of a change order."""
    job = priced_job_for(request, pk)
    with_plan = request.GET.get("plan") == "yes"
    initial = {"noted_on": today_of(job.company), "with_plan": with_plan}
    form = DraftForm(sent(request), initial=initial)
    return edit_page(
        request,
        form=form,
        write=lambda: services.write_draft(
            job=job, user=request.user, key=form.once_key, values=form.values
        ),
        done="The change is written down. Price it here, then send it.",
        to=lambda draft: reverse("change-draft", args=[draft.pk]),
        context=path_context(request, job, "Quote") | {"title": "Write a change order"},
        template="estimates/orders/new.html",
    )


@edits
@signed_in
def change_draft(request: SignedInRequest, pk: int) -> HttpResponse:
    """One draft: its words, its lines, what it comes to, and the word to send it."""
    draft = change_draft_for(request, pk)
    initial = initial_of(draft, services.DRAFT_FIELDS)
    form = DraftForm(sent(request), initial=initial, version=draft.version)
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(
            lambda: services.change_draft(
                draft=draft,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                values=form.values,
            )
        )
        if saved is not None:
            messages.success(request, "The draft is saved.")
            return go_to(request, "change-draft", pk)
    fresh = change_draft_for(request, pk)
    return _draft_page(request, fresh, form=form)


@require_POST
@signed_in
def change_line_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Add a line to a draft."""
    draft = change_draft_for(request, pk)
    form = LineForm(request.POST, prefix=LINE)
    if form.is_valid():
        line = form.carry_out(
            lambda: services.add_change_line(
                draft=draft, user=request.user, key=form.once_key, values=form.values
            )
        )
        if line is not None:
            messages.success(request, f"{line} is added.")
            return go_to(request, "change-draft", pk)
    return _draft_page(request, draft, line_form=form)


@require_POST
@signed_in
def change_line_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take a line off a draft."""
    line = change_line_for(request, pk)
    form = OnceForm(request.POST)
    taken = None
    if form.is_valid():
        taken = form.carry_out(lambda: services.remove_change_line(line=line, user=request.user))
    if taken is None:
        messages.error(request, " ".join(refusals(form)))
    else:
        messages.success(request, f"{taken} is taken off.")
    return go_to(request, "change-draft", line.draft_id)


@require_POST
@signed_in
def change_send(request: SignedInRequest, pk: int) -> HttpResponse:
    """Send a draft: freeze it, with a link of its own."""
    draft = change_draft_for(request, pk)
    form = SendForm(request.POST, prefix=SEND)
    if form.is_valid():
        offer = form.carry_out(
            lambda: send_change(
                draft=draft,
                user=request.user,
                key=form.once_key,
                amount=form.cleaned_data["amount"],
                seen=form.cleaned_data["seen"],
                today=today_of(draft.job.company),
            )
        )
        if offer is not None:
            messages.success(request, f"Change order {offer.number} is ready to be sent.")
            return go_to(request, "change-offer", offer.pk)
    return _draft_page(request, draft, send_form=form)


@edits
@signed_in
def change_drop(request: SignedInRequest, pk: int) -> HttpResponse:
    """Drop a draft, after asking."""
    draft = change_draft_for(request, pk)
    back = reverse("job-changes", args=[draft.job_id])
    return confirm_page(
        request,
        title="Drop the draft of a change",
        sentence=draft.text,
        consequences=["What was sent of it is withdrawn; that it was there is kept in the book."],
        action="Drop the draft",
        write=lambda: services.drop_draft(draft=draft, user=request.user),
        done="The draft is dropped.",
        to=back,
        back=reverse("change-draft", args=[pk]),
    )


def _draft_page(
    request: SignedInRequest,
    draft: ChangeDraft,
    *,
    form: DraftForm | None = None,
    line_form: LineForm | None = None,
    send_form: SendForm | None = None,
) -> HttpResponse:
    today = today_of(draft.job.company)
    initial = initial_of(draft, services.DRAFT_FIELDS)
    forms = {
        "form": form or DraftForm(initial=initial, version=draft.version),
        "line_form": line_form or LineForm(initial={"kind": "hours"}, prefix=LINE),
    }
    priced = _price_context(draft, today, send_form)
    context = path_context(request, draft.job, "Quote") | forms | priced
    context |= {
        "draft": draft,
        "lines": list(draft.lines.all()),
        "offers": draft.offers.select_related("document"),
        "remove_form": OnceForm(),
        "currency": draft.job.company.currency,
    }
    status = max(each.status for each in (form, line_form, send_form, OnceForm()) if each)
    return render_page(request, "estimates/orders/draft.html", context, status=status)


def _price_context(draft: ChangeDraft, today: date, send_form: SendForm | None) -> Context:
    """Return what a draft comes to and the form to send it, or why it can't be priced."""
    trouble = plan_trouble(draft.job) if draft.with_plan else None
    try:
        price = draft_price(draft, today)
    except BadValueError as bad:
        refused = {"price": None, "refusal": str(bad), "send_form": SendForm(prefix=SEND)}
        return refused | {"trouble": trouble, "state": "draft"}
    initial = {"amount": price.difference, "seen": price.seen}
    return {
        "price": price,
        "trouble": trouble,
        "state": draft_state(draft, today),
        "send_form": send_form or SendForm(initial=initial, prefix=SEND),
    }
