"""Home shows the office where each crew is today, where it stops, and the week as a strip."""

from __future__ import annotations

import re
from datetime import date
from html import unescape

import pytest
from django.db import connection
from django.test import Client as Visitor
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from jobs.models import Crew, Job, Role, SiteFacts, User, WorkDay
from jobs.models.crew import StoredEntry
from jobs.readers.today.crews import crews_week
from tests.builders import (
    make_company,
    make_crew,
    make_job,
    make_person,
    make_plan,
    make_product,
    make_room,
    make_zone,
)
from tests.jobs.agreed import agreed_job

pytestmark = pytest.mark.django_db

MONDAY, WEDNESDAY, SUNDAY = date(2027, 3, 1), date(2027, 3, 3), date(2027, 3, 7)


def entry(task: str, rows: tuple[int, int] | None = None, **values: object) -> StoredEntry:
    """Return a task of the den as a day stores it."""
    named = {"key": f"{task}:Den", "task": task, "zone": "Den", "label": "Lay the floor"}
    stored = {"hours": "3.50", "helper": False, "finishes": False, "hold_points": []}
    return named | stored | {"rows": list(rows) if rows else None} | values  # type: ignore[return-value]


def lay(job: Job, crew: Crew, on: date, *entries: StoredEntry) -> WorkDay:
    """Put a day of these tasks onto a date."""
    assert job.agreed_scope is not None
    return WorkDay.objects.create(
        job=job,
        scope=job.agreed_scope,
        crew=crew,
        date=on,
        number=job.days.count() + 1,
        entries=list(entries),
        hours=7,
    )


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company(), Role.OWNER)


@pytest.fixture
def job(owner: User) -> Job:
    """A job with an agreed scope and no day yet."""
    return agreed_job(owner.company)


def home_of(person: User, today: date, monkeypatch: pytest.MonkeyPatch) -> str:
    """Return a person's first page as it stands on a date."""
    monkeypatch.setattr("jobs.views.jobs.today_of", lambda _: today)
    visitor = Visitor()
    visitor.force_login(person)
    return visitor.get(reverse("job-list")).content.decode()


def words_of(page: str) -> str:
    """Return the words of a page in one line."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())


def test_todays_crew_stands_with_its_rooms_and_the_last_row_of_the_day(job: Job) -> None:
    crew = make_crew(job.company)
    lay(job, crew, MONDAY, entry("lay", (1, 9)))
    day = lay(
        job,
        crew,
        WEDNESDAY,
        entry("travel", rooms=["Truck"]),
        entry("lay", (10, 17), rooms=["Den", "Hall"]),
        entry("tidy"),
    )
    (one,) = crews_week(job.company, WEDNESDAY).at_work
    assert (one.day, one.rooms, one.goal) == (day, "Den, Hall", "Stop at row 17")


def test_the_strip_runs_from_monday_to_sunday_and_no_further(job: Job) -> None:
    crew = make_crew(job.company)
    dates = [date(2027, 2, 28), MONDAY, WEDNESDAY, SUNDAY, date(2027, 3, 8)]
    for on in dates:
        lay(job, crew, on)
    (strip,) = crews_week(job.company, WEDNESDAY).crews
    assert [len(cell.days) for cell in strip.cells] == [1, 0, 1, 0, 0, 0, 1]
    assert [cell.is_today for cell in strip.cells].index(True) == 2
    assert crews_week(job.company, MONDAY).dates == crews_week(job.company, SUNDAY).dates


def test_neither_an_archived_job_nor_another_company_is_in_it(job: Job) -> None:
    lay(job, make_crew(job.company), WEDNESDAY)
    assert not crews_week(make_company(), WEDNESDAY).crews
    Job.objects.filter(pk=job.pk).update(archived_at=timezone.now())
    assert not crews_week(job.company, WEDNESDAY).crews


def test_home_links_to_the_day_and_names_its_address_and_row(
    job: Job, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    day = lay(job, make_crew(job.company), WEDNESDAY, entry("lay", (10, 17)))
    page = home_of(owner, WEDNESDAY, monkeypatch)
    assert "<h1>Wednesday, March 3</h1>" in page
    assert f'href="{reverse("day", args=[day.pk])}">Job {job.number}, {job.title}' in page
    assert job.address.splitlines()[0] in page
    assert "Stop at row 17" in page
    assert "No crew is on a job today." in home_of(owner, MONDAY, monkeypatch)


def not_over_wood(job: Job) -> None:
    """Let the job's planned floor be of a product that may only lie on a slab; this one is wood."""
    product = make_product(
        job.company, name="Larch", laid_over=["slab"], rule_sources={"laid_over": "sheet"}
    )
    make_plan(make_zone(make_room(job, "Den"), product))
    SiteFacts.objects.filter(job=job).update(tear_out=True, subfloor="wood", existing_floor="none")


def test_home_says_beside_the_row_what_stands_against_laying(
    job: Job, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(job, make_crew(job.company), WEDNESDAY, entry("lay", (10, 17)))
    assert "can't be laid yet" not in words_of(home_of(owner, WEDNESDAY, monkeypatch))
    not_over_wood(job)
    page = words_of(home_of(owner, WEDNESDAY, monkeypatch))
    assert "HOLD Den can't be laid yet: Larch would lie over a wood subfloor" in page


def test_home_holds_back_a_job_that_its_first_page_does_not_list(
    job: Job, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(job, make_crew(job.company), WEDNESDAY, entry("lay", (10, 17)))
    not_over_wood(job)
    for _ in range(120):
        make_job(job.company)
    page = words_of(home_of(owner, WEDNESDAY, monkeypatch))
    assert page.count(f"Job {job.number}, {job.title}") == 1
    assert "HOLD Den can't be laid yet" in page


def test_a_week_without_a_crew_takes_no_room_and_a_crew_sees_nothing_of_it(
    job: Job, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "This week" not in home_of(owner, WEDNESDAY, monkeypatch)
    lead = make_person(job.company, Role.CREW)
    lay(job, make_crew(job.company, lead), WEDNESDAY, entry("lay", (10, 17)))
    assert "This week" in home_of(owner, WEDNESDAY, monkeypatch)
    assert "This week" not in home_of(lead, WEDNESDAY, monkeypatch)


def test_more_crews_ask_no_more_queries(job: Job) -> None:
    for _ in range(4):
        lay(
            agreed_job(job.company),
            make_crew(job.company),
            WEDNESDAY,
            entry("lay", (1, 9)),
        )
    with CaptureQueriesContext(connection) as caught:
        week = crews_week(job.company, WEDNESDAY)
        shown = [
            f"{one.day.crew} {one.day.job.address} {one.day.job.client}" for one in week.at_work
        ]
    assert (len(shown), len(week.crews), len(caught)) == (4, 4, 1)


def test_the_search_has_a_key_of_its_own(
    job: Job, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = home_of(owner, WEDNESDAY, monkeypatch)
    assert page.count('accesskey="/"') == 1
    assert 'name="q" accesskey="/"' in page


def test_a_day_that_finishes_its_floor_says_so(job: Job) -> None:
    done = entry("lay", (10, 18))
    done["finishes"] = True
    lay(job, make_crew(job.company), WEDNESDAY, done)
    (one,) = crews_week(job.company, WEDNESDAY).at_work
    assert one.goal == "Finish at row 18, the last"
