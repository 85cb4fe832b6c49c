"""Labor saved against dearer material: one way to do a floor held against another.

*Labor saved per square foot* decides between a pad that is attached and one that isn't, between
wide boards and narrow ones, between laying over and tearing out. It is reckoned twice: by the
hour, and only where a half day or a trip goes, since hours saved inside a half day earn nothing.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Literal

from estimates.domain.money import cents
from estimates.domain.priced import Priced
from jobs.domain.checks import ZERO, BadValueError, require_number, require_text
from jobs.domain.scope.scope import FrozenScope

Pays = Literal["above", "below", "always", "never", "same"]
"""When an option costs less: above or below a labor rate, at any, at none; or both cost alike."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One way to do a floor: area, man-hours, days on site as booked, trips, material in money.

    `days` are whole and half days; None where the work can't be laid onto days.
    """

    name: str
    area_ft2: Decimal
    hours: Decimal
    material_cost: Decimal
    days: Decimal | None = None
    trips: int = 0

    def __post_init__(self) -> None:
        """Refuse an option without name or area, and negative figures."""
        require_text("option.name", self.name)
        require_number(f"option {self.name}.area_ft2", self.area_ft2, above=0)
        require_number(f"option {self.name}.hours", self.hours, least=0)
        require_number(f"option {self.name}.material_cost", self.material_cost, least=0)
        require_number(f"option {self.name}.trips", self.trips, least=0)
        if self.days is not None:
            require_number(f"option {self.name}.days", self.days, least=0)

    @property
    def material_per_ft2(self) -> Decimal:
        """Material by the square foot laid, in cents."""
        return cents(self.material_cost / self.area_ft2)


@dataclass(frozen=True, kw_only=True, slots=True)
class Labor:
    """What labor costs here: an hour of one person, a crew's man-hours a day and those of a drive.

    `trip_hours` are the man-hours of the whole crew that one trip takes.
    """

    burdened_rate: Decimal
    crew_hours_per_day: Decimal
    trip_hours: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse rates and days of nought."""
        require_number("labor.burdened_rate", self.burdened_rate, above=0)
        require_number("labor.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_number("labor.trip_hours", self.trip_hours, least=0)

    def half_days(self, option: Option) -> int:
        """Return the half days that are booked for an option; unbooked, those that it fills."""
        halves = option.hours / self.crew_hours_per_day if option.days is None else option.days
        return int((halves * 2).to_integral_value(ROUND_CEILING))

    def cost(self, option: Option) -> Decimal:
        """Return what the hours of an option cost."""
        return cents(option.hours * self.burdened_rate)

    def cost_per_ft2(self, option: Option) -> Decimal:
        """Return what the hours of an option cost by the square foot laid."""
        return cents(self.cost(option) / option.area_ft2)


@dataclass(frozen=True, kw_only=True, slots=True)
class Saving:
    """What an option saves against another; negative where it costs more.

    `worth_by_the_hour` takes every hour at the burdened rate; `worth_in_half_days` only half days
    and trips that fall away whole. Both are before the dearer material, both gains after it.
    """

    area_ft2: Decimal
    hours_saved: Decimal
    half_days_saved: int
    trips_saved: int
    worth_by_the_hour: Decimal
    worth_in_half_days: Decimal
    dearer_material: Decimal

    @property
    def gain_by_the_hour(self) -> Decimal:
        """What remains of the labor saved, hour by hour, after the dearer material."""
        return self.worth_by_the_hour - self.dearer_material

    @property
    def gain_in_half_days(self) -> Decimal:
        """What remains of the half days and trips saved after the dearer material."""
        return self.worth_in_half_days - self.dearer_material

    @property
    def days_saved(self) -> Decimal:
        """The half days that fall away, in days."""
        return Decimal(self.half_days_saved) / 2

    def by_ft2(self, amount: Decimal) -> Decimal:
        """Return an amount by the square foot laid, in cents."""
        return cents(amount / self.area_ft2)

    @property
    def break_even_rate(self) -> Decimal | None:
        """The cost of an hour of labor at which both ways cost the same; None where there is none.

        material + rate x hours is the same on both sides: rate = dearer material / hours saved.
        """
        if not self.hours_saved or self.dearer_material / self.hours_saved <= 0:
            return None
        return cents(self.dearer_material / self.hours_saved)

    @property
    def pays(self) -> Pays:
        """Whether the option costs less above or below the break-even rate, always or never."""
        if self.break_even_rate is not None:
            return "above" if self.hours_saved > 0 else "below"
        if not self.hours_saved and not self.dearer_material:
            return "same"
        return "always" if self.hours_saved >= 0 and self.dearer_material <= 0 else "never"


def option_of(name: str, scope: FrozenScope, priced: Priced) -> Option:
    """Return a priced scope as an option; its material bears the tax that the installer pays."""
    trips = sum(int(entry.amount) for entry in scope.quantities if entry.code == "trips")
    return Option(
        name=name,
        area_ft2=scope.area_ft2,
        hours=priced.hours,
        material_cost=priced.material_cost + priced.added_cost + priced.use_tax,
        days=priced.days_on_site,
        trips=trips,
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
    half_days = labor.half_days(base) - labor.half_days(option)
    trips = base.trips - option.trips
    ended = half_days * labor.crew_hours_per_day / 2
    ended += _trips_alone(trips, half_days) * labor.trip_hours
    return Saving(
        area_ft2=base.area_ft2,
        hours_saved=hours,
        half_days_saved=half_days,
        trips_saved=trips,
        worth_by_the_hour=cents(hours * labor.burdened_rate),
        worth_in_half_days=cents(ended * labor.burdened_rate),
        dearer_material=option.material_cost - base.material_cost,
    )


def _trips_alone(trips: int, half_days: int) -> int:
    """Return the trips that go without a half day: the drive of the others lies in theirs."""
    if trips * half_days <= 0:
        return trips
    beyond = max(abs(trips) - abs(half_days), 0)
    return beyond if trips > 0 else -beyond
