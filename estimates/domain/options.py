"""Options: the same floor in other materials, or with work left to the client.

*Labor saved per square foot* decides between a pad that is attached and one that isn't, between
wide boards and narrow ones, between laying over and tearing out. It is shown twice: by the hour,
and only where it ends a half day or a trip sooner, since hours saved inside a half day earn
nothing.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from estimates.domain.money import cents
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from jobs.domain.checks import ZERO, BadValueError, require_number, require_text
from jobs.domain.scope.scope import FrozenScope

CLIENT_TASKS = ("furniture", "tear_out", "dispose", "base_off", "paint", "base", "shoe", "clean")
"""What a client may take on; common practice, no source."""

OPEN_QUESTIONS = frozenset({"asbestos", "lead"})
"""Holds under which nothing is left to the client."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One way to do a floor: its area, its man-hours, and its material in money."""

    name: str
    area_ft2: Decimal
    hours: Decimal
    material_cost: Decimal

    def __post_init__(self) -> None:
        """Refuse an option without name or area, and negative figures."""
        require_text("option.name", self.name)
        require_number(f"option {self.name}.area_ft2", self.area_ft2, above=0)
        require_number(f"option {self.name}.hours", self.hours, least=0)
        require_number(f"option {self.name}.material_cost", self.material_cost, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Labor:
    """What labor costs here: an hour of one person, a crew's man-hours a day, and a trip."""

    burdened_rate: Decimal
    crew_hours_per_day: Decimal
    trip_cost: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse rates and days of nought."""
        require_number("labor.burdened_rate", self.burdened_rate, above=0)
        require_number("labor.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_number("labor.trip_cost", self.trip_cost, least=0)

    def half_days(self, hours: Decimal) -> int:
        """Return the half days of the crew that `hours` fill, begun ones counted whole."""
        return int((hours * 2 / self.crew_hours_per_day).to_integral_value(ROUND_CEILING))

    def days(self, hours: Decimal) -> int:
        """Return the days, and so the trips, that `hours` fill, begun ones counted whole."""
        return int((hours / self.crew_hours_per_day).to_integral_value(ROUND_CEILING))


@dataclass(frozen=True, kw_only=True, slots=True)
class Saving:
    """What `option` saves against `base`; negative where it costs more.

    `worth_by_the_hour` takes every hour at the burdened rate; `worth_in_half_days` only half days
    and trips that fall away whole. Both are before the dearer material, both gains after it.
    """

    hours_saved: Decimal
    half_days_saved: int
    worth_by_the_hour: Decimal
    worth_by_the_hour_per_ft2: Decimal
    worth_in_half_days: Decimal
    worth_in_half_days_per_ft2: Decimal
    dearer_material: Decimal

    @property
    def gain_by_the_hour(self) -> Decimal:
        """What remains of the labor saved, hour by hour, after the dearer material."""
        return self.worth_by_the_hour - self.dearer_material

    @property
    def gain_in_half_days(self) -> Decimal:
        """What remains of the half days and trips saved after the dearer material."""
        return self.worth_in_half_days - self.dearer_material


def option_of(name: str, scope: FrozenScope, priced: Priced) -> Option:
    """Return a priced scope as an option; its material bears the tax that the installer pays."""
    return Option(
        name=name,
        area_ft2=scope.area_ft2,
        hours=priced.hours,
        material_cost=priced.material_cost + priced.added_cost + priced.use_tax,
    )


def labor_saved(base: Option, option: Option, labor: Labor) -> Saving:
    """Return what `option` saves against `base` in labor and costs in material.

    Raises BadValueError where the two are not the same floor (areas apart by more than 1 %).
    """
    if abs(base.area_ft2 - option.area_ft2) > base.area_ft2 / 100:
        raise BadValueError(
            field=f"option {option.name}.area_ft2",
            value=option.area_ft2,
            accepted=f"the same floor, {base.area_ft2} ft2 within 1 %",
        )
    hours = base.hours - option.hours
    half_days = labor.half_days(base.hours) - labor.half_days(option.hours)
    trips = labor.days(base.hours) - labor.days(option.hours)
    by_hour = cents(hours * labor.burdened_rate)
    half_day = labor.crew_hours_per_day / 2 * labor.burdened_rate
    in_half_days = cents(half_days * half_day + trips * labor.trip_cost)
    dearer = option.material_cost - base.material_cost
    return Saving(
        hours_saved=hours,
        half_days_saved=half_days,
        worth_by_the_hour=by_hour,
        worth_by_the_hour_per_ft2=cents(by_hour / base.area_ft2),
        worth_in_half_days=in_half_days,
        worth_in_half_days_per_ft2=cents(in_half_days / base.area_ft2),
        dearer_material=dearer,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class ClientShare:
    """A task that the client could take on: hours and money it saves, or why it may not be."""

    code: str
    label: str
    hours: Decimal
    saves: Decimal
    refused: str = ""


def client_shares(
    scope: FrozenScope, book: PriceBook, terms: PricingTerms, *, cleared: Collection[str] = ()
) -> tuple[ClientShare, ...]:
    """Return what the client could take on, and by how much the total falls for each alone.

    Nothing is left to the client while an asbestos or lead question on it is open.
    """
    whole = price_scope(scope, book, terms).total
    shares: list[ClientShare] = []
    for code in CLIENT_TASKS:
        tasks = [task for task in scope.tasks if task.code == code and task.hours]
        if not tasks or code in terms.left_out:
            continue
        holds = {hold for task in tasks for hold in task.hold_points}
        still_open = sorted((holds & OPEN_QUESTIONS) - set(cleared))
        without = replace(terms, left_out=(*terms.left_out, code))
        saves = ZERO if still_open else whole - price_scope(scope, book, without).total
        shares.append(
            ClientShare(
                code=code,
                label=tasks[0].label,
                hours=sum((task.hours for task in tasks), ZERO),
                saves=saves,
                refused=_open_said(still_open),
            )
        )
    return tuple(shares)


def _open_said(questions: Sequence[str]) -> str:
    return f"not while this is open: {', '.join(questions)}" if questions else ""
