"""The completion slip: the occupant's word that the work is done. It names no price. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.quotes.content import Letterhead
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields

SLIP = DocumentForm(kind="completion-slip", word="completion-slip")

DONE_WORDS = "I have walked through these rooms. The work in them is done, but for what is noted."
"""What the occupant puts a name to."""


@stored("name product area_ft2 rooms")
@dataclass(frozen=True, kw_only=True, slots=True)
class SlipFloor:
    """A floor that was laid: what it is, how much of it, and in which rooms."""

    name: str
    product: str
    area_ft2: Decimal
    rooms: tuple[str, ...]


@stored(
    "number job_number title letterhead site client order_number order_name floors",
    "words open_points signed_by signed_on scope_sha256",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class CompletionWord:
    """What stands on a completion slip. On the paper to be signed by hand `signed_by` is empty.

    `order_number` and `order_name` are those of a payer who isn't the client. `open_points`: what
    the occupant says is still to be done.
    """

    number: int
    job_number: int
    title: str
    letterhead: Letterhead
    site: str
    client: str
    order_number: str
    order_name: str
    floors: tuple[SlipFloor, ...]
    words: str
    open_points: str
    signed_by: str
    signed_on: date
    scope_sha256: str


def slip_document(content: CompletionWord) -> Fields:
    """Return a completion slip as a document, ready for `canonical_json`."""
    return {**SLIP.head, **plain(content)}


def slip_from(fields: Fields) -> CompletionWord:
    """Return what the fields of a stored completion slip say. Raises BadValueError."""
    day = date.fromisoformat(fields["signed_on"])
    return restore(CompletionWord, fields | {"signed_on": day}, "completion-slip")
