"""The homeowner's page: one quote, opened by its link. No sign-in, nothing else to be seen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from estimates.access import is_one_of_us, quote_by_link, quote_link
from estimates.domain.law.cancel import signed_later
from estimates.domain.quotes.content import IssuedQuote, QuoteChoice
from estimates.domain.quotes.states import OPEN
from estimates.forms.answers import AskForm, ChooseAndAcceptForm, DeclineForm
from estimates.models import Acceptance, QuoteEvent, QuoteLink
from estimates.readers.invoices.homeowner import stands_at
from estimates.readers.quote import stored_quote
from estimates.readers.quote_page import quote_page
from estimates.readers.sending.days import days_of
from estimates.readers.sending.states import state_of
from estimates.services.sending import answers
from estimates.views.sending.closed import opened_by_link
from jobs.clock import day_of, local_to, today_of
from jobs.forms.base import Data, PlainForm, sent
from jobs.http import client_address, render_page
from jobs.services.files import serve
from jobs.views.edit_page import edits

ACCEPT, ASK, DECLINE = "accept", "ask", "decline"
"""What a form of the page is for, as it says in its field `act`; none means the first."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AnswerForms:
    """The forms of the page, the one that was sent holding what was typed."""

    accept: ChooseAndAcceptForm
    ask: AskForm
    decline: DeclineForm

    def sent(self, act: str) -> PlainForm:
        """Return the form that was sent."""
        return {ASK: self.ask, DECLINE: self.decline}.get(act, self.accept)


@never_cache
@opened_by_link
@edits
def quote_public(request: HttpRequest, token: str) -> HttpResponse:
    """The quote as issued, with the forms to accept it, to ask and to decline."""
    link = quote_link(request, token)
    with local_to(link.quote.job.company):
        issued = stored_quote(link.quote)
        act = request.POST.get("act", ACCEPT)
        forms = _forms(sent(request), act, issued)
        form = forms.sent(act)
        is_word = request.method == "POST" and form.is_valid()
        if is_word and form.carry_out(_answer(request, link, form)) is not None:
            return redirect("quote-public", token=token)
        context = _context(link, issued, forms, token)
        if is_one_of_us(request, link.quote):
            context["seen_url"] = ""
        response = render_page(request, "estimates/public/quote.html", context, status=form.status)
    response["X-Robots-Tag"] = "noindex"
    return response


def _forms(data: Data, act: str, issued: IssuedQuote) -> AnswerForms:
    accepts = act not in (ASK, DECLINE)
    return AnswerForms(
        accept=ChooseAndAcceptForm(data if accepts else None, choices=issued.choices),
        ask=AskForm(data if act == ASK else None),
        decline=DeclineForm(data if act == DECLINE else None),
    )


def _answer(
    request: HttpRequest, link: QuoteLink, form: PlainForm
) -> Callable[[], Acceptance | QuoteEvent]:
    """Return what is done with the words of a form."""
    typed = form.cleaned_data
    if isinstance(form, AskForm):
        return lambda: answers.ask(link=link, text=typed["text"], name=typed["name"])
    if isinstance(form, DeclineForm):
        return lambda: answers.decline(link=link, reason=typed["reason"])
    return lambda: answers.accept(
        link=link,
        name=typed["name"],
        choice=typed["choice"],
        consent=typed["read"],
        today=today_of(link.quote.job.company),
        ip=client_address(request),
        agent=request.headers.get("User-Agent", ""),
    )


def _context(
    link: QuoteLink, issued: IssuedQuote, forms: AnswerForms, token: str
) -> dict[str, object]:
    """Return what the page shows: the quote, where it stands, what was said on it.

    Once it is accepted, the right to cancel is dated by the day of that word.
    """
    acceptance: Acceptance | None = getattr(link.quote, "acceptance", None)
    state = state_of(link.quote)
    spoken = (QuoteEvent.Kind.QUESTION, QuoteEvent.Kind.ANSWERED)
    printed_right = issued.cancel
    if acceptance is not None and issued.cancel is not None:
        signed_on = day_of(acceptance.at, link.quote.job.company)
        issued = replace(issued, cancel=signed_later(issued.cancel, signed_on))
    return {
        "quote": issued,
        "printed_right": printed_right,
        "page": quote_page(issued, link.quote.job.company),
        "company_name": issued.letterhead.name,
        "state": state,
        "answers": state in OPEN,
        "asks": True,
        "acceptance": acceptance,
        "chosen": _chosen(issued, acceptance),
        "stands": stands_at(link.quote, today_of(link.quote.job.company)) if acceptance else None,
        "talk": link.quote.events.filter(kind__in=spoken),
        "form": forms.accept,
        "ask": forms.ask,
        "decline": forms.decline,
        "pdf_url": reverse("quote-public-file", args=[token]),
        "days_url": reverse("quote-public-days", args=[token]) if days_of(link.quote) else "",
        "home_url": reverse("quote-public-home", args=[token]) if acceptance else "",
        "seen_url": reverse("quote-public-seen", args=[token]) if state in OPEN else "",
    }


def _chosen(issued: IssuedQuote, acceptance: Acceptance | None) -> QuoteChoice | None:
    """Return what was accepted among several, None where there was nothing to choose."""
    if acceptance is None or not issued.has_choices:
        return None
    return next((way for way in issued.choices if way.key == acceptance.choice), None)


@never_cache
@opened_by_link
@require_safe
def quote_public_file(request: HttpRequest, token: str) -> HttpResponse:
    """The PDF exactly as issued."""
    return serve(quote_by_link(request, token).pdf)  # type: ignore[return-value]
