"""A bedroom that one person has open for longer: its nights are one fact from pencil to days.

Two people lay the bedroom in fewer days than one; the homeowner agreed to as many nights as it
takes.
"""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import pytest
from django.test import Client as Visitor

from estimates.models import JobPrice
from estimates.readers.quote import stored_quote
from estimates.services.quotes import accept_quote
from jobs.clock import today_of
from jobs.models import AgreedNights, ExistingFloor, Job, Rate, SiteFacts, User
from jobs.readers.scope import agreed_scope_of
from jobs.services.days import Wish, lay_out_days
from jobs.services.penciled.standing import penciled_standing
from tests.builders import make_job, make_room, make_zone
from tests.estimates.a_job import company_of
from tests.estimates.views.penciled.test_penciled import issue, page, pencil, plain_monday, press
from tests.jobs.agreed import a_crew
from tests.jobs.plans import planned

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A bedroom of 120 ft2, carpet out, 30 h of laying for 100 ft2: 36 h of rows."""
    company = company_of(owner)
    Rate.objects.create(
        company=company, task="lay", driver="floor_area", hours=Decimal(30), per=Decimal(100)
    )
    job = make_job(company)
    JobPrice.objects.create(job=job, labor_only=True)
    bedroom = make_room(job, "Bedroom", size=(144, 120))
    planned(make_zone(bedroom))
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.CARPET, tear_out=True)
    today = today_of(company)
    AgreedNights.objects.create(job=job, room=bedroom, by="Ines Okafor", on=today, days_off=True)
    return job


def test_nights_of_the_real_crew_are_priced_quoted_and_planned(
    visitor: Visitor, owner: User, job: Job
) -> None:
    today, crew, monday = today_of(job.company), a_crew(job.company), plain_monday(job)
    pencil(visitor, job, crew, monday)
    standing = penciled_standing(job, today)
    assert standing is not None
    assert standing.priced is not None
    assert standing.real is not None
    was, will = (sum(n.nights for n in s.nights) for s in (standing.priced, standing.real))
    # 36 h of rows take two people three days at least and one person five: two nights, four.
    assert was >= 2
    assert will >= 4
    words = f"Nights without Bedroom: priced {was}, with this crew {will}."
    for name in ("job-price", "quote-draft", "job-days"):
        assert words in page(visitor, name, job), name
    press(visitor, job)
    for name in ("job-price", "quote-draft", "job-days"):
        assert words not in page(visitor, name, job), name

    quote = issue(job, owner, "one")
    said = " ".join(stored_quote(quote).nights)
    assert "edroom" in said
    accept_quote(quote=quote, name="Ines Okafor", today=today, by_link=True)
    job = Job.objects.get(pk=job.pk)
    wish = Wish(crew=crew, start=monday)
    days = lay_out_days(job=job, user=owner, wish=wish, today=today)
    scope = agreed_scope_of(job)
    assert scope is not None
    assert scope.schedule is not None
    assert len(days) == scope.schedule.trips
    laid = Counter[str]()
    for night in (night for day in days for night in day.nights):
        laid[night["room"]] += night["nights"]
    assert laid == {"Bedroom": will}
    assert "Nights without Bedroom" not in page(visitor, "job-days", job)
