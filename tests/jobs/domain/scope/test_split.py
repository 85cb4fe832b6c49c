"""A scope without what the homeowner does: its days, its trips, its order.

One installer of eight hours, an hour on the road each day, so seven hours to work:

    10 h of setting up, 6 of laying, 5 of cleaning   1 + 7 | 1 + 3 + 4 | 1 + 2 + 5   three trips
    the homeowner cleans                             1 + 7 | 1 + 3 + 4 | 1 + 2
    the homeowner sets up and cleans                 1 + 6                           one trip
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.documents import digest
from jobs.domain.scope.changed.changes import scope_changes
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.scope import (
    SCOPE,
    FrozenScope,
    ScopeZone,
    make_scope,
    scope_from,
    scope_text,
)
from jobs.domain.scope.split import leaving
from jobs.domain.tasks import TASKS, crews_work, with_what_goes_along
from tests.jobs.domain.scope.test_schedule import ONE_PERSON, a_floor, rates


def a_scope(*left: str) -> FrozenScope:
    site: SiteWork = replace(ONE_PERSON, left_to_homeowner=left)
    work = work_from(a_floor(3), rates(setup="10", lay="6", clean="2.5"), site)
    zone = ScopeZone(name="up", rows=3, area_ft2=Decimal(100), plan_sha256=digest("up"))
    return make_scope([zone], work, left_to_homeowner=left)


def hours_by_day(scope: FrozenScope) -> list[float]:
    assert scope.schedule is not None
    return [float(day.hours) for day in scope.schedule.days]


def trips(scope: FrozenScope) -> int:
    """The trips that a scope is priced with."""
    return next(int(entry.amount) for entry in scope.quantities if entry.code == "trips")


def test_days_and_trips_are_those_of_the_crews_own_work() -> None:
    assert (hours_by_day(a_scope()), trips(a_scope())) == ([8, 8, 8], 3)
    assert (hours_by_day(a_scope("clean")), trips(a_scope("clean"))) == ([8, 8, 3], 3)
    alone = a_scope("setup", "clean")
    assert (hours_by_day(alone), trips(alone)) == ([7], 1)
    # The scope tells all the work still: 21 h and one drive, of which 6 and the drive are ours.
    assert (alone.hours, alone.crews_hours) == (Decimal(22), Decimal(7))


@pytest.mark.parametrize("left", [(), ("clean",), ("setup", "clean"), tuple(TASKS)])
def test_a_scope_laid_out_otherwise_is_as_if_it_had_been_made_so(left: tuple[str, ...]) -> None:
    assert scope_text(leaving(a_scope("setup"), left)) == scope_text(a_scope(*left))


def test_with_everything_left_there_is_no_day_and_no_drive() -> None:
    scope = a_scope(*TASKS)

    assert hours_by_day(scope) == []
    assert (trips(scope), scope.crews_hours) == (0, Decimal(0))
    assert not scope.has_crew
    assert "travel" not in {task.code for task in scope.tasks}


def test_it_is_read_as_it_was_written() -> None:
    for scope in (a_scope("setup"), a_scope(*TASKS)):
        assert scope_from(SCOPE.read(scope_text(scope))) == scope


def test_days_that_give_the_crew_what_the_homeowner_does_are_refused() -> None:
    scope = replace(a_scope(), left_to_homeowner=("setup",))

    with pytest.raises(BadValueError, match=r"schedule.hours of setup is 10.00; accepted: 0"):
        scope_from(SCOPE.read(scope_text(scope)))


def test_a_task_that_does_not_exist_is_left_to_nobody() -> None:
    with pytest.raises(BadValueError, match=r"scope.left_to_homeowner is 'sing'"):
        replace(a_scope(), left_to_homeowner=("sing",))


def test_the_order_stays_behind_what_the_homeowner_does() -> None:
    before = {task.key: task.after for task in a_scope().tasks}

    assert {task.key: task.after for task in crews_work(a_scope().tasks, ("setup",))} == before


def test_who_changes_places_is_a_change_of_scope() -> None:
    said = [change.text for change in scope_changes(a_scope(), a_scope("clean"))]

    label = TASKS["clean"].label
    assert said == [f"Changed: {label}, from done by the crew to done by the homeowner."]


def test_who_loads_the_old_floor_drives_it_away() -> None:
    assert with_what_goes_along(["dispose", "furniture"]) == ("furniture", "dispose", "dump_run")


def test_the_document_says_who_does_what() -> None:
    assert '"left_to_homeowner":["clean"]' in scope_text(a_scope("clean"))
