"""The groups of a price have every line once, and say how its hours came about."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.price_book import Allowance
from estimates.domain.price_groups.groups import (
    Counted,
    PriceGroup,
    PriceTable,
    RowPlace,
    price_table,
)
from estimates.domain.price_groups.kinds import material_group, work_group
from estimates.domain.price_groups.parts import HoursPart
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import Discount
from jobs.domain.quantities import PRACTICE, Quantity
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS
from tests.estimates.a_price import a_book, a_material, a_quantity, a_scope, a_task, terms

LINKS = {("", ""): "/floor", ("up", ""): "/floors/1", ("up", "Den"): "/rooms/2"}


def a_rate(task: str, driver: str, hours: str, **changes: object) -> RateUsed:
    given = {"item": "", "per": Decimal(1), "source": PRACTICE, "jobs": 0, "since": ""}
    return RateUsed(task=task, driver=driver, hours=Decimal(hours), **given | changes)  # type: ignore[arg-type]


RATES = (
    a_rate("lay", "floor_area", "5", per=Decimal(100)),
    a_rate("lay", "pieces", "0.05", source="our own", since="2026-02-01"),
    a_rate("base", "base_on", "10", per=Decimal(100)),
)


def laid(*quantities: Quantity, **changes: object) -> FrozenScope:
    """120 ft2 at 5 h per 100 are 6 h, 120 pieces at 0.05 h are 6 h: 12 h of laying."""
    counted = [
        a_quantity("floor_area", 120, zone="up"),
        a_quantity("pieces", 120, zone="up"),
        a_quantity("base_on", 25, zone="up", room="Den"),
        a_quantity("base_on", 15, zone="up", room="Hall"),
        a_quantity("cartons", 6, item="plank"),
        a_quantity("pad", 2),
        *quantities,
    ]
    return a_scope(quantities=tuple(counted), **changes)


def priced(scope: FrozenScope, **changes: object) -> Priced:
    given = {"overhead": Decimal("0.10"), "margin": Decimal("0.20")} | changes
    nails = a_material("base_nails", "0.10")
    carted = a_material("disposal", "0.35", taxable=False)
    book = a_book(a_material("cartons", "60"), a_material("pad", "45"), nails, carted)
    return price_scope(scope, book, terms(**given))


def table(scope: FrozenScope, **changes: object) -> PriceTable:
    counted = Counted(
        quantities=scope.quantities, rates=RATES, area_ft2=scope.area_ft2, links=LINKS
    )
    return price_table(priced(scope, **changes), counted)


def whole(*figures: int) -> tuple[Decimal, ...]:
    return tuple(Decimal(figure) for figure in figures)


def group(of: PriceTable, key: str) -> PriceGroup:
    return next(each for each in of.groups if each.key == key)


def parts(of: PriceTable, key: str) -> list[HoursPart]:
    return [part for row in group(of, key).tasks for part in row.parts]


def test_every_line_stands_in_one_group() -> None:
    bags = Allowance(
        code="bags",
        label="Leveler",
        unit="bag",
        units=Decimal(4),
        unit_price=Decimal(70),
        unit_cost=Decimal(45),
    )
    off = Discount(part=Decimal("0.05"), reason="second job")
    scope = laid()
    shown = table(scope, allowances=(bags,), discount=off, round_to=10)
    charged = priced(scope, allowances=(bags,), discount=off, round_to=10)

    assert sum(each.amount for each in shown.groups) == charged.subtotal
    assert sum(each.cost for each in shown.groups) == charged.direct_cost
    assert sum(each.hours or 0 for each in shown.groups) == charged.hours
    assert [each.key for each in shown.groups] == [
        *("floor", "underlay", "lay", "back", "allowances", "adjusted")
    ]


def test_a_group_tells_its_price_by_the_foot() -> None:
    # 6 cartons at 60 are 360; x 1.10 / 0.80 = 495.00; / 120 ft2 = 4.125.
    floor = group(table(laid()), "floor")

    assert (floor.cost, floor.amount, floor.per_ft2) == (*whole(360, 495), Decimal("4.13"))


def test_hours_are_told_by_driver_and_rate() -> None:
    assert [(part.driver, part.amount, part.hours) for part in parts(table(laid()), "lay")] == [
        ("floor_area", *whole(120, 6)),
        ("pieces", *whole(120, 6)),
    ]


def test_rooms_of_one_driver_are_told_together_each_with_its_page() -> None:
    (base,) = parts(table(laid()), "back")

    # 25 and 15 ft at 10 h per 100 are 4 h. The hall has no page of its own here: its floor's.
    assert (base.amount, base.hours) == whole(40, 4)
    assert [(place.name, place.amount, place.link) for place in base.places] == [
        ("Den", Decimal(25), "/rooms/2"),
        ("Hall", Decimal(15), "/floors/1"),
    ]


def test_a_doorway_is_named_by_its_wall_and_leads_to_its_page() -> None:
    casings = a_quantity("casings", 2, zone="up", room="Den, wall 1, 41")
    scope = a_scope(quantities=(casings,), tasks=(a_task("undercut", "0.40", zone="up"),))
    links = LINKS | {("up", "Den, wall 1, 41"): "/doorways/41"}
    rates = (a_rate("undercut", "casings", "0.2"),)
    counted = Counted(quantities=scope.quantities, rates=rates, links=links)

    (part,) = parts(price_table(priced(scope), counted), "subfloor")
    assert [(place.name, place.link) for place in part.places] == [("Den, wall 1", "/doorways/41")]
    assert part.rate_words == "0.2 h each"


def test_parts_sum_to_the_hours_of_their_task() -> None:
    # 0.333 x 3 parts of an hour are 1.00 together and 0.33, 0.33, 0.33 each.
    rates = [a_rate("lay", driver, "0.333333") for driver in ("floor_area", "pieces", "crosscuts")]
    counted = [a_quantity(driver, 1, zone="up") for driver in ("floor_area", "pieces", "crosscuts")]
    scope = a_scope(quantities=tuple(counted), tasks=(a_task("lay", "1.00", zone="up"),))
    shown = price_table(priced(scope), Counted(quantities=scope.quantities, rates=tuple(rates)))

    assert sum(part.hours or 0 for part in parts(shown, "lay")) == 1


def test_rates_that_do_not_make_the_hours_are_not_said_to() -> None:
    changed = tuple(replace(rate, hours=rate.hours * 2) for rate in RATES)
    scope = laid()
    shown = price_table(priced(scope), Counted(quantities=scope.quantities, rates=changed))

    (row,) = group(shown, "lay").tasks
    assert row.parts == ()
    assert row.basis == "counted"


def test_a_drive_has_no_rate_and_still_says_its_trips() -> None:
    scope = a_scope(
        quantities=(a_quantity("trips", 3),), tasks=(a_task("travel", "3.00", per_day=Decimal(1)),)
    )

    (part,) = parts(table(scope), "drive")
    assert (part.amount, part.hours) == whole(3, 3)
    assert (part.unit, part.rate, part.rate_words) == ("trip", None, "1 h per trip")


def test_a_rate_for_the_very_item_goes_before_the_general_one() -> None:
    rates = (
        a_rate("tear_out", "tear_out", "2", per=Decimal(100)),
        a_rate("tear_out", "tear_out", "0.5", per=Decimal(100), item="carpet"),
    )
    scope = a_scope(
        quantities=(a_quantity("tear_out", 120, zone="up", item="carpet"),),
        tasks=(a_task("tear_out", "0.60", zone="up"),),
    )
    shown = price_table(priced(scope), Counted(quantities=scope.quantities, rates=rates))

    (part,) = parts(shown, "out")
    assert part.rate == rates[1]
    assert shown.place_of_rate("tear_out", "tear_out", "carpet") == RowPlace(group="out", row=0)
    assert shown.place_of_rate("tear_out", "tear_out", "") is None


def test_common_practice_is_marked_and_what_was_set_says_since_when() -> None:
    practice, ours = parts(table(laid()), "lay")

    assert (practice.by_practice, practice.source, practice.since) == (True, "", None)
    assert (ours.by_practice, ours.source, ours.since) == (False, "our own", date(2026, 2, 1))
    assert table(laid()).by_practice


def test_a_material_of_several_rooms_is_one_row_and_disposal_one_a_place() -> None:
    rooms = ("Den", "Hall")
    nails = [a_quantity("base_nails", 20, zone="up", room=room) for room in rooms]
    carted = [a_quantity("disposal", 60, zone="up", room=room, item="carpet") for room in rooms]
    shown = table(laid(*nails, *carted))

    (row,) = group(shown, "sundries").materials
    assert (row.quantity, row.cost) == whole(40, 4)
    assert [place.name for place in row.places] == list(rooms)
    assert [row.places[0].name for row in group(shown, "disposal").materials] == ["Den", "Hall"]


def test_a_material_names_the_price_that_it_took() -> None:
    shown = table(laid())

    (row,) = group(shown, "floor").materials
    assert row.price is not None
    assert (row.price.amount, row.price.effective) == (Decimal(60), "2026-01-01")
    assert shown.place_of_price("cartons", "") == RowPlace(group="floor", row=0)
    assert shown.place_of_price("cartons", "plank") is None


def test_what_the_client_does_or_buys_costs_nothing_and_is_said() -> None:
    shown = table(laid(), left_out=("base",), labor_only=True)

    (base,) = group(shown, "back").tasks
    assert (base.by_client, base.hours, base.basis) == (True, Decimal(0), "done by the client")
    assert group(shown, "floor").materials[0].basis == ("client's material",)
    assert group(shown, "floor").materials[0].price is None


def test_an_estimate_without_its_scope_keeps_its_lines() -> None:
    shown = price_table(priced(laid()), Counted())

    assert sum(each.amount for each in shown.groups) == priced(laid()).subtotal
    assert parts(shown, "lay") == []
    assert group(shown, "lay").per_ft2 is None


def test_every_task_and_what_is_new_has_a_group() -> None:
    assert "other-work" not in {work_group(code) for code in TASKS}
    assert work_group("polish") == "other-work"
    assert material_group("gold") == "sundries"
