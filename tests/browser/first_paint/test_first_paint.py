"""First paint of Home, a plan and a day's log on a processor slowed four times, beside a bare page.

Printed with -s, never a gate: what else the machine does changes every figure.
"""

from __future__ import annotations

import sys
from statistics import median

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from jobs.models import FloorPlan, User, WorkDay
from tests.browser.conftest import hands_of
from tests.browser.hands import Shoot
from tests.builders import make_crew, make_day, make_job, make_plan, make_room, make_zone

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("first paint"),
]

SLOWED = 4
VISITS = 3
BARE = "/bare-page"
PAINTED = """() => new Promise(done => {
  const seen = () => performance.getEntriesByName("first-contentful-paint")[0];
  if (seen()) return done(seen().startTime);
  new PerformanceObserver(() => seen() && done(seen().startTime))
    .observe({type: "paint", buffered: true});
})"""


def paints_of(page: Page, address: str) -> float:
    """Return the milliseconds to the first paint of an address, the middle of some visits."""
    taken = []
    for _ in range(VISITS):
        answer = page.goto(address)
        assert answer is not None
        assert answer.ok, address
        taken.append(float(page.evaluate(PAINTED)))
        # What a page asks for in passing is answered before the next one, and before the end.
        page.wait_for_load_state("networkidle")
    return median(taken)


def test_first_paint_on_a_slow_processor_is_told_beside_a_bare_pages(
    page: Page, live_server: LiveServer, owner: User, shoot: Shoot
) -> None:
    assert owner.company is not None
    plan: FloorPlan = make_plan(make_zone(make_room(make_job(owner.company), size=(150, 100))))
    day: WorkDay = make_day(plan.zone.job, make_crew(owner.company))
    hands_of(owner, page, live_server, shoot)
    page.route(
        f"**{BARE}",
        lambda route: route.fulfill(
            content_type="text/html", body="<!doctype html><title>Bare</title><p>Bare</p>"
        ),
    )
    slow = page.context.new_cdp_session(page)
    slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    addresses = {
        "bare page": BARE,
        "Home": "/",
        "plan": f"/plans/{plan.pk}",
        "log": f"/days/{day.pk}/log",
    }
    paints = {name: paints_of(page, live_server.url + to) for name, to in addresses.items()}
    for name, ms in paints.items():
        times = ms / paints["bare page"]
        sys.stdout.write(f"{name:10} {ms:7.0f} ms to first paint, {times:5.1f} bare pages\n")
    assert all(ms > 0 for ms in paints.values())
