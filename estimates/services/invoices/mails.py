"""An invoice goes by mail, its PDF with it. It has no link: what is owed stands on the paper."""

from __future__ import annotations

from collections.abc import Sequence

from estimates.domain.invoices.content import IssuedInvoice
from estimates.models import Invoice, InvoiceOf
from estimates.readers.invoices.invoices import stored_invoice
from estimates.readers.sending.addressee import addressee_of
from estimates.services.passport.links import open_passport_of
from estimates.services.sending.by_mail import Letter, mail_to_each
from estimates.services.sending.words import day_words, place_of
from jobs.domain.checks import BadValueError
from jobs.domain.figures import money
from jobs.models import Job, User
from jobs.services.mail.outbox import LINK
from jobs.services.records import audit_job, writes_once

_PASSPORT = f"The passport of your floor, with its map and its care; keep this link:\n{LINK}\n\n"


@writes_once(Invoice, "mail invoice")
def mail_invoice(*, invoice: Invoice, user: User, key: str, to: Sequence[str]) -> Invoice:
    """Return the invoice that was mailed: one mail an address, each with the PDF.

    Raises:
        BadValueError: it is void, an address is none, or no mail server is set.
    """
    job = Job.objects.select_for_update().get(pk=invoice.job_id)
    if job.invoices.filter(pk=invoice.pk, voided_at__isnull=False).exists():
        accepted = "an invoice that counts"
        raise BadValueError(field="invoice", value=f"{invoice} is void", accepted=accepted)
    passport = open_passport_of(job) if invoice.kind == InvoiceOf.FINAL else None
    letter = Letter(
        kind="invoice",
        about=about_invoice(invoice),
        subject=f"{invoice} for your floor, {place_of(job)}",
        text=_letter_words(
            invoice, stored_invoice(invoice), user.name, passport=passport is not None
        ),
        paper=invoice.pdf,
        link=("passport", passport.pk) if passport else None,
    )
    sent_to = mail_to_each(letter, company=invoice.job.company, user=user, key=key, to=to)
    audit_job(job=job, user=user, act=f"Mailed {invoice} to {', '.join(sent_to)}")
    return invoice


def about_invoice(invoice: Invoice) -> str:
    """Return how mails name the invoice that they are about."""
    return f"invoice:{invoice.pk}"


def _letter_words(invoice: Invoice, said: IssuedInvoice, sender: str, *, passport: bool) -> str:
    """Return what the mail says that brings an invoice: the sum, by when, and how to pay.

    With the final one the link of the floor ``passport`` goes along, where it has one.
    """
    company = invoice.job.company
    asks = money(said.payable, said.currency)
    ways = f"{said.payment_words}\n\n" if said.payment_words else ""
    text = (
        f"{addressee_of(invoice.job).greeting},\n\nattached is invoice {said.label} for "
        f"{place_of(invoice.job)}: {said.name}, {asks}, to be paid by {day_words(said.due_on)}."
        f"\n\n{ways}{_PASSPORT if passport else ''}{sender}\n{company.name}\n{company.phone}"
    )
    return text.strip() + "\n"
