"""A crew penciled in before acceptance: where the price names other days, every page says so.

The job is that of `test_days_on_site`: 34 h of setting up and 1 h of laying, priced for two people
of eight hours with 1 h on the road a day: 16 + 16 + 6 h, three trips, two days and a half, 38 h.

One person is on the road for half an hour a day, as each of two is, which leaves 7 1/2 h: 35 h take
five trips, the last of 5 h and its drive, 5 1/2 h of 8: a whole day. 35 + 5 x 1/2 = 37.5 h.
At 48: 1 800; with 12 % 2 016; / 0.75 = 2 688.00.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobPrice, Quote
from estimates.readers.draft.page import said_of
from estimates.readers.draft.rows import draft_row
from estimates.readers.quote import stored_quote
from estimates.services.draft.drafts import issue_draft
from estimates.services.quotes import accept_quote, price_now
from jobs.calendar import holiday_name
from jobs.clock import today_of
from jobs.models import Crew, Job, PenciledCrew, User
from jobs.readers.scope import agreed_scope_of
from jobs.services.days import Wish, lay_out_days
from jobs.services.feeds.links import address_of, open_feed
from jobs.services.penciled.standing import penciled_standing
from jobs.services.scope import scope_beside_agreed
from tests.builders import make_job, make_person, make_planned_job
from tests.estimates.a_job import company_of
from tests.estimates.views.test_days_on_site import only_two_tasks
from tests.jobs.agreed import a_crew
from tests.reading import words

pytestmark = pytest.mark.django_db

STALE = "Priced days are out of date"
DIFFERS = (
    "Crew: priced for 2 people, with this crew one person.",
    "Trips: priced 3, with this crew 5.",
    "Days on site as booked: priced 2.5, with this crew 5.",
    "Hours, the drive too: priced 38, with this crew 37.5.",
)


@pytest.fixture
def two_and_a_half(owner: User) -> Job:
    """A job of two and a half days, labor only: the sums need no material."""
    only_two_tasks(company_of(owner))
    job = make_planned_job(company_of(owner))
    JobPrice.objects.create(job=job, labor_only=True)
    return job


@pytest.fixture
def alone(two_and_a_half: Job) -> Crew:
    """One person of eight hours."""
    return a_crew(two_and_a_half.company, people=1)


def plain_monday(job: Job) -> date:
    """A Monday to come whose two weeks have no holiday."""
    day = today_of(job.company) + timedelta(days=7)
    while day.weekday() or any(holiday_name(day + timedelta(days=n)) for n in range(14)):
        day += timedelta(days=1)
    return day


def pencil(visitor: Visitor, job: Job, crew: Crew, start: date, version: int = 1) -> HttpResponse:
    sent = {"crew": crew.pk, "start": start.isoformat(), "version": version, "key": "k" * 20}
    return visitor.post(reverse("job-pencil", args=[job.pk]), sent)  # type: ignore[return-value]


def press(visitor: Visitor, job: Job, page: str = "job-price") -> str:
    address = reverse("pencil-price", args=[job.pk])
    return words(visitor.post(address, {"page": page}, follow=True))


def page(visitor: Visitor, name: str, job: Job) -> str:
    return words(visitor.get(reverse(name, args=[job.pk])))


def feed_text(job: Job, owner: User, crew: Crew) -> str:
    feed = open_feed(company=job.company, user=owner, version=0, crew=crew)
    answer = Visitor().get(address_of(feed).removeprefix("http://localhost:8000"))
    return answer.content.decode().replace("\r\n ", "")


def test_every_page_says_what_differs_and_agrees_after_the_button(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job = two_and_a_half
    assert price_now(job, today_of(job.company))[1].subtotal == Decimal("2723.84")
    pencil(visitor, job, alone, plain_monday(job))
    for name in ("job-price", "quote-draft", "job-days"):
        said = page(visitor, name, job)
        assert STALE in said, name
        assert all(text in said for text in DIFFERS), name
        assert "Price it with this crew" in said, name
    board = words(visitor.get(reverse("board")))
    assert "priced days out of date" in board
    assert all(text in board for text in DIFFERS)
    said = feed_text(job, owner, alone)
    assert said.count("STATUS:TENTATIVE") == 5
    assert "Priced for other days. Trips: priced 3\\, with this crew 5." in said

    assert "Priced with" in press(visitor, job)
    scope, priced = price_now(job, today_of(job.company))
    assert (priced.hours, priced.days_on_site) == (Decimal("37.5"), Decimal(5))
    assert priced.subtotal == Decimal("2688.00")
    assert scope.schedule is not None
    assert (scope.schedule.trips, scope.schedule.people) == (5, 1)
    for name in ("job-price", "quote-draft", "job-days"):
        said = page(visitor, name, job)
        assert STALE not in said, name
        assert "5 trips of 1 person, 8 h a day each" in said, name
    assert "out of date" not in words(visitor.get(reverse("board")))
    assert "Priced for other days" not in feed_text(job, owner, alone)


def test_an_issued_quote_stays_and_the_new_draft_takes_its_place(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job = two_and_a_half
    first = issue(job, owner, "one")
    before = first.document.sha256
    pencil(visitor, job, alone, plain_monday(job))
    said = press(visitor, job)
    assert "Quote 1 names other days" in said
    assert "Trips: in quote 1 3, now priced 5." in said
    assert "Open the draft of the quote" in said
    second = issue(job, owner, "two")
    first.refresh_from_db()
    assert first.document.sha256 == before
    assert [len(stored_quote(one).days) for one in (first, second)] == [3, 5]
    assert "names other days" not in page(visitor, "job-price", job)


def issue(job: Job, owner: User, key: str) -> Quote:
    today = today_of(job.company)
    seen = said_of(draft_row(job), today).seen
    return issue_draft(job=job, user=owner, key=key, today=today, seen=seen)


def test_what_was_priced_with_the_crew_is_what_is_agreed_and_planned(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job, today = two_and_a_half, today_of(two_and_a_half.company)
    wednesday = plain_monday(job) + timedelta(days=2)
    pencil(visitor, job, alone, wednesday)
    press(visitor, job)
    quote = issue(job, owner, "one")
    accept_quote(quote=quote, name="Ines Okafor", today=today, by_link=True)
    job = Job.objects.get(pk=job.pk)
    scope = agreed_scope_of(job)
    assert scope is not None
    assert scope.schedule is not None
    assert job.agreed_scope is not None
    assert job.agreed_scope.laid_for["start"] == wednesday.isoformat()
    # The form of the days begins with them: this crew, this day.
    form = visitor.get(reverse("job-days", args=[job.pk])).context["form"]
    assert (form.initial["crew"], form.initial["start"]) == (alone, wednesday)
    wish = Wish(crew=alone, start=wednesday)
    days = lay_out_days(job=job, user=owner, wish=wish, today=today)
    assert len(days) == scope.schedule.trips == 5
    assert [day.hours for day in days] == [day.hours for day in scope.schedule.days]
    said = page(visitor, "job-days", job)
    assert "Other days than were priced" not in said
    # Work that nobody changed is no change of it, though the usual crew would do it otherwise.
    assert scope_beside_agreed(job) is None


def events(text: str) -> dict[str, tuple[int, str]]:
    """Sequence and status of every event of a calendar, by its identity."""
    parts = [
        dict(re.findall(r"(UID|SEQUENCE|STATUS):(\S+)", one))
        for one in text.split("BEGIN:VEVENT")[1:]
    ]
    return {one["UID"]: (int(one["SEQUENCE"]), one["STATUS"]) for one in parts}


def test_penciled_days_are_the_same_events_once_they_are_planned(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job, today = two_and_a_half, today_of(two_and_a_half.company)
    pencil(visitor, job, alone, plain_monday(job))
    press(visitor, job)
    before = events(feed_text(job, owner, alone))
    assert [status for _, status in before.values()] == ["TENTATIVE"] * 5
    accept_quote(quote=issue(job, owner, "one"), name="Ines Okafor", today=today, by_link=True)
    job = Job.objects.get(pk=job.pk)
    wish = Wish(crew=alone, start=plain_monday(job))
    lay_out_days(job=job, user=owner, wish=wish, today=today)
    after = events(feed_text(job, owner, alone))
    assert after == {uid: (sequence + 1, "CONFIRMED") for uid, (sequence, _) in before.items()}


def test_a_change_of_the_crew_makes_the_price_out_of_date_again(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job = two_and_a_half
    pencil(visitor, job, alone, plain_monday(job))
    press(visitor, job)
    alone.members.add(make_person(job.company, "crew"))
    assert "has changed since" in words(visitor.get(reverse("board")))
    said = page(visitor, "job-price", job)
    assert STALE in said
    assert "Crew: priced for one person, with this crew 2 people." in said
    assert "has changed since" in feed_text(job, owner, alone)


def test_rubbed_out_the_price_is_the_usual_crews_again(
    visitor: Visitor, two_and_a_half: Job, alone: Crew
) -> None:
    job = two_and_a_half
    pencil(visitor, job, alone, plain_monday(job))
    press(visitor, job)
    visitor.post(reverse("pencil-out", args=[job.pk]))
    assert price_now(job, today_of(job.company))[1].subtotal == Decimal("2723.84")
    assert penciled_standing(job, today_of(job.company)) is None


def test_once_agreed_or_closed_nothing_is_penciled_priced_or_rubbed_out(
    visitor: Visitor, owner: User, two_and_a_half: Job, alone: Crew
) -> None:
    job, today = two_and_a_half, today_of(two_and_a_half.company)
    pencil(visitor, job, alone, plain_monday(job))
    accept_quote(quote=issue(job, owner, "one"), name="Ines Okafor", today=today, by_link=True)
    assert pencil(visitor, job, alone, plain_monday(job), version=2).status_code == 422
    assert "agreed on" in press(visitor, job)
    visitor.post(reverse("pencil-out", args=[job.pk]))
    assert PenciledCrew.objects.filter(job=job).exists()
    assert "Its days are planned, no longer penciled in" in page(visitor, "job-pencil", job)


def test_two_owners_at_once_are_told(visitor: Visitor, two_and_a_half: Job, alone: Crew) -> None:
    job, monday = two_and_a_half, plain_monday(two_and_a_half)
    assert pencil(visitor, job, alone, monday).status_code == 303
    answer = pencil(visitor, job, alone, monday + timedelta(days=7))
    assert answer.status_code == 409
    assert "Somebody else saved this meanwhile" in answer.content.decode()
    assert PenciledCrew.objects.get(job=job).start == monday


@pytest.mark.parametrize(
    ("people", "days_ahead", "said"),
    [
        (0, 7, "a crew with at least one person"),
        (1, -1, "is past"),
    ],
)
def test_nobody_in_the_crew_and_a_start_in_the_past_are_refused(
    visitor: Visitor, two_and_a_half: Job, people: int, days_ahead: int, said: str
) -> None:
    job = two_and_a_half
    crew = a_crew(job.company, people=people)
    start = today_of(job.company) + timedelta(days=days_ahead)
    answer = pencil(visitor, job, crew, start)
    assert answer.status_code == 422
    assert said in words(answer)
    assert not PenciledCrew.objects.exists()


def test_a_day_that_the_drive_eats_up_is_refused(visitor: Visitor, two_and_a_half: Job) -> None:
    job = two_and_a_half
    crew = a_crew(job.company, people=1)
    Crew.objects.filter(pk=crew.pk).update(hours_per_day=Decimal("0.50"))
    answer = pencil(visitor, job, crew, plain_monday(job))
    assert answer.status_code == 422
    assert "0.50 h a day" in words(answer)


def test_a_job_without_a_plan_says_what_is_missing(visitor: Visitor, owner: User) -> None:
    job = make_job(company_of(owner))
    answer = pencil(visitor, job, a_crew(job.company), plain_monday(job))
    assert answer.status_code == 422
    assert "plan it first" in words(answer)
