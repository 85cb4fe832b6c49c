"""The review of a closed job as it was written in its first format, by hand: every field in use.

Laying was quoted at 12 h, a change order made it 16, 19 h were logged at 50.00; 8 cartons agreed, 9
bought, one returned. Prices 1,718.75 and 2,018.75.
"""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.review.closed import ClosedContent, SpoiledFor, TaskNote
from estimates.domain.review.values import (
    Cause,
    DayReached,
    MaterialRow,
    Money,
    Reason,
    Review,
    TaskRow,
)


def a_closed_review() -> ClosedContent:
    return ClosedContent(
        closed_on="2026-03-10",
        burdened_rate=Decimal("50.00"),
        review=_review(),
        notes=(TaskNote(task="lay", zone="up", text="The wall bows out."),),
        spoiled=(SpoiledFor(reason="Bad measure", planks=3),),
    )


def _review() -> Review:
    return Review(
        tasks=(_laying(),),
        materials=(_cartons(),),
        quoted=_money("1718.75", labor="600.00", days="1", contribution="668.75"),
        real=_money("2018.75", labor="950.00", days="2.5", contribution="585.75"),
        planks_spoiled=3,
        bridge=(Reason(code="price", text="Change orders", amount=Decimal("300.00")),),
        reasons=(Reason(code="lost", text="Mar 3 was lost: no power", amount=None),),
        reached=(_reached(),),
        budget=Decimal("16.00"),
    )


def _laying() -> TaskRow:
    parts = (
        ("changes", "change orders: 24 rows for 18 rows", "4.00", "-200.00"),
        ("spoiled", "3 planks spoiled and laid again", "0.67", "-33.50"),
        ("rate", "15% slower than the rate", "2.33", "-116.50"),
    )
    return TaskRow(
        code="lay",
        label="Lay the floor",
        zone="up",
        estimated=Decimal("12.00"),
        agreed=Decimal("16.00"),
        logged=Decimal("19.00"),
        cost=Decimal("950.00"),
        causes=tuple(
            Cause(kind=kind, text=text, hours=Decimal(hours), amount=Decimal(amount))  # type: ignore[arg-type]
            for kind, text, hours, amount in parts
        ),
    )


def _cartons() -> MaterialRow:
    return MaterialRow(
        code="cartons",
        label="Flooring",
        unit="carton",
        estimated=Decimal(6),
        agreed=Decimal(8),
        bought=Decimal(9),
        returned=Decimal(1),
        left=Decimal(0),
        wasted=None,
        estimated_cost=Decimal("360.00"),
        agreed_cost=Decimal("480.00"),
        paid=Decimal("483.00"),
        credit=Decimal("57.00"),
    )


def _money(price: str, *, labor: str, days: str, contribution: str) -> Money:
    return Money(
        price=Decimal(price),
        material=Decimal("450.00"),
        labor=Decimal(labor),
        allowances=Decimal("0.00"),
        overhead=Decimal("125.00"),
        profit=Decimal("343.75"),
        margin=Decimal("0.2"),
        hours=Decimal("12.00"),
        days_on_site=Decimal(days),
        contribution=Decimal(contribution),
        contribution_per_day=None,
    )


def _reached() -> DayReached:
    return DayReached(
        day="2026-03-02",
        days_on_site=Decimal(1),
        planned=None,
        earned=Decimal("8.00"),
        spent=Decimal("9.00"),
        contribution=Decimal("129.10"),
        contribution_per_day=Decimal("129.10"),
    )
