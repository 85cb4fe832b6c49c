"""An estimate as it is stored: a priced scope as a document, and back."""

from __future__ import annotations

from estimates.domain.priced import Priced
from jobs.domain.documents import plain, restore
from jobs.domain.formats import DocumentForm, Fields


def _without_basis(fields: Fields) -> Fields:
    """An estimate of format 1: nothing was added to it, and it did not keep its prices."""
    unknown = {"days_on_site": None, "contribution_per_day": None, "basis": None}
    return fields | {"added_cost": "0"} | unknown


def _since_2(fields: Fields) -> Fields:
    """An estimate of format 2: nobody but the client paid."""
    return fields | {"payer": None}


ESTIMATE = DocumentForm(kind="estimate", word="priced", upgrades=(_without_basis, _since_2))


def estimate_document(priced: Priced) -> Fields:
    """Return the priced scope as a document, ready for `canonical_json`."""
    return {**ESTIMATE.head, **plain(priced)}


def priced_from(fields: Fields) -> Priced:
    """Return the priced scope that the fields of an estimate are. Raises BadValueError."""
    return restore(Priced, fields, "priced")
