"""The days of a scope: trips are the days that its work is laid onto, each out and home.

One installer of eight hours, an hour on the road each day, so seven hours to work:

    four rows of 5 h     1 + 5 | 1 + 5 | 1 + 5 | 1 + 5        one row a day: four trips, not three
    20 h of setting up   1 + 7 | 1 + 7 | 1 + 6                three trips
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.checks import BadValueError
from jobs.domain.days.crew import CrewDay
from jobs.domain.days.days import plan_days
from jobs.domain.days.on_site import booked_for, crew_of_hours
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.hours import SiteWork, Work, work_from
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from jobs.domain.scope.schedule import ScopeSchedule, require_laid_out
from jobs.domain.scope.takeoff import take_off
from tests.jobs.floors import a_job, a_plan, a_room, a_zone

ONE_PERSON = SiteWork(crew_hours_per_day=Decimal(8), trip_hours=Decimal(1))
TWO_PEOPLE = SiteWork(crew_hours_per_day=Decimal(16), trip_hours=Decimal(1))
MONDAY = date(2026, 3, 2)


def rates(**hours: str) -> Sequence[ProductionRate]:
    """Rates at which only these tasks take time: so much a job, or for 100 ft2 of laying."""
    nothing = [replace(rate, hours=Decimal(0)) for rate in STARTING_RATES]
    return [
        replace(rate, hours=Decimal(hours[rate.task_code]))
        if rate.task_code in hours and rate.driver in ("visits", "floor_area")
        else rate
        for rate in nothing
    ]


def a_floor(rows: int) -> list[Quantity]:
    return [
        quantity("floor_area", 100, "area", zone="up"),
        quantity("rows", rows, "counted", zone="up"),
    ]


def days_of(work: Work) -> ScopeSchedule:
    assert work.schedule is not None
    return work.schedule


def trips_of(work: Work) -> Decimal:
    return next(entry.amount for entry in work.quantities if entry.code == "trips")


def travel_of(work: Work) -> Decimal:
    return next(task.hours for task in work.tasks if task.code == "travel")


def test_trips_are_the_days_laid_out_where_the_hours_alone_would_give_fewer() -> None:
    # 20 h at 7 h a day would be three days; rows of 5 h leave the crew home after each.
    work = work_from(a_floor(4), rates(lay="20"), ONE_PERSON)

    assert [day.hours for day in days_of(work).days] == [6, 6, 6, 6]
    assert trips_of(work) == travel_of(work) == days_of(work).booked == 4


def test_each_trip_takes_its_time_from_its_day() -> None:
    work = work_from((), rates(setup="20"), ONE_PERSON)

    assert [day.hours for day in days_of(work).days] == [8, 8, 7]
    assert trips_of(work) == travel_of(work) == 3


def test_a_day_that_fills_half_at_most_is_booked_as_half() -> None:
    # 36 h of two people: 1 + 15, 1 + 15, 1 + 6; the third fills 7 of 16 h.
    work = work_from((), rates(setup="36"), TWO_PEOPLE)

    assert [day.booked for day in days_of(work).days] == [1, 1, Decimal("0.5")]
    assert days_of(work).booked == Decimal("2.5")
    assert trips_of(work) == 3


@pytest.mark.parametrize(
    ("hours", "booked"), [("0", "0"), ("0.01", "0.5"), ("8", "0.5"), ("8.01", "1"), ("16", "1")]
)
def test_half_a_day_ends_at_half_of_the_crew_s_hours(hours: str, booked: str) -> None:
    assert booked_for(Decimal(hours), Decimal(16)) == Decimal(booked)


def test_the_schedule_says_what_lies_on_which_day_and_for_whom() -> None:
    schedule = days_of(work_from((), rates(setup="20"), ONE_PERSON))

    assert schedule.people == 1
    assert schedule.hours_per_day == schedule.crew_hours == 8
    assert [(part.task, part.hours) for part in schedule.days[2].parts] == [
        ("travel", Decimal(1)),
        ("setup", Decimal(6)),
    ]
    assert schedule.hours_of("setup") == 20


@pytest.mark.parametrize(
    ("crew_hours", "people", "each"),
    [("16", 2, "8"), ("8", 1, "8"), ("20", 3, "6.66"), ("3", 1, "3"), ("40", 5, "8")],
)
def test_a_crew_known_by_its_hours_is_people_of_about_eight(
    crew_hours: str, people: int, each: str
) -> None:
    crew = crew_of_hours(Decimal(crew_hours))

    assert (crew.people, crew.hours_per_day) == (people, Decimal(each))


def test_work_that_no_day_holds_has_trips_by_its_hours_and_no_schedule() -> None:
    # A row without hours can't be laid onto days: 20 h of setting up at 7 h a day.
    work = work_from(a_floor(4), rates(setup="20", lay="0"), ONE_PERSON)

    assert work.schedule is None
    assert trips_of(work) == 3


def test_a_scope_of_before_has_trips_by_its_hours() -> None:
    work = work_from(a_floor(4), rates(lay="20"), replace(ONE_PERSON, scheduled=False))

    assert work.schedule is None
    assert trips_of(work) == 3


quarter_hours = st.integers(1, 60).map(lambda number: Decimal(number) / 4)


@given(
    crew=st.builds(
        CrewDay, people=st.integers(1, 4), hours_per_day=st.sampled_from([Decimal(5), Decimal(8)])
    ),
    trip=st.sampled_from(["0", "0.5", "1", "4"]),
    rows=st.integers(1, 30),
    setup=quarter_hours,
    lay=quarter_hours,
    wait=st.sampled_from(["0", "48"]),
)
def test_trips_are_always_the_days_of_the_schedule(
    crew: CrewDay, trip: str, rows: int, setup: Decimal, lay: Decimal, wait: str
) -> None:
    site = SiteWork(
        crew=crew,
        crew_hours_per_day=crew.capacity,
        trip_hours=Decimal(trip),
        acclimatize_hours={"up": Decimal(wait)},
    )
    work = work_from(a_floor(rows), rates(setup=str(setup), lay=str(lay)), site)
    weekdays = plan_days(work.tasks, crew, MONDAY, lambda day: day.weekday() < 5, today=MONDAY)

    assert trips_of(work) == days_of(work).trips == len(weekdays)
    assert travel_or_nothing(work) == trips_of(work) * Decimal(trip)
    assert [day.crew_hours for day in weekdays] == [day.hours for day in days_of(work).days]
    require_laid_out(days_of(work), work.tasks)


def travel_or_nothing(work: Work) -> Decimal:
    return sum((task.hours for task in work.tasks if task.code == "travel"), Decimal(0))


def test_days_that_hold_other_hours_than_the_tasks_are_refused() -> None:
    job = a_job(rooms=(a_room(),), zones=(a_zone(plan=a_plan()),))
    work = work_from(take_off(job), STARTING_RATES, TWO_PEOPLE)
    tasks = [replace(task, hours=task.hours + 1) for task in work.tasks]

    with pytest.raises(BadValueError, match=r"schedule.hours of pick_up is 1.00; accepted: 2.00"):
        require_laid_out(days_of(work), tasks)


def test_a_day_is_whole_or_half() -> None:
    day = days_of(work_from((), rates(setup="20"), ONE_PERSON)).days[0]

    with pytest.raises(BadValueError, match=r"schedule.day.booked is '0.25'; accepted: one of"):
        replace(day, booked=Decimal("0.25"))
