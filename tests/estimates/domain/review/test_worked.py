"""A whole review by hand, to the cent: a return, a callback, a change order and a lost day.

Quoted: 120 ft2 in 18 rows, 54 pieces. Lay 12 h, base 4 h at 50.00 = 800.00; 6 cartons x 60.00 and
2 rolls x 45.00 = 450.00. Cost 1,250.00, overhead 10 % = 125.00, margin 20 %: 1,718.75, of it
profit 343.75. Contribution 1,718.75 - 1,250.00 = 468.75 in one day on site.

Change order: 6 rows more, 24 in all, 72 pieces; lay 16 h, 8 cartons. Price + 300.00.

    Mon Mar 2   lay rows 1 to 12   9 h   3 planks spoiled, bad measure       a whole day
    Tue Mar 3   lay                2 h   lost: no power; they drove home     half a day
    Wed Mar 4   lay rows 13 to 24  8 h                                       with base a whole day
                base               3 h
    Mon Mar 9   base               1.5 h   callback: a nail stood out        half a day
    bought      9 cartons 540.00, 2 rolls 88.00; returned 1 carton, credit 57.00

Labor: lay 19 h = 950.00, base 4.5 h = 225.00: 1,175.00. Material 540 + 88 - 57 = 571.00.
Price 2,018.75. Contribution 2,018.75 - 1,175.00 - 571.00 = 272.75 in 3 days: 90.92 a day.
Overhead 10 % of 1,746.00 = 174.60; profit 98.15.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.pricing import price_scope
from estimates.domain.review.review import review
from estimates.domain.review.values import Bought, Logged, Review, ReviewTerms
from jobs.domain.scope.schedule import DayPart, ScopeSchedule, SiteDay
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from tests.estimates.a_price import a_book, a_quantity, a_scope, a_task, terms


def quoted() -> FrozenScope:
    scope = a_scope()
    counted = (a_quantity("rows", 18, zone="up"), a_quantity("pieces", 54, zone="up"))
    return replace(scope, quantities=(*scope.quantities, *counted))


def agreed() -> FrozenScope:
    """The scope after the change order: 16 h of laying and 4 h of base on two days."""
    zone = replace(a_scope().zones[0], rows=24)
    assert isinstance(zone, ScopeZone)
    days = (
        SiteDay(booked=Decimal(1), parts=(DayPart(task="lay:up", hours=Decimal(10)),)),
        SiteDay(
            booked=Decimal(1),
            parts=(
                DayPart(task="lay:up", hours=Decimal(6)),
                DayPart(task="base:up", hours=Decimal(4)),
            ),
        ),
    )
    return a_scope(
        zones=(zone,),
        quantities=(
            a_quantity("floor_area", 160),
            a_quantity("base_on", 40),
            a_quantity("cartons", 8, item="plank"),
            a_quantity("pad", 2),
            a_quantity("rows", 24, zone="up"),
            a_quantity("pieces", 72, zone="up"),
        ),
        tasks=(
            a_task("lay", "16.00", zone="up", rows=(1, 24)),
            a_task("base", "4.00", zone="up"),
        ),
        schedule=ScopeSchedule(
            people=2, hours_per_day=Decimal(8), trip_hours=Decimal(0), days=days
        ),
    )


def figures(*numbers: str | int) -> tuple[Decimal, ...]:
    return tuple(Decimal(number) for number in numbers)


def a_log(task: str, hours: str, day: str, **more: object) -> Logged:
    values: dict[str, object] = {"task_code": task, "hours": Decimal(hours), "day": day}
    return Logged(**values | {"zone": "up"} | more)  # type: ignore[arg-type]


MONDAY = a_log("lay", "9", "2026-03-02", rows=(1, 12), spoiled=3, spoil_reason="bad measure")
LOST = a_log("lay", "2", "2026-03-03", lost=True)
LOGS = (
    MONDAY,
    LOST,
    a_log("lay", "8", "2026-03-04", rows=(13, 24)),
    a_log("base", "3", "2026-03-04"),
    a_log("base", "1.5", "2026-03-09", callback=True),
)


def a_purchase(code: str, quantity: str, unit: str, paid: str, kind: str = "bought") -> Bought:
    values: dict[str, object] = {"code": code, "label": code, "unit": unit, "kind": kind}
    values |= {"quantity": Decimal(quantity), "paid": Decimal(paid)}
    return Bought(**values)  # type: ignore[arg-type]


PURCHASES = (
    a_purchase("cartons", "9", "carton", "540"),
    a_purchase("cartons", "1", "carton", "57", "returned"),
    a_purchase("pad", "2", "roll", "88"),
)


@pytest.fixture(scope="module")
def made() -> Review:
    book = a_book()
    priced = terms(overhead=Decimal("0.10"), margin=Decimal("0.20"))
    return review(
        quoted=quoted(),
        quoted_priced=price_scope(quoted(), book, priced),
        agreed=agreed(),
        agreed_priced=price_scope(agreed(), book, priced),
        logs=LOGS,
        purchases=PURCHASES,
        terms=ReviewTerms(
            burdened_rate=Decimal(50),
            crew_hours_per_day=Decimal(16),
            overhead=Decimal("0.10"),
            planned_days=Decimal(2),
            price_changes=Decimal(300),
            plank_cost=Decimal(6),
            lost_days=("Mar 3 was lost: no power",),
        ),
        closed=True,
    )


def test_the_money_is_that_of_the_pencil(made: Review) -> None:
    assert (made.quoted.price, made.quoted.contribution) == (Decimal("1718.75"), Decimal("468.75"))
    real = made.real
    assert (real.price, real.labor, real.material) == figures("2018.75", 1175, 571)
    assert (real.overhead, real.profit) == (Decimal("174.60"), Decimal("98.15"))
    assert real.contribution == Decimal("272.75")


def test_a_day_on_site_is_a_day_and_no_man_hours(made: Review) -> None:
    # 9 of 16 h: whole. 2 h: half. 11 h: whole. 1.5 h: half. The quote booked one day.
    assert made.real.days_on_site == 3
    assert made.real.contribution_per_day == Decimal("90.92")
    assert made.quoted.contribution_per_day == Decimal("468.75")


def test_each_cause_of_laying_has_its_hours_and_money(made: Review) -> None:
    lay = made.tasks[0]
    assert (lay.estimated, lay.agreed, lay.logged) == figures(12, 16, 19)
    # 3 planks of 72 pieces in 16 h: 0.67 h. Left: 19 - 16 - 0.67 - 2 = 0.33, 2 % of 16.
    assert [(cause.kind, cause.hours, cause.amount) for cause in lay.causes] == [
        ("changes", Decimal("4.00"), Decimal("-200.00")),
        ("spoiled", Decimal("0.67"), Decimal("-33.50")),
        ("lost", Decimal(2), Decimal("-100.00")),
        ("rate", Decimal("0.33"), Decimal("-16.50")),
    ]
    assert lay.causes[0].text == "change orders: 24 rows for 18 rows"
    assert lay.causes[3].text == "2% slower than the rate"


def test_a_callback_is_a_cause_of_its_own(made: Review) -> None:
    base = made.tasks[1]
    # 4 h estimated, 3 h logged and 1.5 h of a callback: a quarter faster, then back again.
    assert [(cause.kind, cause.hours, cause.amount) for cause in base.causes] == [
        ("callback", Decimal("1.5"), Decimal("-75.00")),
        ("rate", Decimal(-1), Decimal("50.00")),
    ]


def test_causes_sum_to_the_variance_in_hours_and_in_money(made: Review) -> None:
    for row in made.tasks:
        hours = sum((cause.hours for cause in row.causes), Decimal(0))
        money = sum((cause.amount for cause in row.causes), Decimal(0))
        assert hours == row.logged - row.estimated
        assert money == row.estimated * 50 - row.cost


def test_material_is_planned_bought_returned_and_wasted(made: Review) -> None:
    rows = {row.code: row for row in made.materials}
    cartons = rows["cartons"]
    assert (cartons.estimated, cartons.agreed, cartons.bought) == figures(6, 8, 9)
    assert (cartons.returned, cartons.wasted) == figures(1, 0)
    assert (cartons.paid, cartons.credit) == figures(483, 57)
    assert (rows["pad"].paid, rows["pad"].wasted) == figures(88, 0)


def test_without_the_return_a_carton_was_wasted() -> None:
    priced = price_scope(agreed(), a_book(), terms())
    made = review(
        quoted=agreed(),
        quoted_priced=priced,
        logs=LOGS,
        purchases=PURCHASES[:1],
        terms=ReviewTerms(burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16)),
    )
    assert made.materials[0].wasted == 1


def test_what_is_left_for_another_job_is_not_wasted() -> None:
    priced = price_scope(agreed(), a_book(), terms())
    left = a_purchase("cartons", "1", "carton", "0", "kept")
    made = review(
        quoted=agreed(),
        quoted_priced=priced,
        logs=LOGS,
        purchases=(PURCHASES[0], left),
        terms=ReviewTerms(burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16)),
    )
    assert (made.materials[0].left, made.materials[0].wasted) == figures(1, 0)


def test_day_by_day_the_work_is_planned_earned_and_spent(made: Review) -> None:
    # Rows have 16 / 24 h each: 12 rows are 8 h. At the end all 20 h are earned.
    assert [day.day for day in made.reached] == ["2026-03-02", "2026-03-03", "2026-03-04"]
    assert [(d.days_on_site, d.planned, d.earned, d.spent) for d in made.reached] == [
        figures(1, 10, 8, 9),
        figures("1.5", 20, 8, 11),
        figures("2.5", 20, 20, 22),
    ]
    # (2,018.75 - 571.00) x 8 / 20 = 579.10, less 9 h x 50: 129.10 in one day.
    assert [d.contribution for d in made.reached] == [
        Decimal("129.10"),
        Decimal("29.10"),
        Decimal("347.75"),
    ]
    assert made.reached[2].contribution_per_day == Decimal("139.10")
    assert made.budget == 20


def test_the_last_day_and_the_callback_make_the_contribution(made: Review) -> None:
    assert made.reached[-1].contribution - Decimal("1.5") * 50 == made.real.contribution


def test_the_identities_of_earned_value(made: Review) -> None:
    """By the terms of ANSI/EIA-748, from memory.

    CV = BCWP - ACWP, SV = BCWP - BCWS, CPI = BCWP / ACWP, EAC = BAC / CPI; at completion BCWP is
    BAC and EAC is ACWP.
    """
    for day in made.reached:
        assert day.planned is not None
        assert day.ahead == day.earned - day.spent
        assert day.ahead_of_days == day.earned - day.planned
        assert day.pace == day.earned / day.spent
        whole = day.whole(made.budget)
        assert whole is not None
        assert whole == pytest.approx(made.budget * day.spent / day.earned)
    last = made.reached[-1]
    assert last.earned == made.budget
    assert last.whole(made.budget) == pytest.approx(last.spent)
    assert last.ahead_of_days == 0


def test_the_lost_day_is_among_the_reasons(made: Review) -> None:
    said = {reason.code: reason for reason in made.reasons}
    assert said["lost"].text == "Mar 3 was lost: no power"
    assert said["callback"].amount == Decimal("-75.00")
    assert said["spoiled"].amount == Decimal("-18.00")
    assert said["days"].text == "3 days on site, 2 days as booked"


def test_the_bridge_leads_from_profit_to_profit(made: Review) -> None:
    # 300.00 more price, 375.00 more labor, 121.00 more material, 49.60 more overhead.
    assert [(part.code, part.amount) for part in made.bridge] == [
        ("price", 300),
        ("labor", -375),
        ("material", -121),
        ("overhead", Decimal("-49.60")),
    ]
    moved = sum((part.amount or Decimal(0) for part in made.bridge), Decimal(0))
    assert made.quoted.profit + moved == made.real.profit


def test_while_it_is_open_work_is_earned_by_rows_and_hours() -> None:
    scope = agreed()
    made = review(
        quoted=scope,
        quoted_priced=price_scope(scope, a_book(), terms()),
        logs=(MONDAY, a_log("base", "7", "2026-03-03")),
        purchases=(),
        terms=ReviewTerms(burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16)),
    )
    # 12 of 24 rows, and of the base at most its 4 h.
    assert [day.earned for day in made.reached] == [8, 12]
