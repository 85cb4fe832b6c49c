"""Names of floors: short, long, none, taken; typed on a page and given by Rowbook itself."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorZone, Job, Product, Room, User
from jobs.services.floors import floors, rules
from jobs.services.floors.names import free_name
from tests.builders import make_doorway, make_job, make_product, make_room, make_zone
from tests.reading import words

pytestmark = pytest.mark.django_db

LONGEST = 80
LENGTHS = [1, 69, 70, 74, 80]


@pytest.fixture
def job(owner: User) -> Job:
    """A job with a den and a hall, no floor yet."""
    assert owner.company is not None
    job = make_job(owner.company)
    make_room(job, size=(100, 100))
    make_room(job, name="Hall", size=(100, 100))
    return job


@pytest.fixture
def product(job: Job) -> Product:
    """A plank of the company."""
    return make_product(job.company)


def take(job: Job, product: Product, *names: str) -> None:
    """Let floors without rooms have these names."""
    for name in set(names):
        FloorZone.objects.create(job=job, product=product, name=name)


def short_forms(name: str) -> tuple[str, ...]:
    """Return the name and what it is shortened to where it is taken, as long as it can be kept."""
    return name, f"{name[:70]} floor", f"{name[:74]} floor"


def rename(job: Job, before: str, name: str) -> Room:
    """Return a room of the job under another name."""
    Room.objects.filter(job=job, name=before).update(name=name)
    return Room.objects.get(job=job, name=name)


def post_floor(visitor: Visitor, job: Job, product: Product, name: str) -> Any:
    """Return the answer to the form of a new floor of the den."""
    den = Room.objects.get(job=job, name="Den")
    form = {"key": "k1", "version": 1, "name": name, "product": product.pk, "rooms": [den.pk]}
    form |= {"direction": "", "start": "low", "wall_error": "0", "spares": 3, "prefer": "planks"}
    return visitor.post(reverse("zone-add", args=[job.pk]), form)


def add_floor(owner: User, job: Job, product: Product, name: str) -> FloorZone:
    """Return a new floor of the den, made by the service."""
    values = {"name": name, "product": product}
    rooms = job.rooms.filter(name="Den")
    return floors.add_zone(job=job, user=owner, key="k1", values=values, rooms=rooms)


@pytest.mark.parametrize("length", LENGTHS)
def test_a_name_that_is_free_is_given_as_it_is(job: Job, length: int) -> None:
    assert free_name(job, "n" * length) == "n" * length


@pytest.mark.parametrize("length", [*LENGTHS, 0, 200])
def test_names_given_for_one_wish_all_differ_and_fit(
    job: Job, product: Product, length: int
) -> None:
    for _ in range(12):
        take(job, product, free_name(job, "n" * length))
    names = {zone.name for zone in FloorZone.objects.all()}
    assert len(names) == 12
    assert max(map(len, names)) <= LONGEST


def test_a_taken_name_gets_floor_behind_it_and_then_a_number(job: Job, product: Product) -> None:
    take(job, product, "Den", "Den floor", "Den floor 2")
    assert free_name(job, "Den") == "Den floor 3"


def test_a_name_taken_in_other_capitals_is_taken(job: Job, product: Product) -> None:
    take(job, product, "DEN", "den Floor")
    assert free_name(job, "Den") == "Den floor 2"


def test_without_a_wish_floors_are_numbered(job: Job, product: Product) -> None:
    take(job, product, "floor 1", "Floor 3")
    assert free_name(job) == "Floor 2"


def test_a_wish_that_is_itself_a_short_form_is_met(job: Job, product: Product) -> None:
    wish = "n" * 74 + " floor"
    take(job, product, wish)
    assert free_name(job, wish) == "n" * 72 + " floor 2"


def test_no_blank_is_left_where_a_name_was_cut(job: Job, product: Product) -> None:
    wish = "n" * 73 + " and more"
    take(job, product, wish[:LONGEST])
    assert free_name(job, wish) == "n" * 73 + " floor"


@pytest.mark.parametrize("length", LENGTHS)
def test_one_click_makes_a_floor_of_a_room_whose_short_forms_are_taken(
    visitor: Visitor, job: Job, product: Product, length: int
) -> None:
    room = rename(job, "Den", "n" * length)
    take(job, product, *short_forms(room.name))
    visitor.post(reverse("room-floor", args=[room.pk]), {"key": "k1", "product": product.pk})
    room.refresh_from_db()
    assert room.zone is not None
    assert room.zone.name == f"{room.name[:72]} floor 2"


@pytest.mark.parametrize("length", LENGTHS)
def test_a_break_names_the_floor_beyond_though_the_short_forms_are_taken(
    owner: User, job: Job, product: Product, length: int
) -> None:
    den, beyond = Room.objects.get(name="Den"), rename(job, "Hall", "n" * length)
    zone = make_zone(den, product)
    Room.objects.filter(pk=beyond.pk).update(zone=zone, place_x_mm=3000)
    doorway = make_doorway(den, wall=1, beyond=beyond, beyond_wall=3, beyond_offset_mm=0)
    take(job, product, *short_forms(beyond.name))
    floor = rules.break_floor(zone=zone, user=owner, key="k1", expected=1, doorway=doorway)
    assert floor.name == f"{beyond.name[:72]} floor 2"


@pytest.mark.parametrize("length", LENGTHS)
def test_a_name_of_any_fitting_length_can_be_typed(
    visitor: Visitor, job: Job, product: Product, length: int
) -> None:
    assert post_floor(visitor, job, product, "n" * length).status_code == 303
    assert FloorZone.objects.get().name == "n" * length


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("", "Nothing was typed; accepted: a text of up to 80 characters."),
        ("n" * 200, "200 characters are too many; accepted: up to 80."),
    ],
)
def test_a_name_typed_that_does_not_fit_is_refused_at_its_field(
    visitor: Visitor, job: Job, product: Product, name: str, sentence: str
) -> None:
    answer = post_floor(visitor, job, product, name)
    assert answer.context["form"].errors == {"name": [sentence]}


@pytest.mark.parametrize("length", LENGTHS)
def test_a_twin_typed_is_refused_at_its_field(
    visitor: Visitor, job: Job, product: Product, length: int
) -> None:
    take(job, product, "n" * length)
    answer = post_floor(visitor, job, product, "N" * length)
    assert answer.status_code == 422
    assert f"called “{'N' * length}”; accepted: a name of its own." in words(answer)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        (" ", "Nothing was typed; accepted: a text of up to 80 characters."),
        ("n" * 200, "200 characters are too many; accepted: up to 80."),
        ("hall", "Another floor of this job is called “hall”; accepted: a name of its own."),
    ],
)
def test_the_service_refuses_the_same_names_by_field(
    owner: User, job: Job, product: Product, name: str, sentence: str
) -> None:
    take(job, product, "Hall")
    with pytest.raises(ValidationError) as bad:
        add_floor(owner, job, product, name)
    assert bad.value.message_dict == {"name": [sentence]}
    assert not job.zones.filter(name=name).exists()


def test_a_floor_keeps_its_name_in_a_change_and_can_not_take_a_twin_s(
    owner: User, job: Job, product: Product
) -> None:
    zone = add_floor(owner, job, product, "Ground floor")
    take(job, product, "Hall")
    change: dict[str, Any] = {"zone": zone, "user": owner, "rooms": list(zone.rooms.all())}
    floors.change_zone(key="k2", expected=1, values={"name": "Ground floor"}, **change)
    with pytest.raises(ValidationError, match="Another floor of this job is called “Hall”"):
        floors.change_zone(key="k3", expected=2, values={"name": "Hall"}, **change)
