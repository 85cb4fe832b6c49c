"""What a floor passport told when: the one reader of its documents."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from estimates.domain.passport.changes import changes_since
from estimates.domain.passport.content import PASSPORT, PassportContent, passport_from
from estimates.models import FloorPassport, PassportEdition
from jobs.domain.formats import BrokenDocumentError
from jobs.readers.documents import opened


@dataclass(frozen=True, kw_only=True, slots=True)
class LaterEntry:
    """What was told otherwise from a day on: in words, and what the office said of it."""

    number: int
    frozen_on: date
    lines: tuple[str, ...]
    note: str


def stored_passport(edition: PassportEdition) -> PassportContent:
    """Return what an edition tells. Raises BrokenDocumentError where it can't be read."""
    return opened(edition.document, PASSPORT, passport_from)


def editions_of(passport: FloorPassport) -> list[PassportEdition]:
    """Return the editions of a passport, the first one first."""
    return list(passport.editions.select_related("document"))


def as_handed_over(editions: list[PassportEdition]) -> PassportEdition | None:
    """Return the edition of the hand-over; the newest while there was none; None without any."""
    first = next((one for one in editions if one.handed_over), None)
    return first or (editions[-1] if editions else None)


def later_entries(editions: list[PassportEdition]) -> tuple[LaterEntry, ...]:
    """Return what was told otherwise after the hand-over, each beside what stood before it."""
    base = as_handed_over(editions)
    rows = [one for one in editions if base is not None and one.number >= base.number]
    entries = []
    for before, row in pairwise(rows):
        now = stored_passport(row)
        lines = _lines(before, now)
        frozen_on = date.fromisoformat(now.frozen_on)
        entries.append(
            LaterEntry(number=row.number, frozen_on=frozen_on, lines=lines, note=row.note)
        )
    return tuple(entries)


def _lines(before: PassportEdition, now: PassportContent) -> tuple[str, ...]:
    try:
        return changes_since(stored_passport(before), now)
    except BrokenDocumentError:
        return ("What stood before can't be read any more.",)
