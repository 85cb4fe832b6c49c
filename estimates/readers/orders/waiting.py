"""What of change orders waits on the office: extra work to be priced, and changes declined."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Q, QuerySet
from django.urls import reverse

from estimates.models import ChangeAnswer, ChangeDraft, ChangeOffer
from jobs.models import Company
from jobs.readers import today
from jobs.readers.today import Waiting

LONGEST_TEXT = 120


def register() -> None:
    """Give the office's first page what waits of change orders."""
    today.register(_drafts)


def _drafts(company: Company) -> Iterator[Waiting]:
    """Yield the drafts that nothing was sent of, and those that were declined."""
    rows = ChangeDraft.objects.filter(
        job__company=company,
        job__archived_at=None,
        job__closed_at=None,
        dropped_at=None,
    ).exclude(offers__in=_standing_offers())
    newest = rows.select_related("job__client").prefetch_related("offers").order_by("-pk")
    for draft in newest[: today.MOST_LINES]:
        offers = list(draft.offers.all())
        declined = bool(offers) and offers[0].answer == ChangeAnswer.DECLINED
        text = draft.text if len(draft.text) <= LONGEST_TEXT else draft.text[:LONGEST_TEXT] + "…"
        words = f"Change order {offers[0].number} is declined" if declined else "To be priced"
        yield Waiting(
            text=f"{words}: “{text}”, job {draft.job.number}, {draft.job.client}",
            url=reverse("change-draft", args=[draft.pk]),
            at=(declined and offers[0].answered_at) or draft.created_at,
            kind="change",
        )


def _standing_offers() -> QuerySet[ChangeOffer]:
    """Return what was sent and is accepted, or still waits for the client's word."""
    standing = Q(answer=ChangeAnswer.ACCEPTED) | Q(answer="", withdrawn_at=None)
    return ChangeOffer.objects.filter(standing)
