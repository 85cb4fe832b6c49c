"""The one list of missing and old prices: shown where they matter, answered in place."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import priced_job_for
from estimates.domain.book.needs import PRICE_GOOD_DAYS
from estimates.forms.price_needs import (
    NOTHING,
    NeedForm,
    NeedsForm,
    answers_of,
    need_forms,
    seen_anew,
    things_in,
)
from estimates.readers.price_needs import needed_prices
from estimates.services.prices import answer_prices
from jobs.access import SignedInRequest, company_of, office
from jobs.clock import today_of
from jobs.domain.numerals import whole_number
from jobs.http import Context, go_to, render_page

OPTIONS_QUERY, DRAFT_QUERY = "&to=options", "&to=quote"
"""What the list's address ends with where its answers lead back to a job's options, or to the
draft of its quote."""

_BACK = {"options": ("job-options", OPTIONS_QUERY), "quote": ("quote-draft", DRAFT_QUERY)}


def needs_context(
    needs: Sequence[NeedForm], count: int | None = None, *, frame: NeedsForm | None = None
) -> Context:
    """Return what the list shows: a form for each thing, and how many things there are."""
    return {
        "needs": needs,
        "needs_frame": frame or NeedsForm(initial={"count": len(needs)}),
        "needs_count": len(needs) if count is None else count,
        "good_days": PRICE_GOOD_DAYS,
    }


@require_POST
@office
def price_answer(request: SignedInRequest) -> HttpResponse:
    """Take the prices that were typed into the list, all or none."""
    company, today = company_of(request), today_of(company_of(request))
    job, back = whole_number(request.GET.get("job", "")), reverse("price-list")
    page, query = _BACK.get(request.GET.get("to", ""), ("job-price", ""))
    if job is not None:
        back = reverse(page, args=[priced_job_for(request, job).pk])
    frame = NeedsForm(request.POST)
    things = things_in(request.POST, frame.cleaned_data["count"]) if frame.is_valid() else []
    needs = need_forms(needed_prices(company, things, today), request.POST)
    if frame.is_valid() and not any(form.errors for form in needs):
        answers = answers_of(needs)
        if not answers:
            frame.add_error(None, NOTHING)
        elif frame.carry_out(
            lambda: answer_prices(
                company=company,
                user=request.user,
                key=frame.once_key,
                answers=answers,
                today=today,
            )
        ):
            word = "1 price is" if len(answers) == 1 else f"{len(answers)} prices are"
            messages.success(request, f"{word} saved.")
            return go_to(request, back)
    if frame.overtaken:
        stand = needed_prices(company, things, today)
        needs = need_forms(stand, seen_anew(request.POST, stand))
    context = needs_context(needs, frame=frame) | {
        "back": back,
        "job_pk": job,
        "needs_query": query,
    }
    context["refused"] = sum(len(form.errors) for form in needs)
    status = max(form.status for form in (frame, *needs))
    return render_page(request, "estimates/prices/needs.html", context, status=status)
