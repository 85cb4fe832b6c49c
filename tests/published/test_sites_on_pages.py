"""Published limits of sites, typed on their pages and read on the page of the job."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Company, Job, SiteFacts
from tests.builders import make_company, make_doorway, make_job, make_person, make_room, make_stair
from tests.reading import words

pytestmark = pytest.mark.django_db

IN = Decimal("25.4")


@pytest.fixture
def company() -> Company:
    return make_company()


@pytest.fixture
def visitor(company: Company) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(make_person(company))
    return signed_in


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
