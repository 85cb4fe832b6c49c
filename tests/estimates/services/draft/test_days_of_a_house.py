"""The days and nights of a quote are those of its schedule, room by room.

The house is a bedroom of 120 ft2 and a hall of 41, one floor, carpet in both. One person takes the
hall first; the bedroom is opened on day 2, laid on 3 and 4. Two people open both on day 1 and lay
rows 1 to 7 of 18 that day, the rest on day 2. Read off the schedule, then told by hand.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.quotes.content import IssuedQuote
from estimates.readers.draft.preview import previewed
from estimates.readers.draft.rows import draft_row
from jobs.models import Company, Job, User
from jobs.services.scope import work_out
from tests.estimates.a_job import TODAY, an_owner
from tests.quoted.a_house import a_house, quoted

pytestmark = pytest.mark.django_db

ONE = (
    "Hall: baseboard off, doors off and carpet out.",
    "Bedroom: furniture out of the way, baseboard off, doors off and carpet out.",
    "Floor begun.",
    "Bedroom: floor finished, baseboard on, doors back and furniture back. Hall: floor finished, ",
)


@pytest.fixture
def owner() -> User:
    """The owner of a company with prices, whose crew is one person."""
    return an_owner()


def nights_by_schedule(job: Job) -> dict[str, tuple[int, int]]:
    """The nights of each room that somebody lives in, with the day after which they begin."""
    schedule = work_out(job).schedule
    assert schedule is not None
    assert not schedule.older
    return {night.room: (night.nights, night.day) for night in schedule.nights}


def days_of(quote: IssuedQuote) -> list[str]:
    return [day.text for day in quote.days]


def test_one_person_takes_a_room_after_the_other(owner: User) -> None:
    quote = quoted(owner)
    days = days_of(quote)
    assert len(days) == len(ONE)
    assert [said for part, said in zip(ONE, days, strict=True) if part not in said] == []
    assert nights_by_schedule(Job.objects.get()) == {"Bedroom": (2, 2)}
    assert "Your bedroom can't be slept in on the 2 nights after day 2 and day 3." in quote.nights
    assert "The hall can't be used on the 3 nights after day 1 to day 3." in quote.nights


def test_two_people_open_both_rooms_on_the_day_that_begins_the_floor(owner: User) -> None:
    job = a_house(owner, one_floor=True)
    Company.objects.update(crew_day_hours=Decimal(16))
    quote = previewed(draft_row(Job.objects.get(pk=job.pk)), TODAY)
    assert days_of(quote)[0].startswith(
        "We arrive about 8:30, every day. Bedroom: furniture out of"
    )
    assert days_of(quote)[0].count("floor begun") == 2
    assert nights_by_schedule(Job.objects.get(pk=job.pk)) == {"Bedroom": (1, 1)}
    assert quote.nights[0].startswith("Your bedroom can't be slept in and the hall can't be used")
    assert "on the night after day 1" in quote.nights[0]
