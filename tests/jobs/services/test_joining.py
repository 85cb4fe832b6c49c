"""Rooms joined through their doorways: what is known, what follows, what must be typed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.floors.join import zone_area
from jobs.models import Doorway, FloorZone, Job, Product, Room
from jobs.readers.floors.floors import zone_of
from jobs.services.floors.joining import merge_twins, proposals_for
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

pytestmark = pytest.mark.django_db

INCH = Decimal("25.4")


@pytest.fixture
def job() -> Job:
    """A hall of 160 x 42 in, a den of 132 x 118 above it, a closet of 34 x 30 below it.

    +--------------+
    |     den      |
    +----|  |------+---+
    |       hall       |
    +--|  |------------+
       +--+ closet
    """
    job = make_job(make_company())
    make_room(job, name="Hall", size=(160, 42))
    make_room(job, name="Den", size=(132, 118))
    make_room(job, name="Closet", size=(34, 30))
    return job


@pytest.fixture
def product(job: Job) -> Product:
    """The one plank of the company."""
    return make_product(job.company)


@pytest.fixture
def visitor(job: Job) -> Visitor:
    """The browser of the owner."""
    signed_in = Visitor()
    signed_in.force_login(make_person(job.company))
    return signed_in


def room(job: Job, name: str) -> Room:
    """Return a room as it stands now."""
    return Room.objects.get(job=job, name=name)


def door(job: Job, near: str, wall: int, offset: int, beyond: str, width: int = 32) -> Doorway:
    """Return an opening through a wall of 4 1/2 in, in inches from the wall's first corner."""
    sizes = {"offset_mm": offset * INCH, "width_mm": width * INCH, "depth_mm": Decimal("114.3")}
    return make_doorway(room(job, near), wall=wall, beyond=room(job, beyond), **sizes)


def put_together(visitor: Visitor, job: Job, product: Product) -> FloorZone:
    """Return the one floor that all rooms of the job were made, by its form."""
    form = {"key": "k1", "version": 1, "name": "Ground floor", "product": product.pk}
    form |= {"rooms": [one.pk for one in job.rooms.all()], "direction": "", "start": "low"}
    form |= {"wall_error": "0", "spares": 3, "prefer": "planks"}
    answer = visitor.post(reverse("zone-add", args=[job.pk]), form)
    assert answer.status_code == 303
    return FloorZone.objects.get(job=job)


def press(visitor: Visitor, zone: FloorZone, do: str) -> str:
    """Return the page that follows a button of the page on which rooms are placed."""
    form = {"do": do, "join-key": do, "join-version": zone.version}
    return words(visitor.post(reverse("zone-place", args=[zone.pk]), form, follow=True))


def area(zone: FloorZone) -> float:
    """Return the area of the joined floor."""
    return zone_area(zone_of(FloorZone.objects.get(pk=zone.pk)))


ROOMS = 160 * 42 + 132 * 118 + 34 * 30


def test_openings_measured_from_both_sides_join_without_a_word(
    visitor: Visitor, job: Job, product: Product
) -> None:
    door(job, "Hall", 2, 60, "Den")  # the hall's upper wall is walked from right to left
    door(job, "Den", 0, 20, "Hall")
    door(job, "Hall", 0, 10, "Closet", width=30)
    door(job, "Closet", 2, 2, "Hall", width=30)
    zone = put_together(visitor, job, product)
    assert area(zone) == pytest.approx(ROOMS + 62 * 4.5)
    assert Doorway.objects.count() == 2


def test_two_measurements_of_one_opening_keep_the_more_work(job: Job) -> None:
    door(job, "Hall", 2, 60, "Den")
    Doorway.objects.update(casings=1)
    door(job, "Den", 0, 20, "Hall")
    assert merge_twins(list(job.rooms.all())) == 1
    kept = Doorway.objects.get()
    assert (kept.casings, kept.beyond_wall, kept.beyond_offset_mm) == (2, 0, 20 * INCH)


@pytest.mark.parametrize("width", [34, 24])
def test_openings_of_two_widths_are_two(job: Job, width: int) -> None:
    door(job, "Hall", 2, 60, "Den")
    door(job, "Den", 0, 20, "Hall", width=width)
    assert merge_twins(list(job.rooms.all())) == 0


def test_a_wall_no_wider_than_the_opening_needs_no_figure(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Den").delete()
    door(job, "Hall", 0, 10, "Closet")
    zone = put_together(visitor, job, product)
    assert area(zone) == pytest.approx(160 * 42 + 34 * 30 + 32 * 4.5)


def test_a_centered_opening_is_centered_in_the_wall_that_faces_it(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Closet").delete()
    door(job, "Hall", 2, 64, "Den")
    zone = put_together(visitor, job, product)
    assert area(zone) == pytest.approx(160 * 42 + 132 * 118 + 32 * 4.5)
    assert Doorway.objects.get().beyond_offset_mm == 50 * INCH


def test_a_doorway_of_a_room_that_is_placed_already_arrives_where_it_arrives(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Closet").delete()
    known = door(job, "Hall", 2, 100, "Den")
    Doorway.objects.filter(pk=known.pk).update(beyond_wall=0, beyond_offset_mm=5 * INCH)
    second = door(job, "Hall", 2, 30, "Den")
    put_together(visitor, job, product)
    second.refresh_from_db()
    assert (second.beyond_wall, second.beyond_offset_mm) == (0, 75 * INCH)


def test_what_is_missing_is_asked_with_the_likeliest_wall_proposed(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Closet").delete()
    door(job, "Hall", 2, 20, "Den")
    zone = put_together(visitor, job, product)
    (proposal,) = proposals_for(zone)
    assert (proposal.match.wall, proposal.match.offset, proposal.match.why) == (0, 50, "")
    page = words(visitor.get(reverse("zone-place", args=[zone.pk])))
    assert "Set all as proposed" in page
    assert 'value="4\' 2""' in page


def test_one_click_takes_every_proposal(visitor: Visitor, job: Job, product: Product) -> None:
    door(job, "Hall", 2, 20, "Den")
    door(job, "Closet", 2, 1, "Hall", width=30)
    zone = put_together(visitor, job, product)
    page = press(visitor, zone, "guess")
    assert "The rooms are joined by their doorways." in page
    assert "Den through wall 1, 4' 2\" from its first corner" in page
    assert area(zone) == pytest.approx(ROOMS + 62 * 4.5)


def test_what_can_not_be_told_is_said_after_joining(
    visitor: Visitor, job: Job, product: Product
) -> None:
    door(job, "Hall", 2, 20, "Den")
    zone = put_together(visitor, job, product)
    assert "Still to be told: where the doorway lies in Den." in press(visitor, zone, "join")


def test_the_missing_figure_alone_sets_a_room_of_which_the_doorway_leads_in(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Closet").delete()
    doorway = door(job, "Den", 0, 20, "Hall")
    zone = put_together(visitor, job, product)
    name = f"doorway-{doorway.pk}"
    form = {"do": name, f"{name}-key": "k", f"{name}-version": zone.version}
    form |= {f"{name}-wall": "3", f"{name}-offset": "60"}
    visitor.post(reverse("zone-place", args=[zone.pk]), form)
    assert room(job, "Hall").place_x_mm == 0  # the first room stays
    assert area(zone) == pytest.approx(160 * 42 + 132 * 118 + 32 * 4.5)


def test_rooms_that_would_overlap_are_refused_and_stay(
    visitor: Visitor, job: Job, product: Product
) -> None:
    Room.objects.filter(name="Closet").update(outline=[[0, 0], [150, 0], [150, 90], [0, 90]])
    for name, wall in (("Den", 0), ("Closet", 0)):
        at = door(job, "Hall", 2, 20 if name == "Den" else 110, name)
        Doorway.objects.filter(pk=at.pk).update(beyond_wall=wall, beyond_offset_mm=20 * INCH)
    zone = make_zone(room(job, "Hall"), product, name="Ground floor")
    Room.objects.filter(job=job).update(zone=zone)
    assert "Den and Closet overlap" in press(visitor, zone, "guess")
    assert room(job, "Den").place_y_mm == 0


def test_the_second_of_two_who_join_is_told(visitor: Visitor, job: Job, product: Product) -> None:
    door(job, "Hall", 2, 20, "Den")
    zone = put_together(visitor, job, product)
    press(visitor, zone, "join")
    assert "Somebody else saved this meanwhile." in press(visitor, zone, "guess")


def test_base_stops_at_an_opening_that_was_found_in_the_room_beyond(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Closet").delete()
    door(job, "Hall", 2, 64, "Den")
    put_together(visitor, job, product)
    assert room(job, "Den").trim_runs.filter(wall=0).count() == 2
