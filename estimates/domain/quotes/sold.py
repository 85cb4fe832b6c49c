"""What a quote is made from: rooms and floors as sold, the ways that are priced, terms. Values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.priced import Priced
from estimates.domain.quotes.content import (
    CancelRight,
    Detail,
    LeadReceipt,
    Letterhead,
    QuotePhoto,
    QuoteSection,
)
from jobs.domain.checks import ZERO
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import LevelChange


@dataclass(frozen=True, kw_only=True, slots=True)
class SoldRoom:
    """A room that gets a floor: its name, the floor it is of, its size."""

    name: str
    floor: str
    area_ft2: Decimal

    def holds(self, place: str) -> bool:
        """Whether a place that something was counted at is this room, or a doorway of it."""
        return place == self.name or place.startswith(f"{self.name}, wall ")


@dataclass(frozen=True, kw_only=True, slots=True)
class SoldFloor:
    """What is laid: the product in words, its sizes in inches, what lies under it."""

    product: str
    core: str
    thickness_in: Decimal
    width_in: Decimal
    length_in: Decimal
    attached_pad: bool
    pad: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class PricedChoice:
    """The whole job done one way, priced; `way` names what it does otherwise, empty for nothing.

    `floors`: what is laid then; `steps`: where floors meet at different heights then.
    """

    key: str
    way: str
    name: str
    text: str
    scope: FrozenScope
    priced: Priced
    scope_sha256: str = ""
    estimate_sha256: str = ""
    floors: tuple[SoldFloor, ...] = ()
    steps: tuple[LevelChange, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class DepositTerms:
    """What is asked before the work: a part of the price in percent, the caps on it."""

    percent: Decimal
    cap: Decimal | None = None
    state: str = ""
    adds_special_order: bool = False
    special_order: Decimal = ZERO


@dataclass(frozen=True, kw_only=True, slots=True)
class SaleTerms:
    """What goes with the price; texts are the company's own, by line or paragraph.

    `progress` is a percentage of the total, asked for when work has begun; 0: there are but two
    payments. `retainage` is the part of one that a payer holds back.
    """

    issued_on: date
    valid_days: int
    deposit: DepositTerms
    progress: Decimal = ZERO
    retainage: Decimal = ZERO
    payment_ways: str = ""
    payer_words: str = ""
    late_fee: str = ""
    warranty_months: int = 0
    warranty: str = ""
    changes: str = ""
    terms: str = ""
    exclusions: str = ""
    notices: tuple[QuoteSection, ...] = ()

    @property
    def valid_until(self) -> date:
        """The last day on which the quote may be accepted."""
        return self.issued_on + timedelta(days=self.valid_days)


@dataclass(frozen=True, kw_only=True, slots=True)
class Addressed:
    """Whom and what a quote is for, and how it is numbered."""

    number: int
    label: str
    job_number: int
    title: str
    letterhead: Letterhead
    client: str
    client_lines: tuple[str, ...]
    site: str
    order_number: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sold:
    """Everything that a quote is made from; the first of `choices` is the job as it is priced."""

    addressed: Addressed
    terms: SaleTerms
    detail: Detail
    rooms: tuple[SoldRoom, ...]
    floors: tuple[SoldFloor, ...]
    choices: tuple[PricedChoice, ...]
    cautions: tuple[QuoteSection, ...] = ()
    photos: tuple[QuotePhoto, ...] = ()
    drawing: str = ""
    drawing_notes: tuple[str, ...] = ()
    cancel: CancelRight | None = None
    lead: LeadReceipt | None = None
    color: str = ""
    sample_on: date | None = None
    start_week: date | None = None
    days_note: str = ""
    arrives: str = ""
    system: str = "imperial"

    @property
    def plain(self) -> PricedChoice:
        """The job as it is priced."""
        return self.choices[0]
