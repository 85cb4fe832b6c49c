"""The server killed while the phone's own queue sends: nothing acknowledged missing or doubled.

The phone is a browser with the pages' own script. Three kills here; `tests/sweeps/phone` takes a
number.
"""

from __future__ import annotations

import os
import random
import signal
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connections
from django.test import Client as Visitor
from PIL import Image
from playwright.sync_api import Page, expect

from jobs.models import DayLog, LogEntry, LogPhoto, WorkDay
from tests.database.test_log_sync_killed import started
from tests.jobs.agreed import a_crew, agreed_job, laid_out
from tests.sweeps.phone.kills import FEW, kills_wanted

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log killed"),
]

EACH_TIME = 3
"""Entries that wait each time the signal comes back."""


class FallingServer:
    """A server on a socket that stays open; killed outright, another one takes its place."""

    def __init__(self, listening: socket.socket) -> None:
        self.listening, self.kills = listening, 0
        self.process = started(listening)

    def fall(self, after: float) -> None:
        """Kill it after so many seconds."""
        time.sleep(after)
        self.stop()
        self.kills += 1
        self.process = started(self.listening)

    def stop(self) -> None:
        """Kill it for good."""
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)


@pytest.fixture
def day() -> WorkDay:
    """The first day of a job of one person."""
    job = agreed_job()
    return laid_out(job, a_crew(job.company))[0]


@pytest.fixture
def server(day: WorkDay) -> Iterator[FallingServer]:
    """The server of that day."""
    with socket.create_server(("localhost", 0), backlog=64) as listening:
        connections.close_all()
        server = FallingServer(listening)
        yield server
        server.stop()


@pytest.fixture
def phone(page: Page, day: WorkDay, server: FallingServer) -> Page:
    """The log page of the day, kept on the phone."""
    url = f"http://localhost:{server.listening.getsockname()[1]}"
    signed_in = Visitor()
    signed_in.force_login(day.crew.members.get())
    connections.close_all()
    cookie = signed_in.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": url}])
    page.goto(f"{url}/days/{day.pk}/log")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    return page


def log_without_signal(page: Page, picture: Path, count: int) -> None:
    """Type a quarter of an hour at setting up, with a photograph, so many times."""
    page.context.set_offline(True)
    for number in range(1, count + 1):
        page.locator("[name^=hours-setup-0-]").fill("0.25")
        page.get_by_label("Take a photo").set_input_files(picture)
        page.get_by_role("button", name="Save the log").click()
        wait = "1 entry waits" if number == 1 else f"{number} entries wait"
        expect(page.locator("#log-waiting-count")).to_contain_text(f"{wait} for signal.")


def send_all(page: Page) -> int:
    """Let the signal come and go until nothing waits; return how often it came."""
    said = page.locator("#log-waiting-count")
    for times in range(1, 60):
        page.context.set_offline(False)
        page.wait_for_timeout(400)
        if "wait" not in said.inner_text():
            return times
        page.context.set_offline(True)
    message = f"still waiting: {said.inner_text()}"
    raise AssertionError(message)


def test_what_the_phone_sends_is_there_once_though_the_server_is_killed(
    phone: Page, server: FallingServer, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    picture, chance = tmp_path / "den.jpg", random.Random(17)
    Image.new("RGB", (400, 300), "tan").save(picture)
    kills, came = kills_wanted(request.config), 0
    for _ in range(kills):
        log_without_signal(phone, picture, EACH_TIME)
        killer = threading.Thread(target=server.fall, args=(chance.uniform(0.01, 0.25),))
        killer.start()
        came += send_all(phone)
        killer.join()
    assert server.kills == kills
    assert kills <= FEW or came > kills  # of many kills one did hit a sending
    expect(phone.locator("#log-waiting")).not_to_contain_text("Not accepted")
    logged = kills * EACH_TIME
    assert DayLog.objects.count() == LogEntry.objects.count() == LogPhoto.objects.count() == logged
    phone.reload()
    expect(phone.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    assert DayLog.objects.count() == logged
