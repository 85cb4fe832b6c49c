"""From plan to quantities: what four small floors come to, counted by hand, piece by piece.

Every test first says the plan that was counted, row by row: what each piece covers along the row,
and what was cut of it ("c" across, "r" along, "n" a notch; "!" is trapped). The figures after it
are this file's own arithmetic on those rows and on the walls. Planks are 48 by 7 in, ten to the
carton, 1/4 in off the walls, three spares, unless a test says otherwise. The floors are invented.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from jobs.domain.quantities import Quantity
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.takeoff import take_off
from jobs.models import FloorPlan, FloorZone, Job, Room, SiteFacts
from jobs.readers.scope import job_take
from jobs.services.plans import JudgedPlan, keep_plan
from layout.judge.check import check_plan
from layout.values.plan_form import read_plan
from layout.values.request import read_request
from tests.builders import (
    make_company,
    make_doorway,
    make_job,
    make_product,
    make_room,
    make_run,
    make_zone,
)

pytestmark = pytest.mark.django_db

IN = Decimal("25.4")
PLANS = Path(__file__).parent / "worked_plans"
LETTERS = {"crosscut": "c", "rip": "r", "notch": "n"}


def counted_of(zone: FloorZone, name: str) -> tuple[FloorPlan, JobTake, dict[str, Quantity]]:
    """Store the kept plan of a floor; return it, what is counted of its job, the takeoff by code.

    The plans are kept as they were made and judged once: what is counted here can't change with
    what the planner finds.
    """
    kept = json.loads((PLANS / f"{name}.json").read_text())
    judged = JudgedPlan(request_form=kept["request"], plan_form=kept["plan"])
    plan = keep_plan(zone=zone, judged=judged, user=None)
    take = job_take(zone.job, {zone: plan})
    return plan, take, {entry.code: entry for entry in take_off(take)}


def rows_of(plan: FloorPlan) -> list[str]:
    """Return the rows of a stored plan as this file writes them."""
    rows: dict[int, list[str]] = {}
    for piece in json.loads(plan.document.text)["pieces"]:
        along = [x for x, _ in piece["outline"]]
        cuts = "".join(LETTERS[cut["kind"]] for cut in piece.get("cuts", []))
        trapped = "!" if piece["trapped"] else ""
        words = f"{max(along) - min(along):g}{cuts and ' ' + cuts}{trapped}"
        rows.setdefault(piece["row"], []).append(words)
    return [" | ".join(pieces) for _, pieces in sorted(rows.items())]


def amounts(quantities: Mapping[str, Quantity], *codes: str) -> list[Any]:
    """Return how much there is of each of these; 0 where the takeoff has none."""
    return [quantities[code].amount if code in quantities else 0 for code in codes]


def torn_out(job: Job) -> None:
    """Let an old carpet come out of the job."""
    SiteFacts.objects.filter(job=job).update(existing_floor="carpet", tear_out=True)


def base_along(room: Room, *inches: int | str) -> None:
    """Give a room a run of base along each wall, of these lengths."""
    for wall, length in enumerate(inches):
        make_run(room, wall=wall, length_mm=Decimal(length) * IN)


def test_a_rectangle() -> None:
    """A den of 96 by 42-1/2 in; a door of 32 in to tile, base taken off and put back."""
    job = make_job(make_company())
    torn_out(job)
    den = make_room(job, "Den", (96, 42.5), base="reinstall")
    base_along(den, 64, "42.5", 96, "42.5")
    sizes = {"offset_mm": 30 * IN, "width_mm": 32 * IN, "depth_mm": 0}
    make_doorway(den, wall=0, beyond_kind="tile", treatment="T-molding", casings=2, **sizes)

    plan, take, quantities = counted_of(make_zone(den, make_product(job.company)), "a_rectangle")

    # 42 in of floor across are six rows of 7 in, so nothing is ripped; 95.5 in along.
    assert rows_of(plan) == [
        "39.5 c | 48 | 8 c",  # 3 pieces, 1 whole, 2 cut across
        "47.5 c | 48",  # 2, 1, 1
        "23.75 c | 48 | 23.75 c",  # 3, 1, 2
        "31.875 c | 48 | 15.625 c",  # 3, 1, 2
        "47.5 c | 48",  # 2, 1, 1
        "24.125 c | 48 | 23.375 c",  # 3, 1, 2
    ]
    counts = take.zones[0].plan
    assert (counts.rows, counts.pieces, counts.full_pieces) == (6, 3 + 2 + 3 + 3 + 2 + 3, 6)
    assert (counts.crosscuts, counts.rips, counts.notches) == (2 + 1 + 2 + 2 + 1 + 2, 0, 0)
    assert counts.trapped == 0
    # Each row is one whole plank and one that both of its ends, or its one end, are cut from.
    assert counts.planks == 6 * 2
    assert counts.area_in2 == Decimal("95.5") * 42  # laid: 4011
    assert take.zones[0].area_in2 == take.rooms[0].area_in2 == 96 * Decimal("42.5")  # 4080
    assert take.zones[0].perimeter_in == take.rooms[0].perimeter_in == 2 * (96 + Decimal("42.5"))
    # 12 planks and 3 spares are 15: two cartons of 10.
    assert amounts(quantities, "planks", "cartons") == [12, 2]
    assert amounts(quantities, "pieces", "crosscuts", "rips", "notches", "trapped", "rows") == [
        *(16, 10, 0, 0, 0, 6)
    ]
    # 4080 / 144 = 28.33 ft2, of the floor and of the carpet that comes out.
    area = Decimal("28.33")
    assert amounts(quantities, "floor_area", "tear_out", "disposal") == [area] * 3
    # Base: 96 - 32 + 42.5 + 96 + 42.5 = 245 in = 20.42 ft, off and on; no shoe.
    feet = Decimal("20.42")
    assert amounts(quantities, "base_off", "base_on", "shoe_on") == [feet, feet, 0]
    # 245 / 16 = 15.3: sixteen studs and the one at the end, two nails each.
    assert amounts(quantities, "base_nails", "spacers") == [2 * (16 + 1), 24]  # 277 / 12 = 23.1
    # One strip of 32 in from one 72 in stick on one track; screws every 8 in: 4 and the last.
    assert amounts(quantities, "transitions", "casings") == [1, 2]
    assert amounts(quantities, "transition_profile", "transition_track") == [1, 1]
    assert amounts(quantities, "transition_screws") == [4 + 1]


def an_ell(job: Job) -> Room:
    """A den of 96 by 49 in, less 36 by 21 in, with a post of 4 by 4 in."""
    walls = (96, 28, 36, 21, 60, 49)
    room = make_room(job, "Den", base="replace", shoe=True)
    room.outline = [[0, 0], [96, 0], [96, 28], [60, 28], [60, 49], [0, 49]]
    turns = ("left", "left", "right", "left", "left", "left")
    room.measured["walls"] = [
        {"length": str(length), "turn": turn} for length, turn in zip(walls, turns, strict=True)
    ]
    room.holes = [{"kind": "post", "ring": [[40, 16], [44, 16], [44, 20], [40, 20]]}]
    room.save()
    base_along(room, *walls)
    for wall, length in enumerate(walls):
        make_run(room, wall=wall, kind="shoe", length_mm=length * IN)
    return room


def test_an_ell_with_a_post() -> None:
    """New base and shoe along all six walls; nothing comes out."""
    job = make_job(make_company())
    zone = make_zone(an_ell(job), make_product(job.company))
    plan, take, quantities = counted_of(zone, "an_ell_with_a_post")

    # 48.5 in across are 3.25 + 6 x 7 + 3.25: the first and the last row are ripped.
    assert rows_of(plan) == [
        "47.5 cr | 48 r",  # 2 pieces, 1 cut across, 2 along
        "24 c | 48 | 23.5 c",  # 3, 1 whole, 2 across
        "10.875 c | 48 n | 36.625 c",  # 3, 2 across, 1 notched at the post
        "31.5 c | 48 n | 16 c",  # 3, 2 across, 1 notched at the post
        "47.5 c | 48 n",  # 2, 1 across, 1 notched at the corner
        "35 c | 24.5 c",  # 2, 2 across
        "11.5 c | 48",  # 2, 1 whole, 1 across
        "48 r | 11.5 cr",  # 2, 1 across, 2 along
    ]
    counts = take.zones[0].plan
    assert (counts.rows, counts.pieces) == (8, 2 + 3 + 3 + 3 + 2 + 2 + 2 + 2)
    assert counts.full_pieces == 1 + 1  # a whole plank that is ripped or notched is not full
    assert counts.crosscuts == 1 + 2 + 2 + 2 + 1 + 2 + 1 + 1
    assert (counts.rips, counts.notches, counts.trapped) == (2 + 2, 3, 0)
    # Laid: 95.5 x 27.5 and above it 59.5 x 21, less the post with its gaps, 4.5 x 4.5.
    laid = Decimal("95.5") * Decimal("27.5") + Decimal("59.5") * 21 - Decimal("20.25")
    assert counts.area_in2 == laid == Decimal("3855.5")
    # Floor: 96 x 49 less 36 x 21 less 4 x 4 = 4704 - 756 - 16.
    assert take.zones[0].area_in2 == take.rooms[0].area_in2 == 3932
    assert take.zones[0].perimeter_in == take.rooms[0].perimeter_in == 2 * (96 + 49)
    assert amounts(quantities, "pieces", "crosscuts", "rips", "notches", "rows") == [
        *(19, 12, 4, 3, 8)
    ]
    assert amounts(quantities, "trapped", "tear_out", "transitions") == [0, 0, 0]
    assert amounts(quantities, "floor_area") == [Decimal("27.31")]  # 3932 / 144
    assert amounts(quantities, "planks", "cartons") == [13, 2]  # 13 + 3 = 16
    # 290 in = 24.17 ft of base off and on, and of shoe; 290 / 16 = 18.1, 290 / 12 = 24.2.
    feet = Decimal("24.17")
    assert amounts(quantities, "base_off", "base_on", "shoe_on") == [feet] * 3
    assert amounts(quantities, "base_nails", "shoe_nails") == [2 * (19 + 1), 25 + 1]


def test_two_rooms_through_a_doorway() -> None:
    """A den of 60 by 35 in and a hall of 60 by 21 in, 4-1/2 in of wall between; a door each way."""
    job = make_job(make_company())
    torn_out(job)
    den, hall = make_room(job, "Den", (60, 35), base="reinstall"), make_room(job, "Hall", (60, 21))
    base_along(den, 28, 35, 28, 35)
    zone = make_zone(den, make_product(job.company, lock="angle-angle"), name="Both")
    hall.zone, hall.place_y_mm = zone, Decimal("39.5") * IN
    hall.save()
    sizes = {"offset_mm": 14 * IN, "width_mm": 32 * IN, "depth_mm": Decimal("4.5") * IN}
    carried = {"treatment": "carry through", "casings": 4, "doors_off": 1}
    make_doorway(den, wall=2, beyond=hall, **carried, **sizes)
    make_doorway(den, wall=0, beyond_kind="tile", treatment="T-molding", casings=1, **sizes)

    plan, take, quantities = counted_of(zone, "two_rooms_through_a_doorway")

    assert rows_of(plan) == [
        "11.5 cr | 48 rnn",  # 2 pieces, 1 across, 2 along, 2 notches at the casings
        "29.75 c | 29.75 c",  # 2, 2 across
        "48 | 11.5 c",  # 2, 1 whole, 1 across
        "28.375 c | 31.125 c",  # 2, 2 across
        "11.5 c | 48",  # 2, 1 whole, 1 across
        "48 nn! | 11.5 cr",  # 2, 1 across, 1 along, 2 notches; it goes in under two casings
        "48 nn | 11.5 cr",  # 2, 1 across, 1 along, 2 notches
        "27.625 c | 31.875 c",  # 2, 2 across
        "11.5 c | 48",  # 2, 1 whole, 1 across
    ]
    counts = take.zones[0].plan
    assert (counts.rows, counts.pieces, counts.full_pieces) == (9, 9 * 2, 3)
    assert counts.crosscuts == 1 + 2 + 1 + 2 + 1 + 1 + 1 + 2 + 1
    assert (counts.rips, counts.notches, counts.trapped) == (2 + 1 + 1, 2 + 2 + 2, 1)
    # Laid: 59.5 x 34.5 and 59.5 x 20.5; 31.5 x 5 between them, 31.5 x 2.25 under the strip.
    laid = [Decimal("2052.75"), Decimal("1219.75"), Decimal("157.5"), Decimal("70.875")]
    assert counts.area_in2 == sum(laid)
    # Floor: 60 x 35 + 60 x 21 + 32 x 4.5 + 32 x 2.25 = 3576 in2 = 24.83 ft2.
    assert take.zones[0].area_in2 == 2100 + 1260 + 144 + 72
    assert amounts(quantities, "floor_area") == [Decimal("24.83")]
    # Edge: both rooms less the shared opening twice, its two sides, and the two halves at the tile.
    assert take.zones[0].perimeter_in == 190 + 162 - 64 + 9 + Decimal("4.5")
    assert [int(room.area_in2) for room in take.rooms] == [2100, 1260]
    assert [int(room.perimeter_in) for room in take.rooms] == [190, 162]
    torn = [entry.amount for entry in take_off(take) if entry.code == "tear_out"]
    assert torn == [Decimal("14.58"), Decimal("8.75")]  # 2100 / 144 and 1260 / 144, no doorway
    assert amounts(quantities, "base_on") == [Decimal("10.5")]  # 28 + 35 + 28 + 35 = 126 in
    assert [str(one.treatment) for one in take.doorways] == ["T-molding", "carry through"]
    assert [(int(one.width_in), one.casings) for one in take.doorways] == [(32, 1), (32, 4)]
    assert amounts(quantities, "transitions", "transition_profile", "doors_off") == [1, 1, 1]
    assert amounts(quantities, "pieces", "crosscuts", "rips", "notches", "trapped") == [
        *(18, 12, 4, 6, 1)
    ]
    assert amounts(quantities, "planks", "cartons") == [12, 2]


def test_mixed_widths_in_millimeters() -> None:
    """A den of 1500 by 1100 mm; a carton holds four planks of 180 mm and four of 130 mm."""
    job = make_job(make_company(), units="metric")
    torn_out(job)
    sizes = {"length_mm": 1200, "width_mm": 180, "thickness_mm": 8, "gap_mm": 8, "saw_kerf_mm": 3}
    sizes |= {"min_end_mm": 200, "min_offset_mm": 200, "min_row_mm": 50, "per_carton": 4}
    narrow = [{"width_mm": "130", "per_carton": 4}]
    product = make_product(job.company, units="metric", more_boards=narrow, **sizes)
    den = make_room(job, "Den", (1500, 1100), base="reinstall")
    for wall, length in enumerate((1500, 1100, 1500, 1100)):
        make_run(den, wall=wall, length_mm=Decimal(length))

    plan, take, quantities = counted_of(make_zone(den, product), "mixed_widths_in_millimeters")

    # 1084 mm across: 180 + 130 + 180 + 130 + 180 + 130 = 930, and 154 mm of a wide plank.
    assert rows_of(plan) == [
        "284 c | 1200",  # wide: 2 pieces, 1 whole, 1 across
        "1200 | 284 c",  # narrow
        "600 c | 884 c",  # wide: 2 across
        "884 c | 600 c",  # narrow
        "1200 | 284 c",  # wide
        "284 c | 1200",  # narrow
        "888 cr | 596 cr",  # wide: 2 across, 2 along
    ]
    counts = take.zones[0].plan
    assert (counts.rows, counts.pieces, counts.full_pieces) == (7, 7 * 2, 4)
    assert (counts.crosscuts, counts.rips) == (1 + 1 + 2 + 2 + 1 + 1 + 2, 2)
    # Wide rows: 1200 whole; 284 and 884 of one, 600 and 596 of one, 1200 whole, 284 and 888.
    # Narrow rows: 1200 whole twice; 284 and 884 of one, 600 and 284 of one.
    assert counts.by_width == ((Decimal("7.09"), 5), (Decimal("5.12"), 4))
    assert counts.planks == 5 + 4
    # 1484 x 1084 = 1 608 656 mm2, by 645.16; 1500 x 1100 = 1 650 000 mm2.
    assert round(counts.area_in2, 2) == Decimal("2493.42")
    assert take.zones[0].area_in2 == take.rooms[0].area_in2 == Decimal("2557.51")
    assert take.zones[0].perimeter_in == take.rooms[0].perimeter_in == Decimal("204.72")  # 5200 mm
    assert amounts(quantities, "floor_area", "tear_out") == [Decimal("17.76")] * 2
    # 5200 / 304.8 = 17.06 ft of base; 204.72 / 16 = 12.8 studs, 204.72 / 12 = 17.06 spacers.
    assert amounts(quantities, "base_on", "base_nails") == [Decimal("17.06"), 2 * (13 + 1)]
    assert amounts(quantities, "spacers") == [18]
    # Five wide planks at four a carton are two cartons, though 9 + 3 planks would fill 1.5.
    assert amounts(quantities, "planks", "cartons", "rips", "crosscuts") == [9, 2, 2, 10]


@pytest.mark.parametrize("path", sorted(PLANS.glob("*.json")), ids=lambda path: path.stem)
def test_the_judge_finds_no_fault_in_a_kept_plan(path: Path) -> None:
    kept = json.loads(path.read_text())
    assert check_plan(read_request(kept["request"]), read_plan(kept["plan"])) == ()
