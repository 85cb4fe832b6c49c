"""A review as it is frozen when its job is closed: with the notes of the crew by task."""

from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.review.values import Review
from jobs.domain.checks import require_text
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields

CLOSED_REVIEW = DocumentForm(kind="review", word="review")


@stored("task zone text")
@dataclass(frozen=True, kw_only=True, slots=True)
class TaskNote:
    """What the crew wrote of one task in one zone."""

    task: str
    zone: str
    text: str


@stored("reason planks")
@dataclass(frozen=True, kw_only=True, slots=True)
class SpoiledFor:
    """Planks spoiled for one reason."""

    reason: str
    planks: int


@stored("closed_on burdened_rate review notes spoiled")
@dataclass(frozen=True, kw_only=True, slots=True)
class ClosedContent:
    """The review of a job as it stood when it was closed, and what an hour cost."""

    closed_on: str
    burdened_rate: Decimal
    review: Review
    notes: tuple[TaskNote, ...] = ()
    spoiled: tuple[SpoiledFor, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a review without a day."""
        require_text("review.closed_on", self.closed_on)


def closed_document(content: ClosedContent) -> Fields:
    """Return a frozen review as a document."""
    return {**CLOSED_REVIEW.head, **plain(content)}


def closed_from(fields: Fields) -> ClosedContent:
    """Return the frozen review that the fields of a document are. Raises BadValueError."""
    return restore(ClosedContent, dict(fields), "review")
