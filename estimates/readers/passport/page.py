"""The whole floor passport of a job: floors, readings, warranty, whom to call, what came later."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimates.domain.quotes.content import Letterhead
from estimates.models import FloorPassport, PassportEdition
from estimates.readers.passport.editions import (
    LaterEntry,
    as_handed_over,
    editions_of,
    later_entries,
    stored_passport,
)
from estimates.readers.passport.floors import PassportFloor, floors_of
from estimates.readers.setup.sales import letterhead_of


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportReading:
    """A moisture reading in words."""

    method: str
    value: str
    where: str
    on: date | None


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportPage:
    """All that a homeowner reads of a floor. ``since``: when it was done; None while it is not.

    ``number``: which edition this is, ``first`` that of the hand-over, ``later`` what came after.
    """

    letterhead: Letterhead
    number: int
    first: int
    frozen_on: date
    site: str
    floors: tuple[PassportFloor, ...]
    readings: tuple[PassportReading, ...]
    warranty: str
    since: date | None
    later: tuple[LaterEntry, ...]


def passport_page(passport: FloorPassport, number: int = 0) -> PassportPage | None:
    """Return what the passport of a job told when it was handed over, or in a later edition.

    None where it has no such edition. Raises BrokenDocumentError where one can't be read.
    """
    editions = editions_of(passport)
    first = as_handed_over(editions)
    row = first if number == 0 else _later(editions, first, number)
    if row is None or first is None:
        return None
    content = stored_passport(row)
    company = passport.job.company
    return PassportPage(
        letterhead=letterhead_of(company),
        number=row.number,
        first=first.number,
        frozen_on=date.fromisoformat(content.frozen_on),
        site=content.site,
        floors=floors_of(content, company),
        readings=tuple(
            PassportReading(
                method=one.method, value=one.value, where=one.where, on=_day(one.read_on)
            )
            for one in content.readings
        ),
        warranty=content.warranty,
        since=_day(content.done_on),
        later=later_entries(editions),
    )


def _later(
    editions: list[PassportEdition], first: PassportEdition | None, number: int
) -> PassportEdition | None:
    since = first.number if first else 0
    return next((one for one in editions if one.number == number >= since), None)


def _day(text: str) -> date | None:
    return date.fromisoformat(text) if text else None
