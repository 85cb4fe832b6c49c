"""The draft of a quote: typed, looked at as it would be sent, and issued."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import priced_job_for
from estimates.forms.answers import ChooseAndAcceptForm
from estimates.forms.draft.quote_draft import IssueDraftForm, QuoteDraftForm
from estimates.forms.price_needs import need_forms
from estimates.models import QuoteDraft
from estimates.readers.draft.page import Said, said_of
from estimates.readers.draft.rows import draft_row, photos_offered
from estimates.readers.draft.ways import NO_WAYS, OfferedWays, offered_ways
from estimates.readers.prices import book_and_terms, terms_row
from estimates.readers.quote_page import quote_page
from estimates.services.draft.drafts import DRAFT_FIELDS, issue_draft, save_draft
from estimates.services.quote_pdf import quote_pdf
from estimates.views.penciled.said import penciled_context
from estimates.views.price_needs import DRAFT_QUERY, needs_context
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.forms.base import sent
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context
from jobs.services.records import put_values
from jobs.services.scope import work_basis
from jobs.views.edit_page import asks_to_propose, edits, picked, refusals

TO_PREVIEW = "preview"


@edits
@signed_in
def quote_draft(request: SignedInRequest, pk: int) -> HttpResponse:
    """What the next quote says beside what is measured and priced, and what that makes of it."""
    job = priced_job_for(request, pk)
    row = draft_row(job)
    ways = _ways(job)
    form = _form(request, row, ways)
    proposes = asks_to_propose(request)
    if request.method == "POST" and not proposes and form.is_valid():
        saved = form.carry_out(
            lambda: save_draft(
                row=row,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                values=picked(form, DRAFT_FIELDS),
            )
        )
        if saved is not None:
            messages.success(request, "The draft of the quote is saved.")
            to = "quote-preview" if request.POST.get("then") == TO_PREVIEW else "quote-draft"
            return go_to(request, to, job.pk)
    context = path_context(request, job, "Quote") | {
        "form": form,
        "not_offered": ways.not_offered,
        "offers": bool(ways.by_key),
        "agreed": job.agreed_scope_id is not None,
        "quotes": job.quotes.count(),
    }
    if not proposes:
        context |= penciled_context(job)
    context |= _typed_context(row, form, ways) if proposes else _saved_context(draft_row(job), ways)
    status = 200 if proposes else form.status
    part = "said" if proposes else ""
    return render_page(request, "estimates/draft/draft.html", context, part=part, status=status)


def _ways(job: Job) -> OfferedWays:
    try:
        return offered_ways(work_basis(job))
    except BadValueError:
        return NO_WAYS


def _form(request: SignedInRequest, row: QuoteDraft, ways: OfferedWays) -> QuoteDraftForm:
    job = row.job
    today = today_of(job.company)
    _, terms = book_and_terms(job, today)
    return QuoteDraftForm(
        sent(request),
        row=row,
        today=today,
        ways=ways.by_key,
        notes=photos_offered(job),
        by_unit=terms.method == "rates",
        exclusions=terms_row(job.company).exclusions,
    )


def _typed_context(row: QuoteDraft, form: QuoteDraftForm, ways: OfferedWays) -> Context:
    """What the quote would say as it is typed; what is refused says so in its place."""
    if not form.is_valid():
        return {"refusals": refusals(form)}
    put_values(row, picked(form, DRAFT_FIELDS))
    return _said_context(row, said_of(row, today_of(row.job.company), ways))


def _saved_context(row: QuoteDraft, ways: OfferedWays) -> Context:
    """What the saved draft would say, with a list where the prices it lacks are typed."""
    said = said_of(row, today_of(row.job.company), ways)
    needs = needs_context(need_forms(said.needs))
    answered = {"job_pk": row.job_id, "needs_query": DRAFT_QUERY}
    return _said_context(row, said) | needs | answered


def _said_context(row: QuoteDraft, said: Said) -> Context:
    return {
        "job": row.job,
        "said": said,
        "quote": said.quote,
        "page": quote_page(said.quote, row.job.company) if said.quote else None,
        "currency": row.job.company.currency,
    }


@require_safe
@signed_in
def quote_preview(request: SignedInRequest, pk: int) -> HttpResponse:
    """The quote exactly as the homeowner will open it, and the word to issue it."""
    job = priced_job_for(request, pk)
    row = draft_row(job)
    said = said_of(row, today_of(job.company))
    if said.quote is None:
        messages.error(request, said.refused)
        return go_to(request, "quote-draft", job.pk)
    context = (
        _said_context(row, said)
        | {
            "company_name": said.quote.letterhead.name,
            "state": "open",
            "answers": True,
            "form": ChooseAndAcceptForm(choices=said.quote.choices),
            "issue": IssueDraftForm(initial={"seen": said.seen}),
            "agreed": job.agreed_scope_id is not None,
        }
        | penciled_context(job)
    )
    return render_page(request, "estimates/draft/preview.html", context)


@require_safe
@signed_in
def quote_preview_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The PDF exactly as it would be issued now; the draft, saying why, where it can't be."""
    job = priced_job_for(request, pk)
    said = said_of(draft_row(job), today_of(job.company))
    if said.quote is None:
        messages.error(request, said.refused)
        return go_to(request, "quote-draft", job.pk)
    response = HttpResponse(quote_pdf(job.company, said.quote), content_type="application/pdf")
    name = f"preview-{job.number}-{said.quote.number}.pdf"
    response["Content-Disposition"] = f'inline; filename="{name}"'
    response["Cache-Control"] = "private, no-store"
    return response


@require_POST
@signed_in
def quote_issue_draft(request: SignedInRequest, pk: int) -> HttpResponse:
    """Issue the quote that was looked at."""
    job = priced_job_for(request, pk)
    form = IssueDraftForm(request.POST)
    if form.is_valid():
        quote = form.carry_out(
            lambda: issue_draft(
                job=job,
                user=request.user,
                key=form.once_key,
                today=today_of(job.company),
                seen=form.cleaned_data["seen"],
            )
        )
        if quote is not None:
            messages.success(request, f"Quote {quote.number} is issued.")
            return go_to(request, "quote", quote.pk)
    for text in refusals(form):
        messages.error(request, text)
    return go_to(request, "quote-draft", job.pk)
