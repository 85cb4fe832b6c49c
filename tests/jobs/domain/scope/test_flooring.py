"""Cartons by job and product, never by floor: three floors, two products, every sum by hand.

upstairs  oak,   10 a carton   101 planks + 3 spares = 104   by floor 11 cartons
hall      oak,   10 a carton    60 planks + 3 spares =  63   by floor  7 cartons
basement  slate,  8 a carton   107 planks + 3 spares = 110   by floor 14 cartons  -> 32

oak   101 + 60 = 161 planks + 6 spares = 167 / 10 = 16.7 -> 17 cartons
slate                          107 + 3 = 110 /  8 = 13.75 -> 14 cartons           -> 31
"""

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.quantities import Quantity
from jobs.domain.scope.flooring import by_product
from jobs.domain.scope.inputs import JobTake, ProductTake, ZoneTake, plan_counts
from jobs.domain.scope.takeoff import take_off
from tests.jobs.floors import a_job, a_plan, a_product, a_room, a_stair, a_zone, the

OAK = a_product(name="oak", carton_weight_lb=Decimal(36))
SLATE = a_product(
    name="slate",
    length_in=Decimal(36),
    width_in=Decimal(9),
    per_carton=8,
    carton_weight_lb=Decimal(41),
)


def a_floor(name: str, product: ProductTake, planks: int, **more: Any) -> ZoneTake:
    plan = a_plan(planks=planks, cartons=-(-(planks + 3) // product.per_carton))
    given = {"name": name, "rooms": (name,), "product": product, "plan": plan, "spares": 3}
    return a_zone(**given | more)


def three_floors(**more: Any) -> JobTake:
    """Upstairs and hall of oak, the basement of slate; `more` of the upstairs."""
    zones = (
        a_floor("upstairs", OAK, 101, **more),
        a_floor("hall", OAK, 60),
        a_floor("basement", SLATE, 107),
    )
    return a_job(rooms=tuple(a_room(name=zone.name) for zone in zones), zones=zones)


def cartons(job: JobTake) -> dict[str, Decimal]:
    return {entry.item: entry.amount for entry in take_off(job) if entry.code == "cartons"}


def of(job: JobTake, code: str, item: str) -> Quantity:
    return the(take_off(job), code, item=item)


def test_three_floors_take_thirty_one_cartons_by_job_where_floors_would_take_thirty_two() -> None:
    job = three_floors()

    assert sum(zone.plan.cartons for zone in job.zones) == 11 + 7 + 14 == 32
    assert cartons(job) == {"oak": 17, "slate": 14}
    assert sum(cartons(job).values()) == 31


def test_no_quantity_of_flooring_belongs_to_a_floor() -> None:
    bought = [entry for entry in take_off(three_floors()) if "carton" in entry.code]

    assert {entry.zone for entry in bought} == {""}


def test_the_basis_names_every_floor_and_the_spares_once() -> None:
    assert of(three_floors(), "cartons", "oak").basis == (
        "161 planks in the plans (upstairs 101, hall 60), 6 spares; 10 in a carton, rounded up "
        "once for the job; all of one lot"
    )


def test_planks_are_those_of_all_plans_of_a_product() -> None:
    assert of(three_floors(), "planks", "oak").amount == 161


def test_the_attic_gets_one_carton_of_a_product_whichever_floor_wants_it() -> None:
    job = three_floors(attic_carton=True)
    both = JobTake(
        rooms=job.rooms,
        zones=(job.zones[0], a_floor("hall", OAK, 60, attic_carton=True), job.zones[2]),
    )

    assert cartons(job) == cartons(both) == {"oak": 18, "slate": 14}
    assert ", and one for the attic" in of(both, "cartons", "oak").basis
    assert "attic" not in of(both, "cartons", "slate").basis


def test_ten_percent_is_rounded_by_job_too() -> None:
    # Two floors of 120 ft2, 34 560 in2 x 1.10 = 38 016; a carton of oak covers 3 360 in2: 11.31.
    # By floor it would be 5.66 each, 6 + 6 = 12 as well; three floors 16.97, not 18.
    job = three_floors()
    zones = tuple(a_floor(zone.name, OAK, zone.plan.planks) for zone in job.zones)

    assert of(job, "cartons_by_ten_percent", "oak").amount == 12
    assert of(a_job(rooms=job.rooms, zones=zones), "cartons_by_ten_percent", "oak").amount == 17


def test_planks_on_the_stairs_count_with_the_floors_of_their_product() -> None:
    job = three_floors()
    stair = a_stair(zone="hall", treads=3, risers=0, nosings=3)
    with_stair = JobTake(rooms=job.rooms, zones=job.zones, stairs=(stair,))

    # Three treads of two strips, one strip a plank: 161 + 6 + 6 = 173 planks.
    assert cartons(with_stair) == {"oak": 18, "slate": 14}
    assert "6 on the stairs" in of(with_stair, "cartons", "oak").basis


@pytest.mark.parametrize(
    ("planks", "spares", "attic", "back"),
    [
        # 50 laid are 5 cartons; 62 with spares are 7: two stay shut where no spare is needed.
        (50, 12, False, 2),
        (50, 12, True, 2),
        # 54 laid open the sixth carton, which holds six of the seven spares.
        (54, 7, False, 1),
        (54, 6, False, 0),
        (54, 0, True, 0),
    ],
)
def test_only_full_cartons_go_back_and_never_the_attics(
    planks: int, spares: int, attic: bool, back: int
) -> None:
    plan = a_plan(planks=planks, cartons=-(-(planks + spares) // 10))
    zone = a_zone(plan=plan, spares=spares, attic_carton=attic)

    returnable = [e for e in take_off(a_job(zones=(zone,))) if e.code == "cartons_returnable"]
    assert sum(entry.amount for entry in returnable) == back
    assert {entry.kind for entry in returnable} <= {"fact"}


def test_what_is_carried_weighs_the_cartons_of_the_job_by_product() -> None:
    # 17 x 36 + 14 x 41 = 612 + 574.
    assert the(take_off(three_floors()), "carry").amount == 1186


def test_two_products_of_one_name_are_told_apart_by_their_boards() -> None:
    job = three_floors()
    other = a_product(name="oak", length_in=Decimal(72))
    zones = (job.zones[0], a_floor("hall", other, 60), job.zones[2])

    assert cartons(JobTake(rooms=job.rooms, zones=zones)) == {
        "oak, 48 x 7 in, 10 a carton": 11,
        "oak, 72 x 7 in, 10 a carton": 7,
        "slate": 14,
    }


MIXED = a_product(
    name="mixed",
    per_carton=9,
    carton_area_in2=Decimal(48 * (3 * 5 + 3 * 6 + 3 * 7)),
    widths=((Decimal(7), 3), (Decimal(6), 3), (Decimal(5), 3)),
)


def mixed_floor(name: str, *by_width: int) -> ZoneTake:
    widths = tuple(zip((Decimal(7), Decimal(6), Decimal(5)), by_width, strict=True))
    plan = a_plan(planks=sum(by_width), cartons=6, by_width=widths)
    return a_zone(name=name, rooms=(name,), product=MIXED, plan=plan)


def test_mixed_widths_are_counted_by_width_over_all_floors() -> None:
    # 7 in: 16 + 5 = 21 of 3 a carton; 6 in: 10 + 11; 5 in: 5 + 16: 7 cartons each, 63 planks.
    # By floor it would be 16 / 3 -> 6 cartons, twice.
    zones = (mixed_floor("den", 16, 10, 5), mixed_floor("hall", 5, 11, 16))
    job = a_job(rooms=(a_room(name="den"), a_room(name="hall")), zones=zones)

    assert cartons(job) == {"mixed": 7}


def test_the_width_that_runs_out_first_decides() -> None:
    zones = (mixed_floor("den", 16, 10, 5), mixed_floor("hall", 8, 2, 1))
    job = a_job(rooms=(a_room(name="den"), a_room(name="hall")), zones=zones)

    assert cartons(job) == {"mixed": 8}  # 24 of 7 in at 3 a carton; 42 planks alone would be 5


def test_planks_by_width_are_read_from_the_pieces_of_a_plan() -> None:
    sizes = [(1, 180.0), (1, 180.0), (2, 180.0), (3, 127.0)]
    pieces = [{"row": 1, "plank": plank, "size": [1200.0, width]} for plank, width in sizes]
    totals = {"planks": 3, "cartons": 1, "laid_area": 645160}

    counts = plan_counts({"unit": "mm", "pieces": pieces, "totals": totals})
    assert counts.by_width == ((Decimal("7.09"), 2), (Decimal("5.00"), 1))


def test_floors_are_gathered_by_product_in_their_order() -> None:
    counts = by_product(three_floors())

    assert [(count.item, len(count.zones)) for count in counts] == [("oak", 2), ("slate", 1)]
