"""Rooms on their pages: typed, drawn, refused, sent twice, overtaken."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import AuditLine, Job, Room, UnitSystem, User
from tests.builders import make_doorway, make_job, make_room, make_zone
from tests.jobs.room_sheets import FOUR, sheet
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A job of the owner's company, in feet and inches."""
    assert owner.company is not None
    return make_job(owner.company)


def test_a_job_without_rooms_offers_the_first(visitor: Visitor, job: Job) -> None:
    assert "Add a room" in words(visitor.get(reverse("room-list", args=[job.pk])))


def test_a_room_is_kept_as_it_was_typed_and_as_it_is_drawn(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    room = Room.objects.get(job=job)
    assert [wall["length"] for wall in room.measured["walls"]] == list(FOUR)
    assert room.outline == [[0, 0], [148.5, 0], [148.5, 120], [0, 120]]


def test_two_lengths_make_a_rectangle(visitor: Visitor, job: Job) -> None:
    sent = sheet("", "", "", "", across="12'", along="10'")
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert Room.objects.get(job=job).outline == [[0, 0], [144, 0], [144, 120], [0, 120]]


def test_a_metric_job_reads_bare_numbers_as_millimeters(visitor: Visitor, job: Job) -> None:
    Job.objects.filter(pk=job.pk).update(units=UnitSystem.METRIC)
    visitor.post(reverse("room-add", args=[job.pk]), sheet("3760", "2 m", "376 cm", "2000"))
    assert Room.objects.get(job=job).outline[2] == [3760, 2000]


def test_one_wall_more_is_shown_and_nothing_is_lost(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR, do="add-wall"))
    assert answer.status_code == 200
    assert 'name="wall-4-length"' in words(answer)
    assert 'value="120 in"' in words(answer)
    assert not Room.objects.exists()


def test_one_wall_more_for_htmx_is_only_the_walls(visitor: Visitor, job: Job) -> None:
    url = reverse("room-add", args=[job.pk])
    answer = visitor.post(url, sheet(*FOUR, do="add-wall"), headers={"HX-Request": "true"})
    assert words(answer).strip().startswith('<div id="walls">')


def test_the_outline_is_drawn_before_anything_is_saved(visitor: Visitor, job: Job) -> None:
    url = reverse("room-add", args=[job.pk])
    answer = visitor.post(url, sheet(*FOUR, do="draw"), headers={"HX-Request": "true"})
    assert "<svg" in words(answer)
    assert "124 ft²" in words(answer)
    assert not Room.objects.exists()


def test_a_room_sent_twice_is_one_room(visitor: Visitor, job: Job) -> None:
    for _ in range(2):
        answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    room = Room.objects.get(job=job)
    assert answer.headers["Location"] == reverse("room-edit", args=[room.pk])


def test_a_saved_room_leaves_a_line_of_who_did_it(visitor: Visitor, job: Job, owner: User) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    line = AuditLine.objects.get(subject=f"job {job.pk}")
    assert (line.who, line.act) == (owner.name, "Measured Den")


@pytest.mark.parametrize(
    ("length", "sentence"),
    [
        ("12 bananas", "“12 bananas” is no length; accepted: 12' 4 1/2\", 148.5 (inches)"),
        ("0", '“0” is too short; accepted: ⅛" or more.'),
        ("-4'", "“-4'” is too short"),
        ("900'", "“900'” is too long; accepted: up to 328' 1\"."),
        ("5000 ft", "“5000 ft” is too long"),
    ],
)
def test_a_length_that_is_none_is_refused_at_its_wall(
    visitor: Visitor, job: Job, length: str, sentence: str
) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(length, "10'", "12'", "10'"))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert f'value="{length}"' in words(answer)


def test_an_open_outline_is_refused_with_what_is_missing(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet("12'", "10'", "9'", "10'"))
    assert answer.status_code == 422
    assert "The walk ends 3' 0\" from the first corner" in words(answer)


def test_an_outline_that_crosses_itself_is_refused(visitor: Visitor, job: Job) -> None:
    sent = sheet("10'", "10'", "5'", "20'", "5'", "10'")
    sent |= {"wall-3-turn": "right", "wall-4-turn": "right"}
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert "Wall 4 meets wall 1; accepted: an outline that never meets itself." in words(answer)


def test_a_room_without_walls_is_refused(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet("", "", "", ""))
    assert "0 walls typed; accepted: 3 or more, or length and width" in words(answer)


def test_two_rooms_of_one_name_are_refused(visitor: Visitor, job: Job) -> None:
    make_room(job, name="Den")
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    assert "Another room of this job is called “Den”" in words(answer)


def test_a_column_half_typed_is_refused_at_the_missing_field(visitor: Visitor, job: Job) -> None:
    sent = sheet(*FOUR) | {"hole-rows": 1, "hole-0-kind": "column", "hole-0-x": "2'"}
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert "Nothing was typed; accepted: a length, or the row left empty." in words(answer)


def test_a_column_is_kept_by_its_trade_name_and_its_kind(visitor: Visitor, job: Job) -> None:
    sent = sheet(*FOUR) | {"hole-rows": 1, "hole-0-kind": "column"}
    sent |= {"hole-0-x": "2'", "hole-0-y": "2'", "hole-0-width": "6", "hole-0-depth": "6"}
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    room = Room.objects.get(job=job)
    assert room.measured["holes"][0]["name"] == "column"
    assert room.holes == [{"kind": "post", "ring": [[24, 24], [30, 24], [30, 30], [24, 30]]}]


def test_a_stored_room_shows_what_was_typed(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    room = Room.objects.get(job=job)
    page = words(visitor.get(reverse("room-edit", args=[room.pk])))
    assert all(f'value="{length}"' in page for length in ("148.5", "120 in"))


def test_the_second_of_two_savers_is_told_and_keeps_the_text(visitor: Visitor, job: Job) -> None:
    room = make_room(job)
    url = reverse("room-edit", args=[room.pk])
    visitor.post(url, sheet(*FOUR, name="Library", key="theirs"))
    answer = visitor.post(url, sheet(*FOUR, name="Study", key="mine"))
    assert answer.status_code == 409
    assert "Name is now “Library”; you have “Study”." in words(answer)
    assert 'value="Study"' in words(answer)


def test_the_second_of_two_savers_is_told_which_wall_changed(visitor: Visitor, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    url = reverse("room-edit", args=[room.pk])
    seen = visitor.get(url).context["sheet"].form["seen"].value()
    visitor.post(url, sheet("12'", "11'", "12'", "11'", key="theirs"))
    answer = visitor.post(url, sheet("12'", "10'", "12'", "10'", key="mine", seen=seen))
    assert answer.status_code == 409
    assert "Wall 2 was 120 and is now 11'; you have 10'." in words(answer)
    assert "&quot;length&quot;:&quot;11&#x27;&quot;" in answer.content.decode()


def test_what_was_seen_may_be_anything(visitor: Visitor, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    url = reverse("room-edit", args=[room.pk])
    visitor.post(url, sheet(*FOUR, key="theirs"))
    for nonsense in ("{", "[1]", "7", '{"walls": 3}', '{"walls": [4]}'):
        answer = visitor.post(url, sheet("12'", "10'", "12'", "10'", key="mine", seen=nonsense))
        assert answer.status_code == 409


def test_saving_once_more_after_being_told_puts_mine_in_place(visitor: Visitor, job: Job) -> None:
    room = make_room(job)
    url = reverse("room-edit", args=[room.pk])
    visitor.post(url, sheet(*FOUR, name="Library", key="theirs"))
    visitor.post(url, sheet(*FOUR, name="Study", key="mine", version=2))
    room.refresh_from_db()
    assert (room.name, room.version) == ("Study", 3)


def test_walls_that_lose_a_doorway_are_refused(visitor: Visitor, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    make_doorway(room, wall=0, offset_mm=2500, width_mm=800, beyond_floor="the porch")
    answer = visitor.post(reverse("room-edit", args=[room.pk]), sheet("100", "120", "100", "120"))
    assert answer.status_code == 422
    assert "The doorway to the porch would no longer fit." in words(answer)


def test_a_doorway_stays_where_it_is_in_a_wall_that_was_bent(visitor: Visitor, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    doorway = make_doorway(room, wall=1, offset_mm=1778, width_mm=800, beyond_floor="the porch")
    sent = sheet("144", "120", "144", "120") | {"bow-rows": 1, "bow-0-wall": 1}
    sent |= {"bow-0-along": "6'", "bow-0-into": "-1"}
    visitor.post(reverse("room-edit", args=[room.pk]), sent)
    doorway.refresh_from_db()
    assert (doorway.wall, doorway.offset_mm) == (2, 1778)


def test_a_doorway_past_a_cabinet_is_measured_from_the_cabinet_on(
    visitor: Visitor, job: Job
) -> None:
    room = make_room(job, size=(144, 120))
    doorway = make_doorway(room, wall=0, offset_mm=2540, width_mm=800, beyond_floor="the porch")
    sent = sheet("144", "120", "144", "120") | {"hole-rows": 1, "hole-0-kind": "cabinet"}
    sent |= {"hole-0-x": "1'", "hole-0-y": "0", "hole-0-width": "3'", "hole-0-depth": "2'"}
    visitor.post(reverse("room-edit", args=[room.pk]), sent)
    doorway.refresh_from_db()
    assert (doorway.wall, round(doorway.offset_mm, 3)) == (4, 2540 - 48 * Decimal("25.4"))


def test_sides_are_named_by_wall_where_they_are_measured_and_where_doors_are_put(
    visitor: Visitor, job: Job
) -> None:
    room = make_room(job, size=(144, 120))
    make_doorway(room, wall=1, offset_mm=1778, width_mm=800, beyond_floor="the porch")
    sent = sheet("144", "120", "144", "120") | {"bow-rows": 1, "bow-0-wall": 1}
    sent |= {"bow-0-along": "6'", "bow-0-into": "-1"}
    visitor.post(reverse("room-edit", args=[room.pk]), sent)
    page = words(visitor.get(reverse("room-edit", args=[room.pk])))
    assert all(text in page for text in ("1a: 6'", "1b: 6'", "wall 2, 5' 10\" along"))
    door = words(visitor.get(reverse("doorway-add", args=[room.pk])))
    assert "1a: 6' " in door
    assert "2: 10' 0\"" in door


def test_a_bowed_wall_is_one_wall_in_the_list(visitor: Visitor, job: Job) -> None:
    sent = sheet("144", "120", "144", "120") | {"bow-rows": 1, "bow-0-wall": 1}
    sent |= {"bow-0-along": "6'", "bow-0-into": "-1"}
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    page = visitor.get(reverse("room-list", args=[job.pk])).content.decode()
    assert '<td class="num" data-label="Walls">4</td>' in page


def test_a_round_column_needs_no_depth(visitor: Visitor, job: Job) -> None:
    sent = sheet(*FOUR) | {"hole-rows": 1, "hole-0-kind": "column"}
    sent |= {"hole-0-x": "4'", "hole-0-y": "4'", "hole-0-width": "10"}
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert len(Room.objects.get(job=job).holes[0]["ring"]) == 16


def test_a_hearth_without_a_depth_is_refused(visitor: Visitor, job: Job) -> None:
    sent = sheet(*FOUR) | {"hole-rows": 1, "hole-0-kind": "hearth"}
    sent |= {"hole-0-x": "4'", "hole-0-y": "4'", "hole-0-width": "10"}
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert "Nothing was typed; accepted: a length, or the row left empty." in words(answer)


def test_diagonal_bow_and_edge_are_kept_as_typed(visitor: Visitor, job: Job) -> None:
    sent = sheet("16'", "12'", "16'", "12'") | {"wall-2-edge": "radiator", "diagonal-rows": 1}
    sent |= {"diagonal-0-start": 1, "diagonal-0-end": 3, "diagonal-0-length": "20' 3\""}
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    room = Room.objects.get(job=job)
    assert room.measured["diagonals"] == [{"start": "1", "end": "3", "length": "20' 3\""}]
    assert room.edges[2] == {"wall": 2, "kind": "radiator"}
    page = words(visitor.get(reverse("room-edit", args=[room.pk])))
    assert "Corner 2 is 91.5 degrees" in page


def test_a_diagonal_half_typed_is_refused(visitor: Visitor, job: Job) -> None:
    sent = sheet(*FOUR) | {"diagonal-rows": 1, "diagonal-0-length": "15'"}
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert "Nothing was typed; accepted: a number, or the row left empty." in words(answer)


def test_a_diagonal_that_says_square_is_told_beside_the_drawing(visitor: Visitor, job: Job) -> None:
    sent = sheet("16'", "12'", "16'", "12'", do="draw") | {"diagonal-rows": 1}
    sent |= {"diagonal-0-start": 1, "diagonal-0-end": 3, "diagonal-0-length": "20'"}
    url = reverse("room-add", args=[job.pk])
    answer = visitor.post(url, sent, headers={"HX-Request": "true"})
    assert "Corner 2 is square: the diagonal reads 20' 0\"." in words(answer)


def toothed(corners: int) -> dict[str, Any]:
    """Return the page of a long room whose one side is notched, with so many corners."""
    turns = ["right", "left", "left", "right"] * ((corners - 4) // 4)
    run = 10 * (len(turns) // 2) + 10
    lengths = ["10"] * len(turns) + ["10", "300", str(run), "300"]
    sent = sheet(*lengths)
    return sent | {f"wall-{row}-turn": turn for row, turn in enumerate(turns)}


def test_a_room_of_two_hundred_corners_is_saved(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), toothed(200))
    assert len(Room.objects.get(job=job).outline) == 200


def test_more_than_two_hundred_corners_are_refused(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), toothed(204))
    assert answer.status_code == 422
    assert "204 walls typed; accepted: up to 200 in one room." in words(answer)
    assert 'name="wall-203-length"' in words(answer)


def test_no_row_is_added_past_two_hundred(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), toothed(200) | {"do": "add-wall"})
    assert "200 rows are shown; accepted: up to 200 in one room." in words(answer)


def test_bare_numbers_beside_meters_are_refused_in_feet_and_inches(
    visitor: Visitor, job: Job
) -> None:
    sent = sheet("3.66 m", "120", "3.66 m", "120")
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert "“120” names no unit, and wall 1 was typed in meters" in words(answer)
    assert 'value="3.66 m"' in words(answer)


def test_the_page_after_a_save_names_the_form_it_saved(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR, key="k7"), follow=True)
    assert 'data-saved="k7"' in words(answer)
    again = visitor.get(reverse("room-edit", args=[Room.objects.get(job=job).pk]))
    assert 'data-saved=""' in words(again)


def test_a_removed_room_leaves_doorways_that_lead_nowhere(visitor: Visitor, job: Job) -> None:
    room, hall = make_room(job), make_room(job, name="Hall")
    doorway = make_doorway(hall, beyond=room, beyond_wall=0, beyond_offset_mm=10)
    visitor.post(reverse("room-remove", args=[room.pk]))
    doorway.refresh_from_db()
    assert (doorway.beyond, doorway.beyond_wall, doorway.beyond_floor) == (None, None, "Den")


def test_removing_a_room_says_which_floor_loses_it(visitor: Visitor, job: Job) -> None:
    room = make_room(job)
    make_zone(room, name="Ground floor")
    page = words(visitor.get(reverse("room-remove", args=[room.pk])))
    assert "Ground floor loses it" in page


def test_the_list_adds_the_areas_up(visitor: Visitor, job: Job) -> None:
    make_room(job, size=(120, 120))
    make_room(job, name="Hall", size=(120, 48))
    assert "140 ft²" in words(visitor.get(reverse("room-list", args=[job.pk])))
