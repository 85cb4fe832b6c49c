"""What a margin review is made from, and what it says: plain values."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimates.domain.price_book import require_day
from jobs.domain.checks import ZERO, require_choice, require_number, require_text
from jobs.domain.documents import stored

PurchaseKind = Literal["bought", "returned", "attic", "kept"]
"""Bought for the job; returned for a credit; left in the attic; kept by us for another job."""
PURCHASE_KINDS: tuple[PurchaseKind, ...] = ("bought", "returned", "attic", "kept")


@dataclass(frozen=True, kw_only=True, slots=True)
class Logged:
    """One entry of a day's log: man-hours on a task, rows laid, planks spoiled with the reason.

    `lost`: on a day that was lost; `callback`: after the job was closed.
    """

    task_code: str
    hours: Decimal
    day: str
    zone: str = ""
    spoiled: int = 0
    spoil_reason: str = ""
    callback: bool = False
    lost: bool = False
    rows: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        """Refuse hours below 0 or above 24 and planks spoiled without a reason."""
        require_text("logged.task_code", self.task_code)
        require_day("logged.day", self.day)
        require_number(f"logged {self.task_code}.hours", self.hours, least=0, most=24)
        require_number(f"logged {self.task_code}.spoiled", self.spoiled, least=0)
        if self.spoiled:
            require_text(f"logged {self.task_code}.spoil_reason", self.spoil_reason)


@dataclass(frozen=True, kw_only=True, slots=True)
class Bought:
    """One purchase for the job: `paid` in all, tax included where the installer bears it.

    `kind` says what became of it; of what was returned `paid` is the credit.
    """

    code: str
    label: str
    quantity: Decimal
    unit: str
    paid: Decimal
    kind: PurchaseKind = "bought"

    def __post_init__(self) -> None:
        """Refuse a purchase of nothing; money back is a negative `paid`."""
        require_text("bought.code", self.code)
        require_text(f"bought {self.code}.label", self.label)
        require_text(f"bought {self.code}.unit", self.unit)
        require_number(f"bought {self.code}.quantity", self.quantity, above=0)
        require_number(f"bought {self.code}.paid", self.paid)
        require_choice(f"bought {self.code}.kind", self.kind, PURCHASE_KINDS)

    @property
    def cost(self) -> Decimal:
        """What it cost the job: less than nothing for a credit."""
        return -self.paid if self.kind == "returned" else self.paid


@dataclass(frozen=True, kw_only=True, slots=True)
class ReviewTerms:
    """What the review reckons with; `plank_cost` None where the planks' price isn't known.

    `price_changes` is the sum of change orders, before tax like the quoted subtotal.
    `planned_days` are the days on site of the agreed scope, whole and half; 0 where none are known.
    `lost_days` are in words, each with its reason. `extra_hours` are those that change orders
    ordered beside the scope: they are logged as other work.
    """

    burdened_rate: Decimal
    crew_hours_per_day: Decimal
    overhead: Decimal = ZERO
    planned_days: Decimal = ZERO
    price_changes: Decimal = ZERO
    plank_cost: Decimal | None = None
    job: str = "this job"
    lost_days: tuple[str, ...] = ()
    extra_hours: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse rates and days of nought, and negative shares."""
        require_number("review.burdened_rate", self.burdened_rate, above=0)
        require_number("review.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_number("review.overhead", self.overhead, least=0)
        require_number("review.planned_days", self.planned_days, least=0)
        require_number("review.price_changes", self.price_changes)
        require_number("review.extra_hours", self.extra_hours, least=0)
        if self.plank_cost is not None:
            require_number("review.plank_cost", self.plank_cost, least=0)


CauseKind = Literal["changes", "spoiled", "lost", "callback", "to come", "rate"]


@stored("kind text hours amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class Cause:
    """What drove the hours of a task off its estimate: so many hours, and what they cost.

    Hours above nought were more work; an amount below nought is money that they cost.
    """

    kind: CauseKind
    text: str
    hours: Decimal
    amount: Decimal

    @property
    def cost(self) -> Decimal:
        """What the hours cost, with the sign of the hours: more of them cost more."""
        return -self.amount


@stored("code label zone estimated agreed logged cost causes")
@dataclass(frozen=True, kw_only=True, slots=True)
class TaskRow:
    """Hours of one task in one zone: estimated at the quote, agreed since, logged; and its cost.

    The hours of its `causes` sum to what was logged less what was estimated, to the hundredth,
    their amounts to the difference of the costs, to the cent.
    """

    code: str
    label: str
    zone: str
    estimated: Decimal
    agreed: Decimal
    logged: Decimal
    cost: Decimal
    causes: tuple[Cause, ...] = ()

    @property
    def over(self) -> Decimal:
        """Hours logged beyond those agreed; negative where it took less."""
        return self.logged - self.agreed


@stored(
    "code label unit estimated agreed bought returned left wasted",
    "estimated_cost agreed_cost paid credit",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class MaterialRow:
    """One material: amounts and money as quoted, as agreed, as bought and as it came back.

    `left` stays in the attic or with us; `wasted` is what was used beyond what the work takes.
    `bought` is None where something was bought in another unit than it was counted in; then
    nothing is known of what was wasted. `paid` is less the `credit` of what was returned.
    """

    code: str
    label: str
    unit: str
    estimated: Decimal
    agreed: Decimal
    bought: Decimal | None
    returned: Decimal
    left: Decimal
    wasted: Decimal | None
    estimated_cost: Decimal
    agreed_cost: Decimal
    paid: Decimal
    credit: Decimal

    @property
    def over(self) -> Decimal:
        """Money paid beyond what was agreed; negative where it cost less."""
        return self.paid - self.agreed_cost


@stored(
    "price material labor allowances overhead profit margin hours days_on_site contribution",
    "contribution_per_day",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class Money:
    """One side of the comparison: price, what it cost, what it left.

    `contribution` is price less material and labor, as in the priced scope. `days_on_site` are
    whole and half days, as booked before and as worked after; None where nobody knows them.
    """

    price: Decimal
    material: Decimal
    labor: Decimal
    allowances: Decimal
    overhead: Decimal
    profit: Decimal
    margin: Decimal | None
    hours: Decimal
    days_on_site: Decimal | None
    contribution: Decimal
    contribution_per_day: Decimal | None

    @property
    def cost(self) -> Decimal:
        """All cost, overhead included."""
        return self.material + self.labor + self.allowances + self.overhead


WITHIN = {"spoiled": "in the material bought", "callback": "in the hours logged"}
"""Reasons that are a part of others: planks spoiled were bought, callbacks are logged as hours."""


@stored("code text amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """Why the margin differs: in words, and in money (negative: it cost; None: not in money)."""

    code: str
    text: str
    amount: Decimal | None

    @property
    def within(self) -> str:
        """What its money is in already, said by another line; empty where it stands for itself."""
        return WITHIN.get(self.code, "")


@stored("day days_on_site planned earned spent contribution contribution_per_day")
@dataclass(frozen=True, kw_only=True, slots=True)
class DayReached:
    """Where the work stood at the end of a day on site: man-hours planned, earned and spent.

    In the terms of ANSI/EIA-748, from memory: the budgeted cost of work scheduled, of work
    performed, and the actual cost of work performed, all in hours here. `contribution` is what was
    earned of the price until then less what was spent on it.
    """

    day: str
    days_on_site: Decimal
    planned: Decimal | None
    earned: Decimal
    spent: Decimal
    contribution: Decimal
    contribution_per_day: Decimal | None

    @property
    def ahead(self) -> Decimal:
        """Hours that the work cost less than it should: its cost variance; below nought more."""
        return self.earned - self.spent

    @property
    def ahead_of_days(self) -> Decimal | None:
        """Hours of work done beyond what the days had planned: its schedule variance."""
        return None if self.planned is None else self.earned - self.planned

    @property
    def pace(self) -> Decimal | None:
        """Work done for every hour spent: its cost performance index."""
        return self.earned / self.spent if self.spent else None

    def whole(self, budget: Decimal) -> Decimal | None:
        """Return the hours that the whole work takes at this pace: the estimate at completion."""
        return budget / self.pace if self.pace else None


@stored("tasks materials quoted real planks_spoiled bridge reasons reached budget")
@dataclass(frozen=True, kw_only=True, slots=True)
class Review:
    """A closed job: rows by task and by material, both sides of the money, reasons.

    `bridge` leads from the quoted profit to the real one: its amounts sum to the difference.
    `reasons` tell more closely what stands behind it and overlap with it. `reached` says day by day
    what of the agreed hours, the `budget`, was earned and spent.
    """

    tasks: tuple[TaskRow, ...]
    materials: tuple[MaterialRow, ...]
    quoted: Money
    real: Money
    planks_spoiled: int
    bridge: tuple[Reason, ...]
    reasons: tuple[Reason, ...]
    reached: tuple[DayReached, ...] = ()
    budget: Decimal = ZERO
