"""A scope through the book: its days are those of the days page, its names may change."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.clock import day_of
from jobs.domain.documents import plain
from jobs.domain.formats import Fields
from jobs.domain.scope.hours import work_from
from jobs.domain.scope.rates_used import as_rate
from jobs.domain.scope.scope import FrozenScope, scope_document
from jobs.domain.scope.takeoff import take_off
from jobs.models import Company, FloorZone, Job, Rate, Room, Scope
from jobs.readers.penciled.site_work import site_work
from jobs.readers.scope import job_take, rates_of, scope_value
from jobs.services.records import freeze, next_number
from jobs.services.scope import changes_since_agreed, freeze_scope, latest_plans, work_out
from tests.builders import make_company, make_doorway, make_planned_job, make_stair
from tests.jobs.agreed import MONDAY, a_crew, agree, laid_out
from tests.jobs.kept import as_format_1

pytestmark = pytest.mark.django_db

ADDED_IN_FORMAT_2 = ("places", "schedule", "rates")


@pytest.fixture
def company() -> Company:
    """A company whose crew works 16 man-hours a day, an hour of it on the road."""
    return make_company(crew_day_hours=16, trip_hours=1)


@pytest.fixture
def job(company: Company) -> Job:
    """A planned job that is agreed on."""
    return agreed(make_planned_job(company))


def agreed(job: Job) -> Job:
    return again(agree(job, freeze_scope(job=job, user=None)))


def again(job: Job) -> Job:
    return Job.objects.get(pk=job.pk)


def agreed_value(job: Job) -> FrozenScope:
    assert job.agreed_scope is not None
    return scope_value(job.agreed_scope)


def in_format_1(scope: FrozenScope) -> Fields:
    """The document of a scope as it was written before it kept days, rates and places."""
    fields = scope_document(scope) | plain(as_format_1(scope)) | {"format": 1}
    for zone in fields["zones"]:
        del zone["key"]
    return {key: value for key, value in fields.items() if key not in ADDED_IN_FORMAT_2}


def agreed_before(job: Job) -> Job:
    """A job that was agreed on when scopes were of format 1: nothing hauled, trips by the hours."""
    site = replace(site_work(job, latest_plans(job)), scheduled=False)
    rates = [as_rate(rate) for rate in rates_of(job)]
    work = work_from(take_off(job_take(job, latest_plans(job))), rates, site)
    value = replace(work_out(job), quantities=work.quantities, tasks=work.tasks, schedule=None)
    document = freeze(company=job.company, kind="scope", content=in_format_1(value), user=None)
    number = next_number(job.scopes.all())
    scope = Scope.objects.create(job=job, number=number, document=document, hours=value.hours)
    return again(agree(job, scope))


def test_a_scope_keeps_its_crew_its_days_and_its_rates(job: Job) -> None:
    scope = agreed_value(job)
    assert scope.schedule is not None
    assert (scope.schedule.people, scope.schedule.hours_per_day) == (2, Decimal(8))
    laying = next(r for r in scope.rates if (r.task, r.driver) == ("lay", "floor_area"))
    assert (laying.hours, laying.per, laying.since) == (Decimal(2), Decimal(100), "")
    travel = next(rate for rate in scope.rates if rate.task == "travel")
    assert (travel.hours, travel.source) == (Decimal(1), "for this site")


def test_a_rate_that_was_set_is_kept_with_its_day(company: Company) -> None:
    rate = Rate.objects.create(company=company, task="setup", driver="visits", hours=3)
    scope = work_out(make_planned_job(company))
    kept = next(entry for entry in scope.rates if entry.task == "setup")
    assert kept.hours == 3
    assert kept.since == day_of(rate.changed_at, company).isoformat()


def test_a_company_with_rates_of_before_gets_those_for_hauling(company: Company) -> None:
    Rate.objects.create(company=company, task="setup", driver="visits", hours=3)
    scope = work_out(make_planned_job(company))
    assert scope.task("pick_up").hours == 1


@pytest.mark.parametrize("setup_hours", ["1.5", "20", "44"])
def test_the_trips_priced_are_the_days_laid_out(company: Company, setup_hours: str) -> None:
    hours = Decimal(setup_hours)
    Rate.objects.create(company=company, task="setup", driver="visits", hours=hours)
    job = agreed(make_planned_job(company))
    scope, days = agreed_value(job), laid_out(job, a_crew(company, people=2), MONDAY)
    assert scope.schedule is not None
    trips = next(entry.amount for entry in scope.quantities if entry.code == "trips")
    assert trips == scope.schedule.trips == len(days)
    assert [day.hours for day in days] == [day.hours for day in scope.schedule.days]


def test_a_room_called_otherwise_leaves_the_scope_as_agreed(job: Job) -> None:
    make_doorway(Room.objects.get(job=job), casings=2)
    make_stair(job)
    job = agreed(job)
    Room.objects.filter(job=job).update(name="Study")
    assert changes_since_agreed(again(job)) == ()


def test_a_floor_called_otherwise_leaves_the_scope_as_agreed(job: Job) -> None:
    FloorZone.objects.filter(job=job).update(name="Ground floor")
    assert changes_since_agreed(again(job)) == ()


def test_what_changed_beside_the_name_is_still_a_change(job: Job) -> None:
    Room.objects.filter(job=job).update(name="Study", toilets=1)
    said = [change.text for change in changes_since_agreed(again(job))]
    assert "Added: Toilets lifted and reset (Study, Den), 1." in said


def test_a_job_agreed_on_before_days_were_kept_goes_on_as_it_was(company: Company) -> None:
    job = agreed_before(make_planned_job(company))
    assert changes_since_agreed(job) == ()
    assert work_out(job).schedule is None
    assert freeze_scope(job=job, user=None) == job.agreed_scope


def test_there_too_a_room_called_otherwise_is_no_change(company: Company) -> None:
    job = make_planned_job(company)
    Room.objects.filter(job=job).update(furniture="full")
    job = agreed_before(again(job))
    Room.objects.filter(job=job).update(name="Study")
    FloorZone.objects.filter(job=job).update(name="Ground floor")
    assert changes_since_agreed(again(job)) == ()


def test_an_agreed_job_is_reckoned_with_the_rates_crew_and_trip_it_was_agreed_on(
    job: Job,
) -> None:
    Rate.objects.create(company=job.company, task="lay", driver="floor_area", hours=90, per=100)
    Company.objects.filter(pk=job.company_id).update(crew_day_hours=8, trip_hours=3)
    now = work_out(again(job))
    assert now == agreed_value(job)
    assert freeze_scope(job=again(job), user=None) == job.agreed_scope


def test_work_that_had_no_rate_then_takes_the_rate_of_today(job: Job) -> None:
    kept = agreed_value(job)
    fewer = replace(kept, rates=tuple(rate for rate in kept.rates if rate.task != "setup"))
    document = freeze(company=job.company, kind="scope", content=scope_document(fewer), user=None)
    job.scopes.update(document=document)
    Rate.objects.create(company=job.company, task="setup", driver="visits", hours=7)
    assert work_out(again(job)).task("setup").hours == 7
