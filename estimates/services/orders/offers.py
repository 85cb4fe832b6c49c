"""Sending a change order: document and PDF frozen, with a link of its own."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from estimates.domain.change_order import OrderContent, order_document
from estimates.models import (
    ChangeAnswer,
    ChangeDraft,
    ChangeLink,
    ChangeOffer,
    ChangeText,
    Estimate,
)
from estimates.readers.orders.offers import offer_state
from estimates.readers.prices import terms_row
from estimates.services.orders.drafts import require_open
from estimates.services.orders.figures import DraftPrice, draft_price
from estimates.services.orders.freezing import (
    OrderFigures,
    OrderWords,
    estimate_agreed,
    freeze_change,
    order_content,
)
from estimates.services.orders.order_pdf import order_pdf
from estimates.services.orders.pending import refuse_outdated, require_agreeable
from jobs.domain.checks import BadValueError
from jobs.domain.link_token import token_hash
from jobs.http import whole_address
from jobs.models import Job, User
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, writes_once


@writes_once(ChangeOffer, "send change")
def send_change(
    *, draft: ChangeDraft, user: User, key: str, amount: Decimal, seen: str, today: date
) -> ChangeOffer:
    """Return the change order as sent, frozen; what was sent of its draft before is withdrawn.

    Raises:
        BadValueError: it comes to something else than was ``seen``, it says nothing, a price is
            missing, or it is agreed on or dropped.
        OutdatedPlanError, OlderPlanError: a plan is not of the floor as it stands, or by older
            rules, and what the plan changes belongs to it.
    """
    job = Job.objects.select_for_update().select_related("company", "client").get(pk=draft.job_id)
    draft = ChangeDraft.objects.select_related("photo").get(pk=draft.pk)
    draft.job = job
    require_open(draft)
    price = _as_seen(draft, seen, amount, today)
    estimate = freeze_change(job, price.then, user) if price.pending else estimate_agreed(job)
    content = order_content(
        job, estimate, _figures(price), _words(draft, price), amount=amount, today=today
    )
    draft.offers.filter(withdrawn_at__isnull=True, answer="").update(withdrawn_at=timezone.now())
    offer = _frozen(draft, estimate, content, user, today)
    audit_job(job=job, user=user, act=f"Sent {offer}, {amount} before sales tax")
    return offer


def _as_seen(draft: ChangeDraft, seen: str, amount: Decimal, today: date) -> DraftPrice:
    """Return what a draft comes to, where that is what was seen and may be sent."""
    if draft.with_plan:
        refuse_outdated(draft.job)
    price = draft_price(draft, today)
    if price.seen != seen:
        accepted = "the change as it stands now; read it and send it again"
        raise BadValueError(field="change", value="changed meanwhile", accepted=accepted)
    if price.pending is not None:
        require_agreeable(price.pending, price.pending.seen)
    elif not price.beside and not amount:
        accepted = "a line, an amount, or what the plan changes"
        raise BadValueError(field="change", value="nothing", accepted=accepted)
    return price


def _figures(price: DraftPrice) -> OrderFigures:
    return OrderFigures(
        changes=price.changes,
        lines=price.lines,
        areas=price.pending.areas if price.pending else (),
        notes=price.notes,
        difference=price.difference,
        tax_difference=price.tax_difference,
        totals=price.totals,
        priced_as_of=price.then.quoted.as_of,
    )


def _words(draft: ChangeDraft, price: DraftPrice) -> OrderWords:
    return OrderWords(
        what=draft.text,
        why=draft.why,
        asked_by=draft.asked_by,
        noted_on=draft.noted_on.isoformat(),
        order_number=draft.order_number,
        photo_sha256=draft.photo.sha256 if draft.photo else "",
    )


def _frozen(
    draft: ChangeDraft, estimate: Estimate, content: OrderContent, user: User, today: date
) -> ChangeOffer:
    job = draft.job
    fields = order_document(content)
    offer = ChangeOffer.objects.create(
        job=job,
        draft=draft,
        number=content.number,
        scope=estimate.scope,
        document=freeze(company=job.company, kind="change-order", content=fields, user=user),
        pdf=store_file(
            company=job.company,
            content=order_pdf(job.company, content, draft.photo),
            name=f"change-order-{job.number}-{content.number}.pdf",
            content_type="application/pdf",
        ),
        amount=content.amount,
        tax=content.tax,
        valid_until=today + timedelta(days=terms_row(job.company).valid_days),
        issued_by=user,
    )
    link = ChangeLink.objects.create(offer=offer, token_hash=f"offer {offer.pk}")
    _put_word(link)
    return offer


def _put_word(link: ChangeLink) -> None:
    link.token_hash = token_hash(word_of(link))
    link.save()


def address_of(link: ChangeLink) -> str:
    """Return the whole address that the link is, computed afresh; kept nowhere.

    Where the site's secret was changed since, what is sent from now on opens, and what was sent
    before no longer does.
    """
    word = word_of(link)
    if token_hash(word) != link.token_hash:
        _put_word(link)
    return whole_address("change-public", word)


def word_of(link: ChangeLink) -> str:
    """Return the word of a link, computed afresh; it is kept nowhere."""
    return link.token


@transaction.atomic
def renew_link(*, offer: ChangeOffer, user: User) -> ChangeLink:
    """Return the link under its next version; the one that was sent before opens nothing."""
    link = ChangeLink.objects.select_for_update().get(offer=offer)
    link.version += 1
    _put_word(link)
    audit_job(job=offer.job, user=user, act=f"Made a new link of {offer}")
    return link


@writes_once(ChangeText, "text change")
def note_change_texted(
    *, offer: ChangeOffer, user: User, key: str, to: str, today: date
) -> ChangeText:
    """Return that a change order was sent from somebody's phone, as they say.

    Raises BadValueError where it waits for no word any more.
    """
    Job.objects.select_for_update().get(pk=offer.job_id)
    state = offer_state(ChangeOffer.objects.select_related("document").get(pk=offer.pk), today)
    if state != "sent":
        accepted = "a change order that still waits for a word"
        raise BadValueError(field="change order", value=state, accepted=accepted)
    text = ChangeText.objects.create(offer=offer, to=to[:200], user=user, name=user.name)
    audit_job(job=offer.job, user=user, act=f"Texted {offer} to {to}")
    return text


@transaction.atomic
def withdraw_change(*, offer: ChangeOffer, user: User) -> ChangeOffer:
    """Mark a change that was sent as withdrawn; its link then says so.

    Whoever accepts it at the same moment goes first or comes too late.

    Raises BadValueError where it was accepted.
    """
    Job.objects.select_for_update().get(pk=offer.job_id)
    offer = ChangeOffer.objects.select_for_update().get(pk=offer.pk)
    if offer.answer == ChangeAnswer.ACCEPTED:
        accepted = "one that was not accepted; write another change"
        raise BadValueError(field="change order", value="accepted", accepted=accepted)
    if offer.withdrawn_at is None:
        offer.withdrawn_at = timezone.now()
        offer.save(update_fields=["withdrawn_at"])
        audit_job(job=offer.job, user=user, act=f"Withdrew {offer}")
    return offer
