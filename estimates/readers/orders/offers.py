"""How a change order that was sent stands, and what was sent of a draft."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from estimates.models import ChangeAnswer, ChangeDraft, ChangeOffer
from estimates.readers.orders.agreed import agreed_subtotal
from estimates.readers.orders.stored import stored_order
from jobs.models import Job

OfferState = Literal["sent", "accepted", "declined", "withdrawn", "expired", "overtaken"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """What a job is agreed on by now: the digest of its scope, and its price before tax."""

    scope_sha256: str | None
    subtotal: Decimal | None


def standing_of(job: Job) -> Standing:
    """Return what a job is agreed on by now."""
    agreed = job.agreed_scope
    return Standing(
        scope_sha256=None if agreed is None else agreed.document.sha256,
        subtotal=agreed_subtotal(job),
    )


def offer_state(offer: ChangeOffer, today: date, standing: Standing | None = None) -> OfferState:
    """Return how a change order that was sent stands; ``standing``: where it is read already."""
    if offer.answer:
        return "accepted" if offer.answer == ChangeAnswer.ACCEPTED else "declined"
    if offer.withdrawn_at:
        return "withdrawn"
    if today > offer.valid_until:
        return "expired"
    return "overtaken" if is_overtaken(offer, standing or standing_of(offer.job)) else "sent"


def is_overtaken(offer: ChangeOffer, standing: Standing) -> bool:
    """Whether another change was agreed on since it was sent, so that its totals are no longer so.

    Raises BrokenDocumentError where it can't be read.
    """
    content = stored_order(offer)
    then = Standing(scope_sha256=content.scope_before_sha256, subtotal=content.agreed_price)
    return then != standing


def draft_state(draft: ChangeDraft, today: date, standing: Standing | None = None) -> str:
    """Return how a draft stands: as what was sent of it last, else it is a draft."""
    if draft.dropped_at is not None:
        return "dropped"
    offers = list(draft.offers.all())
    return offer_state(offers[0], today, standing) if offers else "draft"
