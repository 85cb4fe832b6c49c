"""Doorways on their pages: inside their wall, clear of each other, followed by strip and trim."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Doorway, Room, Transition, TrimRun, User
from jobs.services.measure import derive_trim
from tests.builders import make_company, make_doorway, make_job, make_person, make_room
from tests.jobs.test_rooms import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company())


@pytest.fixture
def browser(owner: User) -> Browser:
    """A browser in which the owner is signed in."""
    found = Browser()
    found.force_login(owner)
    return found


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 12 by 10 ft."""
    assert owner.company is not None
    return make_room(make_job(owner.company), size=(144, 120))


def sent(**more: Any) -> dict[str, Any]:
    """Return a doorway's form: 32 in wide, 3 ft along the first wall, to the porch."""
    form = {"key": "k1", "version": 1, "wall": 0, "offset": "3'", "width": "32", "depth": "4 1/2"}
    form |= {"beyond": "", "beyond_floor": "the porch", "step": "0", "treatment": "end cap"}
    return form | {"casings": 2, "doors_off": 0} | more


def test_a_doorway_is_kept_where_it_was_measured(browser: Browser, room: Room) -> None:
    browser.post(reverse("doorway-add", args=[room.pk]), sent())
    doorway = Doorway.objects.get(room=room)
    assert (doorway.offset_mm, doorway.width_mm) == (Decimal("914.4"), Decimal("812.8"))


def test_a_doorway_sent_twice_is_one_doorway(browser: Browser, room: Room) -> None:
    for _ in range(2):
        browser.post(reverse("doorway-add", args=[room.pk]), sent())
    assert Doorway.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"width": "13'"}, "13' 0\" is wider than wall 1 of Den; accepted: up to 12' 0\"."),
        (
            {"offset": "11'"},
            "The doorway would end at 13' 8\", wall 1 of Den is 12' 0\"; accepted: up to 9' 4\".",
        ),
        ({"offset": "-2"}, '“-2” is too short; accepted: 0" or more.'),
        ({"width": "0"}, "“0” is too short"),
        ({"wall": "7"}, "Select a valid choice"),
        ({"treatment": "carry through", "step": "1/2"}, 'Nothing carries through a step of ½"'),
        ({"beyond_wall": "1"}, "accepted: wall number and distance together."),
    ],
)
def test_a_doorway_that_can_not_be_is_refused_at_its_field(
    browser: Browser, room: Room, fields: dict[str, str], sentence: str
) -> None:
    answer = browser.post(reverse("doorway-add", args=[room.pk]), sent(**fields))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert not Doorway.objects.exists()


def test_two_doorways_do_not_overlap(browser: Browser, room: Room) -> None:
    make_doorway(room, offset_mm=1000, beyond_floor="the yard")
    answer = browser.post(reverse("doorway-add", args=[room.pk]), sent())
    assert "It overlaps the doorway to the yard, 3' 3⅜\" to 5' 11" in words(answer)


def test_a_doorway_measured_from_the_other_side_counts_too(browser: Browser, room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    make_doorway(hall, beyond=room, beyond_wall=0, beyond_offset_mm=1000)
    answer = browser.post(reverse("doorway-add", args=[room.pk]), sent())
    assert "It overlaps the doorway to Hall" in words(answer)


def test_a_doorway_may_be_saved_over_itself(browser: Browser, room: Room) -> None:
    doorway = make_doorway(room)
    answer = browser.post(reverse("doorway-edit", args=[doorway.pk]), sent(offset="2'"))
    doorway.refresh_from_db()
    assert answer.status_code == 303
    assert doorway.offset_mm == Decimal("609.6")


def test_what_a_form_shows_and_sends_back_stays_what_it_was(browser: Browser, room: Room) -> None:
    doorway = make_doorway(room, offset_mm=Decimal("777.7"))
    page = words(browser.get(reverse("doorway-edit", args=[doorway.pk])))
    assert 'value="777.7 mm"' in page


def test_the_second_of_two_savers_is_told_in_feet_and_inches(browser: Browser, room: Room) -> None:
    doorway = make_doorway(room)
    url = reverse("doorway-edit", args=[doorway.pk])
    browser.post(url, sent(width="30", key="theirs"))
    answer = browser.post(url, sent(width="36", key="mine"))
    assert answer.status_code == 409
    assert "Clear width is now “2' 6\"”; you have “3' 0\"”." in words(answer)


def test_a_strip_follows_the_treatment(browser: Browser, room: Room) -> None:
    browser.post(reverse("doorway-add", args=[room.pk]), sent(treatment="reducer"))
    strip = Transition.objects.get(doorway__room=room)
    assert (strip.profile, strip.length_mm) == ("reducer", Decimal("812.8"))


def test_a_floor_that_is_carried_through_needs_no_strip(browser: Browser, room: Room) -> None:
    browser.post(reverse("doorway-add", args=[room.pk]), sent())
    doorway = Doorway.objects.get()
    carried = sent(treatment="carry through", key="k2")
    browser.post(reverse("doorway-edit", args=[doorway.pk]), carried)
    assert not Transition.objects.exists()


def test_base_stops_at_a_doorway(browser: Browser, room: Room) -> None:
    browser.post(reverse("doorway-add", args=[room.pk]), sent())
    lengths = [run.length_mm for run in TrimRun.objects.filter(room=room, wall=0)]
    assert lengths == [Decimal("914.4"), Decimal("1930.4")]


def test_base_stops_on_the_far_side_as_well(room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    make_doorway(hall, beyond=room, beyond_wall=1, beyond_offset_mm=0, width_mm=1000)
    derive_trim(job=room.job)
    run = TrimRun.objects.get(room=room, wall=1)
    assert (run.length_mm, run.start_end, run.finish_end) == (Decimal("2048"), "butt", "inside")


def test_base_runs_through_where_a_doorway_was_removed(browser: Browser, room: Room) -> None:
    browser.post(reverse("doorway-add", args=[room.pk]), sent())
    browser.post(reverse("doorway-remove", args=[Doorway.objects.get().pk]))
    assert TrimRun.objects.get(room=room, wall=0).length_mm == Decimal("3657.6")


def test_a_room_of_another_job_can_not_lie_beyond(browser: Browser, room: Room) -> None:
    other = make_room(make_job(room.job.company), name="Kitchen")
    answer = browser.post(reverse("doorway-add", args=[room.pk]), sent(beyond=other.pk))
    assert answer.status_code == 422
