"""The crew's own day on a phone: it is where a crew lands, and it opens without signal."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from playwright.sync_api import BrowserContext, Page, expect
from pytest_django.live_server_helper import LiveServer

from jobs.clock import today_of
from jobs.models import Rate, Role, SiteFacts, User
from jobs.services.scope import freeze_scope
from tests.axe import axe_faults
from tests.browser.hands import Shoot
from tests.builders import (
    PASSWORD,
    make_company,
    make_crew,
    make_job,
    make_person,
    make_room,
    make_zone,
)
from tests.jobs.agreed import agree, hold_asbestos
from tests.jobs.moved import on_days
from tests.jobs.plans import planned

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log offline"),
]


@pytest.fixture
def lead() -> User:
    """The lead of a crew of one that begins a den of 120 by 100 in today."""
    lead = make_person(make_company(), Role.CREW, name="Lio Hart")
    assert lead.company is not None
    job, today = make_job(lead.company, title="Study and landing"), today_of(lead.company)
    Rate.objects.create(
        company=lead.company, task="lay", driver="floor_area", hours=Decimal(10), per=Decimal(100)
    )
    planned(make_zone(make_room(job, size=(120, 100))))
    agree(job, freeze_scope(job=job, user=None))
    SiteFacts.objects.filter(job=job).update(access="Key under the third pot")
    hold_asbestos(job)
    days = on_days(job, make_crew(lead.company, lead), make_person(lead.company), today, today)
    laying = next(day for day in days if any(entry["rows"] for entry in day.entries))
    # Whatever weekday it is, the first day of laying is this one.
    for day in days:
        job.days.filter(pk=day.pk).update(date=today + timedelta(days=day.number - laying.number))
    return lead


def strips_fit(page: Page) -> None:
    """Check that the first rows stand whole on the screen, nothing to be scrolled to."""
    strips = page.locator(".row-strip svg")
    expect(strips).to_have_count(3)
    expect(page.locator(".today-strips")).to_be_hidden()
    for strip in strips.all():
        box = strip.bounding_box()
        assert box is not None
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 390
        assert box["width"] >= 300


def test_a_crew_lands_on_its_day_and_has_it_without_signal(
    page: Page, context: BrowserContext, live_server: LiveServer, lead: User, shoot: Shoot
) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{live_server.url}/sign-in")
    page.get_by_label("E-mail").fill(lead.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Study and landing")).to_be_visible()
    expect(page.get_by_text("Key under the third pot")).to_be_visible()
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    shoot(page, "crews-today")
    assert axe_faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    strips_fit(page)
    context.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", name="Study and landing")).to_be_visible()
    strips_fit(page)
    context.set_offline(False)
