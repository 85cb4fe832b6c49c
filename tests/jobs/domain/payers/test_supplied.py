"""Supplied material against what is needed: counts by hand, lots, whose fault."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.payers.supplied import (
    Delivery,
    MaterialNeed,
    SuppliedCount,
    material_needs,
    require_delivery,
    why_again,
)
from tests.estimates.a_price import a_quantity, a_scope

OAK = MaterialNeed(code="cartons", item="Oak", amount=Decimal(13))


def came(counted: int, faulty: int = 0, lot: str = "") -> Delivery:
    return Delivery(counted=Decimal(counted), faulty=Decimal(faulty), lot=lot)


def oak(*deliveries: Delivery, ordered: str = "") -> SuppliedCount:
    return SuppliedCount(need=OAK, by="Alder Store", ordered=ordered, deliveries=deliveries)


def test_needs_are_counted_over_all_floors_and_disposal_is_nobodys() -> None:
    scope = a_scope(
        quantities=(
            a_quantity("cartons", 6, item="Oak", zone="up"),
            a_quantity("cartons", 7, item="Oak", zone="down"),
            a_quantity("pad", 2),
            a_quantity("disposal", 120),
            a_quantity("planks", 54),
        )
    )
    assert [(need.label, need.words) for need in material_needs(scope)] == [
        ("Flooring, Oak", "13 cartons"),
        ("Pad", "2 rolls"),
    ]


def test_what_never_came_is_no_shortage_yet() -> None:
    assert oak().short == 0
    assert oak().faults == ()


def test_a_faulty_carton_is_short_as_one_that_did_not_come() -> None:
    # 13 needed; 8 + 4 came, 1 of them faulty: 11 are of use, 2 are short.
    count = oak(came(8), came(4, 1))
    assert [count.counted, count.faulty, count.short] == [12, 1, 2]
    said = "Flooring, Oak: 2 cartons short. 13 cartons needed, 12 cartons counted, 1 of them faulty"
    assert count.faults == (f"{said}; supplied by Alder Store.",)
    assert why_again([count]) == "2 cartons short of Flooring, Oak"


def test_just_enough_is_enough() -> None:
    assert oak(came(13)).faults == ()
    assert oak(came(14, 1)).faults == ()


def test_two_lots_are_one_too_many() -> None:
    assert oak(came(7, lot="A1"), came(6, lot=" a1 ")).faults == ()
    mixed = oak(came(7, lot="A1"), came(6, lot="B7"))
    assert mixed.faults == (
        "Flooring, Oak: lots A1 and B7 came, one is needed; supplied by Alder Store.",
    )
    assert why_again([mixed]) == "wrong lot of Flooring, Oak"


def test_another_lot_than_the_one_ordered_is_wrong() -> None:
    assert oak(came(13, lot="a1"), ordered="A1").faults == ()
    assert oak(came(13, lot="B7"), ordered="A1").faults == (
        "Flooring, Oak: lot B7 came, lot A1 was ordered; supplied by Alder Store.",
    )


@pytest.mark.parametrize(
    ("code", "counted", "faulty", "field"),
    [
        ("cartons", "2.5", "0", "counted"),
        ("cartons", "2", "0.5", "faulty"),
        ("cartons", "2", "3", "faulty"),
        ("cartons", "-1", "0", "counted"),
    ],
)
def test_what_cannot_have_come_is_refused(code: str, counted: str, faulty: str, field: str) -> None:
    with pytest.raises(BadValueError) as refused:
        require_delivery(code, Decimal(counted), Decimal(faulty))
    assert refused.value.field == field


def test_primer_comes_by_parts_of_a_foot() -> None:
    require_delivery("primer", Decimal("12.5"), Decimal(0))
