"""Trim runs on their pages: what a person set stays, and says where its wall no longer agrees."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, Room, TrimRun, User
from jobs.readers.scope import room_take
from jobs.readers.trim import cut_lists, stock_mm, usual_stock
from jobs.services.trim import derive_trim
from tests.builders import make_doorway, make_job, make_room
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 14 by 10 ft with a door of 32 in, 40 in along the first wall; base is new."""
    assert owner.company is not None
    den = make_room(make_job(owner.company), size=(168, 120), base="replace")
    inch = Decimal("25.4")
    make_doorway(den, offset_mm=40 * inch, width_mm=32 * inch)
    derive_trim(job=den.job)
    return den


def run_of(room: Room, wall: int = 1) -> TrimRun:
    """The run of base along a wall."""
    return TrimRun.objects.get(room=room, wall=wall, place=0, kind="base")


def sent(run: TrimRun, **more: Any) -> dict[str, Any]:
    """The form of a run as it stands, ten feet long."""
    ends = {"start_end": run.start_end, "finish_end": run.finish_end}
    return {"key": "k", "version": run.version, "length": "10'", "action": ""} | ends | more


def widen(room: Room, depth: float) -> None:
    """Make the room deeper, as a wall measured anew does."""
    room.outline = [[0, 0], [168, 0], [168, depth], [0, depth]]
    room.save()
    derive_trim(job=room.job)


def page_of(visitor: Visitor, room: Room) -> str:
    """The page of a room's trim."""
    return words(visitor.get(reverse("room-trim", args=[room.pk])))


def test_the_cut_list_of_a_room_equals_a_calculation_by_hand(room: Room) -> None:
    # The same sum as in test_trim_cuts: 168 | 120 + 40 | 120 | 96 from 16, 16, 12 and 8 ft.
    (base,) = cut_lists(room.job)
    sticks = [(stick["stock"], [cut["length"] for cut in stick["cuts"]]) for stick in base.sticks]
    feet = "{}'\u00a0{}\"".format
    assert sticks == [
        ("16 ft", [feet(14, 0)]),
        ("16 ft", [feet(10, 0), feet(3, 4)]),
        ("12 ft", [feet(10, 0)]),
        ("8 ft", [feet(8, 0)]),
    ]
    assert (base.title, base.proof) == ("Base, wood", "No other way buys less.")


def test_a_run_set_by_hand_stays_when_its_wall_changes(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run", args=[run_of(room).pk]), sent(run_of(room)))
    widen(room, 122)
    assert run_of(room).length_mm == Decimal(3048)
    said = "The wall is now 10' 2\"; the run was set to 10' 0\"."
    assert said in page_of(visitor, room)


def test_runs_that_nobody_touched_follow_their_wall(room: Room) -> None:
    widen(room, 122)
    assert run_of(room).length_mm == Decimal(122) * Decimal("25.4")


def test_the_derived_value_can_be_taken_again(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run", args=[run_of(room).pk]), sent(run_of(room), length="9'"))
    visitor.post(reverse("trim-run-derive", args=[run_of(room).pk]))
    assert (run_of(room).length_mm, run_of(room).edited) == (Decimal(3048), False)


def test_a_run_whose_wall_lost_it_says_so_and_goes_when_asked(visitor: Visitor, room: Room) -> None:
    second = TrimRun.objects.get(room=room, wall=0, place=1)
    visitor.post(reverse("trim-run", args=[second.pk]), sent(second))
    room.doorways.all().delete()
    derive_trim(job=room.job)
    assert "The walls have no such run any more." in page_of(visitor, room)
    visitor.post(reverse("trim-run-derive", args=[second.pk]))
    assert TrimRun.objects.filter(room=room, wall=0).count() == 1


def test_a_run_left_out_is_neither_cut_nor_counted(visitor: Visitor, room: Room) -> None:
    before = room_take(room, None).base_run_in
    visitor.post(reverse("trim-run", args=[run_of(room).pk]), sent(run_of(room), left_out="on"))
    fresh = Room.objects.get(pk=room.pk)
    assert room_take(fresh, None).base_run_in == before - 120
    assert "Left out" in page_of(visitor, room)


def test_a_wall_kept_in_a_room_of_new_base_is_not_bought(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run", args=[run_of(room).pk]), sent(run_of(room), action="keep"))
    (cut_list,) = cut_lists(room.job)
    assert "wall 2" not in str(cut_list.sticks)


def test_the_material_follows_the_moisture_of_the_room(room: Room) -> None:
    room.moisture = "wet"
    room.save()
    assert cut_lists(room.job)[0].title == "Base, moisture-proof"


def test_wood_is_refused_where_it_gets_wet(visitor: Visitor, room: Room) -> None:
    Room.objects.filter(pk=room.pk).update(moisture="wet")
    form = sent(run_of(room), profile="Primed pine, 3 1/4")
    answer = visitor.post(reverse("trim-run", args=[run_of(room).pk]), form)
    assert answer.status_code == 422
    assert "swells: Den is wet; accepted: no wood." in words(answer)
    assert "Primed pine" in words(answer)


def test_a_profile_of_its_own_is_cut_from_sticks_of_its_own(visitor: Visitor, room: Room) -> None:
    form = sent(run_of(room), profile="oak, 5 1/4")
    visitor.post(reverse("trim-run", args=[run_of(room).pk]), form)
    titles = {cut_list.title for cut_list in cut_lists(room.job)}
    assert titles == {"Base, wood", "Base, oak, 5 1/4"}


def test_the_job_names_the_lengths_its_store_has(visitor: Visitor, room: Room) -> None:
    form = {"key": "k", "version": room.job.version, "stock": "16', 10'"}
    visitor.post(reverse("job-trim", args=[room.job_id]), form)
    job = Job.objects.get(pk=room.job_id)
    assert stock_mm(job) == (Decimal(3048), Decimal("4876.8"))
    assert "cut from 10 ft, 16 ft" in words(visitor.get(reverse("job-trim", args=[job.pk])))


def test_a_length_that_is_none_is_refused_with_what_was_typed(visitor: Visitor, room: Room) -> None:
    form = {"key": "k", "version": room.job.version, "stock": "16', ten feet"}
    answer = visitor.post(reverse("job-trim", args=[room.job_id]), form)
    assert answer.status_code == 422
    assert "“ten feet” is no length" in words(answer)


def test_a_metric_job_buys_metric_lengths() -> None:
    assert usual_stock("mm") == (Decimal(2400), Decimal(3600))


def test_a_run_of_a_bowed_wall_is_named_as_in_the_drawing(visitor: Visitor, room: Room) -> None:
    room.edges = [{"wall": wall, "kind": "wall"} for wall in (0, 1, 1, 2)]
    room.save()
    page = page_of(visitor, room)
    assert "Base, wall 2b" in page
    assert "2b: 14' 0\"" in page


def test_a_slider_carries_no_base(room: Room) -> None:
    room.edges = [{"wall": n, "kind": "slider" if n == 2 else "wall"} for n in range(4)]
    room.save()
    derive_trim(job=room.job)
    assert not TrimRun.objects.filter(room=room, wall=2).exists()


def test_shoe_is_cut_beside_base_that_stays(room: Room) -> None:
    Room.objects.filter(pk=room.pk).update(base="keep", shoe=True)
    derive_trim(job=room.job)
    assert [cut_list.title for cut_list in cut_lists(room.job)] == ["Shoe or quarter round, wood"]
    assert room_take(Room.objects.get(pk=room.pk), None).shoe_run_in == 544


def hearth_room(job: Job, **values: Any) -> Room:
    """A den of 14 by 10 ft with a hearth of 60 by 20 in against its first wall.

    The wall is left 54 in on either side; the hearth has three sides of no wall, 100 in.
    """
    ring = [[0, 0], [54, 0], [54, 20], [114, 20], [114, 0], [168, 0], [168, 120], [0, 120]]
    of_wall = (0, None, None, None, 0, 1, 2, 3)
    edges = [{"wall": wall, "kind": "wall"} for wall in of_wall]
    room = make_room(job, "Hearth room", base="replace")
    for name, value in ({"outline": ring, "edges": edges} | values).items():
        setattr(room, name, value)
    room.save()
    derive_trim(job=job)
    return room


def added(**more: Any) -> dict[str, Any]:
    """The form of a run round the hearth, 8 ft 4 in."""
    ends = {"start_end": "outside", "finish_end": "outside"}
    what = {"kind": "base", "beside": "Hearth", "length": "100", "action": "", "profile": ""}
    return {"key": "k1", "version": 1} | what | ends | more


def feet_of_base(room: Room) -> Decimal:
    return room_take(room, None).base_run_in / 12


def test_base_follows_walls_and_not_the_hearth(room: Room) -> None:
    den = hearth_room(room.job)
    # 54 + 54 + 120 + 168 + 120 = 516 in; round the hearth it would be 616.
    assert feet_of_base(den) == 43
    ends = {(run.wall, run.start_end, run.finish_end) for run in den.trim_runs.filter(wall__lt=5)}
    assert ends == {(0, "cope", "butt"), (4, "butt", "inside")}


def test_a_run_round_the_hearth_is_counted_once_a_person_adds_it(
    visitor: Visitor, room: Room
) -> None:
    den = hearth_room(room.job)
    visitor.post(reverse("trim-run-add", args=[den.pk]), added())
    assert feet_of_base(den) * 12 == 616
    assert ">Base, Hearth<" in page_of(visitor, den)


def test_a_run_that_was_added_stays_when_walls_change(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run-add", args=[room.pk]), added(beside="Island"))
    visitor.post(reverse("trim-run-add", args=[room.pk]), added(beside="Column", key="k2"))
    widen(room, 122)
    beside = room.trim_runs.filter(wall__gte=TrimRun.ADDED_FROM).values_list("wall", "beside")
    assert list(beside) == [(1000, "Island"), (1001, "Column")]
    assert "no longer agrees" not in page_of(visitor, room)


def test_a_run_sent_twice_is_added_once(visitor: Visitor, room: Room) -> None:
    for _ in range(2):
        visitor.post(reverse("trim-run-add", args=[room.pk]), added())
    assert room.trim_runs.filter(beside="Hearth").count() == 1


def test_an_added_run_is_changed_and_removed(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run-add", args=[room.pk]), added())
    run = room.trim_runs.get(beside="Hearth")
    form = added(version=run.version, kind="shoe", beside="Island", length="9'", key="k2")
    visitor.post(reverse("trim-run", args=[run.pk]), form)
    run.refresh_from_db()
    assert (run.kind, run.beside, run.length_mm) == ("shoe", "Island", Decimal("2743.2"))
    visitor.post(reverse("trim-run-derive", args=[run.pk]))
    assert not TrimRun.objects.filter(pk=run.pk).exists()


def test_base_added_in_a_room_that_keeps_its_base_is_put_on(visitor: Visitor, room: Room) -> None:
    den = hearth_room(room.job, base="keep")
    assert feet_of_base(den) == 0
    visitor.post(reverse("trim-run-add", args=[den.pk]), added(action="replace"))
    take = room_take(den, None)
    assert take.base_treatment == "replace"
    assert take.base_run_in == 100
    assert [run.cut.name for run in take.trim if run.action == "replace"] == ["Hearth"]


def test_shoe_added_where_the_room_has_none_is_put_on(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run-add", args=[room.pk]), added(kind="shoe"))
    take = room_take(room, None)
    assert take.shoe_treatment == "replace"
    assert take.shoe_run_in == 100


@pytest.mark.parametrize("bad", [{"beside": ""}, {"length": "0"}, {"length": "x"}, {"kind": "lid"}])
def test_a_run_that_is_none_is_refused_at_its_field(
    visitor: Visitor, room: Room, bad: dict[str, str]
) -> None:
    answer = visitor.post(reverse("trim-run-add", args=[room.pk]), added(**bad))
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == list(bad)
    assert not room.trim_runs.filter(wall__gte=TrimRun.ADDED_FROM).exists()


def test_what_a_run_is_along_is_shown_and_never_run(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("trim-run-add", args=[room.pk]), added(beside="<b>Hearth</b>"))
    page = visitor.get(reverse("room-trim", args=[room.pk])).content.decode()
    assert "&lt;b&gt;Hearth&lt;/b&gt;" in page
