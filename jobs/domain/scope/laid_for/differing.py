"""What the days of a real crew are otherwise than those that were priced."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from jobs.domain.checks import ZERO
from jobs.domain.scope.schedule import ScopeSchedule

What = Literal["people", "hours_per_day", "trips", "booked", "nights", "hours", "work"]


@dataclass(frozen=True, kw_only=True, slots=True)
class DaysDifference:
    """One thing that differs: as it was priced, as it is; `room` of nights, `days` of the work."""

    what: What
    priced: Decimal = ZERO
    real: Decimal = ZERO
    room: str = ""
    days: tuple[int, ...] = ()


def days_differing(priced: ScopeSchedule, real: ScopeSchedule) -> tuple[DaysDifference, ...]:
    """Return what differs, nothing where the days are the same: crew, trips, days, nights, hours.

    What is done on which day is said only where all the rest is the same.
    """
    pairs: tuple[tuple[What, Decimal, Decimal], ...] = (
        ("people", Decimal(priced.people), Decimal(real.people)),
        ("hours_per_day", priced.hours_per_day, real.hours_per_day),
        ("trips", Decimal(priced.trips), Decimal(real.trips)),
        ("booked", priced.booked, real.booked),
    )
    lines = [_line(*pair) for pair in pairs if pair[1] != pair[2]]
    lines += _nights(priced, real)
    hours = (_hours(priced), _hours(real))
    if hours[0] != hours[1]:
        lines.append(_line("hours", *hours))
    other = tuple(
        number
        for number, (one, two) in enumerate(zip(priced.days, real.days, strict=False), start=1)
        if one != two
    )
    if other and not lines:
        lines.append(DaysDifference(what="work", days=other))
    return tuple(lines)


def _line(what: What, priced: Decimal, real: Decimal) -> DaysDifference:
    return DaysDifference(what=what, priced=priced, real=real)


def _hours(schedule: ScopeSchedule) -> Decimal:
    return sum((day.hours for day in schedule.days), ZERO)


def _nights(priced: ScopeSchedule, real: ScopeSchedule) -> list[DaysDifference]:
    was, will = _by_room(priced), _by_room(real)
    return [
        DaysDifference(
            what="nights", room=room, priced=was.get(room, ZERO), real=will.get(room, ZERO)
        )
        for room in dict.fromkeys((*was, *will))
        if was.get(room) != will.get(room)
    ]


def _by_room(schedule: ScopeSchedule) -> dict[str, Decimal]:
    nights: dict[str, Decimal] = {}
    for one in schedule.nights:
        nights[one.room] = nights.get(one.room, ZERO) + one.nights
    return nights
