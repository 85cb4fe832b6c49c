"""A change order that was sent, for the office: its link, its PDF, the word on it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import change_offer_for
from estimates.domain.quotes.texting import sms_address
from estimates.forms.orders.orders import RecordChangeForm
from estimates.forms.sending.sending import MailForm, TextedForm
from estimates.models import ChangeOffer
from estimates.readers.orders.offers import offer_state
from estimates.readers.orders.stored import stored_order
from estimates.readers.sending.addressee import addressee_of
from estimates.readers.sending.mails import posted_mails
from estimates.services.orders import mails
from estimates.services.orders import offers as services
from estimates.services.orders.answers import Whence, accept_change
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.http import go_to, render_page
from jobs.readers.path import path_context
from jobs.services.files import serve
from jobs.services.mail.outbox import mail_is_set
from jobs.views.edit_page import refusals
from jobs.worker.errands import worker_is_running

MAIL, TEXTED = "mail", "texted"


@require_safe
@signed_in
def change_offer(request: SignedInRequest, pk: int) -> HttpResponse:
    """What was sent, how it stands, its link."""
    return _offer_page(request, change_offer_for(request, pk), RecordChangeForm())


@require_POST
@signed_in
def change_texted(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note that the change order was sent from somebody's phone."""
    offer = change_offer_for(request, pk)
    form = TextedForm(request.POST, prefix=TEXTED)
    to = addressee_of(offer.job)
    if form.is_valid():
        noted = form.carry_out(
            lambda: services.note_change_texted(
                offer=offer,
                user=request.user,
                key=form.once_key,
                to=to.phone or to.name,
                today=today_of(offer.job.company),
            )
        )
        if noted is not None:
            messages.success(request, f"Change order {offer.number} is sent.")
            return go_to(request, "change-offer", offer.pk)
    for text in refusals(form):
        messages.error(request, text)
    return _offer_page(request, offer, RecordChangeForm(), texted_form=form)


@require_POST
@signed_in
def change_accept(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take down that the client accepted, on the phone or on paper."""
    offer = change_offer_for(request, pk)
    form = RecordChangeForm(request.POST)
    if form.is_valid():
        order = form.carry_out(
            lambda: accept_change(
                offer=offer,
                name=form.cleaned_data["name"],
                today=today_of(offer.job.company),
                whence=Whence(user=request.user),
            )
        )
        if order is not None:
            messages.success(request, f"Change order {order.number} is agreed.")
            return go_to(request, "job-changes", offer.job_id)
    return _offer_page(request, offer, form)


@require_POST
@signed_in
def change_mail(request: SignedInRequest, pk: int) -> HttpResponse:
    """Mail what was made, its PDF with it."""
    offer = change_offer_for(request, pk)
    form = MailForm(request.POST, prefix=MAIL)
    if form.is_valid():
        mailed = form.carry_out(
            lambda: mails.mail_change(
                offer=offer,
                user=request.user,
                key=form.once_key,
                to=form.cleaned_data["to"],
                today=today_of(offer.job.company),
            )
        )
        if mailed is not None:
            messages.success(request, "The mail is on its way.")
            return go_to(request, "change-offer", pk)
    return _offer_page(request, offer, RecordChangeForm(), form)


@require_POST
@signed_in
def change_noted(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put aside the word on a change order: it leaves the first page."""
    mails.put_answer_aside(offer=change_offer_for(request, pk))
    return go_to(request, "job-list")


@require_POST
@signed_in
def change_withdraw(request: SignedInRequest, pk: int) -> HttpResponse:
    """Withdraw what was sent and not accepted."""
    offer = change_offer_for(request, pk)
    try:
        services.withdraw_change(offer=offer, user=request.user)
        messages.success(request, f"Change order {offer.number} is withdrawn.")
    except BadValueError as refused:
        messages.error(request, str(refused))
    return go_to(request, "change-offer", pk)


@require_POST
@signed_in
def change_relink(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make a new link; the one before opens nothing any more."""
    offer = change_offer_for(request, pk)
    services.renew_link(offer=offer, user=request.user)
    messages.success(request, "The link is new. The one before opens nothing any more.")
    return go_to(request, "change-offer", pk)


@require_safe
@signed_in
def change_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The PDF exactly as it was sent."""
    return serve(change_offer_for(request, pk).pdf)  # type: ignore[return-value]


def _offer_page(
    request: SignedInRequest,
    offer: ChangeOffer,
    form: RecordChangeForm,
    mail_form: MailForm | None = None,
    texted_form: TextedForm | None = None,
) -> HttpResponse:
    to = addressee_of(offer.job)
    link = services.address_of(offer.link)
    context = path_context(request, offer.job, "Quote") | {
        "offer": offer,
        "order": stored_order(offer),
        "state": offer_state(offer, today_of(offer.job.company)),
        "link": link,
        "text_link": sms_address(to.phone, _text_of(offer, link)),
        "form": form,
        "to": to,
        "shown": posted_mails(offer.job.company, mails.about_change(offer)),
        "texts": offer.texts.all(),
        "texted_form": texted_form or TextedForm(prefix=TEXTED),
        "mail_is_set": mail_is_set(),
        "worker": worker_is_running(),
        "mail_form": mail_form or MailForm(initial={"to": to.email}, prefix=MAIL),
    }
    status = max(sent.status for sent in (form, mail_form, texted_form) if sent is not None)
    return render_page(request, "estimates/orders/offer.html", context, status=status)


def _text_of(offer: ChangeOffer, link: str) -> str:
    company = offer.job.company.name
    return f"{company}: change order {offer.number} for {offer.job.title} is here: {link}"
