"""What stands on a quote that is sent to a homeowner, on paper and on a phone alike. Pure.

Both show these fields and no others, so that they carry the same words. Amounts are whole cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from jobs.domain.checks import ZERO
from jobs.domain.documents import stored

Detail = Literal["whole", "room", "unit"]
"""How the price is told: as one sum, by room, or by the unit for a store or builder."""


@stored("name address phone email license registration insurance logo_sha256")
@dataclass(frozen=True, kw_only=True, slots=True)
class Letterhead:
    """Who sends the quote; what is not known is empty. `logo_sha256`: its picture among files."""

    name: str
    address: tuple[str, ...]
    phone: str
    email: str
    license: str
    registration: str
    insurance: str
    logo_sha256: str


@stored("name floor area_ft2 text amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteRoom:
    """A room: its size, what is done in it in plain words, and its part of the first total.

    `amount` is None where the price is told as one sum.
    """

    name: str
    floor: str
    area_ft2: Decimal
    text: str
    amount: Decimal | None


@stored("label quantity unit each amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteUnit:
    """A line of a price by the unit: so much of it, each at its price."""

    label: str
    quantity: Decimal
    unit: str
    each: Decimal
    amount: Decimal


@stored("label text")
@dataclass(frozen=True, kw_only=True, slots=True)
class ChoiceFact:
    """One consequence of a choice, such as "Doors trimmed": "bathroom door, 1/8 in"."""

    label: str
    text: str


@stored("key name text facts total tax most deposit balance scope_sha256 estimate_sha256")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteChoice:
    """A way to do the whole job: what it is, what follows from it, and what it costs.

    `most` is the most that can be owed without signing again. The price charges every allowance at
    its cap, so the caps are in the total already and `most` is the total: what isn't used comes off
    the bill. `balance` is the total less the deposit.
    """

    key: str
    name: str
    text: str
    facts: tuple[ChoiceFact, ...]
    total: Decimal
    tax: Decimal
    most: Decimal
    deposit: Decimal
    balance: Decimal
    scope_sha256: str
    estimate_sha256: str


@stored("name text each unit units most")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteAllowance:
    """Work that nobody could count: the price of one, how many at most, what that comes to."""

    name: str
    text: str
    each: Decimal
    unit: str
    units: Decimal
    most: Decimal


@stored("title text")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteSection:
    """A heading with what stands under it: a day, a term, a caution, a notice of the state."""

    title: str
    text: str


@stored("name when amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteStage:
    """A payment: what it is, when it is due, and its amount with the first choice."""

    name: str
    when: str
    amount: Decimal


@stored("sha256 caption")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuotePhoto:
    """A photograph among the files, with what it shows."""

    sha256: str
    caption: str


@stored("sentence agreement seller address signed_on cancel_by source")
@dataclass(frozen=True, kw_only=True, slots=True)
class CancelRight:
    """The right to cancel a sale at home: the sentence beside the signature and the notice's facts.

    The dates are those of a signature on `signed_on`; a later one moves both. `source` is the rule
    whose wording is used.
    """

    sentence: str
    agreement: str
    seller: str
    address: tuple[str, ...]
    signed_on: date
    cancel_by: date
    source: str


@stored("firm certificate pamphlet text source")
@dataclass(frozen=True, kw_only=True, slots=True)
class LeadReceipt:
    """What is signed before painted wood of a house built before 1978 is disturbed."""

    firm: str
    certificate: str
    pamphlet: str
    text: str
    source: str


@stored(
    "number job_number title detail currency issued_on valid_until scope_sha256",
    "letterhead client client_lines site order_number floor_words drawing drawing_notes",
    "rooms units choices allowances inclusions exclusions photos days nights clear start",
    "stages payment_words warranty changes cautions terms notices cancel lead",
    "total tax tax_note most deposit changed older label start_week",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class IssuedQuote:
    """Everything that stands on a quote.

    `choices` are one to three, the first is the plain one: `rooms`, `units`, `stages`, `total`,
    `tax`, `most` and `deposit` are its figures. `drawing` is an SVG without numbers of rows.
    `label` is its number in words as the company numbered then; empty in an older form.
    `start_week` is the Monday of the week in which it says that work starts; None: no week.
    `days`, `nights` and `clear` are worded from the schedule of the scope. `changed` says what
    differs from the quote before. `older` are the lines of a quote of an older form, by heading;
    empty in a newer one.
    """

    number: int
    job_number: int
    title: str
    detail: Detail
    currency: str
    issued_on: date
    valid_until: date
    scope_sha256: str
    letterhead: Letterhead
    client: str
    client_lines: tuple[str, ...]
    site: str
    order_number: str
    floor_words: tuple[str, ...]
    drawing: str
    drawing_notes: tuple[str, ...]
    rooms: tuple[QuoteRoom, ...]
    units: tuple[QuoteUnit, ...]
    choices: tuple[QuoteChoice, ...]
    allowances: tuple[QuoteAllowance, ...]
    inclusions: tuple[str, ...]
    exclusions: tuple[str, ...]
    photos: tuple[QuotePhoto, ...]
    days: tuple[QuoteSection, ...]
    nights: tuple[str, ...]
    clear: tuple[str, ...]
    start: str
    stages: tuple[QuoteStage, ...]
    payment_words: str
    warranty: str
    changes: str
    cautions: tuple[QuoteSection, ...]
    terms: tuple[QuoteSection, ...]
    notices: tuple[QuoteSection, ...]
    cancel: CancelRight | None
    lead: LeadReceipt | None
    total: Decimal
    tax: Decimal
    tax_note: str
    most: Decimal
    deposit: Decimal
    changed: tuple[str, ...] = ()
    older: tuple[QuoteSection, ...] = ()
    label: str = ""
    start_week: date | None = None

    @property
    def called(self) -> str:
        """Its number in words."""
        return self.label or f"{self.job_number}-{self.number}"

    @property
    def has_choices(self) -> bool:
        """Whether the homeowner chooses among several."""
        return len(self.choices) > 1

    @property
    def caps(self) -> Decimal:
        """What the caps of all allowances come to; it is in the total."""
        return sum((allowance.most for allowance in self.allowances), ZERO)
