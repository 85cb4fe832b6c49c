"""The pages around days, full and empty: each fits a phone and a desk, and axe finds nothing."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from jobs.clock import today_of
from jobs.models import AgreedNights, Crew, Job, LastCrewDay, Rate, Role, SiteFacts, User
from jobs.services.scope import freeze_scope
from tests.browser.days.test_lost_day import some_monday
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import agree, hold_asbestos
from tests.jobs.moved import on_days
from tests.jobs.plans import planned

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def crew(owner: User) -> Crew:
    """A crew of the owner and another, so that the owner has a Today too."""
    assert owner.company is not None
    other = make_person(owner.company, Role.CREW, name="Bo Reed")
    return make_crew(owner.company, owner, other)


@pytest.fixture
def job(owner: User, crew: Crew) -> Job:
    """A bedroom on days, old floor out, with a hold, a key, pets and nights agreed to."""
    company = owner.company
    assert company is not None
    Rate.objects.create(
        company=company, task="lay", driver="floor_area", hours=Decimal(30), per=Decimal(100)
    )
    job = make_job(company, title="Bedroom upstairs")
    bedroom = make_room(job, "Bedroom", size=(144, 120), furniture="full")
    planned(make_zone(bedroom))
    SiteFacts.objects.filter(job=job).update(
        access="Key under the third pot; the gate sticks", pets="Two cats", tear_out=True
    )
    hold_asbestos(job)
    AgreedNights.objects.create(
        job=job, room=bedroom, by="Ines Okafor", on=date(2026, 11, 2), days_off=True
    )
    agree(job, freeze_scope(job=job, user=owner))
    on_days(job, crew, owner, some_monday(owner), today_of(company))
    return job


def test_the_pages_of_a_planned_job_fit(hands: Hands, job: Job, crew: Crew) -> None:
    LastCrewDay.objects.create(
        crew=crew, person=crew.members.get(name="Bo Reed"), date=job.days.earliest("date").date
    )
    pages = {
        "days": f"jobs/{job.pk}/days",
        "day": f"days/{job.days.latest('date').pk}",
        "week": f"days?week={job.days.earliest('date').date}",
        "today": "days/today",
        "nights": f"jobs/{job.pk}/nights",
        "leaving": f"crews/{crew.pk}/leaving",
        "moisture": f"jobs/{job.pk}/moisture",
        "split": f"days/{job.days.earliest('date').pk}/split",
        "hold": f"days/{job.days.earliest('date').pk}/hold",
        "feeds": "calendar-links",
        "board": f"board?from={job.days.earliest('date').date}",
    }
    for name, path in pages.items():
        hands.open(f"/{path}")
        look_at(hands, f"full-{name}")


def test_the_pages_of_a_job_without_days_fit(hands: Hands, owner: User) -> None:
    assert owner.company is not None
    job = make_job(owner.company)
    crew = make_crew(owner.company)
    pages = {
        "days": f"jobs/{job.pk}/days",
        "week": "days",
        "today": "days/today",
        "nights": f"jobs/{job.pk}/nights",
        "leaving": f"crews/{crew.pk}/leaving",
        "moisture": f"jobs/{job.pk}/moisture",
        "pencil": f"jobs/{job.pk}/days/pencil",
        "board": "board",
    }
    for name, path in pages.items():
        hands.open(f"/{path}")
        look_at(hands, f"empty-{name}")
