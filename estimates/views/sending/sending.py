"""The office's page of a quote: send it, see what came of it, answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import quote_event_for, quote_for
from estimates.domain.quotes.texting import sms_address
from estimates.forms.quotes import RecordAcceptanceForm
from estimates.forms.sending.sending import AnswerForm, LinkUntilForm, MailForm, TextedForm
from estimates.models import Quote, QuoteEvent
from estimates.readers.quote import issue_day
from estimates.readers.sending.page import office_quote
from estimates.services.sending import answers, sending
from estimates.services.sending.links import address_of, renew_link, set_expiry
from estimates.services.sending.words import message_words
from jobs.access import SignedInRequest, mail_for, signed_in
from jobs.clock import today_of
from jobs.forms.base import PlainForm
from jobs.http import Context, go_to, render_page
from jobs.readers.path import path_context
from jobs.services.mail.outbox import mail_is_set, put_failure_aside, send_again
from jobs.worker.errands import worker_is_running


@require_safe
@signed_in
def quote(request: SignedInRequest, pk: int) -> HttpResponse:
    """One issued quote: how to send it, its link, and what came of it."""
    return _page(request, quote_for(request, pk))


@require_POST
@signed_in
def quote_mail(request: SignedInRequest, pk: int) -> HttpResponse:
    """Mail the quote, its PDF with it."""
    row = quote_for(request, pk)
    form = MailForm(request.POST)
    return _carried_out(
        request,
        row,
        "mail_form",
        form,
        lambda: sending.mail_quote(
            quote=row, user=request.user, key=form.once_key, to=form.cleaned_data["to"]
        ),
        "The mail is on its way.",
    )


@require_POST
@signed_in
def quote_texted(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note that the quote was sent from somebody's phone."""
    row = quote_for(request, pk)
    form = TextedForm(request.POST, prefix="texted")
    to = office_quote(row, "").to
    return _carried_out(
        request,
        row,
        "texted_form",
        form,
        lambda: sending.note_texted(
            quote=row, user=request.user, key=form.once_key, to=to.phone or to.name
        ),
        f"Quote {row.number} is sent.",
    )


@require_POST
@signed_in
def quote_accept(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take down that the client accepted, on the phone or on paper."""
    row = quote_for(request, pk)
    form = RecordAcceptanceForm(request.POST, quote=row)
    return _carried_out(
        request,
        row,
        "form",
        form,
        lambda: answers.record_acceptance(
            quote=row,
            name=form.cleaned_data["name"],
            choice=form.cleaned_data["choice"],
            today=today_of(row.job.company),
            user=request.user,
        ),
        f"Quote {row.number} is accepted.",
    )


@require_POST
@signed_in
def quote_link_renew(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make a new link; every one that was sent opens nothing any more."""
    row = quote_for(request, pk)
    renew_link(quote=row, user=request.user)
    messages.success(request, "The quote has a new link; the one before opens nothing now.")
    return go_to(request, "quote", row.pk)


@require_POST
@signed_in
def quote_link_until(request: SignedInRequest, pk: int) -> HttpResponse:
    """Say until when the link opens the quote."""
    row = quote_for(request, pk)
    form = LinkUntilForm(request.POST, prefix="until")
    return _carried_out(
        request,
        row,
        "until_form",
        form,
        lambda: set_expiry(quote=row, user=request.user, until=form.cleaned_data["until"]),
        "The last day of the link is saved.",
    )


@require_POST
@signed_in
def quote_answer(request: SignedInRequest, pk: int) -> HttpResponse:
    """Answer a homeowner's question."""
    question = quote_event_for(request, pk)
    form = AnswerForm(request.POST, prefix=_answer(question))
    return _carried_out(
        request,
        question.quote,
        _answer(question),
        form,
        lambda: sending.answer_question(
            question=question, user=request.user, key=form.once_key, text=form.cleaned_data["text"]
        ),
        "The answer stands on the homeowner's page.",
    )


@require_POST
@signed_in
def quote_noted(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put aside what happened to a quote: it leaves the first page."""
    sending.put_aside(event=quote_event_for(request, pk))
    return go_to(request, "job-list")


@require_POST
@signed_in
def mail_again(request: SignedInRequest, pk: int) -> HttpResponse:
    """Send a mail again that did not go out."""
    mail = send_again(mail=mail_for(request, pk))
    messages.success(request, f"The mail to {mail.to} is on its way.")
    return go_to(request, *_subject_of(mail.about))


@require_POST
@signed_in
def mail_noted(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put aside that a mail did not go out."""
    put_failure_aside(mail=mail_for(request, pk))
    return go_to(request, "job-list")


def _subject_of(about: str) -> tuple[str, ...]:
    """Return the page of what a mail is about: its URL name and its argument."""
    kind, _, number = about.partition(":")
    pages = {"quote": "quote", "change": "change-offer", "invoice": "invoice"}
    return (pages[kind], number) if kind in pages else ("job-list",)


def _carried_out(
    request: SignedInRequest,
    row: Quote,
    name: str,
    form: PlainForm,
    write: Callable[[], object],
    done: str,
) -> HttpResponse:
    """Carry out a form of the page, say ``done`` and lead back; refused, show it with its words."""
    if form.is_valid() and form.carry_out(write) is not None:
        messages.success(request, done)
        return go_to(request, "quote", row.pk)
    return _page(request, quote_for(request, row.pk), {name: form})


def _answer(question: QuoteEvent) -> str:
    """Return what the form that answers a question is called on its page."""
    return f"answer-{question.pk}"


def _page(
    request: SignedInRequest, row: Quote, forms: Mapping[str, PlainForm] | None = None
) -> HttpResponse:
    """Return the page of a quote; ``forms`` are those that were refused, by their names there."""
    refused = dict(forms or {})
    shown = _shown(row, refused)
    context = path_context(request, row.job, "Quote") | shown
    status = max((form.status for form in refused.values()), default=200)
    return render_page(request, "estimates/quotes/quote.html", context, status=status)


def _shown(row: Quote, refused: Mapping[str, PlainForm]) -> Context:
    """Return what the page of a quote shows: its forms empty, or with what was refused of them."""
    link = row.link
    address = address_of(link)
    shown = office_quote(row, address)
    questions = [
        (item, refused.get(_answer(item.event)) or AnswerForm(prefix=_answer(item.event)))
        for item in shown.questions
    ]
    fresh: Context = {
        "quote": row,
        "shown": shown,
        "issued_on": issue_day(row),
        "link": address,
        "link_row": link,
        "sms": sms_address(shown.to.phone, message_words(row, address)),
        "mail_is_set": mail_is_set(),
        "worker": worker_is_running(),
        "currency": row.job.company.currency,
        "form": RecordAcceptanceForm(quote=row),
        "mail_form": MailForm(initial={"to": shown.to.email}),
        "texted_form": TextedForm(prefix="texted"),
        "until_form": LinkUntilForm(initial={"until": link.expires_on}, prefix="until"),
        "questions": questions,
    }
    return fresh | dict(refused)
