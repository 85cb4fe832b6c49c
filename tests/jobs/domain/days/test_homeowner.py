"""What the homeowner does between the crew's days."""

import pytest

from jobs.domain.days.homeowner import homeowners_tasks, notes_for
from tests.jobs.domain.days.planned import a_task

TASKS = (
    a_task("setup", "1"),
    a_task("furniture", "1", zone="Den", after=("setup",)),
    a_task("base_off", "1", zone="Den", after=("furniture:Den",)),
    a_task("lay", "9", zone="Den", after=("base_off:Den",)),
    a_task("base", "1", zone="Den", after=("lay:Den",)),
    a_task("clean", "1", after=("base:Den",)),
)


def said(left: tuple[str, ...], days: dict[int, set[str]]) -> list[str]:
    return [task.said for task in homeowners_tasks(TASKS, left, days)]


@pytest.mark.parametrize(
    ("left", "days", "words"),
    [
        # Setting up lies a day before the laying, which the base waits behind.
        (("base_off",), {1: {"setup"}, 2: {"lay:Den"}}, ["before day 2"]),
        # Through another task of the homeowner.
        (("furniture", "base_off"), {1: {"setup"}, 3: {"lay:Den"}}, ["before day 3"] * 2),
        # The crew sets up for itself; nobody takes base off behind furniture that it must move.
        (("base_off",), {1: {"setup", "lay:Den"}}, ["before day 1"]),
        (("base_off",), {1: {"furniture:Den", "lay:Den"}}, ["on day 1, between the crew's tasks"]),
        (("clean",), {1: {"setup"}, 2: {"base:Den", "lay:Den"}}, ["after day 2"]),
        (("setup",), {1: {"furniture:Den"}}, ["before day 1"]),
        (("base",), {}, [""]),
        ((), {1: {"setup"}}, []),
    ],
)
def test_it_is_done_between_what_comes_before_and_after(
    left: tuple[str, ...], days: dict[int, set[str]], words: list[str]
) -> None:
    assert said(left, days) == [f"done by the homeowner {one}".strip() for one in words]


def test_a_day_tells_once_what_must_be_done_before_it() -> None:
    days = {1: {"lay:Den"}, 2: {"lay:Den"}, 3: {"base:Den"}}
    tasks = homeowners_tasks(TASKS, ("setup", "furniture", "base_off", "clean"), days)

    assert notes_for(tasks, 1, last=False) == (
        "The homeowner does: setup, furniture (Den), base_off (Den); must be done before this day.",
    )
    assert notes_for(tasks, 2, last=False) == ()
    assert notes_for(tasks, 3, last=True) == ("The homeowner does once the crew is done: clean.",)
