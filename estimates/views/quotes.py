"""Price and quotes of a job, for the office."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import estimate_for, priced_job_for, quote_for
from estimates.domain.price_groups.groups import price_table
from estimates.models import Quote
from estimates.readers.price_groups import counted_then
from estimates.readers.prices import priced_of
from estimates.readers.quote import issue_day
from estimates.readers.sending.states import states_of
from estimates.services import quotes as services
from estimates.views.price_groups import groups_context
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.http import go_to, render_page
from jobs.readers.path import path_context
from jobs.readers.rooms import notes_offered
from jobs.services.files import serve


@require_safe
@signed_in
def estimate(request: SignedInRequest, pk: int) -> HttpResponse:
    """One frozen estimate, and the way to its quote."""
    estimate = estimate_for(request, pk)
    newest = estimate.job.estimates.first()
    priced = priced_of(estimate)
    counted = counted_then(estimate, priced)
    context = path_context(request, estimate.job, "Price") | {
        "estimate": estimate,
        **groups_context(priced, counted, price_table(priced, counted)),
        "currency": estimate.job.company.currency,
        "superseded": newest is not None and newest.pk != estimate.pk,
        "quote": Quote.objects.filter(estimate=estimate).first(),
    }
    return render_page(request, "estimates/quotes/estimate.html", context)


@require_safe
@signed_in
def job_quotes(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every quote of a job, newest first."""
    job = priced_job_for(request, pk)
    quotes = list(job.quotes.select_related("acceptance", "document"))
    today = today_of(job.company)
    states = states_of(quotes, today)
    context = path_context(request, job, "Quote") | {
        "quotes": [(quote, issue_day(quote), states[quote.pk]) for quote in quotes],
        "currency": job.company.currency,
        "estimate": job.estimates.first(),
        "notes": notes_offered(job, to="quote"),
    }
    return render_page(request, "estimates/quotes/quotes.html", context)


@require_POST
@signed_in
def quote_withdraw(request: SignedInRequest, pk: int) -> HttpResponse:
    """Withdraw a quote that was not accepted."""
    quote = quote_for(request, pk)
    try:
        services.withdraw_quote(quote=quote, user=request.user)
        messages.success(request, f"Quote {quote.number} is withdrawn.")
    except BadValueError as refused:
        messages.error(request, str(refused))
    return go_to(request, "quote", quote.pk)


@require_safe
@signed_in
def quote_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The PDF exactly as issued."""
    return serve(quote_for(request, pk).pdf)  # type: ignore[return-value]
