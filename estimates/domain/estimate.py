"""An estimate as it is stored: a priced scope as a document, and back."""

from __future__ import annotations

from estimates.domain.priced import Priced
from jobs.domain.documents import plain, restore
from jobs.domain.formats import DocumentForm, Fields

ESTIMATE = DocumentForm(kind="estimate", word="priced")


def estimate_document(priced: Priced) -> Fields:
    """Return the priced scope as a document, ready for `canonical_json`."""
    return {**ESTIMATE.head, **plain(priced)}


def priced_from(fields: Fields) -> Priced:
    """Return the priced scope that the fields of an estimate are. Raises BadValueError."""
    return restore(Priced, fields, "priced")
