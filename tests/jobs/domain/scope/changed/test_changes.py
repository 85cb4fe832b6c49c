"""What a newer scope does differently is told in words; another name is no difference.

The floor is upstairs, its room the bedroom:

+----- 144 in -----+
|                  |
|      bedroom     | 120 in, a door of 32 in with two casings
|                  |
+------------------+
"""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.documents import digest
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.changed.changes import by_job, scope_changes
from jobs.domain.scope.changed.renamed import named_as
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.scope import FrozenScope, ScopePlace, ScopeZone, make_scope
from jobs.domain.scope.takeoff import take_off
from tests.jobs.floors import a_doorway, a_job, a_room, a_zone
from tests.jobs.kept import as_format_1

PLAN = digest("a plan")


def a_scope(job: JobTake | None = None, **changes: Any) -> FrozenScope:
    work = work_from(take_off(job or a_job()), STARTING_RATES, SiteWork())
    zone = ScopeZone(
        name="upstairs", rows=18, area_ft2=Decimal("120.00"), plan_sha256=PLAN, key="floor-1"
    )
    places = [ScopePlace(key="room-1", name="bedroom")]
    return make_scope([replace(zone, **changes)], work, places=places)


def a_den(floor: str = "upstairs", room: str = "bedroom", **more: Any) -> FrozenScope:
    """A floor and a room under these names, with a door, furniture and an old carpet."""
    room_take = a_room(name=room, old_floor="carpet", furniture="full", **more)
    door = a_doorway(name=f"{room}, wall 1, 4", zone=floor, casings=2)
    job = a_job(rooms=(room_take,), zones=(a_zone(name=floor, rooms=(room,)),), doorways=(door,))
    places = (
        ScopePlace(key="room-1", name=room),
        ScopePlace(key="doorway-4", name=f"{room}, wall 1, 4"),
    )
    return replace(a_scope(job, name=floor), places=places)


def said_of(old: FrozenScope, new: FrozenScope) -> list[str]:
    return [change.text for change in scope_changes(old, new)]


def test_a_change_order_says_what_was_added() -> None:
    changes = scope_changes(a_scope(), a_scope(a_job(rooms=(a_room(old_floor="carpet"),))))

    said = [change.text for change in changes]
    assert "Added: Old floor taken out (carpet, bedroom, upstairs), 120 ft2." in said
    assert "Added: Take the old floor out (upstairs), 0.72 h." in said


def test_a_change_order_says_what_was_left_out() -> None:
    changes = scope_changes(a_scope(a_job(rooms=(a_room(toilets=1),))), a_scope())

    assert "Left out: Toilets lifted and reset (bedroom, upstairs), 1." in [
        change.text for change in changes
    ]


def test_a_change_order_says_how_it_was_and_how_it_is() -> None:
    changes = scope_changes(a_scope(), a_scope(a_job(zones=(a_zone(spares=10),))))

    said = [change.text for change in changes]
    assert "Changed: Flooring (test plank), from 6 cartons to 7 cartons." in said


def test_another_plan_of_the_same_size_is_a_change() -> None:
    changes = scope_changes(a_scope(), a_scope(plan_sha256=digest("another plan")))

    assert [(change.subject, change.kind) for change in changes] == [("floor", "changed")]
    assert f"plan {PLAN[:8]}" in changes[0].text


def test_a_fact_that_nobody_pays_for_is_no_change() -> None:
    fact = quantity("planks", 55, "counted")
    scope = a_scope()

    assert scope_changes(scope, replace(scope, quantities=(*scope.quantities, fact))) == ()


def test_a_room_called_otherwise_is_no_change() -> None:
    assert said_of(a_den(), a_den(room="study")) == []


def test_a_floor_called_otherwise_is_no_change() -> None:
    assert said_of(a_den(), a_den(floor="top floor", room="study")) == []


def test_what_changed_in_a_room_called_otherwise_stands_under_its_new_name() -> None:
    new = a_den(room="study", toilets=1)

    assert "Added: Toilets lifted and reset (study, upstairs), 1." in said_of(a_den(), new)
    assert not [text for text in said_of(a_den(), new) if "bedroom" in text]


def test_a_room_called_otherwise_is_known_without_a_key_by_what_is_counted_of_it() -> None:
    old = as_format_1(a_den())

    assert said_of(old, a_den(floor="top floor", room="study")) == []


def test_a_floor_of_another_plan_is_another_floor_where_it_has_no_key() -> None:
    new = replace_plan(a_den(floor="top floor"), "another plan")

    assert any(text.startswith("Left out: upstairs") for text in said_of(as_format_1(a_den()), new))


def replace_plan(scope: FrozenScope, plan: str) -> FrozenScope:
    return replace(scope, zones=tuple(replace(z, plan_sha256=digest(plan)) for z in scope.zones))


def test_two_rooms_that_change_names_are_told_apart() -> None:
    def two(first: str, second: str) -> FrozenScope:
        job = a_job(
            rooms=(a_room(name=first, toilets=1), a_room(name=second, furniture="full")),
            zones=(a_zone(rooms=(first, second)),),
        )
        places = (ScopePlace(key="room-1", name=first), ScopePlace(key="room-2", name=second))
        return replace(a_scope(job), places=places)

    assert said_of(two("bath", "den"), two("den", "bath")) == []
    assert said_of(two("bath", "den"), two("bath", "study")) == []


def test_a_new_room_under_an_old_name_stands_beside_the_room_that_had_it() -> None:
    def rooms(*named: tuple[str, str]) -> FrozenScope:
        takes = tuple(a_room(name=name, toilets=1) for _, name in named)
        job = a_job(rooms=takes, zones=(a_zone(rooms=tuple(name for _, name in named)),))
        places = tuple(ScopePlace(key=key, name=name) for key, name in named)
        return replace(a_scope(job), places=places)

    old, new = rooms(("1", "den"), ("2", "hall")), rooms(("2", "den"))
    assert "Left out: Toilets lifted and reset (den, as it was, upstairs), 1." in said_of(old, new)


def test_a_renamed_scope_says_the_same_under_other_names() -> None:
    named = named_as(a_den(), a_den(floor="top floor", room="study"))

    assert named.task("lay:top floor").after == a_den(floor="top floor").task("lay:top floor").after
    assert {entry.zone for entry in named.quantities} == {"", "top floor"}


def test_hauling_that_an_older_scope_did_not_count_is_no_change() -> None:
    site = SiteWork(scheduled=False)
    old = make_scope(a_den().zones, work_from((), STARTING_RATES, site))
    new = make_scope(a_den().zones, work_from([carried()], STARTING_RATES, SiteWork()))

    assert said_of(old, new) == [
        "Added: Carried in, 100 lb.",
        "Added: Carry in, 0.25 h.",
    ]


def carried() -> Quantity:
    return quantity("carry", 100, "cartons by their weight")


@pytest.mark.parametrize(
    ("floors", "job", "left"),
    [
        ((11, 11, 10), 31, 31),  # rounded up at each floor: one more than the job needs
        ((11, 11, 10), 32, 32),
        ((11, 11, 10), 29, 32),  # three fewer are not to be had by rounding at three floors
        ((11, 11, 10), 33, 32),
    ],
)
def test_cartons_once_counted_floor_by_floor(floors: tuple[int, ...], job: int, left: int) -> None:
    by_floor = [
        quantity("cartons", count, "counted", zone=f"floor {number}", item="oak")
        for number, count in enumerate(floors)
    ]
    once = quantity("cartons", job, "counted", item="oak")

    assert [entry.amount for entry in by_job(by_floor, [once])] == [left]


def test_what_is_measured_is_not_rounded_up_by_the_floor() -> None:
    by_floor = [quantity("pad_area", 100, "area", zone=zone) for zone in ("up", "down")]
    once = quantity("pad_area", Decimal("199.50"), "area")

    assert [entry.amount for entry in by_job(by_floor, [once])] == [200]
