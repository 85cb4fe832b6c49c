"""Change orders by mail: to the client, and to both once there is a word on one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.db import transaction
from django.utils import timezone

from estimates.models import ChangeAnswer, ChangeOffer
from estimates.readers.orders.offers import offer_state
from estimates.readers.sending.addressee import addressee_of
from estimates.services.sending.by_mail import Letter, mail_to_each
from estimates.services.sending.office import moment_words, office_addresses
from estimates.services.sending.words import day_words, office_page, place_of
from jobs.domain.checks import BadValueError
from jobs.domain.documents import digest
from jobs.models import Job, Mail, User
from jobs.services.mail.outbox import LINK, mail_is_set, post
from jobs.services.records import audit_job, writes_once

LINK_KIND = "change"


@writes_once(ChangeOffer, "mail change")
def mail_change(
    *, offer: ChangeOffer, user: User, key: str, to: Sequence[str], today: date
) -> ChangeOffer:
    """Return the change order that was mailed: one mail an address, each with PDF and link.

    Raises:
        BadValueError: it waits for no word any more, an address is none, or no mail server is set.
    """
    job = Job.objects.select_for_update().get(pk=offer.job_id)
    state = offer_state(ChangeOffer.objects.select_related("document").get(pk=offer.pk), today)
    if state != "sent":
        accepted = "a change order that still waits for a word"
        raise BadValueError(field="change order", value=state, accepted=accepted)
    letter = Letter(
        kind="change",
        about=about_change(offer),
        subject=f"{_called(offer)} for your floor, {place_of(job)}",
        text=_letter_words(offer, user.name),
        paper=offer.pdf,
        link=(LINK_KIND, offer.link.pk),
    )
    sent_to = mail_to_each(letter, company=offer.job.company, user=user, key=key, to=to)
    audit_job(job=job, user=user, act=f"Mailed {offer} to {', '.join(sent_to)}")
    return offer


def about_change(offer: ChangeOffer) -> str:
    """Return how mails name the change order that they are about."""
    return f"change:{offer.pk}"


def post_copies(offer: ChangeOffer) -> list[Mail]:
    """Post what tells the office of a client's word and the client's copy; none without a server.

    Called within the write of the word.
    """
    if not mail_is_set():
        return []
    company = offer.job.company
    mails = [
        post(
            company=company,
            kind="change-notice",
            about=about_change(offer),
            key=f"{about_change(offer)}:{offer.answer}:{digest(address)[:32]}",
            to=address,
            subject=f"{_called(offer)} is {offer.answer}, {place_of(offer.job)}",
            text=_office_words(offer),
            attachment=offer.pdf,
        )
        for address in office_addresses(company, offer.issued_by)
    ]
    copy = _copy_to_client(offer)
    return [*mails, copy] if copy else mails


@transaction.atomic
def put_answer_aside(*, offer: ChangeOffer) -> None:
    """Note that the office knows of the word on a change order."""
    rows = ChangeOffer.objects.filter(pk=offer.pk, noted_at=None).exclude(answer="")
    rows.update(noted_at=timezone.now())


def _copy_to_client(offer: ChangeOffer) -> Mail | None:
    """Post the client's copy, with the paper and the link; None without an address."""
    job, to = offer.job, addressee_of(offer.job)
    if not to.email:
        return None
    return post(
        company=job.company,
        kind="change-copy",
        about=about_change(offer),
        key=f"{about_change(offer)}:{offer.answer}:client",
        to=to.email,
        reply_to=job.company.email,
        subject=f"{_called(offer)} is {offer.answer}, {place_of(job)}",
        text=_copy_words(offer, to.greeting),
        attachment=offer.pdf,
        link=(LINK_KIND, offer.link.pk),
    )


def _called(offer: ChangeOffer) -> str:
    return f"Change order {offer.number}"


def _letter_words(offer: ChangeOffer, sender: str) -> str:
    company = offer.job.company
    text = (
        f"{addressee_of(offer.job).greeting},\n\nhere is change order {offer.number} for "
        f"{place_of(offer.job)}: what is changed, and what it costs. Read it, accept it or decline "
        f"it here:\n\n{LINK}\n\nThe same change order is attached to print. Nothing of it is done "
        f"before you accept. It is valid until {day_words(offer.valid_until)}.\n\n{sender}\n"
        f"{company.name}\n{company.phone}"
    )
    return text.strip() + "\n"


def _office_words(offer: ChangeOffer) -> str:
    who = offer.answered_by or addressee_of(offer.job).name
    lines = [f"{_called(offer)} is {offer.answer}: {who}, {_moment(offer)}."]
    if offer.reason:
        lines += ["", f"Why: {offer.reason}"]
    return "\n".join([*lines, "", "Open it:", office_page("change-offer", offer.pk), ""])


def _copy_words(offer: ChangeOffer, greeting: str) -> str:
    company = offer.job.company
    who = offer.answered_by or "You"
    if offer.answer == ChangeAnswer.ACCEPTED:
        word = f"{who} accepted our change order {offer.number}"
        after = "The change belongs to what is agreed from now on."
    else:
        word = f"{who} declined our change order {offer.number}"
        after = "The work stays as it was agreed before."
    return (
        f"{greeting},\n\n{word} for {place_of(offer.job)} on {_moment(offer)}. {after} It is "
        f"attached; it can be read here:\n\n{LINK}\n\n{company.name}\n{company.phone}\n"
    )


def _moment(offer: ChangeOffer) -> str:
    return moment_words(offer.job.company, offer.answered_at) if offer.answered_at else ""
