"""The whole floor passport of a job: floors, readings, warranty and whom to call."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimates.domain.quotes.content import Letterhead
from estimates.models import FloorPassport
from estimates.readers.passport.floors import PassportFloor, passport_floors
from estimates.readers.quote import acceptance_of, stored_quote
from estimates.readers.setup.sales import letterhead_of
from jobs.clock import day_of
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.site.moisture import METHODS, Reading, readings_of
from jobs.models import Job, SiteFacts


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportReading:
    """A moisture reading in words."""

    method: str
    value: str
    where: str
    on: date | None


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportPage:
    """All that a homeowner reads of a floor. ``since``: when it was done; None while it is not."""

    letterhead: Letterhead
    site: str
    floors: tuple[PassportFloor, ...]
    readings: tuple[PassportReading, ...]
    warranty: str
    since: date | None


def passport_page(passport: FloorPassport) -> PassportPage:
    """Return what the passport of a job tells as things stand."""
    job = passport.job
    slip = job.completion_slips.order_by("signed_at").first()
    done_at = slip.signed_at if slip else job.closed_at
    return PassportPage(
        letterhead=letterhead_of(job.company),
        site=job.address,
        floors=passport_floors(job),
        readings=_readings(job),
        warranty=_warranty(job),
        since=day_of(done_at, job.company) if done_at else None,
    )


def _readings(job: Job) -> tuple[PassportReading, ...]:
    row = SiteFacts.objects.filter(job=job).first()
    return tuple(_in_words(reading) for reading in readings_of(row.readings)) if row else ()


def _in_words(reading: Reading) -> PassportReading:
    method = METHODS[reading.method]
    value = f"{reading.value.normalize():f}"
    space = "" if method.unit == "%" else " "
    return PassportReading(
        method=f"{method.label}, {method.standard}" if method.standard else method.label,
        value=f"{value}{space}{method.unit}".strip(),
        where=reading.where,
        on=reading.on,
    )


def _warranty(job: Job) -> str:
    """Return the warranty as the accepted quote promised it; empty where none was."""
    accepted = acceptance_of(job)
    if accepted is None:
        return ""
    try:
        return stored_quote(accepted.quote).warranty
    except BrokenDocumentError:
        return ""
