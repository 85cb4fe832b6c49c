"""A change order as it is stored: what was agreed, with the digests of what it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.formats import DocumentForm, Fields

CHANGE_ORDER = DocumentForm(kind="change-order", word="change-order")


@dataclass(frozen=True, kw_only=True, slots=True)
class StoredOrder:
    """What is read of a stored change order: its lines, and the estimate it was made from."""

    changes: tuple[str, ...]
    estimate_sha256: str


def order_from(fields: Fields) -> StoredOrder:
    """Return the change order that the fields of a document are."""
    return StoredOrder(
        changes=tuple(str(line) for line in fields["changes"]),
        estimate_sha256=str(fields["estimate_sha256"]),
    )
