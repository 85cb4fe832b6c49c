"""Doorways on their pages: inside their wall, clear of each other, followed by strip and trim."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.lengths import length_words
from jobs.models import Doorway, FloorZone, Room, SiteFacts, Transition, TrimRun, User
from jobs.readers.openings.doorways import doorway_words, step_of, trapped_of
from jobs.services.openings.doorways import follow_proposals
from jobs.services.trim import derive_trim
from tests.builders import (
    make_doorway,
    make_job,
    make_product,
    make_room,
    make_zone,
)
from tests.jobs.room_sheets import FOUR
from tests.jobs.room_sheets import sheet as four_walls
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 12 by 10 ft."""
    assert owner.company is not None
    return make_room(make_job(owner.company), size=(144, 120))


def sent(**more: Any) -> dict[str, Any]:
    """Return a doorway's form: 32 in wide, 3 ft along the first wall, to the porch."""
    form = {"key": "k1", "version": 1, "wall": 0, "offset": "3'", "width": "32", "depth": "4 1/2"}
    form |= {"beyond": "", "beyond_floor": "the porch", "step": "0", "treatment": "end cap"}
    return form | {"kind": "door", "casings": 2, "doors_off": 0} | more


def test_a_doorway_is_kept_where_it_was_measured(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    doorway = Doorway.objects.get(room=room)
    assert (doorway.offset_mm, doorway.width_mm) == (Decimal("914.4"), Decimal("812.8"))


def test_a_doorway_sent_twice_is_one_doorway(visitor: Visitor, room: Room) -> None:
    for _ in range(2):
        visitor.post(reverse("doorway-add", args=[room.pk]), sent())
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
    visitor: Visitor, room: Room, fields: dict[str, str], sentence: str
) -> None:
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), sent(**fields))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert not Doorway.objects.exists()


def test_two_doorways_do_not_overlap(visitor: Visitor, room: Room) -> None:
    make_doorway(room, offset_mm=1000, beyond_floor="the yard")
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    assert "It overlaps the doorway to the yard, 3' 3⅜\" to 5' 11" in words(answer)


def test_a_doorway_measured_from_the_other_side_counts_too(visitor: Visitor, room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    make_doorway(hall, beyond=room, beyond_wall=0, beyond_offset_mm=1000)
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    assert "It overlaps the doorway to Hall" in words(answer)


def test_a_doorway_may_be_saved_over_itself(visitor: Visitor, room: Room) -> None:
    doorway = make_doorway(room)
    answer = visitor.post(reverse("doorway-edit", args=[doorway.pk]), sent(offset="2'"))
    doorway.refresh_from_db()
    assert answer.status_code == 303
    assert doorway.offset_mm == Decimal("609.6")


def test_what_a_form_shows_and_sends_back_stays_what_it_was(visitor: Visitor, room: Room) -> None:
    doorway = make_doorway(room, offset_mm=Decimal("777.7"))
    page = words(visitor.get(reverse("doorway-edit", args=[doorway.pk])))
    assert 'value="777.7 mm"' in page


def test_the_second_of_two_savers_is_told_in_feet_and_inches(visitor: Visitor, room: Room) -> None:
    doorway = make_doorway(room)
    url = reverse("doorway-edit", args=[doorway.pk])
    visitor.post(url, sent(width="30", key="theirs"))
    answer = visitor.post(url, sent(width="36", key="mine"))
    assert answer.status_code == 409
    assert "Clear width is now “2' 6\"”; you have “3' 0\"”." in words(answer)


def test_a_strip_follows_the_treatment(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("doorway-add", args=[room.pk]), sent(treatment="reducer"))
    strip = Transition.objects.get(doorway__room=room)
    assert (strip.profile, strip.length_mm) == ("reducer", Decimal("812.8"))


def test_a_floor_that_is_carried_through_needs_no_strip(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    doorway = Doorway.objects.get()
    carried = sent(treatment="carry through", key="k2")
    visitor.post(reverse("doorway-edit", args=[doorway.pk]), carried)
    assert not Transition.objects.exists()


def test_base_stops_at_a_doorway(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    lengths = [run.length_mm for run in TrimRun.objects.filter(room=room, wall=0)]
    assert lengths == [Decimal("914.4"), Decimal("1930.4")]


def test_base_stops_on_the_far_side_as_well(room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    make_doorway(hall, beyond=room, beyond_wall=1, beyond_offset_mm=0, width_mm=1000)
    derive_trim(job=room.job)
    run = TrimRun.objects.get(room=room, wall=1)
    assert (run.length_mm, run.start_end, run.finish_end) == (Decimal("2048"), "butt", "inside")


def test_base_runs_through_where_a_doorway_was_removed(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("doorway-add", args=[room.pk]), sent())
    visitor.post(reverse("doorway-remove", args=[Doorway.objects.get().pk]))
    assert TrimRun.objects.get(room=room, wall=0).length_mm == Decimal("3657.6")


def test_a_room_of_another_job_can_not_lie_beyond(visitor: Visitor, room: Room) -> None:
    other = make_room(make_job(room.job.company), name="Kitchen")
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), sent(beyond=other.pk))
    assert answer.status_code == 422


def proposal(answer: Any) -> str:
    """The part of a doorway's page that says what follows from its figures."""
    return words(answer).split('id="proposal"', 1)[-1].split("What is done", 1)[0]


def a_zone(room: Room, **values: Any) -> FloorZone:
    """A floor of 1/4 in plank in the room."""
    return make_zone(room, **values)


def test_without_a_choice_by_hand_the_proposal_is_kept(visitor: Visitor, room: Room) -> None:
    form = sent(treatment="", beyond_kind="tile", step="3/8")
    visitor.post(reverse("doorway-add", args=[room.pk]), form)
    doorway = Doorway.objects.get()
    assert (doorway.treatment, doorway.chosen_by_hand) == ("reducer", False)
    assert Transition.objects.get().profile == "reducer"


def test_a_choice_by_hand_stands_beside_the_proposal(visitor: Visitor, room: Room) -> None:
    form = sent(treatment="threshold", beyond_kind="tile", step="3/8")
    visitor.post(reverse("doorway-add", args=[room.pk]), form)
    page = proposal(visitor.get(reverse("doorway-edit", args=[Doorway.objects.get().pk])))
    assert "Chosen by hand." in page
    assert "Proposed: Reducer." in page


def test_the_step_follows_from_the_height_measured_beyond(visitor: Visitor, room: Room) -> None:
    # Tile 5/8 in above the subfloor, plank 1/4 in: 3/8 in is left.
    a_zone(room)
    form = sent(treatment="", beyond_kind="tile", beyond_high="5/8", step="")
    visitor.post(reverse("doorway-add", args=[room.pk]), form)
    assert step_of(Doorway.objects.get()) == Decimal("9.525")
    assert Doorway.objects.get().treatment == "reducer"


def test_a_height_and_a_step_are_not_both_told(visitor: Visitor, room: Room) -> None:
    form = sent(beyond_high="5/8", step="1/4")
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), form)
    assert answer.status_code == 422
    assert "“1/4” was typed, and a height above the subfloor too; accepted: one." in words(answer)


def test_a_floor_goes_on_into_a_room_of_the_job(visitor: Visitor, room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    form = sent(treatment="", beyond=hall.pk, beyond_floor="")
    visitor.post(reverse("doorway-add", args=[room.pk]), form)
    assert Doorway.objects.get().treatment == "carry through"


def test_a_floor_of_its_own_beyond_turns_the_doorway_into_a_strip(room: Room) -> None:
    hall = make_room(room.job, name="Hall")
    doorway = make_doorway(room, beyond=hall, treatment="carry through")
    make_zone(room, name="Den")
    make_zone(hall, make_product(room.job.company), name="Hall")
    follow_proposals(job=room.job)
    doorway.refresh_from_db()
    assert doorway.treatment == "T-molding"
    assert Transition.objects.get().profile == "T-molding"


def test_what_was_chosen_by_hand_does_not_follow(room: Room) -> None:
    doorway = make_doorway(room, beyond_kind="tile", treatment="threshold", chosen_by_hand=True)
    follow_proposals(job=room.job)
    doorway.refresh_from_db()
    assert doorway.treatment == "threshold"


def test_a_place_may_be_told_from_the_last_corner(visitor: Visitor, room: Room) -> None:
    # 12 ft of wall, 32 in of door, 2 ft from the last corner: it begins at 7 ft 4 in.
    visitor.post(reverse("doorway-add", args=[room.pk]), sent(corner="last", offset="2'"))
    assert Doorway.objects.get().offset_mm == Decimal(88) * Decimal("25.4")


def test_a_place_past_the_first_corner_is_refused(visitor: Visitor, room: Room) -> None:
    form = sent(corner="last", offset="10'")
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), form)
    assert "“10'” passes the wall's first corner; accepted: up to 9' 4\"." in words(answer)


def test_the_strip_as_bought_is_typed_where_it_is_chosen(visitor: Visitor, room: Room) -> None:
    form = visitor.get(reverse("doorway-add", args=[room.pk])).content.decode()
    assert "T-molding 1¾&quot;, reducer 1¾&quot;, end cap 1⅜&quot;, threshold 3½&quot;" in form
    assert "†; measure the one you have." in form
    assert form.count("Common practice, no source") == 1
    typed = sent(treatment="reducer", step="3/8", strip_covers="2", strip_down="0", strip_up="1/2")
    visitor.post(reverse("doorway-add", args=[room.pk]), typed)
    door = Doorway.objects.get()
    assert door.strip_covers_mm == Decimal("50.8")
    assert (door.strip_down_mm, door.strip_up_mm) == (Decimal(0), Decimal("12.7"))


def test_a_strip_that_covers_nothing_is_refused(visitor: Visitor, room: Room) -> None:
    page = visitor.post(reverse("doorway-add", args=[room.pk]), sent(strip_covers="0"))
    assert "“0”" in words(page)
    assert not Doorway.objects.exists()


def test_what_follows_is_shown_without_saving(visitor: Visitor, room: Room) -> None:
    a_zone(room)
    form = sent(do="propose", treatment="", beyond_kind="tile", clearance="1/2")
    answer = visitor.post(reverse("doorway-add", args=[room.pk]), form)
    page = proposal(answer)
    # 1/2 in under the door, 1/4 in plank, 1/4 in strip: nothing left, 1/8 in to trim.
    assert 'Nothing is left under the door over floor and strip: take ⅛" off it' in page
    assert not Doorway.objects.exists()


def test_htmx_gets_only_what_follows(visitor: Visitor, room: Room) -> None:
    form = sent(do="propose", treatment="", beyond_kind="carpet", width="nonsense")
    url = reverse("doorway-add", args=[room.pk])
    answer = visitor.post(url, form, headers={"HX-Request": "true"})
    page = words(answer)
    assert "Carpet is tucked against a straight edge." in page
    assert "<form" not in page


def test_the_casing_is_cut_at_floor_and_pad_and_a_sixteenth(visitor: Visitor, room: Room) -> None:
    # 1/4 in plank, 1/8 in pad, 1/16 in clearance.
    a_zone(room, pad=True)
    doorway = make_doorway(room, treatment="T-molding")
    page = proposal(visitor.get(reverse("doorway-edit", args=[doorway.pk])))
    assert "above the subfloor" in page
    assert doorway_words(doorway, None).saw_cut == length_words(Decimal("11.1125"), "imperial")


def test_a_metal_frame_takes_a_metal_blade(room: Room) -> None:
    a_zone(room)
    words_of = doorway_words(make_doorway(room, metal_frame=True), None)
    assert words_of.saw_cut == ""
    assert "metal-cutting blade" in words_of.blade


@pytest.mark.parametrize(
    ("subfloor", "heated", "sentence"),
    [
        ("wood", False, "Track screwed every 8 in"),
        ("slab", False, "Adhesive, to the subfloor only"),
        ("wood", True, "the floor is heated"),
    ],
)
def test_the_subfloor_decides_what_holds_a_strip(
    room: Room, subfloor: str, heated: bool, sentence: str
) -> None:
    SiteFacts.objects.filter(job=room.job).update(subfloor=subfloor, heated_floor=heated)
    words_of = doorway_words(make_doorway(room, treatment="T-molding"), SiteFacts.objects.get())
    assert sentence in words_of.fixing


def test_a_track_is_a_little_shorter_than_its_strip(room: Room) -> None:
    doorway = make_doorway(room, treatment="T-molding", width_mm=Decimal("812.8"))
    words_of = doorway_words(doorway, None)
    assert (words_of.strip, words_of.track) == ("2'\u00a08\"", "2'\u00a07¾\"")


@pytest.mark.parametrize(("clear", "trapped"), [("9.525", False), ("9.5", True)])
def test_an_appliance_needs_an_eighth_above_the_new_floor(
    room: Room, clear: str, trapped: bool
) -> None:
    # 1/4 in plank: 3/8 in above the appliance just lets it out.
    a_zone(room)
    room.appliance_clear_mm = Decimal(clear)
    assert (trapped_of(room) is not None) == trapped


def test_a_step_in_an_accessible_route_names_the_limit(room: Room) -> None:
    SiteFacts.objects.filter(job=room.job).update(accessible_route=True)
    words_of = doorway_words(make_doorway(room, step_mm=Decimal("19.05")), SiteFacts.objects.get())
    (warning,) = words_of.warnings
    assert warning.startswith("An accessible route passes here. More than 1/2 in")


def test_the_room_above_an_appliance_is_told_in_its_room(visitor: Visitor, room: Room) -> None:
    sheet = four_walls(*FOUR, name="Kitchen", appliance_clear="3/8")
    visitor.post(reverse("room-add", args=[room.job_id]), sheet)
    assert Room.objects.get(name="Kitchen").appliance_clear_mm == Decimal("9.525")


def test_five_fields_give_the_first_answer(visitor: Visitor, room: Room) -> None:
    a_zone(room)
    url = reverse("doorway-add", args=[room.pk])
    form = visitor.get(url).content.decode().split('id="doorway-form"')[1].split('id="proposal"')[0]
    control = r'<(?:input|select|textarea)(?![^>]*type="hidden")[^>]*name="(\w+)"'
    five = ["wall", "offset", "width", "beyond_kind", "beyond_high"]
    assert re.findall(control, form) == five
    typed = dict(zip(five, ("1", "12", "30", "tile", "5/8"), strict=True))
    as_shown = {"kind": "door", "depth": '4 1/2"', "casings": "2", "doors_off": "0"}
    page = proposal(visitor.post(url, {"do": "propose"} | as_shown | typed))
    # Tile 5/8 in above the subfloor, the plank 1/4 in: the tile stands 3/8 in up.
    assert {"⅜" in page, "Reducer" in page} == {True}
