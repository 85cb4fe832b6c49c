"""A change order as if it had been sent; its file is no real PDF."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.change_order import order_document
from estimates.models import ChangeDraft, ChangeLine, ChangeLink, ChangeOffer
from estimates.services.orders.offers import word_of
from jobs.domain.link_token import token_hash
from jobs.models import Job, StoredFile
from jobs.services.files import store_file
from jobs.services.records import freeze
from jobs.services.scope import freeze_scope
from tests.estimates.kept import a_change_order


def make_change(job: Job, *, number: int = 2, photo: StoredFile | None = None) -> ChangeOffer:
    """Return a change that was sent, of a draft with one line, with its link."""
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
