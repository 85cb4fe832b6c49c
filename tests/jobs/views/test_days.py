"""The agreed scope on days of a crew: sums, rows, replanning, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.models import Job, Role, User, WorkDay
from jobs.readers.packets.days import days_of
from tests.builders import make_company, make_crew, make_job, make_log_entry, make_person
from tests.jobs.agreed import (
    TASKS,
    a_crew,
    a_task,
    agree,
    agreed_job,
    hold_asbestos,
    laid_out,
    make_scope,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job with an agreed scope of 25 hours and 8 rows."""
    return agreed_job()


def rows(days: list[WorkDay]) -> list[int]:
    """Every row of the days in order."""
    spans = [entry["rows"] for day in days for entry in day.entries if entry["rows"]]
    return [row for first, last in spans for row in range(first, last + 1)]


def signed_in(user: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(user)
    return visitor


def test_hours_of_the_days_sum_to_the_scopes(job: Job) -> None:
    days = laid_out(job, a_crew(job.company))
    # Laying 16 h and base 3 h fill the second and third day but for what makes the last two hours.
    assert [day.hours for day in days] == [Decimal("7.50"), Decimal(8), Decimal("7.50"), Decimal(2)]
    assert sum(day.hours for day in days) == job.agreed_scope.hours  # type: ignore[union-attr]


def test_rows_of_the_days_are_the_plans_rows_each_once(job: Job) -> None:
    assert rows(laid_out(job, a_crew(job.company))) == list(range(1, 9))


def test_a_second_pair_of_hands_makes_it_shorter(job: Job) -> None:
    assert len(laid_out(job, a_crew(job.company, people=2))) == 2


def test_asked_twice_the_days_stay_the_same_rows(job: Job) -> None:
    crew = a_crew(job.company)
    first = laid_out(job, crew)
    assert [day.pk for day in laid_out(job, crew)] == [day.pk for day in first]


def test_a_later_start_moves_every_day(job: Job) -> None:
    crew = a_crew(job.company)
    laid_out(job, crew)
    days = laid_out(job, crew, start=date(2027, 3, 3))
    assert [day.date.day for day in days] == [3, 4, 5, 8]
    assert [day.number for day in job.days.all()] == [1, 2, 3, 4]


def test_a_day_with_log_entries_stays_and_the_rest_is_planned_from_there(job: Job) -> None:
    crew = a_crew(job.company)
    first, second = laid_out(job, crew)[:2]
    who = crew.members.get()
    for task, zone in (("setup", ""), ("tear_out", "Den")):
        make_log_entry(first, who, task=task, zone=zone)
    make_log_entry(second, who, task="lay", zone="Den", row_from=1, row_to=3, hours=Decimal(8))
    days = laid_out(job, crew, start=date(2027, 3, 8))
    assert [day.date.day for day in days] == [1, 2, 8, 9]
    assert rows(days[2:]) == [4, 5, 6, 7, 8]
    assert [day.number for day in days] == [1, 2, 3, 4]


def test_a_start_before_the_last_logged_day_is_refused(job: Job) -> None:
    crew = a_crew(job.company)
    day = laid_out(job, crew)[1]
    make_log_entry(day, crew.members.get())
    with pytest.raises(BadValueError, match=r"start is 2027-03-02; accepted: 2027-03-03 or later"):
        laid_out(job, crew, start=day.date)


def test_days_on_which_the_crew_is_elsewhere_are_left_out(job: Job) -> None:
    crew = a_crew(job.company)
    laid_out(agreed_job(job.company), crew)
    assert laid_out(job, crew)[0].date == date(2027, 3, 5)


def test_saturdays_are_worked_where_they_are_asked_for(job: Job) -> None:
    days = laid_out(job, a_crew(job.company), start=date(2027, 3, 5), saturdays=True)
    assert [day.date.day for day in days] == [5, 6, 8, 9]


def test_a_federal_holiday_is_no_working_day(job: Job) -> None:
    # The last Monday of May, 5 U.S.C. 6103(a): 31 May 2027.
    days = laid_out(job, a_crew(job.company), start=date(2027, 5, 28))
    assert [day.date.day for day in days] == [28, 1, 2, 3]


def test_a_crew_without_people_is_refused(job: Job) -> None:
    with pytest.raises(BadValueError, match=r"nobody in it.*at least one person"):
        laid_out(job, make_crew(job.company))


def test_a_start_in_the_past_is_refused(job: Job) -> None:
    with pytest.raises(BadValueError, match=r"start is 2027-02-26; accepted: 2027-03-01 or later"):
        laid_out(job, a_crew(job.company), start=date(2027, 2, 26))


def test_a_job_without_an_agreed_scope_is_refused() -> None:
    job = make_job(make_company())
    with pytest.raises(BadValueError, match="agreed scope is 'none'; accepted: an accepted quote"):
        laid_out(job, a_crew(job.company))


def test_a_closed_job_is_refused(job: Job) -> None:
    crew = a_crew(job.company)
    Job.objects.filter(pk=job.pk).update(closed_at=timezone.now())
    with pytest.raises(BadValueError, match="job is 'closed'"):
        laid_out(job, crew)


def test_a_refused_plan_leaves_the_days_as_they_were(job: Job) -> None:
    crew = a_crew(job.company)
    laid_out(job, crew)
    agree(job, make_scope(job, (a_task("travel", "20.00", zone="", per_day=Decimal(9)),)))
    with pytest.raises(BadValueError, match="travel a day"):
        laid_out(job, crew)
    assert [day.number for day in job.days.all()] == [1, 2, 3, 4]


def test_the_page_refuses_a_day_without_a_crew_and_keeps_the_start(job: Job) -> None:
    start = today_of(job.company) + timedelta(days=30)
    form = {"key": "k", "start": start.isoformat(), "crew": ""}
    a_crew(job.company)
    answer = signed_in(make_person(job.company)).post(reverse("job-days", args=[job.pk]), form)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "No crew is chosen" in page
    assert f'value="{start.isoformat()}"' in page


def test_the_page_refuses_a_crew_of_another_company(job: Job) -> None:
    other = a_crew(make_company("Other Floors"))
    form = {"key": "k", "start": "2099-01-05", "crew": other.pk}
    answer = signed_in(make_person(job.company)).post(reverse("job-days", args=[job.pk]), form)
    assert answer.status_code == 422


def test_the_page_lays_the_work_out_and_shows_it(job: Job) -> None:
    crew = a_crew(job.company)
    start = today_of(job.company) + timedelta(days=30)
    form = {"key": "k", "start": start.isoformat(), "crew": crew.pk}
    visitor = signed_in(make_person(job.company))
    answer = visitor.post(reverse("job-days", args=[job.pk]), form, follow=True)
    assert "Lay the floor (Den row 1)" in answer.content.decode()


def test_a_bar_says_in_which_rooms_all_its_half_hours_are(job: Job) -> None:
    """A door off in the hall and one in the den are half an hour together: both are named."""
    day = laid_out(job, a_crew(job.company))[0]
    first = day.lanes[0]
    day.lanes = [{**first, "room": "Hall", "also": ["Den"]}, *day.lanes[1:]]
    day.save()
    owner = make_person(job.company, role=Role.OWNER)
    page = signed_in(owner).get(reverse("job-days", args=[job.pk])).content.decode()
    assert f" in Hall and Den, {first['begins']} to " in page
    assert "Hall, Den" in page


def test_a_newer_scope_under_an_accepted_quote_is_told_with_its_changes(job: Job) -> None:
    make_scope(job, (a_task("setup", "2.50", zone=""),))
    page = signed_in(make_person(job.company)).get(reverse("job-days", args=[job.pk]))
    text = page.content.decode()
    assert "The agreed scope is not the newest" in text
    assert "Changed: Setup, from 1.50 h to 2.50 h." in text


def test_days_of_an_earlier_scope_are_told(job: Job) -> None:
    laid_out(job, a_crew(job.company))
    agree(job, make_scope(job, (a_task("setup", "2.50", zone=""),)))
    page = signed_in(make_person(job.company)).get(reverse("job-days", args=[job.pk]))
    assert "Days of an earlier scope" in page.content.decode()


def test_the_week_shows_a_crew_member_the_own_crew_only(job: Job) -> None:
    mine, theirs = a_crew(job.company), make_crew(job.company, name="Second crew")
    laid_out(job, mine)
    visitor = signed_in(mine.members.get())
    page = visitor.get(reverse("day-list"), {"week": "2027-03-03"}).content.decode()
    assert "Mon, Mar 1" in page
    assert theirs.name not in page


def test_a_week_that_cannot_be_read_is_this_week(job: Job) -> None:
    answer = signed_in(make_person(job.company)).get(reverse("day-list"), {"week": "9999-99"})
    assert answer.status_code == 200


def test_without_any_crew_the_page_offers_to_add_one(job: Job) -> None:
    visitor = signed_in(make_person(job.company, Role.ESTIMATOR))
    assert "Add a crew" in visitor.get(reverse("job-days", args=[job.pk])).content.decode()


@pytest.mark.parametrize("past", ["by a day", "by its job's close"])
def test_a_day_that_is_past_is_on_no_hold_and_says_of_none_that_it_is_cleared(
    job: Job, past: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    hold_asbestos(job)
    day = laid_out(job, a_crew(job.company))[0]
    today = day.date + timedelta(days=past == "by a day")
    Job.objects.filter(pk=job.pk).update(closed_at=None if today > day.date else timezone.now())
    monkeypatch.setattr("jobs.views.days.today_of", lambda _: today)
    visitor = signed_in(make_person(job.company))
    page = visitor.get(reverse("day", args=[day.pk])).content.decode()
    assert "The old floor may hold asbestos" not in page
    monkeypatch.setattr("jobs.readers.packets.days.today_of", lambda _: today)
    day.refresh_from_db()
    (printed, *_) = days_of(Job.objects.get(pk=job.pk), [], [])
    assert not any(task.holds for task in printed.tasks)


def test_a_day_on_hold_names_the_hold_point_until_it_is_cleared(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    hold_asbestos(job)
    day = laid_out(job, a_crew(job.company))[0]
    monkeypatch.setattr("jobs.views.days.today_of", lambda _: day.date)
    monkeypatch.setattr("jobs.readers.packets.days.today_of", lambda _: day.date)
    assert any(task.holds for task in days_of(job, [], [])[0].tasks)
    visitor = signed_in(make_person(job.company))
    held = visitor.get(reverse("day", args=[day.pk])).content.decode()
    clearance = {"by": "Ada Brandt", "note": "Report 1182"}
    visitor.post(reverse("hold-clear", args=[job.pk, "asbestos"]), {"key": "k", **clearance})
    cleared = visitor.get(reverse("day", args=[day.pk])).content.decode()
    assert ("on hold" in held, "on hold" in cleared) == (True, False)
    assert "Ada Brandt" in cleared


@pytest.mark.parametrize("drive", ["0.50", "0"])
def test_the_hours_of_a_day_say_that_the_drive_is_in_them(job: Job, drive: str) -> None:
    road = a_task("travel", "2.00", zone="", per_day=Decimal(drive))
    agree(job, make_scope(job, (*TASKS, road) if Decimal(drive) else TASKS))
    day = laid_out(job, a_crew(job.company))[0]
    page = signed_in(make_person(job.company)).get(reverse("day", args=[day.pk])).content.decode()
    assert ("Total, with the drive" in page) == bool(Decimal(drive))


def test_a_closed_job_offers_no_other_days_and_no_log(job: Job) -> None:
    day = laid_out(job, a_crew(job.company))[0]
    visitor = signed_in(make_person(job.company))
    assert offers(visitor, "job-days", job.pk, "Plan the days again")
    assert offers(visitor, "day", day.pk, "Log this day")
    Job.objects.filter(pk=job.pk).update(closed_at=timezone.now())
    assert not offers(visitor, "job-days", job.pk, "Plan the days again")
    assert not offers(visitor, "day", day.pk, "Log this day")


def offers(visitor: Visitor, name: str, pk: int, word: str) -> bool:
    return word in visitor.get(reverse(name, args=[pk])).content.decode()
