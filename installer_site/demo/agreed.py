"""The part of the scenario on which money is agreed: choices, an extra, a deposit."""

from __future__ import annotations

from datetime import date, timedelta

from estimates.models import Invoice, PaidBy, Quote
from estimates.readers.draft.preview import digest_of, previewed
from estimates.readers.draft.rows import draft_row
from estimates.readers.draft.ways import offered_ways
from estimates.readers.invoices.agreed import agreed_deal
from estimates.readers.invoices.invoices import invoices_due
from estimates.services.draft.drafts import issue_draft, save_draft
from estimates.services.invoices.invoices import issue_invoice
from estimates.services.invoices.payments import note_payment
from estimates.services.orders.answers import Whence, accept_change
from estimates.services.orders.figures import draft_price
from estimates.services.orders.offers import send_change
from estimates.services.sending import answers
from installer_site.demo import story
from jobs.models import Job, User, WorkDay
from jobs.services.extras.extras import note_extra
from jobs.services.scope import work_basis

FROM = {"ip": "203.0.113.24", "agent": "A phone"}
"""From where the homeowners of the demo answer; an address that is nobody's (RFC 5737)."""


def quote_choices(job: Job, owner: User, today: date) -> Quote:
    """Return the quote of a job that offers the job as priced, and another way where there is one.

    It is told by room.
    """
    row = draft_row(job)
    others = [
        way for key, way in offered_ways(work_basis(job)).by_key.items() if key in story.SECOND_WAYS
    ]
    values = {"detail": "room", "second_way": others[0].key if others else ""}
    key = f"demo-{job.pk}-draft"
    save_draft(row=row, user=owner, key=key, expected=row.version, values=values)
    seen = digest_of(previewed(draft_row(job), today))
    return issue_draft(job=job, user=owner, key=f"demo-{job.pk}-quote", today=today, seen=seen)


def accept_by_link(quote: Quote, today: date) -> None:
    """Let the homeowner choose the first way and accept it through the link."""
    first = quote.options.order_by("place")[0]
    answers.accept(
        link=quote.link,
        name=quote.job.client.name,
        choice=first.key,
        consent=True,
        today=today,
        **FROM,
    )


def bill_deposit(job: Job, owner: User, today: date) -> Invoice | None:
    """Return the invoice of the deposit, paid by check two days later; None without a deposit."""
    deal = agreed_deal(job)
    due = invoices_due(deal, []) if deal else ()
    if not due or due[0].kind != "deposit":
        return None
    paid_on = today + timedelta(days=2)
    invoice = issue_invoice(
        job=job,
        user=owner,
        key=f"demo-{job.pk}-deposit",
        seen=due[0].mark,
        due_on=paid_on,
        note="",
        today=today,
    )
    note_payment(
        invoice=invoice,
        user=owner,
        key=f"demo-{job.pk}-deposit-paid",
        received_on=paid_on,
        way=PaidBy.CHECK,
        amount=invoice.payable,
        note="Check 1021",
        today=paid_on,
    )
    return invoice


def tell_extra(day: WorkDay, owner: User) -> None:
    """Note what the homeowner asked the crew for; it is priced, sent and accepted that evening."""
    job, lead = day.job, day.crew.members.order_by("pk")[0]
    extra = note_extra(job=job, user=lead, key=f"demo-{job.pk}-extra", day=day, **story.EXTRA)
    price = draft_price(extra.draft, day.date)
    offer = send_change(
        draft=extra.draft,
        user=owner,
        key=f"demo-{job.pk}-change",
        amount=price.difference,
        seen=price.seen,
        today=day.date,
    )
    accept_change(
        offer=offer,
        name=job.client.name,
        today=day.date,
        whence=Whence(ip=FROM["ip"], agent=FROM["agent"]),
    )
