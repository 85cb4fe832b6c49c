"""What a margin review is made from, and what it says: plain values."""

from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.price_book import require_day
from jobs.domain.checks import ZERO, require_number, require_text


@dataclass(frozen=True, kw_only=True, slots=True)
class Logged:
    """One entry of a day's log: man-hours on a task, and planks spoiled with the reason."""

    task_code: str
    hours: Decimal
    day: str
    zone: str = ""
    spoiled: int = 0
    spoil_reason: str = ""
    callback: bool = False

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
    """One purchase for the job: `paid` in all, tax included where the installer bears it."""

    code: str
    label: str
    quantity: Decimal
    unit: str
    paid: Decimal

    def __post_init__(self) -> None:
        """Refuse a purchase of nothing; money back is a negative `paid`."""
        require_text("bought.code", self.code)
        require_text(f"bought {self.code}.label", self.label)
        require_text(f"bought {self.code}.unit", self.unit)
        require_number(f"bought {self.code}.quantity", self.quantity, above=0)
        require_number(f"bought {self.code}.paid", self.paid)


@dataclass(frozen=True, kw_only=True, slots=True)
class ReviewTerms:
    """What the review reckons with; `plank_cost` None where the planks' price isn't known.

    `price_changes` is the sum of change orders, before tax like the quoted subtotal.
    `planned_days` are the days on site of the agreed scope, whole and half; 0 where none are known.
    """

    burdened_rate: Decimal
    crew_hours_per_day: Decimal
    overhead: Decimal = ZERO
    planned_days: Decimal = ZERO
    price_changes: Decimal = ZERO
    plank_cost: Decimal | None = None
    job: str = "this job"

    def __post_init__(self) -> None:
        """Refuse rates and days of nought, and negative shares."""
        require_number("review.burdened_rate", self.burdened_rate, above=0)
        require_number("review.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_number("review.overhead", self.overhead, least=0)
        require_number("review.planned_days", self.planned_days, least=0)
        require_number("review.price_changes", self.price_changes)
        if self.plank_cost is not None:
            require_number("review.plank_cost", self.plank_cost, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskRow:
    """Hours of one task in one zone: estimated at the quote, agreed since, logged; and its cost."""

    code: str
    label: str
    zone: str
    estimated: Decimal
    agreed: Decimal
    logged: Decimal
    cost: Decimal

    @property
    def over(self) -> Decimal:
        """Hours logged beyond those agreed; negative where it took less."""
        return self.logged - self.agreed


@dataclass(frozen=True, kw_only=True, slots=True)
class MaterialRow:
    """One material: amounts and money as quoted, as agreed and as bought.

    `bought` is None where something was bought in another unit than it was counted in.
    """

    code: str
    label: str
    unit: str
    estimated: Decimal
    agreed: Decimal
    bought: Decimal | None
    estimated_cost: Decimal
    agreed_cost: Decimal
    paid: Decimal

    @property
    def over(self) -> Decimal:
        """Money paid beyond what was agreed; negative where it cost less."""
        return self.paid - self.agreed_cost


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


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """Why the margin differs: in words, and in money (negative: it cost; None: not in money)."""

    code: str
    text: str
    amount: Decimal | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Review:
    """A closed job: rows by task and by material, both sides of the money, reasons.

    `bridge` leads from the quoted profit to the real one: its amounts sum to the difference.
    `reasons` tell more closely what stands behind it and overlap with it.
    """

    tasks: tuple[TaskRow, ...]
    materials: tuple[MaterialRow, ...]
    quoted: Money
    real: Money
    planks_spoiled: int
    bridge: tuple[Reason, ...]
    reasons: tuple[Reason, ...]
