"""Published traverses typed wall by wall on the page of a room, at a tenth of their size.

A surveyor's plot stands for a room; no wall of a room is longer than 100 m.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from shapely.geometry import Polygon

from jobs.models import Company, Job, Room, UnitSystem
from tests.builders import make_job
from tests.jobs.room_sheets import sheet
from tests.reading import words

pytestmark = pytest.mark.django_db

Corners = Sequence[tuple[float, float]]
Line = tuple[float, float]  # azimuth in degrees and length in feet
SCALE = 10
FT_MM = 304.8

# J. Mahun, Traverse Computations, ch. G, 3, example 1; COGO, ch. H: north and east in feet.
FOUR = ((500.0, 2000.0), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956))
FIVE = ((406.31, 1259.97), (235.12, 1489.47), (65.81, 1126.40), (317.89, 942.04), (675.32, 1282.54))
# US Navy, NAVEDTRA 14070 (Engineering Aid), figures 7-18 and 7-19: from D round to A, B and C.
NAVY = ((150.70, 556.30), (742.34, 32.68), (998.30, 158.34), (844.77, 748.99))
# J. Mahun, Traverse Adjustment, problem 2: degrees, minutes, seconds; feet; adjusted feet. Printed
# as AB, BC, CD, DA, which cross; here BC, DA, AB, CD: what a line is adjusted by is its length's.
LOOP = (
    ((0, 0, 0), 523.69, 523.715),
    ((79, 35, 2), 815.93, 815.901),
    ((226, 54, 23), 639.15, 639.150),
    ((235, 2, 29), 409.54, 409.544),
)


def degrees(whole: float, minutes: float, seconds: float) -> float:
    return whole + minutes / 60 + seconds / 3600


def between(corners: Corners) -> list[Line]:
    """Return azimuth and length from corner to corner, round to the first."""
    lines = []
    for (n1, e1), (n2, e2) in pairwise((*corners, corners[0])):
        lines.append((math.degrees(math.atan2(e2 - e1, n2 - n1)), math.dist((n1, e1), (n2, e2))))
    return lines


def walk(lines: Sequence[Line], **more: object) -> dict[str, object]:
    """Return the page of a room whose walls run so, the corner at the end of each as its angle."""
    sent = sheet(*(f"{length / SCALE:.5f}'" for _, length in lines), **more)
    for row, ((one, _), (next_one, _)) in enumerate(pairwise((*lines, lines[0]))):
        turn = (next_one - one + 180) % 360 - 180  # to the right, as azimuths grow
        sent[f"wall-{row}-turn"] = "right" if turn > 0 else "left"
        sent[f"wall-{row}-angle"] = f"{180 - abs(turn):.4f}"
    return sent


def typed(visitor: Visitor, job: Job, lines: Sequence[Line], **more: object) -> Room:
    """Type a walk, save it, and return its row."""
    answer = visitor.post(reverse("room-add", args=[job.pk]), walk(lines, **more))
    assert answer.status_code == 303
    return Room.objects.get(job=job)


def sides(room: Room) -> list[float]:
    """Return the lengths of the walls as they are kept, in feet of the plot."""
    return [SCALE * math.dist(a, b) / 12 for a, b in pairwise((*room.outline, room.outline[0]))]


@pytest.mark.parametrize(
    ("corners", "exact"), [(FOUR, 102_935.7226), (FIVE, 140_493.107), (NAVY, 323_953.70)]
)
@pytest.mark.parametrize("way", [1, -1])
def test_an_area_by_coordinates_is_the_area_of_the_room(
    visitor: Visitor, company: Company, corners: Corners, exact: float, way: int
) -> None:
    # Printed there as 102,935.75 and 140,494, each product rounded; the last one is computed.
    job = make_job(company)
    room = typed(visitor, job, between(corners[::way]))
    assert Polygon(room.outline).area / 144 * SCALE**2 == pytest.approx(exact, rel=1e-5)
    page = words(visitor.get(reverse("room-list", args=[job.pk])))
    assert f"{exact / SCALE**2:.0f} ft²" in page


def test_a_chain_that_closes_misses_nothing(visitor: Visitor, company: Company) -> None:
    # Its latitudes and departures sum up to 0.00; the angles here are typed to 0.0001 degrees.
    room = typed(visitor, make_job(company), between(NAVY))
    assert float(room.misclosure_mm) / FT_MM * SCALE < 0.005


def test_a_loop_is_adjusted_by_the_compass_rule_as_printed(
    visitor: Visitor, company: Company
) -> None:
    job = make_job(company)
    lines = [(degrees(*azimuth), length) for azimuth, length, _ in LOOP]
    room = typed(visitor, job, lines)
    assert float(room.misclosure_mm) / FT_MM * SCALE == pytest.approx(0.1577, abs=0.0015)
    assert sides(room) == pytest.approx([line[2] for line in LOOP], abs=0.001)
    page = words(visitor.post(reverse("room-edit", args=[room.pk]), walk(lines, do="draw")))
    assert "1 in 15,1" in page  # printed as 1/15,200, exact 1/15,146


def test_a_walk_between_two_known_points_is_adjusted_as_printed(
    visitor: Visitor, company: Company
) -> None:
    # J. Mahun, ch. H, 3: RS, ST, QR, so that they don't cross; from Q to T 113.301 north and
    # 336.141 east are known, so the wall back is sure and takes none of the 0.089 ft missed.
    back = (math.degrees(math.atan2(-336.141, -113.301)), math.hypot(113.301, 336.141))
    lines = [(180 + degrees(75, 17, 42), 422.89), (degrees(43, 5, 47), 604.49)]
    lines += [(180 - degrees(56, 23, 38), 398.75), back]
    room = typed(visitor, make_job(company), lines, sure_last="on")
    printed = [(-107.363, -409.017), (441.379, 413.034), (-220.715, 332.124)]
    assert sides(room)[:3] == pytest.approx([math.hypot(*line) for line in printed], abs=0.002)
    assert sides(room)[3] == pytest.approx(back[1], abs=0.0005)
    assert float(room.misclosure_mm) / FT_MM * SCALE == pytest.approx(0.089, abs=0.002)


def test_a_diagonal_is_the_distance_published(visitor: Visitor, company: Company) -> None:
    # J. Mahun, ch. F, 3: from A to C 512.39 ft. A diagonal so long turns no corner of the walk.
    job = make_job(company)
    plain = typed(visitor, job, between(FOUR))
    before = plain.outline
    plain.delete()
    crossed = {"diagonal-rows": 1, "diagonal-0-start": 1, "diagonal-0-end": 3}
    room = typed(visitor, job, between(FOUR), **crossed, **{"diagonal-0-length": "51.239'"})
    for (x, y), (u, v) in zip(before, room.outline, strict=True):
        assert math.dist((x, y), (u, v)) < 0.1  # inches; of one a foot longer it is inches more


def test_three_tape_lengths_enclose_the_area_of_heron(visitor: Visitor, company: Company) -> None:
    # Heron, Metrica I.8: sides 13, 14, 15 enclose 84 (from memory; recomputed).
    job = make_job(company)
    typed(visitor, job, between([(0, 0), (0, 140), (120, 50)]))
    assert "84 ft²" in words(visitor.get(reverse("room-list", args=[job.pk])))


def test_a_length_in_feet_is_kept_without_the_noise_of_floats(
    visitor: Visitor, company: Company
) -> None:
    # pint 0.25.3 has one foot as 0.30479999999999996 m: here a foot is 304.8 mm, ten 3048.
    job = make_job(company, units=UnitSystem.METRIC)
    visitor.post(reverse("room-add", args=[job.pk]), sheet("1 ft", "10 ft", "1 ft", "10 ft"))
    assert Room.objects.get(job=job).outline[2] == [304.8, 3048]


def test_the_two_feet_are_told_apart_over_a_room(visitor: Visitor, company: Company) -> None:
    # NOAA NGS: they differ by 2 ppm, over 40 ft by 0.00096 in or 0.0244 mm.
    job = make_job(company, units=UnitSystem.METRIC)
    visitor.post(reverse("room-add", args=[job.pk]), sheet("40 ft", "10 ft", "40 ft", "10 ft"))
    kept = Room.objects.get(job=job).outline[1][0]
    assert kept == 12192
    assert abs(40 * 1200 / 3937 * 1000 - kept) == pytest.approx(0.0244, abs=1e-4)


def test_an_ell_has_the_area_that_an_outside_library_gives(
    visitor: Visitor, company: Company
) -> None:
    # GEOS, by shapely: 12 x 20 less 5 x 8 ft = 200 ft2, from coordinates nobody typed.
    job = make_job(company)
    lengths = ("12'", "12'", "5'", "8'", "7'", "20'")
    turns = ("left", "left", "right", "left", "left", "left")
    sent = sheet(*lengths) | {f"wall-{row}-turn": turn for row, turn in enumerate(turns)}
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    ell = Polygon([(0, 0), (12, 0), (12, 12), (7, 12), (7, 20), (0, 20)])
    assert f"{ell.area:.0f} ft²" in words(visitor.get(reverse("room-list", args=[job.pk])))
