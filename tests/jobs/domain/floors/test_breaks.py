"""Floors that run too far: the doorway to break at, by hand-worked reaches; and the break made."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.floors.breaks import Limits, Link, best_break, parts_at
from jobs.models import Doorway, FloorZone, Room
from jobs.readers.floors.floors import zone_of
from tests.builders import (
    make_company,
    make_doorway,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.reading import words

Rings = dict[str, tuple[tuple[float, float], ...]]


def box(left: float, low: float, right: float, high: float) -> Any:
    """Return the ring of a rectangle."""
    return ((left, low), (right, low), (right, high), (left, high))


def link(key: int, room: str, beyond: str, at: float) -> Link:
    """Return a doorway through an upright wall of 4 in, its near side at ``at``."""
    ring = ((at, 40.0), (at, 72.0), (at + 4, 72.0), (at + 4, 40.0))
    return Link(key=key, room=room, beyond=beyond, ring=ring)


#  | den 0..200 |1| hall 204..300 |2| parlor 304..600 |   all 100 deep
ROOMS: Rings = {
    "Den": box(0, 0, 200, 100),
    "Hall": box(204, 0, 300, 100),
    "Parlor": box(304, 0, 600, 100),
}
LINKS = [link(1, "Den", "Hall", 200), link(2, "Hall", "Parlor", 300)]


def broken(limits: Limits, **more: Any) -> Any:
    """Return the doorway at which that floor is broken."""
    values: dict[str, Any] = {"rooms": ROOMS, "links": LINKS, "direction_deg": 0, "unit": "in"}
    values |= more
    return best_break(values.pop("rooms"), values.pop("links"), limits, **values)


@pytest.mark.parametrize("along", [600, None])
def test_a_floor_within_its_limits_is_not_broken(along: float | None) -> None:
    assert broken(Limits(along=along)) is None


def test_the_doorway_is_the_one_that_leaves_the_most_even_parts() -> None:
    point = broken(Limits(along=480))
    assert (point.key, point.near, point.beyond) == (2, ("Den", "Hall"), ("Parlor",))
    assert [reach.along for reach in point.reaches] == [302, 298]
    assert point.enough


def test_a_doorway_that_does_not_break_it_short_enough_says_so() -> None:
    point = broken(Limits(along=290))
    assert (point.key, point.enough) == (2, False)


def test_a_floor_is_broken_for_its_width_as_well() -> None:
    assert broken(Limits(across=480), direction_deg=90).key == 2


def test_no_doorway_helps_where_one_room_is_too_long() -> None:
    assert broken(Limits(along=150), rooms={"Den": ROOMS["Den"]}, links=[]) is None


def test_a_doorway_that_another_way_leads_round_is_no_break() -> None:
    round_about = [*LINKS, link(3, "Den", "Hall", 200)]
    assert parts_at(ROOMS, round_about, 1) is None
    assert broken(Limits(along=480), links=round_about).key == 2


def test_rooms_that_meet_at_a_wall_line_stay_together() -> None:
    rooms = {"Den": ROOMS["Den"], "Hall": box(200, 0, 300, 100)}
    assert parts_at(rooms, [LINKS[0]], 1) is None


pytestmark = pytest.mark.django_db
INCH = Decimal("25.4")


@pytest.fixture
def zone() -> FloorZone:
    """A floor of two rooms of 150 in, one behind the other, of a product up to 200 in."""
    job = make_job(make_company())
    product = make_product(
        job.company,
        name="Larch",
        max_run_mm=200 * INCH,
        sheet_edition="3 of 2026",
        rule_sources={"max_run_mm": "sheet"},
    )
    zone = make_zone(make_room(job, size=(150, 100)), product, name="Ground floor")
    parlor = make_room(job, name="Parlor", size=(150, 100), zone=zone, place_x_mm=154 * INCH)
    sizes = {"offset_mm": 30 * INCH, "width_mm": 32 * INCH, "depth_mm": 4 * INCH}
    far = {"beyond_wall": 3, "beyond_offset_mm": 38 * INCH}
    make_doorway(zone.rooms.get(name="Den"), wall=1, beyond=parlor, **sizes, **far)
    return zone


@pytest.fixture
def visitor(zone: FloorZone) -> Visitor:
    """The browser of the owner."""
    client = Visitor()
    client.force_login(make_person(zone.job.company))
    return client


def press(visitor: Visitor, zone: FloorZone, **more: Any) -> str:
    """Return the page after the floor was broken at its doorway."""
    form = {"key": "k1", "version": zone.version, "doorway": Doorway.objects.get().pk} | more
    return words(visitor.post(reverse("zone-break", args=[zone.pk]), form, follow=True))


def test_the_page_names_reach_limit_source_and_doorway(visitor: Visitor, zone: FloorZone) -> None:
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert (
        "The floor reaches 25' 4\" along the rows; Larch is laid up to 16' 8\" without a break "
        "(Maker's sheet, 3 of 2026)."
    ) in page
    assert "Break it with a T-molding in the doorway from Den to Parlor" in page
    assert "Break at this doorway" in page


def test_one_click_makes_two_floors_with_a_t_molding_between(
    visitor: Visitor, zone: FloorZone
) -> None:
    page = press(visitor, zone)
    assert "Parlor is a floor of its own now." in page
    beyond = FloorZone.objects.get(name="Parlor")
    assert [room.name for room in beyond.rooms.all()] == ["Parlor"]
    assert beyond.product == zone.product
    doorway = Doorway.objects.get()
    assert (doorway.treatment, doorway.chosen_by_hand) == ("T-molding", True)
    assert doorway.transition.length_mm == 32 * INCH


def test_both_floors_end_in_the_doorway_afterwards(visitor: Visitor, zone: FloorZone) -> None:
    press(visitor, zone)
    for name in ("Ground floor", "Parlor"):
        outline = zone_of(FloorZone.objects.get(name=name)).outline
        xs = [x for x, _ in outline]
        assert max(xs) - min(xs) == pytest.approx(152)


def test_the_second_of_two_who_break_is_told(visitor: Visitor, zone: FloorZone) -> None:
    press(visitor, zone)
    zone.refresh_from_db()
    Room.objects.update(zone=zone)
    Doorway.objects.update(treatment="carry through")
    page = press(visitor, zone, key="k2", version=1)
    assert "Somebody else saved this meanwhile." in page


def test_a_doorway_of_another_floor_is_hidden(visitor: Visitor, zone: FloorZone) -> None:
    other = make_doorway(make_room(make_job(make_company("Other Floors"))))
    form = {"key": "k1", "version": 1, "doorway": other.pk}
    assert visitor.post(reverse("zone-break", args=[zone.pk]), form).status_code == 404
