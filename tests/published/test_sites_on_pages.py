"""Published limits of sites, typed on their pages and read on the page of the job."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Company, Job, SiteFacts
from tests.builders import (
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_product,
    make_room,
    make_stair,
    make_zone,
)
from tests.jobs.agreed import agree, make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db

IN = Decimal("25.4")


def a_job(company: Company, **facts: object) -> Job:
    """A job of a house of 1994 on wood, with nothing on the floor, but for what is told."""
    job = make_job(company)
    SiteFacts.objects.filter(job=job).update(**{"existing_floor": "none"} | facts)
    return job


def page_of(visitor: Visitor, job: Job) -> str:
    return words(visitor.get(reverse("job", args=[job.pk])))


@pytest.mark.parametrize(("year", "presumed"), [(1979, True), (1980, True), (1981, False)])
def test_a_floor_put_in_by_1980_is_a_stop_on_the_page_of_its_job(
    visitor: Visitor, company: Company, year: int, presumed: bool
) -> None:
    # 29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997.
    facts = {"existing_floor": "resilient", "floor_year": year, "tear_out": True}
    page = page_of(visitor, a_job(company, **facts))
    assert ("The old floor may hold asbestos" in page) == presumed
    assert ("Keep the proof of the old floor" in page) == (not presumed)


def test_what_is_never_done_to_such_a_floor_is_said(visitor: Visitor, company: Company) -> None:
    # 1910.1001(k)(7): no sanding; RFCI work practices: no scraping, drilling, breaking.
    facts = {"existing_floor": "resilient", "floor_year": 1970, "tear_out": True}
    page = page_of(visitor, a_job(company, **facts))
    assert "Nobody sands, grinds, scrapes, drills, breaks or removes it" in page


@pytest.mark.parametrize(
    ("year", "painted", "stop"),
    [(1977, "6.00", False), (1977, "6.01", True), (1978, "20", False), (1977, "20", True)],
)
def test_more_than_six_square_feet_of_paint_before_1978_is_a_stop(
    visitor: Visitor, company: Company, year: int, painted: str, stop: bool
) -> None:
    # 40 CFR 745.83.
    job = a_job(company, year_built=year, painted_ft2_per_room=Decimal(painted))
    assert ("Old paint may hold lead" in page_of(visitor, job)) == stop


@pytest.mark.parametrize(
    ("width", "wanted"), [(144, 3), (1000, 3), (1001, 4), (2000, 4), (2001, 5)]
)
def test_a_slab_asks_for_tests_by_its_size(
    visitor: Visitor, company: Company, width: int, wanted: int
) -> None:
    # ASTM F2170 and F1869, from memory: three for the first 1000 ft2, one for each 1000 or part.
    job = a_job(company, subfloor="slab")
    make_room(job, "Hall", (width * 12, 12))
    assert f"asks for {wanted}, all by the same" in page_of(visitor, job)


@pytest.mark.parametrize(
    ("rise", "accessible", "said"),
    [("0.25", True, False), ("0.26", True, True), ("0.5", False, True)],
)
def test_a_change_in_level_is_told_above_a_quarter_inch(
    visitor: Visitor, company: Company, rise: str, accessible: bool, said: bool
) -> None:
    # 2010 ADA Standards 303.2 to 303.4: 1/4 in upright, to 1/2 in beveled 1:2, else a ramp.
    job = a_job(company, accessible_route=accessible)
    make_doorway(make_room(job), beyond_kind="tile", step_mm=Decimal(rise) * IN)
    page = page_of(visitor, job)
    assert ("up to 1/2 in needs a bevel no steeper than 1:2" in page) == said


@pytest.mark.parametrize(
    ("risers", "tread", "title"),
    [
        (("7 3/8", "7 3/4"), "10", ""),
        (("7 5/16", "7 23/32"), "10", "Uneven risers"),
        (("7 3/4", "7 3/4"), "10", ""),
        (("7 13/16", "7 13/16"), "10", "A riser is too high"),
        (("7 1/2", "7 1/2"), "9 15/16", "A tread is too narrow"),
    ],
)
def test_risers_and_treads_are_held_against_the_code(
    visitor: Visitor, company: Company, risers: tuple[str, ...], tread: str, title: str
) -> None:
    # IRC 2021 R311.7.5.1 and .2: 7-3/4 in at most, 3/8 in apart at most, treads of 10 in at least.
    job = a_job(company)
    whole, _, part = tread.partition(" ")
    above, _, below = part.partition("/")
    deep = Decimal(whole) + (Decimal(above) / Decimal(below) if part else 0)
    make_stair(job, risers=list(risers), tread_mm=deep * IN)
    page = page_of(visitor, job)
    titles = ("Uneven risers", "A riser is too high", "A tread is too narrow")
    assert [each for each in titles if each in page] == ([title] if title else [])


def test_dust_has_the_controls_of_the_table(visitor: Visitor, company: Company) -> None:
    # 29 CFR 1926.1153(c), Table 1, (xi) and (xii): 99 % filter, 25 cfm an inch of wheel.
    page = page_of(visitor, a_job(company, grinding=True))
    assert "99 % or more" in page
    assert "25 cubic feet of air a minute for each inch" in page


def test_saws_and_grinders_have_water_collectors_and_respirators(
    visitor: Visitor, company: Company
) -> None:
    # 29 CFR 1926.1153(a) to (d): 25 and 50 micrograms; Table 1: (ii) saw with water, APF 10 indoors
    # and outdoors over 4 h; (iii) fiber cement outdoors, blade to 8 in, 99 %; (xi) grinder, 4 h.
    page = page_of(visitor, a_job(company, grinding=True))
    assert "The rule holds from 25 micrograms of silica in a cubic meter of air" in page
    assert "nobody breathes more than 50" in page
    assert "A hand-held saw is fed water, with a respirator of APF 10 indoors" in page
    assert "outdoors for more than 4 h a day" in page
    assert "cut outdoors alone, by a blade of 8 in or less" in page


def test_a_probe_stands_a_day_and_a_dish_two_and_a_half(visitor: Visitor, company: Company) -> None:
    # ASTM F2170, revised in 2018: 24 h, not 72; F1869, from memory: 60 to 72 h.
    job = a_job(company, subfloor="slab")
    make_room(job, "Hall", (1200, 12))
    page = page_of(visitor, job)
    assert "a probe read 24 h after it is set" in page
    assert "a dish weighed after 60 to 72 h" in page


@pytest.mark.parametrize(("rise", "stays"), [("0.5", False), ("0.75", True), ("0.76", False)])
def test_a_threshold_that_is_there_may_stay_to_three_quarters(
    visitor: Visitor, company: Company, rise: str, stays: bool
) -> None:
    # 2010 ADA Standards 404.2.5: 1/2 in, an existing one 3/4 in beveled 1:2 on both sides (the
    # exception from memory); ICC A117.1, 303 and 404.2.4, from memory, the same.
    job = a_job(company, accessible_route=True)
    make_doorway(make_room(job), beyond_kind="tile", step_mm=Decimal(rise) * IN)
    page = page_of(visitor, job)
    assert ("Up to 3/4 in a threshold that is there already may stay" in page) == stays
    assert "ICC A117.1, 303 and 404.2.4" in page


@pytest.mark.parametrize(("step", "said"), [("1.5", False), ("1.51", True)])
def test_the_sill_of_a_way_out_is_no_higher_than_an_inch_and_a_half(
    visitor: Visitor, company: Company, step: str, said: bool
) -> None:
    # IRC R311.3.1, from memory.
    sill = {"kind": "exterior", "beyond_kind": "outside", "step_mm": Decimal(step) * IN}
    job = a_job(company)
    make_doorway(make_room(job), **sill)
    assert ("The sill of a way out is too high" in page_of(visitor, job)) == said


@pytest.mark.parametrize(
    ("riser", "tread", "accessible", "said"),
    [
        ("7", "11", True, False),
        ("7 1/16", "11", True, True),
        ("4", "11", True, False),
        ("3 15/16", "11", True, True),
        ("7", "10.9", True, True),
        ("7 1/16", "10.9", False, False),
    ],
)
def test_stairs_of_an_accessible_route_have_limits_of_their_own(
    visitor: Visitor, company: Company, riser: str, tread: str, accessible: bool, said: bool
) -> None:
    # 2010 ADA Standards 504.2: risers of 4 to 7 in, treads of 11 in or more.
    job = a_job(company, accessible_route=accessible)
    make_stair(job, risers=[riser, riser], tread_mm=Decimal(tread) * IN)
    assert ("Stairs on an accessible route" in page_of(visitor, job)) == said


@pytest.mark.parametrize(
    ("width", "boards", "waits"),
    [("2.25", "12", False), ("2.25", "12.1", True), ("7", "10", False), ("7", "10.1", True)],
)
def test_boards_wait_until_they_are_near_a_wood_subfloor(
    visitor: Visitor, company: Company, width: str, boards: str, waits: bool
) -> None:
    # NWFA Installation Guidelines (2008), its adviser: within 4 points for strip, 2 for wider ones;
    # 3 in as the limit from memory. The subfloor reads 8 %.
    job = a_job(company, subfloor="wood")
    oak = make_product(company, core="wood", width_mm=Decimal(width) * IN)
    make_zone(make_room(job), oak)
    for method, value in (("wood", "8"), ("boards", boards)):
        site = SiteFacts.objects.get(job=job)
        sent = {"key": method, "version": site.version, "method": method, "value": value}
        visitor.post(reverse("moisture", args=[job.pk]), sent)
    assert ("The boards wait for their moisture" in page_of(visitor, job)) == waits


def test_a_crew_reads_what_noise_eyes_and_nailers_ask_for(
    visitor: Visitor, company: Company
) -> None:
    # 29 CFR 1926.52, Table D-2: 8 / 2 ** ((L - 90) / 5) hours, as printed; from memory 29 CFR
    # 1910.95(c), 85 dBA; 1926.102(b), ANSI Z87.1; OSHA/NIOSH 2011-202.
    job = make_job(company)
    agree(job, make_scope(job))
    day = make_day(job, make_crew(company), job.agreed_scope)
    page = words(visitor.get(reverse("day", args=[day.pk])))
    printed = {90: 8, 92: 6, 95: 4, 97: 3, 100: 2, 102: 1.5, 105: 1, 110: 0.5, 115: 0.25}
    parts = {0.25: "1/4", 0.5: "1/2", 1.5: "1-1/2"}
    for level, hours in printed.items():
        assert f"{parts.get(hours, hours)} at {level}" in page
        assert abs(8 / 2 ** ((level - 90) / 5) - hours) < 0.1 * hours
    assert "protection from 85 dBA" in page
    assert "Glasses to ANSI Z87.1" in page
    assert "A nailer has a full sequential trigger" in page
