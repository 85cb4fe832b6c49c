"""Two jobs on one crew: kept with a reason, or moved; the calendar follows, its events the same."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from icalendar import Calendar
from playwright.sync_api import expect

from jobs.clock import today_of
from jobs.models import Crew, Job, Role, User
from jobs.services.days import Wish, lay_out_days
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_day, make_person
from tests.estimates.a_job import company_of
from tests.jobs.agreed import agreed_job, hold_asbestos

WEEK = timedelta(days=7)

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def crew_of(job: Job, *names: str) -> Crew:
    """Return a crew of people by their names; who is in the book already is the same person."""
    company = job.company
    there = {person.name: person for person in company.people.all()}
    people = [there.get(name) or make_person(company, Role.CREW, name=name) for name in names]
    return make_crew(company, *people)


def next_monday(job: Job) -> date:
    today = today_of(job.company)
    return today + timedelta(days=7 - today.weekday())


def plan(job: Job, crew: Crew, start: date, owner: User) -> None:
    wish = Wish(crew=crew, start=start)
    lay_out_days(job=job, user=owner, wish=wish, today=today_of(job.company))


@pytest.fixture
def jobs(owner: User) -> list[Job]:
    """Two jobs whose crews share Bo, a third that the first crew has too, a fourth that is held."""
    company = company_of(owner)
    titles = ("Study and landing", "Kitchen", "Hall repair", "Basement")
    study, kitchen, hall, cellar = [agreed_job(company, title=title) for title in titles]
    first = crew_of(study, "Bo Reed", "Ana Sol")
    monday = next_monday(study)
    plan(study, first, monday, owner)
    plan(kitchen, crew_of(study, "Bo Reed", "Cy Dunn"), monday, owner)
    make_day(hall, first, scope=hall.agreed_scope, date=monday, hours=4)
    hold_asbestos(cellar)
    return [study, kitchen, hall, cellar]


def on(event: Any) -> date:
    """The date on which an event begins, in its own zone."""
    start = event["DTSTART"].dt
    return date(start.year, start.month, start.day)


def read(hands: Hands, address: str) -> dict[str, tuple[int, date]]:
    """Return sequence and date of every event by its identity, read without a sign-in."""
    path = address.partition("/f/")[2]
    with urlopen(f"{hands.base}/f/{path}") as answer:  # the link of the test's own site
        events: list[Any] = Calendar.from_ical(answer.read().decode()).walk("VEVENT")
    return {str(one["UID"]): (one["SEQUENCE"], on(one)) for one in events}


def test_a_move_mends_a_conflict_and_the_calendar_follows(
    hands: Hands, jobs: list[Job], owner: User
) -> None:
    _, kitchen, *_ = jobs
    hands.open("/calendar-links")
    cy = kitchen.days.first()
    assert cy is not None
    hands.press(f"Make the link of {cy.crew.name}")
    hands.expect("is open.")
    look_at(hands, "board-1-links")
    address = hands.page.locator("a.entry.wrap").get_attribute("href")
    assert address is not None
    before = read(hands, address)

    hands.open("/board")
    hands.expect("Bo Reed is on job")
    hands.expect("One crew, two jobs")
    hands.expect("The old floor may hold asbestos")
    look_at(hands, "board-2-conflicts")
    twice = hands.page.locator(".notice", has_text="One crew, two jobs")
    twice.locator("summary").press("Enter")
    twice.get_by_label("Why it stays").fill("The repair is one hour in the morning")
    look_at(hands, "board-3-reason")
    twice.get_by_role("button", name="Keep it for this reason").press("Enter")
    hands.expect("The conflict is kept, with your reason.")
    look_at(hands, "board-4-kept")

    later = next_monday(kitchen) + timedelta(days=7)
    hands.page.get_by_role("link", name=f"Move days of job {kitchen.number}").first.click()
    hands.fill(start=later.isoformat())
    hands.page.locator("main form button").last.click()
    hands.expect(later.strftime("%b"))
    hands.settle()
    after = read(hands, address)
    assert after == {uid: (number + 1, day + WEEK) for uid, (number, day) in before.items()}

    hands.open("/board")
    expect(hands.page.get_by_role("main")).not_to_contain_text("Bo Reed is on job")
    look_at(hands, "board-5-moved")

    hands.open("/calendar-links")
    hands.press(f"Revoke the link of {cy.crew.name}")
    hands.expect("opens nothing any more")
    look_at(hands, "board-6-revoked")
    with pytest.raises(HTTPError, match="404"):
        read(hands, address)
