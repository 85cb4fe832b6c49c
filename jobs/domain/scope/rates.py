"""Production rates: hours for so many units of work.

A rate belongs to a task and to the quantity that drives it; `item` narrows it to one old floor,
profile or product. The starting rates are common practice without a source: somewhere to begin,
to be edited at once and to be replaced by what the log says.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from jobs.domain.checks import (
    ONE,
    BadValueError,
    require_choice,
    require_number,
    require_text,
)
from jobs.domain.quantities import CATALOG, PRACTICE
from jobs.domain.tasks import TASKS

HOURS_PLACES = Decimal("0.01")
RATE_PLACES = Decimal("0.000001")


@dataclass(frozen=True, kw_only=True, slots=True)
class ProductionRate:
    """`hours` man-hours for `per` units of the driver, with its source and the jobs behind it."""

    task_code: str
    driver: str
    hours: Decimal
    per: Decimal = ONE
    item: str = ""
    source: str = PRACTICE
    jobs: int = 0

    def __post_init__(self) -> None:
        """Refuse a rate of an unknown task, of a driver the task hasn't, or for nought units."""
        require_choice("rate.task_code", self.task_code, TASKS)
        where = f"rate {self.task_code}"
        require_choice(f"{where}.driver", self.driver, TASKS[self.task_code].drivers)
        require_number(f"{where}.hours", self.hours, least=0)
        require_number(f"{where}.per", self.per, above=0)
        require_number(f"{where}.jobs", self.jobs, least=0)
        require_text(f"{where}.source", self.source)

    @property
    def unit(self) -> str:
        """The unit that the driver is counted in."""
        return CATALOG[self.driver].unit


def hours_for(amount: Decimal, rate: ProductionRate, delay_factor: Decimal = ONE) -> Decimal:
    """Return man-hours, not rounded: amount / unit size x man-hours per unit size x delay factor.

    Source: NAVEDTRA 14045, Builder Advanced, ch. 2 (there divided by 8 for man-days).
    """
    return amount / rate.per * rate.hours * delay_factor


def man_days(hours: Decimal) -> Decimal:
    """Return man-days of eight hours (NAVEDTRA 14045, ch. 2)."""
    return hours / 8


def duration_days(
    days_of_work: Decimal, *, crew: int, availability: Decimal, workday_hours: Decimal
) -> Decimal:
    """Return working days, not rounded: man-days / crew / availability / (workday hours / 8).

    Source: NAVEDTRA 14045, ch. 2. Availability is a part of one, there 0.75 to 0.85.
    """
    require_number("crew", crew, least=1)
    require_number("availability", availability, above=0, most=1)
    require_number("workday_hours", workday_hours, above=0, most=24)
    return days_of_work / crew / availability / (workday_hours / 8)


def delay_factor(efficiency: Decimal) -> Decimal:
    """Return 0.67 / efficiency: 67 % is the average crew and gives 1. From memory of the manual.

    The manual rates efficiency as the mean of eight conditions from 25 % to 100 % each.
    """
    require_number("efficiency", efficiency, least=Decimal("0.25"), most=1)
    return Decimal("0.67") / efficiency


SLOWEST_LAYING = Decimal(16)
"""Man-hours for 100 ft2 of floor: hardwood strip in a small room with crooked stock, two men less
than a square a day. Wm. Arthur, New Building Estimator."""


def is_slower_than_known(rate: ProductionRate) -> bool:
    """Whether a rate of laying by the floor's area is slower than the slowest one in print."""
    of_laying = (rate.task_code, rate.driver) == ("lay", "floor_area")
    return of_laying and rate.hours / rate.per * 100 > SLOWEST_LAYING


def to_hundredths(hours: Decimal) -> Decimal:
    """Return hours to two decimals, half up."""
    return hours.quantize(HOURS_PLACES, ROUND_HALF_UP)


def find_rate(
    rates: Iterable[ProductionRate], task_code: str, driver: str, item: str
) -> ProductionRate | None:
    """Return the rate for this very item, else the rate for any item, else None.

    Raises BadValueError where two rates answer alike.
    """
    of_driver = [rate for rate in rates if (rate.task_code, rate.driver) == (task_code, driver)]
    for wanted in (item, "") if item else ("",):
        matching = [rate for rate in of_driver if rate.item == wanted]
        if len(matching) > 1:
            field = f"rate {task_code}.{driver}"
            raise BadValueError(field=field, value=f"{len(matching)} rates", accepted="one rate")
        if matching:
            return matching[0]
    return None


def _rate(task_code: str, driver: str, hours: str, per: int = 1, item: str = "") -> ProductionRate:
    return ProductionRate(
        task_code=task_code, driver=driver, hours=Decimal(hours), per=Decimal(per), item=item
    )


STARTING_RATES: tuple[ProductionRate, ...] = (
    _rate("pick_up", "pick_ups", "1"),
    _rate("load", "carry", "0.1", 100),
    _rate("setup", "visits", "1.5"),
    _rate("carry", "carry", "0.25", 100),
    _rate("carry", "carry_up", "0.15", 100),
    _rate("furniture", "furniture", "1.5"),
    _rate("fixtures_off", "toilets", "0.5"),
    _rate("fixtures_off", "appliances", "0.25"),
    _rate("base_off", "base_off", "1.5", 100),
    _rate("doors_off", "doors_off", "0.15"),
    _rate("tear_out", "tear_out", "1.5", 100),
    _rate("tear_out", "tear_out", "0.6", 100, "carpet"),
    _rate("tear_out", "tear_out", "0.8", 100, "laminate"),
    _rate("tear_out", "tear_out", "3", 100, "wood"),
    _rate("tear_out", "tear_out", "6", 100, "tile"),
    _rate("dispose", "disposal", "0.5", 100),
    _rate("dispose", "disposal", "2", 100, "tile"),
    _rate("dump_run", "dump_runs", "1.5"),
    _rate("prep", "floor_area", "0.4", 100),
    _rate("prep", "subfloor_screws", "0.6", 100),
    _rate("level", "leveller", "0.5"),
    _rate("level", "primer", "0.3", 100),
    _rate("paint", "paint_area", "1", 100),
    _rate("undercut", "casings", "0.2"),
    _rate("underlay", "pad_area", "0.3", 100),
    _rate("lay", "floor_area", "2", 100),
    _rate("lay", "pieces", "0.01"),
    _rate("lay", "crosscuts", "0.03"),
    _rate("lay", "rips", "0.08"),
    _rate("lay", "notches", "0.2"),
    _rate("lay", "trapped", "0.15"),
    _rate("stairs", "treads", "0.5"),
    _rate("stairs", "risers", "0.25"),
    _rate("stairs", "nosings", "0.25"),
    _rate("transitions", "transitions", "0.5"),
    _rate("base", "base_on", "5", 100),
    _rate("shoe", "shoe_on", "3", 100),
    _rate("doors_on", "doors_off", "0.25"),
    _rate("doors_on", "doors_trimmed", "0.4"),
    _rate("fixtures_on", "toilets", "0.75"),
    _rate("fixtures_on", "appliances", "0.25"),
    _rate("clean", "visits", "1"),
    _rate("clean", "floor_area", "0.15", 100),
)
