"""What drives the hours of a task: how much of what, at which rate, and where it was counted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.money import spread
from jobs.domain.checks import ONE, ZERO
from jobs.domain.quantities import PRACTICE, Quantity, in_units
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.tasks import TASKS

Links = Mapping[tuple[str, str], str]
"""The address of the page of each floor and room, by the names of both; of the job by none."""

_DOORWAY = re.compile(r"(, wall \d+), \d+$")
"""How a scope names a doorway: by room, wall, and a number that only the books know."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CountedPlace:
    """So much of something on a floor or in a room; `link` leads to where it was counted."""

    name: str
    amount: Decimal
    link: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class HoursPart:
    """One driver of a task: so many units at a rate are so many hours.

    `rate` None: no rate is known that says so, as for a drive; `hours` None: nobody kept it.
    """

    driver: str
    label: str
    amount: Decimal
    unit: str
    rate: RateUsed | None
    hours: Decimal | None
    places: tuple[CountedPlace, ...] = ()

    @property
    def rate_words(self) -> str:
        """The rate as it is said: 2 h per 100 ft2, 0.01 h each; empty where no hours are known."""
        if self.rate is not None:
            return f"{_plain(self.rate.hours)} h {_per(self.rate.per, self.unit)}"
        if self.hours is None:
            return ""
        return f"{_plain(self.hours / self.amount)} h {_per(ONE, self.unit)}"

    @property
    def by_practice(self) -> bool:
        """Whether the rate is common practice without a source."""
        return self.rate is not None and self.rate.source == PRACTICE

    @property
    def source(self) -> str:
        """Where the rate comes from; empty for common practice, which is marked."""
        return "" if self.rate is None or self.by_practice else self.rate.source

    @property
    def since(self) -> date | None:
        """The day on which the rate was set; None for a starting rate."""
        set_on = "" if self.rate is None else self.rate.since
        return date.fromisoformat(set_on) if set_on else None


def _plain(hours: Decimal) -> str:
    return f"{round(hours, 4).normalize():f}"


def _per(per: Decimal, unit: str) -> str:
    if per == ONE:
        return "each" if unit == "each" else f"per {unit}"
    return f"per {in_units(per, unit)}"


def parts_of(
    task: str,
    zone: str,
    hours: Decimal,
    quantities: Iterable[Quantity],
    rates: Sequence[RateUsed],
    links: Links,
) -> tuple[HoursPart, ...]:
    """Return what drives these hours of a task in a zone, so that the parts sum to them.

    Nothing where the quantities at these rates don't make the hours: then nobody can say how.
    """
    driving = _driving(task, zone, quantities)
    if len(driving) == 1 and rate_for(rates, task, *next(iter(driving))) is None:
        ((driver, item), entries) = next(iter(driving.items()))
        return (_part(driver, item, entries, None, hours, links),)
    exact: dict[tuple[str, str], Decimal] = {}
    for (driver, item), entries in driving.items():
        rate = rate_for(rates, task, driver, item)
        if rate is None:
            return ()
        exact[driver, item] = _amount(entries) / rate.per * rate.hours
    if to_hundredths(sum(exact.values(), ZERO)) != hours:
        return ()
    # Hours have two places as money has, and are shared out as it is: the parts sum to the task's.
    shares = spread(hours, tuple(exact.values()))
    return tuple(
        _part(driver, item, driving[driver, item], rate_for(rates, task, driver, item), part, links)
        for (driver, item), part in zip(exact, shares, strict=True)
    )


def _driving(
    task: str, zone: str, quantities: Iterable[Quantity]
) -> dict[tuple[str, str], list[Quantity]]:
    """What drives a task in its zone, all rooms together, by driver and item."""
    kind = TASKS.get(task)
    driving: dict[tuple[str, str], list[Quantity]] = {}
    for entry in quantities:
        if kind is None or entry.code not in kind.drivers or not entry.amount:
            continue
        if kind.whole_job or entry.zone == zone:
            driving.setdefault((entry.code, entry.item), []).append(entry)
    return driving


def _part(
    driver: str,
    item: str,
    entries: Sequence[Quantity],
    rate: RateUsed | None,
    hours: Decimal,
    links: Links,
) -> HoursPart:
    label = entries[0].label
    return HoursPart(
        driver=driver,
        label=f"{label}, {item}" if item else label,
        amount=_amount(entries),
        unit=entries[0].unit,
        rate=rate,
        hours=hours,
        places=places_of([(entry.zone, entry.room, entry.amount) for entry in entries], links),
    )


def _amount(entries: Iterable[Quantity]) -> Decimal:
    return sum((entry.amount for entry in entries), ZERO)


def places_of(
    amounts: Iterable[tuple[str, str, Decimal]], links: Links
) -> tuple[CountedPlace, ...]:
    """Return floors and rooms with what was counted there, each with its link."""
    return tuple(
        CountedPlace(
            name=_DOORWAY.sub(r"\1", room) or zone,
            amount=amount,
            link=links.get((zone, room), "")
            or links.get((zone, ""), "")
            or links.get(("", ""), ""),
        )
        for zone, room, amount in amounts
    )


def rate_for(rates: Iterable[RateUsed], task: str, driver: str, item: str) -> RateUsed | None:
    """Return the rate for this very item, else for any; None where there is none."""
    by_item = {rate.item: rate for rate in rates if (rate.task, rate.driver) == (task, driver)}
    return by_item.get(item) or by_item.get("")
