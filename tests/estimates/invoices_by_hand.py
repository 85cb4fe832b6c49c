"""An invoice and a completion slip made by hand, as they were written in their first format.

`an_invoice_of`, `a_payment_of` and `a_slip_of` save rows that say so.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.invoices.content import AgreedSum, BillTo, IssuedInvoice, invoice_document
from estimates.domain.invoices.slip import DONE_WORDS, CompletionWord, SlipFloor, slip_document
from estimates.domain.invoices.stages import InvoiceLine
from estimates.domain.quotes.content import Letterhead, QuoteUnit
from estimates.models import ChangeOrder, CompletionSlip, Invoice, InvoicePayment
from jobs.domain.documents import digest
from jobs.models import Job, StoredFile
from jobs.services.files import store_file
from jobs.services.records import freeze, next_number
from tests.estimates.a_price import Given
from tests.estimates.kept import FOLDER
from tests.jobs.agreed import make_scope
from tests.jobs.kept import kept, kept_document

DAY = date(2027, 3, 1)


def a_letterhead() -> Letterhead:
    return Letterhead(
        name="Fernwood Floors",
        address=("12 Mill Road",),
        phone="555-0103",
        email="office@fernwood.example.com",
        license="HG-0420",
        registration="",
        insurance="",
        logo_sha256="",
    )


def an_invoice_said() -> IssuedInvoice:
    """A final invoice of 640.00 with a change order, 94.00 of the whole held back."""
    unit = QuoteUnit(
        label="Laying",
        quantity=Decimal("100.00"),
        unit="ft2",
        each=Decimal("9.00"),
        amount=Decimal("900.00"),
    )
    return IssuedInvoice(
        label="7-2",
        number=2,
        job_number=7,
        title="Den",
        kind="final",
        key="2",
        name="Final payment",
        when="When the work is done",
        currency="USD",
        issued_on=DAY,
        due_on=date(2027, 3, 31),
        replaces="",
        letterhead=a_letterhead(),
        bill_to=BillTo(name="Alder Store", lines=("9 Dock Street",)),
        order_number="4711",
        site="4 Cooper Lane",
        client="Ines Okafor",
        estimate_sha256=digest("estimate"),
        agreed=AgreedSum(
            label="Quote 1",
            amount=Decimal("900.00"),
            tax=Decimal("0.00"),
            total=Decimal("940.00"),
            units=(unit,),
            changes=(InvoiceLine(label="Change order 1", amount=Decimal("40.00")),),
        ),
        lines=(
            InvoiceLine(label="Final payment", amount=Decimal("600.00")),
            InvoiceLine(label="Change order 1", amount=Decimal("40.00")),
        ),
        changes=(1,),
        held=Decimal("94.00"),
        released=Decimal("0.00"),
        held_in_all=Decimal("94.00"),
        billed_before=Decimal("300.00"),
        paid_before=Decimal("300.00"),
        payment_words="Check or bank transfer.",
        late_fee_words="1.5% a month is charged on what is overdue.",
        note="Thank you.",
        tax=Decimal("2.40"),
    )


def a_slip_word() -> CompletionWord:
    """A slip of one floor, signed, with one thing still to be done."""
    floor = SlipFloor(name="up", product="Oak", area_ft2=Decimal("120.00"), rooms=("Den", "Hall"))
    return CompletionWord(
        number=1,
        job_number=7,
        title="Den",
        letterhead=a_letterhead(),
        site="4 Cooper Lane",
        client="Ines Okafor",
        order_number="4711",
        order_name="Alder Store",
        floors=(floor,),
        words=DONE_WORDS,
        open_points="Door of the closet.",
        signed_by="Ines Okafor",
        signed_on=DAY,
        scope_sha256=digest("scope"),
    )


def an_invoice_of(job: Job, **changes: object) -> Invoice:
    """A final invoice of a job that says what `an_invoice_said` says."""
    number = next_number(job.invoices.all())
    said = replace(an_invoice_said(), number=number, label=f"{job.number}-{number}")
    fields: Given = {
        "job": job,
        "number": number,
        "label": said.label,
        "kind": said.kind,
        "document": freeze(
            company=job.company, kind="invoice", content=invoice_document(said), user=None
        ),
        "pdf": _a_pdf(job, f"invoice-{said.label}.pdf"),
        "bill_to": said.bill_to.name,
        "order_number": said.order_number,
        "amount": said.amount,
        "held": said.held,
        "issued_on": said.issued_on,
        "due_on": said.due_on,
    }
    return Invoice.objects.create(**fields | changes)


def a_change_of(job: Job, amount: str) -> ChangeOrder:
    """A change order of a job that comes to this, without sales tax."""
    return ChangeOrder.objects.create(
        job=job,
        number=next_number(job.change_orders.all()),
        scope=make_scope(job),
        document=kept_document(job.company, "change-order", kept("change-order-1", FOLDER)),
        amount=Decimal(amount),
        agreed_by="Ines Okafor",
    )


def a_payment_of(invoice: Invoice) -> InvoicePayment:
    """A payment of 20.00 by check."""
    return InvoicePayment.objects.create(
        invoice=invoice, received_on=DAY, way="check", amount=Decimal(20)
    )


def a_slip_of(job: Job) -> CompletionSlip:
    """A signed slip of a job that says what `a_slip_word` says."""
    number = next_number(job.completion_slips.all())
    content = slip_document(replace(a_slip_word(), number=number))
    return CompletionSlip.objects.create(
        job=job,
        number=number,
        document=freeze(company=job.company, kind="completion-slip", content=content, user=None),
        pdf=_a_pdf(job, f"completion-{job.number}-{number}.pdf"),
        signed_by="Ines Okafor",
    )


def _a_pdf(job: Job, name: str) -> StoredFile:
    return store_file(
        company=job.company, content=b"%PDF-1.7", name=name, content_type="application/pdf"
    )
