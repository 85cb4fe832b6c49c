"""A bedroom of 200 ft2 and a hall of 100 ft2, sold: figures chosen to be reckoned in the head."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.price_book import PriceBook
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.quotes.content import Letterhead
from estimates.domain.quotes.sold import (
    Addressed,
    DepositTerms,
    PricedChoice,
    SaleTerms,
    Sold,
    SoldFloor,
    SoldRoom,
)
from jobs.domain.documents import digest
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.scope.rates_used import RateUsed, rate_used
from jobs.domain.scope.schedule import DayPart, ScopeSchedule, SiteDay
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from tests.estimates.a_price import Given, a_book, a_material, a_quantity, a_task, terms

BEDROOM = SoldRoom(name="Bedroom", floor="up", area_ft2=Decimal(200))
HALL = SoldRoom(name="Hall", floor="up", area_ft2=Decimal(100))
ROOMS = (BEDROOM, HALL)


def a_rate(task: str, driver: str, hours: str, per: int = 1) -> RateUsed:
    rate = ProductionRate(
        task_code=task, driver=driver, hours=Decimal(hours), per=Decimal(per), source="ours"
    )
    return rate_used(rate, "")


RATES = (
    a_rate("furniture", "furniture", "1"),
    a_rate("tear_out", "tear_out", "1", 100),
    a_rate("lay", "floor_area", "4", 100),
    a_rate("doors_on", "doors_trimmed", "0.5"),
)


def two_rooms(**changes: object) -> FrozenScope:
    """Carpet out of both rooms, furniture in the bedroom, 300 ft2 laid from 15 cartons."""
    given: Given = {
        "zones": (
            ScopeZone(
                name="up",
                rows=18,
                area_ft2=Decimal(300),
                plan_sha256=digest("up"),
                product="Oak",
                key="floor-1",
            ),
        ),
        "quantities": (
            a_quantity("furniture", 1, zone="up", room="Bedroom"),
            a_quantity("tear_out", 200, zone="up", room="Bedroom", item="carpet"),
            a_quantity("tear_out", 100, zone="up", room="Hall", item="carpet"),
            a_quantity("floor_area", 300, zone="up"),
            a_quantity("cartons", 15, item="Oak"),
            a_quantity("base_nails", 40, zone="up", room="Hall"),
        ),
        "tasks": (
            a_task("furniture", "1.00", zone="up"),
            a_task("tear_out", "3.00", zone="up"),
            a_task("lay", "12.00", zone="up", rows=(1, 18)),
            a_task("clean", "0.00"),
        ),
        "rates": RATES,
    }
    return FrozenScope(**given | changes)


def days(*parts: dict[str, str]) -> ScopeSchedule:
    """Days of a crew of two, each told as hours by the key of a task."""
    return ScopeSchedule(
        people=2,
        hours_per_day=Decimal(8),
        trip_hours=Decimal(0),
        days=tuple(
            SiteDay(
                booked=Decimal(1),
                parts=tuple(
                    DayPart(task=task, hours=Decimal(hours)) for task, hours in day.items()
                ),
            )
            for day in parts
        ),
    )


def book() -> PriceBook:
    """Cartons at 60, a nail at one cent, an hour at 50."""
    return a_book(a_material("cartons", "60"), a_material("base_nails", "0.01"))


def at_cost(scope: FrozenScope, **changes: object) -> Priced:
    """A scope at what it costs: 900 of cartons, 800 of labor, 0.40 of nails, no tax."""
    given: Given = {"margin": Decimal(0), "overhead": Decimal(0), "tax_mode": "none"}
    return price_scope(scope, book(), terms(**given | changes))


def a_choice(scope: FrozenScope | None = None, **changes: object) -> PricedChoice:
    counted = scope or two_rooms()
    given: Given = {
        "key": "a",
        "way": "",
        "name": "",
        "text": "",
        "scope": counted,
        "priced": at_cost(counted),
    }
    return PricedChoice(**given | changes)


def a_sale(**changes: object) -> Sold:
    """The two rooms sold on 1 March 2027, a third of it as a deposit."""
    given: Given = {
        "addressed": Addressed(
            number=1,
            label="4-1",
            job_number=4,
            title="Bedroom and hall",
            letterhead=Letterhead(
                name="Fernwood Floors",
                address=("12 Mill Road",),
                phone="555-0103",
                email="",
                license="",
                registration="",
                insurance="",
                logo_sha256="",
            ),
            client="Ines Okafor",
            client_lines=("4 Cooper Lane",),
            site="4 Cooper Lane",
        ),
        "terms": sale_terms(),
        "detail": "whole",
        "rooms": ROOMS,
        "floors": (
            SoldFloor(
                product="oak print",
                core="rigid",
                thickness_in=Decimal("0.25"),
                width_in=Decimal(7),
                length_in=Decimal(48),
                attached_pad=True,
                pad=False,
            ),
        ),
        "choices": (a_choice(),),
    }
    return Sold(**given | changes)


def sale_terms(**changes: object) -> SaleTerms:
    given: Given = {
        "issued_on": date(2027, 3, 1),
        "valid_days": 30,
        "deposit": DepositTerms(percent=Decimal(10)),
    }
    return SaleTerms(**given | changes)
