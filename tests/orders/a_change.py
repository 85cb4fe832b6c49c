"""A change order with every kind of line, and one as if it had been sent."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.change_order import OrderContent, order_document
from estimates.domain.orders.difference import ChangedArea, ChangedLine
from estimates.models import ChangeDraft, ChangeLine, ChangeLink, ChangeOffer
from estimates.services.orders.offers import word_of
from jobs.domain.documents import digest
from jobs.domain.link_token import token_hash
from jobs.models import Job, StoredFile
from jobs.services.files import store_file
from jobs.services.records import freeze
from jobs.services.scope import freeze_scope


def a_change_order() -> OrderContent:
    """Change order 2 of job 7, sent to be agreed on: two cartons and a carpenter's hour."""
    cartons = ChangedLine(
        place="Den",
        label="Flooring, Oak",
        unit="carton",
        before=Decimal(6),
        after=Decimal(8),
        amount_before=Decimal("537.60"),
        amount_after=Decimal("716.80"),
    )
    shelf = ChangedLine(
        place="",
        label="Take the shelf down",
        unit="h",
        before=Decimal(0),
        after=Decimal(1),
        amount_before=Decimal(0),
        amount_after=Decimal("71.68"),
        beside=True,
    )
    return OrderContent(
        number=2,
        job_number=7,
        title="Den",
        currency="USD",
        changes=("Changed: Flooring (Oak, Den), from 6 cartons to 8 cartons.",),
        scope_before_sha256=digest("before"),
        scope_sha256=digest("after"),
        estimate_sha256=digest("estimate"),
        difference=Decimal("250.88"),
        tax_difference=Decimal("14.78"),
        agreed_price=Decimal("1502.00"),
        amount=Decimal("250.88"),
        agreed_by="",
        agreed_on=None,
        what="Cover the closet and take its shelf down.",
        why="The closet is to be covered, too.",
        asked_by="Ines Okafor",
        noted_on="2027-03-09",
        order_number="PO 88",
        payer="Alder Flooring Store",
        client="Ines Okafor",
        photo_sha256="",
        lines=(cartons, shelf),
        areas=(ChangedArea(place="Den", before=Decimal("120.00"), after=Decimal("131.50")),),
        notes=("At today's price, since there was none on February 26, 2027: Pad.",),
        priced_as_of="2027-02-26",
        issued_on=date(2027, 3, 9),
        tax=Decimal("14.78"),
        total_before=Decimal("1556.45"),
    )


def make_change(job: Job, *, number: int = 2, photo: StoredFile | None = None) -> ChangeOffer:
    """Return a change that was sent with its link, of one line; its file is no real PDF."""
    draft = ChangeDraft.objects.create(
        job=job, text="Take the shelf down", noted_on=date(2027, 3, 9), photo=photo
    )
    hour = {"label": "Take the shelf down", "quantity": Decimal(1), "unit": "h"}
    ChangeLine.objects.create(draft=draft, kind="hours", **hour)
    fields = order_document(replace(a_change_order(), number=number))
    pdf = store_file(
        company=job.company,
        content=f"change of job {job.pk}".encode(),
        name="change-order.pdf",
        content_type="application/pdf",
    )
    offer = ChangeOffer.objects.create(
        job=job,
        draft=draft,
        number=number,
        scope=freeze_scope(job=job, user=None),
        document=freeze(company=job.company, kind="change-order", content=fields, user=None),
        pdf=pdf,
        amount=Decimal("250.88"),
        tax=Decimal("14.78"),
        valid_until=date(2099, 1, 1),
    )
    link = ChangeLink.objects.create(offer=offer, token_hash="")
    link.token_hash = token_hash(word_of(link))
    link.save()
    return offer
