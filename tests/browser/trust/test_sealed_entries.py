"""What waits on a phone lies sealed to its person: the next reads nothing, nothing is lost."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Page, expect

from jobs.models import DayLog, LogPhoto, Role, User, WorkDay
from tests.browser.trust.test_shared_phone import keep_the_log, sign_in
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job, laid_out

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log offline"),
]

SECRET = "Key under the third pot"
# All that lies in the phone's store of entries, photographs as their length.
LYING = """() => new Promise((done) => {
  const opening = indexedDB.open("rowbook-log", 1);
  opening.onsuccess = () => {
    const all = opening.result.transaction("entries").objectStore("entries").getAll();
    all.onsuccess = () => { opening.result.close(); done(all.result.map((entry) =>
      ({ text: JSON.stringify(entry), sealed: Boolean(entry.sealed),
         letters: new TextDecoder().decode(entry.sealed?.bytes ?? new Uint8Array()),
         names: Object.keys(entry).sort() }))); };
  };
})"""
# What is opened of it for a person, with what the server gives to whom is signed in.
OPENED = """async ([person, url]) => {
  const seal = window.rowbookSeal(person, url);
  const entries = await new Promise((done) => {
    const opening = indexedDB.open("rowbook-log", 1);
    opening.onsuccess = () => {
      const all = opening.result.transaction("entries").objectStore("entries").getAll();
      all.onsuccess = () => { opening.result.close(); done(all.result); };
    };
  });
  return JSON.stringify(await Promise.all(entries.map(seal.opened)));
}"""

PASSED_OFF = """async (person) => {
  const key = (await (await fetch("/days/seal")).text()).split(" ")[1];
  sessionStorage.setItem("rowbook-seal", JSON.stringify({ person, key }));
}"""


@pytest.fixture
def lead() -> User:
    """The lead of a crew."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def day(lead: User) -> WorkDay:
    """The first day of a job, whose crew is the lead and a helper."""
    assert lead.company is not None
    helper = make_person(lead.company, Role.CREW, name="Ada Lind", email="ada@example.com")
    return laid_out(agreed_job(lead.company), make_crew(lead.company, lead, helper))[0]


def a_png() -> bytes:
    """Return a small picture."""
    written = BytesIO()
    Image.new("RGB", (40, 30), "tan").save(written, "PNG")
    return written.getvalue()


def log_without_signal(page: Page, context: BrowserContext, picture: bytes) -> None:
    """Enter a note and a photograph in a basement."""
    context.set_offline(True)
    page.locator("[name=note]").fill(SECRET)
    photo = {"name": "den.png", "mimeType": "image/png", "buffer": picture}
    page.get_by_label("Take a photo").set_input_files(photo)  # type: ignore[arg-type]
    page.get_by_role("button", name="Save the log").first.click()
    expect(page.locator("#log-waiting-count")).to_contain_text("1 entry waits for signal")


def nothing_can_be_read(page: Page) -> None:
    """See that what lies on the phone tells nothing of what was typed."""
    (entry,) = page.evaluate(LYING)
    assert entry["sealed"]
    assert entry["names"] == ["at", "key", "person", "sealed", "sent"]
    assert SECRET not in entry["text"] + entry["letters"]


def test_the_next_person_at_the_phone_reads_nothing_and_nothing_is_lost(
    page: Page, context: BrowserContext, live_server: Any, lead: User, day: WorkDay
) -> None:
    url = live_server.url
    sign_in(page, url, lead)
    log = keep_the_log(page, url, day)
    log_without_signal(page, context, a_png())
    nothing_can_be_read(page)
    page.reload()  # still without signal: his own tab still shows him what waits
    expect(page.locator("#log-waiting-list")).to_contain_text(SECRET)
    page.evaluate("sessionStorage.clear()")  # as in a tab that is new
    page.reload()
    expect(page.locator("#log-waiting-list")).to_contain_text("sealed until you are signed in")
    expect(page.locator("#log-waiting-list")).not_to_contain_text(SECRET)
    context.clear_cookies()
    context.set_offline(False)
    sign_in(page, url, User.objects.get(email="ada@example.com"))
    page.goto(log)
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    nothing_can_be_read(page)
    for theirs in (False, True):
        if theirs:  # the server's answer to her, passed off as his
            page.evaluate(PASSED_OFF, str(lead.pk))
        opened = page.evaluate(OPENED, [str(lead.pk), "/days/seal"])
        assert ('"lost":true' if theirs else '"shut":true') in opened
        assert SECRET not in opened
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert page.evaluate("sessionStorage.getItem('rowbook-seal')") is None
    sign_in(page, url, lead)
    page.goto(log)
    expect(page.locator("#log-waiting-count")).to_contain_text("1 entry sent")
    assert [row.note for row in DayLog.objects.all()] == [SECRET]
    assert LogPhoto.objects.count() == 1


def test_where_a_browser_can_not_seal_nothing_is_lost(
    page: Page, context: BrowserContext, live_server: Any, lead: User, day: WorkDay
) -> None:
    context.add_init_script("Object.defineProperty(crypto, 'subtle', { value: undefined });")
    sign_in(page, live_server.url, lead)
    keep_the_log(page, live_server.url, day)
    log_without_signal(page, context, a_png())
    (entry,) = page.evaluate(LYING)
    assert not entry["sealed"]
    context.set_offline(False)
    expect(page.locator("#log-waiting-count")).to_contain_text("1 entry sent")
    assert DayLog.objects.get().note == SECRET
