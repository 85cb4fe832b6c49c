"""Two jobs on one crew: the conflict seen, a day lost with its effect first, saved, undone.

The calendar of the crew, read by its link, has the same events all the while, each newer than it
was.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any
from urllib.request import urlopen

import pytest
from icalendar import Calendar
from playwright.sync_api import expect

from jobs.clock import today_of
from jobs.domain.days.placed.reasons import day_words
from jobs.models import Crew, Job, Role, User
from jobs.services.days import Wish, lay_out_days
from tests.browser.days.test_lost_day import some_monday
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_day, make_person
from tests.jobs.agreed import agreed_job
from tests.jobs.moved import worked_job

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def crew(owner: User) -> Crew:
    """A crew of two."""
    assert owner.company is not None
    names = ("Bo Reed", "Ana Sol")
    return make_crew(
        owner.company, *(make_person(owner.company, Role.CREW, name=name) for name in names)
    )


@pytest.fixture
def jobs(owner: User, crew: Crew) -> tuple[Job, Job]:
    """A job of a week, and a repair of an hour on the second of its days."""
    assert owner.company is not None
    study, repair = worked_job(owner.company), agreed_job(owner.company, title="Hall repair")
    monday, today = some_monday(owner), today_of(owner.company)
    lay_out_days(job=study, user=owner, wish=Wish(crew=crew, start=monday), today=today)
    second = study.days.get(number=2).date
    make_day(repair, crew, scope=repair.agreed_scope, date=second, hours=1)
    return study, repair


def begins_on(event: Any) -> date:
    """The date on which an event begins, in its own zone."""
    start = event["DTSTART"].dt
    return date(start.year, start.month, start.day)


def read(hands: Hands, address: str) -> dict[str, tuple[int, date, str]]:
    """Return sequence, date and status of every event by its identity, read without a sign-in."""
    path = address.partition("/f/")[2]
    with urlopen(f"{hands.base}/f/{path}") as answer:  # the link of the test's own site
        events: list[Any] = Calendar.from_ical(answer.read().decode()).walk("VEVENT")
    return {
        str(one["UID"]): (one["SEQUENCE"], begins_on(one), str(one["STATUS"])) for one in events
    }


def link_of(hands: Hands, crew: Crew) -> str:
    hands.open("/calendar-links")
    hands.press(f"Make the link of {crew.name}")
    hands.expect("is open.")
    address = hands.page.locator("a.entry.wrap").get_attribute("href")
    assert address is not None
    return address


def test_a_conflict_a_lost_day_its_effect_saved_and_undone(
    hands: Hands, jobs: tuple[Job, Job], crew: Crew
) -> None:
    study, repair = jobs
    dates = [day.date for day in study.days.order_by("date")]
    address = link_of(hands, crew)
    before = read(hands, address)
    assert len(before) == len(dates) + 1

    hands.open(f"/board?from={dates[0]}")
    hands.expect("One crew, two jobs")
    look_at(hands, "two-jobs-1-board")
    hands.page.get_by_role("link", name=f"Move days of job {study.number}").first.press("Enter")

    hands.page.get_by_role("link", name="Lost day: day 2", exact=True).press("Enter")
    row = hands.page.get_by_role("row").filter(has_text="Job done")
    expect(row).to_contain_text(day_words(dates[-1]))
    twice = hands.page.get_by_role("row").filter(has_text="Bo Reed, ")
    expect(twice.first).to_contain_text(f"on two jobs: {repair.number} and {study.number}")
    expect(twice.first).to_contain_text(f"on job {repair.number}")
    look_at(hands, "two-jobs-2-effect")
    assert read(hands, address) == before

    hands.fill(reason="The crew repairs the hall first")
    hands.page.get_by_role("button", name="Lose this day").press("Enter")
    hands.expect("Day 2 is lost: The crew repairs the hall first")
    look_at(hands, "two-jobs-3-saved")
    after = read(hands, address)
    assert after.keys() == before.keys()
    moved = [uid for uid in before if after[uid][1] != before[uid][1]]
    gone = [uid for uid in before if after[uid][2] == "CANCELLED"]
    # Tuesday is full, with the old floor and a run to the dump: all after it is a day later.
    assert (len(moved), len(gone)) == (len(dates) - 1, 0)
    assert all(after[uid][0] == before[uid][0] + 1 for uid in moved)
    hands.open(f"/board?from={dates[0]}")
    expect(hands.page.get_by_role("main")).not_to_contain_text("One crew, two jobs")

    hands.open(f"/jobs/{study.pk}/days")
    hands.page.get_by_role("button", name="Undo this change").press("Enter")
    hands.expect("The days lie as they did before.")
    undone = read(hands, address)
    assert {uid: day for uid, (_, day, _) in undone.items()} == {
        uid: day for uid, (_, day, _) in before.items()
    }
    assert all(undone[uid][0] == before[uid][0] + 2 for uid in moved)
    assert {status for _, _, status in undone.values()} == {"CONFIRMED"}


def test_a_day_is_split_by_keyboard_with_its_effect_first(
    hands: Hands, jobs: tuple[Job, Job], owner: User
) -> None:
    study, _ = jobs
    assert owner.company is not None
    others = make_crew(owner.company, make_person(owner.company, Role.CREW, name="Cy Dunn"))
    rows = {entry["rows"][1] for day in study.days.all() for entry in day.entries if entry["rows"]}
    laying = next(
        day for day in study.days.order_by("date") if any(one["rows"] for one in day.entries)
    )
    hands.open(f"/jobs/{study.pk}/days")
    link = hands.page.get_by_role("link", name=f"Split day {laying.number}", exact=True)
    link.press("Enter")
    hands.expect(f"Split day {laying.number}")
    look_at(hands, "split-1-picked")
    lay = next(entry for entry in laying.entries if entry["rows"])
    hands.page.locator("select[name=task]").select_option(value=lay["key"])
    hands.page.get_by_label("Stays on this day").fill("999")
    hands.page.get_by_role("button", name="Show the effect").press("Enter")
    hands.expect("Stays: 999. Needed: 0, or the last row of this day")
    look_at(hands, "split-2-refused")
    hands.page.get_by_label("Stays on this day").fill(str(lay["rows"][0]))
    later = laying.date + timedelta(days=2)
    hands.page.locator("input[type=date][name=to]").fill(later.isoformat())
    hands.page.get_by_label("Who goes on that date").select_option(label=str(others))
    hands.page.get_by_role("button", name="Show the effect").press("Enter")
    row = hands.page.get_by_role("row").filter(has_text=str(others))
    expect(row.first).to_be_visible()
    actions = hands.page.locator("form .actions").last
    expect(actions.locator("a, button").first).to_have_text("Leave it")
    look_at(hands, "split-3-effect")
    hands.fill(reason="The others have the long saw")
    hands.page.get_by_role("button", name="Split the day").press("Enter")
    hands.expect(f"Day {laying.number} is split: The others have the long saw")
    look_at(hands, "split-4-saved")
    assert study.days.get(date=later).crew == others
    hands.page.get_by_role("button", name="Undo", exact=True).first.press("Enter")
    hands.expect("The days lie as they did before.")
    assert rows == {
        entry["rows"][1] for day in study.days.all() for entry in day.entries if entry["rows"]
    }
