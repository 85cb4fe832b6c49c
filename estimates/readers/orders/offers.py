"""How a change order that was sent stands, and what was sent of a draft."""

from __future__ import annotations

from datetime import date
from typing import Literal

from estimates.models import ChangeAnswer, ChangeDraft, ChangeOffer
from estimates.readers.orders.agreed import agreed_totals
from estimates.readers.orders.stored import stored_order
from jobs.models import Job

OfferState = Literal["sent", "accepted", "declined", "withdrawn", "expired", "overtaken"]


def offer_state(offer: ChangeOffer, today: date) -> OfferState:
    """Return how a change order that was sent stands."""
    if offer.answer:
        return "accepted" if offer.answer == ChangeAnswer.ACCEPTED else "declined"
    if offer.withdrawn_at:
        return "withdrawn"
    if today > offer.valid_until:
        return "expired"
    return "overtaken" if is_overtaken(offer, offer.job) else "sent"


def is_overtaken(offer: ChangeOffer, job: Job) -> bool:
    """Whether another change was agreed on since it was sent, so that its totals are no longer so.

    Raises BrokenDocumentError where it can't be read.
    """
    content, agreed, totals = stored_order(offer), job.agreed_scope, agreed_totals(job)
    if agreed is None or totals is None:
        return True
    before = (content.scope_before_sha256, content.agreed_price)
    return before != (agreed.document.sha256, totals.subtotal)


def draft_state(draft: ChangeDraft, today: date) -> str:
    """Return how a draft stands: as what was sent of it last, else it is a draft."""
    if draft.dropped_at is not None:
        return "dropped"
    newest = draft.offers.select_related("document", "job__agreed_scope__document").first()
    return "draft" if newest is None else offer_state(newest, today)
