"""What of change orders waits on the office: extra work to be priced, and words of clients."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Q, QuerySet
from django.urls import reverse

from estimates.models import ChangeAnswer, ChangeDraft, ChangeOffer
from jobs.models import Company, Job
from jobs.readers import today
from jobs.readers.today import Waiting
from jobs.readers.together.keys import KeyList
from jobs.readers.together.round_trip import KindRows, RowKind

LONGEST_TEXT = 120


def _open_drafts(companies: KeyList) -> QuerySet[ChangeDraft]:
    """Return the newest drafts that nothing was sent of, or nothing that still counts."""
    rows = ChangeDraft.objects.filter(
        job__company__in=companies,
        job__archived_at=None,
        job__closed_at=None,
        dropped_at=None,
    ).exclude(offers__in=_standing_offers())
    return rows.order_by("-pk")[: today.MOST_LINES]


def _answered(companies: KeyList) -> QuerySet[ChangeOffer]:
    """Return the newest changes with a client's word that the office has not put aside."""
    rows = ChangeOffer.objects.filter(
        job__company__in=companies, job__archived_at=None, answered_at__isnull=False, noted_at=None
    )
    return rows.order_by("-answered_at")[: today.MOST_LINES]


DRAFTS = RowKind(
    of=lambda companies: ChangeDraft.objects.filter(
        pk__in=_open_drafts(companies).values("pk")
    ).select_related("job__client")
)
ANSWERED = RowKind(
    of=lambda companies: ChangeOffer.objects.filter(
        pk__in=_answered(companies).values("pk")
    ).select_related("job__client", "draft")
)


def register() -> None:
    """Give the office's first page what waits of change orders."""
    today.register(_drafts, of_company=[DRAFTS])
    today.register(_answers, of_company=[ANSWERED])


def _drafts(_: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the drafts that nothing was sent of, or that nothing sent of still counts."""
    for draft in rows[DRAFTS]:
        yield Waiting(
            text=f"To be priced: “{_short(draft.text)}”, {_of_job(draft.job)}",
            url=reverse("change-draft", args=[draft.pk]),
            at=draft.created_at,
            kind="change",
        )


def _answers(_: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the changes with a client's word, until the office puts it aside."""
    for offer in rows[ANSWERED]:
        at = offer.answered_at
        if at is not None:
            yield Waiting(
                text=f"Change order {offer.number} {_word(offer)}, {_of_job(offer.job)}",
                url=reverse("change-offer", args=[offer.pk]),
                at=at,
                kind=f"change-{offer.answer}",
                noted_url=reverse("change-noted", args=[offer.pk]),
            )


def _word(offer: ChangeOffer) -> str:
    if offer.answer == ChangeAnswer.ACCEPTED:
        return f"is accepted by {offer.answered_by}: “{_short(offer.draft.text)}”"
    return f"is declined: “{_short(offer.reason or offer.draft.text)}”"


def _of_job(job: Job) -> str:
    return f"job {job.number}, {job.client}"


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_TEXT else text[:LONGEST_TEXT] + "…"


def _standing_offers() -> QuerySet[ChangeOffer]:
    """Return what was sent and has its word, or still waits for it."""
    return ChangeOffer.objects.filter(~Q(answer="") | Q(withdrawn_at=None))
