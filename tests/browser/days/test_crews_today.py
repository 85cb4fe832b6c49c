"""The crew's own day on a phone: it is where a crew lands, and it opens without signal."""

from __future__ import annotations

import pytest
from playwright.sync_api import BrowserContext, Page, expect
from pytest_django.live_server_helper import LiveServer

from jobs.clock import today_of
from jobs.models import Role, SiteFacts, User
from tests.axe import axe_faults
from tests.browser.hands import Shoot
from tests.builders import PASSWORD, make_company, make_crew, make_person
from tests.jobs.agreed import hold_asbestos
from tests.jobs.moved import on_days, worked_job

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log offline"),
]


@pytest.fixture
def lead() -> User:
    """The lead of a crew of one with a job ahead."""
    lead = make_person(make_company(), Role.CREW, name="Lio Hart")
    assert lead.company is not None
    job, today = worked_job(lead.company, people=1), today_of(lead.company)
    SiteFacts.objects.filter(job=job).update(access="Key under the third pot")
    hold_asbestos(job)
    on_days(job, make_crew(lead.company, lead), make_person(lead.company), today, today)
    # Whatever weekday it is, the first day of the job is this one.
    job.days.filter(number=1).update(date=today)
    return lead


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
    context.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", name="Study and landing")).to_be_visible()
    context.set_offline(False)
