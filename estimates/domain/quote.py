"""A quote as it is stored, and back. What stands on it is in `estimates.domain.quotes`. Pure."""

from __future__ import annotations

from datetime import date

from estimates.domain.quotes.content import IssuedQuote
from estimates.domain.quotes.older import upgraded, with_start_week
from jobs.domain.documents import plain, restore
from jobs.domain.formats import DocumentForm, Fields, adding

QUOTE = DocumentForm(
    kind="quote", word="quote", upgrades=(adding("tax_note", ""), upgraded, with_start_week)
)

_DAYS = ("issued_on", "valid_until")
_DAYS_TO_CANCEL = ("signed_on", "cancel_by")


def quote_document(content: IssuedQuote) -> Fields:
    """Return the content of a quote as a document, ready for `canonical_json`."""
    return {**QUOTE.head, **plain(content)}


def quote_from(fields: Fields) -> IssuedQuote:
    """Return what the fields of a stored quote say. Raises BadValueError."""
    read = fields | _dates(fields, _DAYS)
    if fields["start_week"] is not None:
        read["start_week"] = date.fromisoformat(fields["start_week"])
    if fields["cancel"] is not None:
        read["cancel"] = fields["cancel"] | _dates(fields["cancel"], _DAYS_TO_CANCEL)
    return restore(IssuedQuote, read, "quote")


def _dates(fields: Fields, names: tuple[str, ...]) -> Fields:
    return {name: date.fromisoformat(fields[name]) for name in names}
