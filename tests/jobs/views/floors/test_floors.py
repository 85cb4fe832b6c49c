"""Floors on their pages: put together from rooms, placed, refused."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.floors.join import zone_area
from jobs.models import Company, FloorZone, Job, Product, Role, Room, User
from jobs.readers.floors.floors import zone_of
from jobs.services.plans import ask_for_plan
from tests.builders import (
    make_doorway,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.jobs.plans import planned_alike
from tests.reading import words

pytestmark = pytest.mark.django_db

WALL_MM = Decimal("114.3")


@pytest.fixture
def job(owner: User) -> Job:
    """A job with a den, a hall beside it and the doorway between them, measured in the den."""
    assert owner.company is not None
    job = make_job(owner.company)
    den, hall = make_room(job, size=(132, 118)), make_room(job, name="Hall", size=(42, 160))
    sizes = {"offset_mm": Decimal("965.2"), "width_mm": Decimal("812.8"), "depth_mm": WALL_MM}
    make_doorway(den, wall=1, beyond=hall, **sizes)
    return job


@pytest.fixture
def product(job: Job) -> Product:
    """A plank of the company."""
    return make_product(job.company)


def room(job: Job, name: str) -> Room:
    """Return a room of the job as it stands now."""
    return Room.objects.get(job=job, name=name)


def sent(job: Job, product: Product, *names: str, **more: Any) -> dict[str, Any]:
    """Return a floor's form with the rooms of these names."""
    form = {"key": "k1", "version": 1, "name": "Ground floor", "product": product.pk}
    form |= {"rooms": [room(job, name).pk for name in names], "direction": "", "start": "low"}
    return form | {"wall_error": "0", "spares": 3, "prefer": "planks"} | more


def joined(job: Job, product: Product) -> FloorZone:
    """Return a floor of den and hall, not placed yet."""
    zone = make_zone(room(job, "Den"), product, name="Ground floor")
    Room.objects.filter(job=job, name="Hall").update(zone=zone)
    return zone


def beside(zone: FloorZone, wall: str, offset: str, **more: Any) -> dict[str, Any]:
    """Return the form that sets the hall beside the den."""
    doorway = room(zone.job, "Den").doorways.get()
    name = f"doorway-{doorway.pk}"
    fields = {"key": "k1", "version": zone.version, "wall": wall, "offset": offset} | more
    return {"do": name, **{f"{name}-{field}": value for field, value in fields.items()}}


def arranged(zone: FloorZone, x: str, y: str, turn: str = "0", **more: Any) -> dict[str, Any]:
    """Return the form that leaves the den where it is and puts the hall at (x, y)."""
    den, hall = room(zone.job, "Den").pk, room(zone.job, "Hall").pk
    form = {"do": "arrange", "all-key": "k1", "all-version": zone.version}
    form |= {f"room-{den}-x": "0", f"room-{den}-y": "0", f"room-{den}-turn": "0"}
    form |= {f"room-{hall}-x": x, f"room-{hall}-y": y, f"room-{hall}-turn": turn}
    return form | more


def test_one_click_makes_a_room_a_floor(visitor: Visitor, job: Job, product: Product) -> None:
    url = reverse("room-floor", args=[room(job, "Den").pk])
    visitor.post(url, {"key": "k1", "product": product.pk})
    zone = FloorZone.objects.get(job=job)
    assert (zone.name, [one.name for one in zone.rooms.all()]) == ("Den", ["Den"])


def test_the_one_click_twice_makes_one_floor(visitor: Visitor, job: Job, product: Product) -> None:
    url = reverse("room-floor", args=[room(job, "Den").pk])
    for _ in range(2):
        visitor.post(url, {"key": "k1", "product": product.pk})
    assert FloorZone.objects.filter(job=job).count() == 1


def test_a_floor_sent_twice_is_one_floor(visitor: Visitor, job: Job, product: Product) -> None:
    for _ in range(2):
        answer = visitor.post(reverse("zone-add", args=[job.pk]), sent(job, product, "Den"))
    zone = FloorZone.objects.get(job=job)
    assert answer.headers["Location"] == reverse("zone", args=[zone.pk])


def test_a_floor_says_where_on_its_drawing_row_one_lies(
    visitor: Visitor, job: Job, product: Product
) -> None:
    visitor.post(reverse("zone-add", args=[job.pk]), sent(job, product, "Den", start="high"))
    zone = FloorZone.objects.get()
    assert "At the top, rows go down" in words(visitor.get(reverse("zone", args=[zone.pk])))
    form = visitor.get(reverse("zone-edit", args=[zone.pk])).content.decode()
    assert '<option value="high" selected>At the top, rows go down</option>' in form
    assert '<option value="low">At the bottom, rows go up</option>' in form


def test_rooms_are_placed_where_their_doorways_are_known(
    visitor: Visitor, job: Job, product: Product
) -> None:
    room(job, "Den").doorways.update(beyond_wall=3, beyond_offset_mm=Decimal("1320.8"))
    visitor.post(reverse("zone-add", args=[job.pk]), sent(job, product, "Den", "Hall"))
    zone = FloorZone.objects.get(job=job)
    assert zone_area(zone_of(zone)) == pytest.approx(132 * 118 + 42 * 160 + 32 * 4.5)


def test_rooms_without_a_known_doorway_lie_apart_and_the_page_says_so(
    visitor: Visitor, job: Job, product: Product
) -> None:
    visitor.post(reverse("zone-add", args=[job.pk]), sent(job, product, "Den", "Hall"))
    zone = FloorZone.objects.get(job=job)
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert 'The doorway from Den to Hall misses Hall by 7½"' in page


def test_a_new_floor_is_planned_for_walls_that_stand_off_a_little(
    visitor: Visitor, job: Job, product: Product
) -> None:
    page = words(visitor.get(reverse("zone-add", args=[job.pk])))
    assert 'name="wall_error" value="1/4""' in page
    assert "the company's figure, else what is usual†." in page


def test_a_metric_floor_is_planned_for_walls_that_stand_off_six_millimeters(
    visitor: Visitor, job: Job, product: Product
) -> None:
    Job.objects.update(units="metric")
    page = words(visitor.get(reverse("zone-add", args=[job.pk])))
    assert 'name="wall_error" value="6 mm"' in page


@pytest.mark.parametrize(("of_company", "of_floor"), [(None, "6.35"), ("0", "0"), ("9.5", "9.5")])
def test_a_floor_of_one_click_is_planned_for_walls_as_its_company_says(
    visitor: Visitor, job: Job, product: Product, of_company: str | None, of_floor: str
) -> None:
    Company.objects.update(wall_error_mm=of_company)
    url = reverse("room-floor", args=[room(job, "Den").pk])
    visitor.post(url, {"key": "k1", "product": product.pk})
    assert FloorZone.objects.get(job=job).wall_error_mm == Decimal(of_floor)


def test_a_row_laid_first_needs_walls_that_stand_as_drawn(
    visitor: Visitor, job: Job, product: Product
) -> None:
    Product.objects.update(both_ways=True)
    form = sent(job, product, "Den", control_row="3", wall_error="1/4")
    answer = visitor.post(reverse("zone-add", args=[job.pk]), form)
    assert answer.status_code == 422
    assert "“1/4” with row 3 laid first can't be planned yet; accepted: 0" in words(answer)


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"rooms": []}, "No room is marked; accepted: one room or more."),
        ({"product": ""}, "No product is chosen; accepted: one of the list."),
        ({"direction": "400"}, "“400” can't be used; accepted: a number from -360 to 360."),
        ({"wall_error": "2'"}, "“2'” is too long; accepted: up to 6\"."),
        ({"spares": "-1"}, "-1 can't be used; accepted: a whole number from 0 to 500."),
    ],
)
def test_a_floor_that_can_not_be_is_refused_at_its_field(
    visitor: Visitor, job: Job, product: Product, fields: dict[str, Any], sentence: str
) -> None:
    form = sent(job, product, "Den") | fields
    answer = visitor.post(reverse("zone-add", args=[job.pk]), form)
    assert answer.status_code == 422
    assert sentence in words(answer)


def test_a_pad_under_an_attached_pad_is_refused(
    visitor: Visitor, job: Job, product: Product
) -> None:
    Product.objects.update(attached_pad=True)
    form = sent(job, product, "Den", pad="on")
    answer = visitor.post(reverse("zone-add", args=[job.pk]), form)
    assert "has its pad attached; accepted: no separate pad under it." in words(answer)


def test_a_room_of_another_floor_is_not_offered(
    visitor: Visitor, job: Job, product: Product
) -> None:
    make_zone(room(job, "Hall"), product)
    answer = visitor.post(reverse("zone-add", args=[job.pk]), sent(job, product, "Den", "Hall"))
    assert answer.status_code == 422


def test_a_room_is_set_beside_another_through_their_doorway(
    visitor: Visitor, job: Job, product: Product
) -> None:
    zone = joined(job, product)
    visitor.post(reverse("zone-place", args=[zone.pk]), beside(zone, "4", "52"))
    hall = room(job, "Hall")
    assert (hall.place_x_mm, hall.place_y_mm) == (Decimal("3467.1"), Decimal("-965.2"))


def test_the_doorway_remembers_where_it_lies_beyond(
    visitor: Visitor, job: Job, product: Product
) -> None:
    zone = joined(job, product)
    visitor.post(reverse("zone-place", args=[zone.pk]), beside(zone, "4", "52"))
    doorway = room(job, "Den").doorways.get()
    assert (doorway.beyond_wall, doorway.beyond_offset_mm) == (3, Decimal("1320.8"))


@pytest.mark.parametrize(
    ("wall", "offset", "sentence"),
    [
        ("9", "52", "Hall has no wall 9; accepted: 1 to 4."),
        ("4", "12'", "wall 4 of Hall is 13' 4\"; accepted: up to 10' 8\"."),
        ("", "52", "Nothing was typed; accepted: a whole number from 1 to 200."),
        ("4", "here", "“here” is no length"),
    ],
)
def test_a_doorway_that_does_not_fit_beyond_is_refused(
    visitor: Visitor, job: Job, product: Product, wall: str, offset: str, sentence: str
) -> None:
    zone = joined(job, product)
    answer = visitor.post(reverse("zone-place", args=[zone.pk]), beside(zone, wall, offset))
    assert answer.status_code == 422
    assert sentence in words(answer)


def test_rooms_are_placed_as_typed(visitor: Visitor, job: Job, product: Product) -> None:
    zone = joined(job, product)
    url = reverse("zone-place", args=[zone.pk])
    answer = visitor.post(url, arranged(zone, "11' 4 1/2\"", "-38"))
    assert answer.status_code == 303
    assert room(job, "Hall").place_x_mm == Decimal("3467.1")


@pytest.mark.parametrize(
    ("x", "sentence"),
    [
        ("10'", "Den and Hall overlap, 1' 0\" deep over 9' 10\""),
        ("12'", 'The doorway from Den to Hall misses Hall by 7½"'),
    ],
)
def test_rooms_typed_to_no_one_floor_are_refused_and_stay(
    visitor: Visitor, job: Job, product: Product, x: str, sentence: str
) -> None:
    zone = joined(job, product)
    answer = visitor.post(reverse("zone-place", args=[zone.pk]), arranged(zone, x, "-38"))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert f'value="{x}"' in words(answer)
    assert room(job, "Hall").place_x_mm == 0


def test_rooms_that_do_not_touch_are_named(visitor: Visitor, job: Job, product: Product) -> None:
    room(job, "Den").doorways.all().delete()
    zone = joined(job, product)
    answer = visitor.post(reverse("zone-place", args=[zone.pk]), arranged(zone, "12'", "0"))
    assert "Den and Hall don't touch: they lie 1' 0\" apart" in words(answer)


def test_the_second_of_two_who_place_is_told(visitor: Visitor, job: Job, product: Product) -> None:
    zone = joined(job, product)
    url = reverse("zone-place", args=[zone.pk])
    visitor.post(url, arranged(zone, "11' 4 1/2\"", "-38", **{"all-key": "theirs"}))
    answer = visitor.post(url, arranged(zone, "11' 4 1/2\"", "-30"))
    assert answer.status_code == 409
    assert "Somebody else saved this meanwhile." in words(answer)


def test_a_floor_longer_than_the_product_allows_says_so(
    visitor: Visitor, job: Job, product: Product
) -> None:
    Product.objects.update(max_run_mm=3000)
    zone = make_zone(room(job, "Den"), product)
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    limit = f"The floor reaches 11' 0\" along the rows; {product} is laid up to 9' 10⅛\" without"
    assert limit in page
    assert "No doorway of this floor breaks it shorter." in page


def test_a_removed_floor_leaves_its_rooms(visitor: Visitor, job: Job, product: Product) -> None:
    zone = joined(job, product)
    visitor.post(reverse("zone-remove", args=[zone.pk]))
    assert [one.zone for one in Room.objects.filter(job=job)] == [None, None]


def test_a_floor_needs_a_room_first(visitor: Visitor, job: Job) -> None:
    Room.objects.all().delete()
    assert "Measure a room first." in words(visitor.get(reverse("zone-list", args=[job.pk])))


def test_a_floor_needs_a_product_first(visitor: Visitor, job: Job) -> None:
    assert "Take one down first" in words(visitor.get(reverse("zone-list", args=[job.pk])))


def test_a_crew_member_changes_no_floor(job: Job, product: Product) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(job.company, Role.CREW))
    zone = joined(job, product)
    assert visitor.get(reverse("zone", args=[zone.pk])).status_code == 404
    assert visitor.get(reverse("zone-add", args=[job.pk])).status_code == 403


def test_the_list_shows_of_each_floor_its_own_newest_plan(visitor: Visitor, job: Job) -> None:
    planned_alike(make_zone(make_room(job, "Loft")))
    bare = make_zone(make_room(job, "Attic"))
    page = words(visitor.get(reverse("zone-list", args=[job.pk])))
    lines = page.split('class="lead"')[1:3]
    assert ["not planned" in line for line in lines] == [False, True]
    assert bare.name in lines[1]


def test_the_list_says_which_floor_is_being_planned(
    visitor: Visitor, job: Job, owner: User
) -> None:
    zones = [make_zone(make_room(job, name)) for name in ("Loft", "Attic")]
    ask_for_plan(zone=zones[1], user=owner)
    page = words(visitor.get(reverse("zone-list", args=[job.pk])))
    assert ["planning" in line for line in page.split('class="lead"')[1:3]] == [False, True]
