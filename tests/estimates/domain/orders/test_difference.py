"""What a change comes to, line by line."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from estimates.domain.orders.difference import (
    ROUNDING,
    ChangedArea,
    changed_areas,
    changed_lines,
    extra_lines,
    place_sums,
    tax_of,
)
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import a_book, a_quantity, a_scope, a_task, terms

SHARES = {"margin": Decimal("0.25"), "overhead": Decimal("0.12")}


def more() -> FrozenScope:
    """Two cartons and 20 ft2 more; laying takes two hours longer."""
    return a_scope(
        quantities=(
            a_quantity("floor_area", 140, zone="up"),
            a_quantity("base_on", 40),
            a_quantity("cartons", 8, item="plank"),
            a_quantity("pad", 2),
            a_quantity("planks", 64),
        ),
        tasks=(a_task("lay", "14.00", zone="up", rows=(1, 18)), a_task("base", "4.00", zone="up")),
    )


def priced(scope: FrozenScope) -> Priced:
    return price_scope(scope, a_book(), terms(**SHARES))


def test_lines_differ_where_quantities_do_and_sum_to_the_whole() -> None:
    before, after = priced(a_scope()), priced(more())
    lines = changed_lines(before, after)
    said = [(line.label, line.before, line.after) for line in lines if line.unit]
    assert said == [
        ("Flooring, plank", Decimal(6), Decimal(8)),
        ("lay", Decimal(12), Decimal(14)),
    ]
    assert sum(line.amount for line in lines) == after.subtotal - before.subtotal
    # 2 x 60 + 2 x 50 = 220; with 12 % 246.40; at a margin of 25 % 328.53.
    assert after.subtotal - before.subtotal == Decimal("328.53")


def test_what_is_left_out_is_told_down_to_nothing() -> None:
    scope = a_scope(tasks=(a_task("lay", "12.00", zone="up", rows=(1, 18)),))
    (base,) = [line for line in changed_lines(priced(a_scope()), priced(scope)) if line.unit]
    assert (base.place, base.after, base.amount_after) == ("up", Decimal(0), Decimal(0))


def test_moved_cents_are_one_line() -> None:
    before = priced(a_scope())
    moved = [replace(line, amount=line.amount + Decimal("0.01")) for line in before.lines]
    after = replace(
        before, lines=tuple(moved), subtotal=before.subtotal + len(moved) * Decimal("0.01")
    )
    (line,) = changed_lines(before, after)
    assert (line.label, line.amount) == (ROUNDING, len(moved) * Decimal("0.01"))


def test_nothing_differs_from_itself() -> None:
    assert changed_lines(priced(a_scope()), priced(a_scope())) == ()


def test_areas_of_floors_that_grew_or_came_in() -> None:
    before = a_scope(quantities=(a_quantity("floor_area", 120, zone="up"),))
    assert changed_areas(before, more()) == (
        ChangedArea(place="up", before=Decimal(120), after=Decimal(140)),
    )
    assert changed_areas(a_scope(quantities=()), before) == (
        ChangedArea(place="up", before=Decimal(0), after=Decimal(120)),
    )


def test_sums_by_place_have_the_whole_job_last_and_leave_extras_out() -> None:
    before, after = priced(a_scope()), priced(more())
    lines = (*changed_lines(before, after), *extra_lines(before.lines[:1]))
    sums = place_sums(lines, [ChangedArea(place="up", before=Decimal(120), after=Decimal(140))])
    assert [each.place for each in sums] == ["up", ""]
    assert sum(each.amount for each in sums) == Decimal("328.53")


def test_tax_follows_the_amount_that_was_agreed() -> None:
    assert tax_of(Decimal(200), Decimal(200), Decimal("14.50")) == Decimal("14.50")
    assert tax_of(Decimal(100), Decimal(200), Decimal("14.50")) == Decimal("7.25")
    assert tax_of(Decimal(100), Decimal(0), Decimal("0")) == 0
