"""The options of a job: the floor as planned with other materials, priced by today's book.

Only what can be counted from the plan that stands is offered: a pad attached or apart, base put
back or new. Another product would need another plan; its floor is drawn and planned for that.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.options import (
    ClientShare,
    Labor,
    Saving,
    client_shares,
    labor_saved,
    option_of,
)
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import Priced, unpriced
from estimates.domain.pricing import price_scope
from estimates.readers.prices import book_and_terms
from jobs.domain.checks import ZERO
from jobs.domain.scope.inputs import BaseTreatment, JobTake, Roll
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job
from jobs.readers.scope import PAD
from jobs.readers.site import cleared_holds
from jobs.services.scope import work_out

Otherwise = Callable[[JobTake], JobTake]
_PUT_ON = ("reinstall", "replace")


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """One question: what the second answer saves against the first, or what has no price.

    `boards_differ` where the answers come with other boards, whose own price is not known here.
    """

    title: str
    first: str
    second: str
    saving: Saving | None
    price_difference: Decimal
    area_ft2: Decimal
    faults: tuple[str, ...] = ()
    boards_differ: bool = False

    @property
    def worth_per_ft2_by_the_hour(self) -> Decimal:
        """Labor and material saved a square foot, every hour counted."""
        return ZERO if self.saving is None else cents(self.saving.gain_by_the_hour / self.area_ft2)

    @property
    def worth_per_ft2_in_half_days(self) -> Decimal:
        """The same where only half days that fall away whole count."""
        if self.saving is None:
            return ZERO
        return cents(self.saving.gain_in_half_days / self.area_ft2)


@dataclass(frozen=True, kw_only=True, slots=True)
class Options:
    """Everything that is offered for a job, and the hours that it is measured against."""

    choices: tuple[Choice, ...]
    shares: tuple[ClientShare, ...]
    labor: Labor
    hours: Decimal
    total: Decimal


def options_of(job: Job, today: date) -> Options:
    """Return the options of ``job`` as planned and priced now.

    Raises:
        BadValueError: there is no planned floor, or a rate is missing.
    """
    book, terms = book_and_terms(job, today)
    scope = work_out(job)
    priced = price_scope(scope, book, terms)
    labor = Labor(
        burdened_rate=book.burdened_rate, crew_hours_per_day=Decimal(job.company.crew_day_hours)
    )
    compared = _Compared(job=job, book=book, terms=terms, labor=labor)
    bases = any(entry.code == "base_on" for entry in scope.quantities)
    return Options(
        choices=(compared.pads(), *([compared.bases()] if bases else [])),
        shares=client_shares(scope, book, terms, cleared=cleared_holds(job)),
        labor=labor,
        hours=priced.hours,
        total=priced.total,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Compared:
    """A job counted and priced in two ways."""

    job: Job
    book: PriceBook
    terms: PricingTerms
    labor: Labor

    def pads(self) -> Choice:
        """A pad apart against one that is attached to the boards."""
        return self._choice(
            title="Pad apart, or attached to the boards",
            first=("Pad apart", _pad_apart),
            second=("Pad attached", _pad_attached),
            boards_differ=True,
        )

    def bases(self) -> Choice:
        """New base against the old one put back, in the rooms where base is put on."""
        return self._choice(
            title="New base, or the old one put back",
            first=("New base", lambda takes: _base_as(takes, "replace")),
            second=("Base put back", lambda takes: _base_as(takes, "reinstall")),
        )

    def _choice(
        self,
        *,
        title: str,
        first: tuple[str, Otherwise],
        second: tuple[str, Otherwise],
        boards_differ: bool = False,
    ) -> Choice:
        (scope, one), (other, two) = self._priced(first[1]), self._priced(second[1])
        faults = unpriced(one, two)
        saving = None
        if not faults:
            base, option = option_of(first[0], scope, one), option_of(second[0], other, two)
            saving = labor_saved(base, option, self.labor)
        return Choice(
            title=title,
            first=first[0],
            second=second[0],
            saving=saving,
            price_difference=two.total - one.total,
            area_ft2=scope.area_ft2,
            faults=faults,
            boards_differ=boards_differ,
        )

    def _priced(self, otherwise: Otherwise) -> tuple[FrozenScope, Priced]:
        scope = work_out(self.job, otherwise=otherwise)
        return scope, price_scope(scope, self.book, self.terms)


def _pad_apart(takes: JobTake) -> JobTake:
    return _with_pad(takes, PAD)


def _pad_attached(takes: JobTake) -> JobTake:
    return _with_pad(takes, None)


def _with_pad(takes: JobTake, pad: Roll | None) -> JobTake:
    """The job on this pad apart; with None its boards have theirs attached."""
    zones = tuple(
        replace(zone, product=replace(zone.product, attached_pad=pad is None, pad=pad))
        for zone in takes.zones
    )
    return replace(takes, zones=zones)


def _base_as(takes: JobTake, treatment: BaseTreatment) -> JobTake:
    rooms = tuple(
        replace(room, base_treatment=treatment) if room.base_treatment in _PUT_ON else room
        for room in takes.rooms
    )
    return replace(takes, rooms=rooms)
