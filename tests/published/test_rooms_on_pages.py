"""Published lengths, areas and angles, typed on the page of a room and read back from it."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from shapely.geometry import Polygon

from jobs.models import Company, Job, Room, UnitSystem
from tests.builders import make_job
from tests.jobs.room_sheets import sheet
from tests.reading import words

pytestmark = pytest.mark.django_db


def room_of(visitor: Visitor, job: Job, *lengths: str, **more: object) -> Room:
    """Type the walls of a room, save it, and return its row."""
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*lengths, **more))
    return Room.objects.get(job=job)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("11' 7-3/8\"", 3540.125),  # 139.375 x 25.4
        ("100 ft", 30480),  # 85 FR 62698 (2020): 0.3048 m, never 1200 / 3937
        ("100 1/2 in", 2552.7),
        ("100 1/16 in", 2541.5875),  # 1/16 in is 1.5875 mm
        ("100 1/64 in", 2540.396875),  # 1/64 in is 0.396875 mm
    ],
)
def test_inches_typed_in_a_metric_job_are_kept_exactly(
    visitor: Visitor, company: Company, typed: str, mm: float
) -> None:
    # NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft = 0.3048 m, exactly.
    job = make_job(company, units=UnitSystem.METRIC)
    room = room_of(visitor, job, "160 in", typed, "160 in", typed)
    assert room.outline[2] == [4064, mm]


def test_a_length_typed_is_read_back_in_lowest_terms(visitor: Visitor, company: Company) -> None:
    job = make_job(company)
    room = room_of(visitor, job, "11' 7 6/16\"", "10'", "11' 7 3/8\"", "10'")
    assert room.outline[1] == [139.375, 0]
    page = words(visitor.get(reverse("room-list", args=[job.pk])))
    assert "6/16" not in page


def test_a_room_tells_its_area_in_whole_square_feet(visitor: Visitor, company: Company) -> None:
    # ANSI Z765, sections 3 and 4: to the whole square foot; 144 in2 are one. 148.5 x 120 = 17820
    # in2 = 123.75 ft2.
    job = make_job(company)
    room_of(visitor, job, "148.5 in", "120 in", "148.5 in", "120 in")
    page = words(visitor.get(reverse("room-list", args=[job.pk]))).replace("\u00a0", " ")
    assert "124 ft²" in page


def test_a_room_of_one_hundred_square_feet_is_9_29_square_meters(
    visitor: Visitor, company: Company
) -> None:
    # 1 ft2 = 0.09290304 m2; told to the tenth.
    job = make_job(company, units=UnitSystem.METRIC)
    room = room_of(visitor, job, "10 ft", "10 ft", "10 ft", "10 ft")
    assert Polygon(room.outline).area == pytest.approx(100 * 92903.04)
    assert "9.3" in words(visitor.get(reverse("room-list", args=[job.pk])))


@pytest.mark.parametrize("times", [1, 2, 3, 4])
def test_three_four_five_is_square_on_the_page(
    visitor: Visitor, company: Company, times: int
) -> None:
    # 3-4-5 and its multiples, in feet.
    three, four, five = (f"{times * side}'" for side in (3, 4, 5))
    sent = sheet(four, three, four, three, do="draw") | {"diagonal-rows": 1}
    sent |= {"diagonal-0-start": 1, "diagonal-0-end": 3, "diagonal-0-length": five}
    url = reverse("room-add", args=[make_job(company).pk])
    answer = words(visitor.post(url, sent, headers={"HX-Request": "true"}))
    assert "Corner 2 is square" in answer


def test_a_diagonal_of_20_25_is_a_corner_of_91_5_degrees(
    visitor: Visitor, company: Company
) -> None:
    # Law of cosines, computed: 12, 16 and 20.25 enclose 91.50 degrees.
    sent = sheet("16'", "12'", "16'", "12'", do="draw") | {"diagonal-rows": 1}
    sent |= {"diagonal-0-start": 1, "diagonal-0-end": 3, "diagonal-0-length": "20' 3\""}
    url = reverse("room-add", args=[make_job(company).pk])
    answer = words(visitor.post(url, sent, headers={"HX-Request": "true"}))
    assert re.search(r"91\.5", answer)


def test_six_square_corners_are_seven_hundred_and_twenty_degrees(
    visitor: Visitor, company: Company
) -> None:
    # (6 - 2) x 180: five corners turn left and one right, and the walk closes.
    walls = ("10'", "5'", "4'", "3'", "6'", "8'")
    turns = ("left", "left", "right", "left", "left", "left")
    sent = sheet(*walls) | {f"wall-{row}-turn": turn for row, turn in enumerate(turns)}
    job = make_job(company)
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    room = Room.objects.get(job=job)
    assert len(room.outline) == 6
    assert room.misclosure_mm == 0
    # 10 x 5 + 6 x 3 = 68 ft2 by parts.
    assert Polygon(room.outline).area == pytest.approx(68 * 144)


def test_a_wall_an_eighth_off_is_spread_and_said(visitor: Visitor, company: Company) -> None:
    # The compass rule (J. Mahun, Traverse Computations, ch. H): the miss is shared by length.
    job = make_job(company)
    room = room_of(visitor, job, "144 1/8 in", "120 in", "144 in", "120 in")
    assert room.misclosure_mm == Decimal("3.175")
    # Miss 0.125 in over 528.125 in of walls: each wall gives its share of it.
    assert room.outline[1][0] == pytest.approx(144.125 - 0.125 * 144.125 / 528.125, abs=1e-6)
