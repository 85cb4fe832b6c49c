"""Depths of a low subfloor and moisture readings, against sums worked by hand here."""

from __future__ import annotations

from decimal import Decimal
from importlib import import_module

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.site.leveling import SurveyError, read_depths, survey
from jobs.domain.site.moisture import Reading, readings_wanted, standings
from jobs.models import Product, Room, SiteFacts, User
from jobs.readers.site import cautions_of, moisture_limits
from tests.builders import make_job, make_product, make_room, make_zone
from tests.reading import words

RING = ((0.0, 0.0), (120.0, 0.0), (120.0, 144.0), (0.0, 144.0))
FOUR = [
    {"x": "30", "y": "36", "depth": "1/4"},
    {"x": "90", "y": "36", "depth": "1/2"},
    {"x": "30", "y": "108", "depth": "0"},
    {"x": "90", "y": "108", "depth": "3/8"},
]
BAG = Decimal("0.45")


def page_of(visitor: Visitor, name: str, pk: int) -> str:
    """Return the words of a page."""
    return words(visitor.get(reverse(name, args=[pk])))


def test_each_reading_fills_the_part_nearest_to_it() -> None:
    # Four quarters of 60 x 72 = 4320 in2; depths 1/4 + 1/2 + 3/8 = 1 1/8 in: 4860 in3 = 2.8125 ft3.
    # 1/16 in more or less on three quarters: 810 in3 = 0.46875 ft3. Over 0.45: 5.2 and 7.3 bags.
    surveyed = survey(read_depths(FOUR, RING, unit="in"), RING, unit="in", bag_fills_ft3=BAG)
    assert surveyed is not None
    assert surveyed.fill_ft3 == pytest.approx((2.34375, 3.28125))
    assert surveyed.bags == (6, 8)
    assert surveyed.low_ft2 == pytest.approx(90)


def test_one_reading_stands_for_the_whole_room() -> None:
    # 120 x 144 x 1/2 = 8640 in3 = 5 ft3; with 1/16 in more 5.625 ft3, 12.5 bags.
    depths = read_depths([{"x": "60", "y": "72", "depth": "1/2"}], RING, unit="in")
    surveyed = survey(depths, RING, unit="in", bag_fills_ft3=BAG)
    assert surveyed is not None
    assert surveyed.bags == (10, 13)


def test_a_level_room_asks_for_nothing() -> None:
    depths = read_depths([{"x": "60", "y": "72", "depth": "0"}], RING, unit="in")
    assert survey(depths, RING, unit="in", bag_fills_ft3=BAG) is None


def test_metric_readings_fill_as_much() -> None:
    ring = tuple((x * 25.4, y * 25.4) for x, y in RING)
    rows = [{"x": "1524 mm", "y": "1828.8 mm", "depth": "12.7 mm"}]
    surveyed = survey(read_depths(rows, ring, unit="mm"), ring, unit="mm", bag_fills_ft3=BAG)
    assert surveyed is not None
    assert sum(surveyed.fill_ft3) / 2 == pytest.approx(5)


@pytest.mark.parametrize(
    ("row", "field", "said"),
    [
        ({"x": "11'", "y": "1'", "depth": "1/4"}, "x", "lies outside the room"),
        ({"x": "1'", "y": "1'", "depth": "9"}, "depth", 'too deep to fill; accepted: up to 6"'),
        ({"x": "1'", "y": "deep", "depth": "1/4"}, "y", "“deep” is no length"),
        ({"x": "30", "y": "36", "depth": "1/4"}, "x", "Two readings lie at one place"),
    ],
)
def test_a_reading_that_cant_be_used_is_named(row: dict[str, str], field: str, said: str) -> None:
    with pytest.raises(SurveyError, match=said) as refused:
        read_depths([FOUR[0], row], RING, unit="in")
    assert (refused.value.row, refused.value.field) == (1, field)


# ASTM F2170 and F1869: three for the first 1000 ft2 and one for each 1000 more, from memory.
@pytest.mark.parametrize(
    ("method", "area", "wanted"),
    [("rh", 180, 3), ("rh", 1000, 3), ("rh", 1001, 4), ("mver", 2001, 5), ("wood", 2001, 1)],
)
def test_a_slab_asks_for_a_number_of_tests(method: str, area: int, wanted: int) -> None:
    assert readings_wanted(method, Decimal(area)) == wanted


def test_readings_are_held_against_the_limit_of_their_own_method() -> None:
    readings = [Reading(method="rh", value=Decimal(85)), Reading(method="mver", value=Decimal(4))]
    limits = {"rh": Decimal(85), "mver": Decimal(3)}
    slab, emission = standings(readings, limits=limits, slab_ft2=Decimal(180))
    assert not slab.too_wet
    assert emission.too_wet
    assert slab.sentence == "Highest 85 %, within the product's limit of 85 %; 2 more to take."


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 60 by 49 in on a slab, in a floor whose product bears 80 % humidity."""
    assert owner.company is not None
    job = make_job(owner.company)
    SiteFacts.objects.filter(job=job).update(subfloor="slab")
    den = make_room(job)
    make_zone(den, make_product(owner.company, most_rh_pct=Decimal(80)))
    return den


@pytest.mark.django_db
def test_depths_are_kept_as_typed_and_their_bags_taken(visitor: Visitor, room: Room) -> None:
    sent = {"key": "k" * 20, "version": 1, "depth-rows": 1, "do": "take"}
    sent |= {"depth-0-x": "2'", "depth-0-y": "2'", "depth-0-depth": '1/2"'}
    visitor.post(reverse("room-depths", args=[room.pk]), sent)
    room.refresh_from_db()
    assert room.depths == [{"x": "2'", "y": "2'", "depth": '1/2"'}]
    # 60 x 49 x 9/16 in = 1653.75 in3 = 0.957 ft3, 2.1 bags.
    assert room.leveler_bags == 3


@pytest.mark.django_db
def test_the_survey_page_opens_on_its_contours(visitor: Visitor, room: Room) -> None:
    assert 'class="contours"' not in page_of(visitor, "room-depths", room.pk)
    Room.objects.filter(pk=room.pk).update(
        depths=[{"x": "1'", "y": "2'", "depth": "0"}, {"x": "4'", "y": "2'", "depth": "1/2"}]
    )
    page = page_of(visitor, "room-depths", room.pk)
    assert page.index('class="contours"') < page.index("Lay a straightedge")
    assert page.count('class="depth"') == 2


@pytest.mark.django_db
def test_readings_stand_in_the_room_they_name(visitor: Visitor, room: Room) -> None:
    make_room(room.job, name="Long hall")
    readings = [
        {"method": "rh", "value": "84", "where": f"{room.name}, by the door", "on": ""},
        {"method": "rh", "value": "79", "where": "LONG HALL", "on": ""},
        {"method": "rh", "value": "70", "where": "row one", "on": ""},
    ]
    SiteFacts.objects.filter(job=room.job).update(readings=readings)
    page = page_of(visitor, "moisture", room.job_id)
    assert f"{room.name}: 84 %, over; Long hall: 79 %." in page
    assert "1 names no room of this job." in page


@pytest.mark.django_db
def test_a_refused_depth_keeps_what_was_typed(visitor: Visitor, room: Room) -> None:
    sent = {"key": "k" * 20, "version": 1, "depth-rows": 1, "do": "save"}
    sent |= {"depth-0-x": "20'", "depth-0-y": "2'", "depth-0-depth": '1/2"'}
    answer = visitor.post(reverse("room-depths", args=[room.pk]), sent)
    assert answer.status_code == 422
    assert "lies outside the room" in words(answer)
    assert 'value="20\'"' in words(answer)


@pytest.mark.django_db
def test_a_reading_over_the_products_limit_stops_the_floor(visitor: Visitor, room: Room) -> None:
    sent = {"key": "k" * 20, "version": 1, "method": "rh", "value": "84", "where": "by the door"}
    visitor.post(reverse("moisture", args=[room.job_id]), sent)
    assert moisture_limits(room.job) == {"rh": Decimal(80)}
    stop = next(caution for caution in cautions_of(room.job) if caution.code == "moisture")
    assert "by the door: 84 read, 80.0 allowed" in stop.text
    assert stop.severity == "hold"


@pytest.mark.django_db
def test_a_reading_from_the_future_is_refused(visitor: Visitor, room: Room) -> None:
    sent = {"key": "k" * 20, "version": 1, "method": "rh", "value": "84", "on": "2999-01-01"}
    answer = visitor.post(reverse("moisture", args=[room.job_id]), sent)
    assert "2999-01-01 lies ahead; accepted: up to" in words(answer)


@pytest.mark.django_db
def test_the_sixty_first_reading_is_kept_and_one_too_many_refused_in_words(
    visitor: Visitor, room: Room
) -> None:
    site = SiteFacts.objects.filter(job=room.job)
    row = {"method": "rh", "value": "70", "where": "", "on": ""}
    sent = {"key": "k" * 20, "version": 1, "method": "rh", "value": "71", "where": "the last"}
    site.update(readings=[row] * 60)
    visitor.post(reverse("moisture", args=[room.job_id]), sent)
    assert [each["where"] for each in site.get().readings][59:] == ["", "the last"]
    site.update(readings=[row] * 120, version=1)
    answer = visitor.post(reverse("moisture", args=[room.job_id]), sent | {"key": "m" * 20})
    assert "This job has 120 readings; accepted: up to 120." in words(answer)
    assert 'value="71"' in words(answer)
    assert len(site.get().readings) == 120


@pytest.mark.django_db
def test_a_reading_can_be_taken_off_again(visitor: Visitor, room: Room) -> None:
    rows = [{"method": "rh", "value": value, "where": "", "on": ""} for value in ("70", "75")]
    SiteFacts.objects.filter(job=room.job).update(readings=rows)
    visitor.post(reverse("moisture-remove", args=[room.job_id, 0]), {"key": "k" * 20})
    assert SiteFacts.objects.get(job=room.job).readings == rows[1:]


@pytest.mark.django_db
def test_a_metric_product_limits_nothing_it_does_not_say(room: Room) -> None:
    Product.objects.update(most_rh_pct=None)
    assert moisture_limits(room.job) == {}


@pytest.mark.parametrize(
    ("said", "method"),
    [
        ("relative humidity probe", "rh"),
        ("RH", "rh"),
        ("Calcium chloride", "mver"),
        ("pin", "other"),
    ],
)
def test_old_readings_find_their_method(said: str, method: str) -> None:
    migration = import_module("jobs.migrations.0007_moisture_readings_in_a_list")
    assert migration.method_of(said) == method
