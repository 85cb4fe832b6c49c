"""A price by room: what each line of it is for, and the rest by area; the rooms sum to the total.

A line that names a room is that room's. Work of a floor goes by what was counted in its rooms, at
the hours that each takes; whatever no room was counted for is shared by area.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from estimates.domain.money import spread
from estimates.domain.priced import LABOR, Priced, PricedLine
from estimates.domain.quotes.sold import SoldRoom
from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity
from jobs.domain.scope.rates import ProductionRate, find_rate
from jobs.domain.scope.rates_used import as_rate
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS

_WHOLE_PRICE = ("minimum", "discount", "rounding")
"""Lines that belong to no work: they follow the rest."""


def room_amounts(
    scope: FrozenScope, priced: Priced, rooms: Sequence[SoldRoom]
) -> tuple[Decimal, ...]:
    """Return what each room is of the total, to the cent; sales tax follows the price."""
    sharing = _Sharing(scope, rooms)
    weights = [ZERO for _ in rooms]
    for line in priced.lines:
        if line.amount > 0 and line.kind not in _WHOLE_PRICE:
            for place, part in enumerate(sharing.parts(line)):
                weights[place] += part
    return spread(priced.total, weights if any(weights) else sharing.areas)


class _Sharing:
    """How the lines of a scope are shared among its rooms."""

    def __init__(self, scope: FrozenScope, rooms: Sequence[SoldRoom]) -> None:
        self._scope, self._rooms = scope, rooms
        self._rates = [as_rate(rate) for rate in scope.rates if rate.counts]
        self._products = {zone.name: zone.product for zone in scope.zones}
        self.areas = [room.area_ft2 for room in rooms]

    def parts(self, line: PricedLine) -> list[Decimal]:
        """Return what of a line is for each room, not rounded."""
        weights = self._weights(line)
        whole = sum(weights, ZERO)
        return [line.amount * weight / whole for weight in weights]

    def _weights(self, line: PricedLine) -> list[Decimal]:
        if line.room:
            own = [Decimal(room.holds(line.room)) for room in self._rooms]
            if any(own):
                return own
        if line.kind == LABOR:
            worked = self._worked(line)
            if any(worked):
                return worked
        return self._by_area(line.zone, line.item)

    def _by_area(self, zone: str, item: str = "") -> list[Decimal]:
        """Return the areas of a floor's rooms, of those in a product, else of all rooms."""
        of_product = {name for name, product in self._products.items() if item and product == item}
        floors = {zone} if zone else of_product
        areas = [room.area_ft2 if room.floor in floors else ZERO for room in self._rooms]
        return areas if any(areas) else self.areas

    def _worked(self, line: PricedLine) -> list[Decimal]:
        """Return the hours of a task by room, as what was counted in each takes them."""
        hours = [ZERO for _ in self._rooms]
        whole_job = TASKS[line.code].whole_job if line.code in TASKS else True
        for entry in self._scope.quantities:
            rate = self._rate(line.code, entry)
            if rate is None or not (whole_job or entry.zone == line.zone):
                continue
            taken = entry.amount / rate.per * rate.hours
            own = [Decimal(room.holds(entry.room)) for room in self._rooms]
            weights = own if any(own) else self._by_area(entry.zone)
            whole = sum(weights, ZERO)
            hours = [
                known + taken * weight / whole for known, weight in zip(hours, weights, strict=True)
            ]
        return hours

    def _rate(self, task: str, entry: Quantity) -> ProductionRate | None:
        kind = TASKS.get(task)
        if kind is None or entry.code not in kind.drivers or not entry.amount:
            return None
        return find_rate(self._rates, task, entry.code, entry.item)
