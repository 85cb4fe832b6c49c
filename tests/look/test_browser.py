"""The look in a real browser: targets, width, accessibility, parts by htmx, paper."""

import re
from collections.abc import Callable
from typing import Any, Literal

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.axe import axe_faults

pytestmark = [
    pytest.mark.browser,
    pytest.mark.urls("tests.look.urls"),
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("look"),
]

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
PAGES = ["/help/components", "/help", "/sign-in", "/confirm", "/wait", "/nowhere"]
SMALL_TARGETS = """() => [
  ...document.querySelectorAll('a, button, input, select, summary, textarea')
  ]
  .filter(one => one.type !== 'hidden' && !one.closest('.prose p, .notice li'))
  .map(one => ['checkbox', 'radio'].includes(one.type) ? one.closest('label') : one)
  .map(one => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([html, box]) => box.width > 1 && (box.width < 44 || box.height < 44))
  .map(([html, box]) => html + ' ' + box.width + ' x ' + box.height)"""


@pytest.fixture
def complaints(page: Page) -> list[str]:
    """What the browser complains of, the content security policy included."""
    lines: list[str] = []
    page.on(
        "console", lambda message: lines.append(message.text) if message.type == "error" else None
    )
    page.on("pageerror", lambda error: lines.append(str(error)))
    return lines


@pytest.mark.parametrize("path", PAGES)
def test_every_target_is_44_pixels_and_nothing_runs_off_the_side(
    page: Page, live_server: Any, path: str
) -> None:
    page.goto(live_server.url + path)
    for width in (390, 1280):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(SMALL_TARGETS) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("path", PAGES)
def test_axe_finds_nothing_in_light_and_in_dark(page: Page, live_server: Any, path: str) -> None:
    page.goto(live_server.url + path)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        assert axe_faults(page) == []


def test_axe_would_find_a_picture_without_words(page: Page) -> None:
    page.set_content("<html lang='en'><title>x</title><img src='data:,'></html>")
    assert any(fault.startswith("image-alt") for fault in axe_faults(page))


def test_the_policy_has_nothing_to_refuse(
    page: Page, live_server: Any, complaints: list[str]
) -> None:
    page.goto(f"{live_server.url}/help/components")
    page.goto(f"{live_server.url}/wait")
    expect(page.get_by_text("100%: planned")).to_be_visible()
    assert complaints == []


def test_the_lettering_is_inter(page: Page, live_server: Any) -> None:
    page.goto(f"{live_server.url}/help")
    loaded = page.evaluate("document.fonts.ready.then(all => [...all].map(one => one.status))")
    assert loaded == ["loaded", "loaded"]


def test_progress_asks_until_it_is_done_and_then_rests(page: Page, live_server: Any) -> None:
    addresses: list[str] = []
    page.on("request", lambda request: addresses.append(request.url))
    page.goto(f"{live_server.url}/wait")
    expect(page.get_by_text("100%: planned")).to_be_visible()
    page.wait_for_timeout(2500)
    assert sum(url.endswith("/poll") for url in addresses) == 1


def test_without_scripts_work_can_be_looked_at_and_stopped(
    browser: Browser, live_server: Any
) -> None:
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(f"{live_server.url}/wait")
    page.get_by_role("link", name="Look again").click()
    page.get_by_role("button", name="Stop planning").click()
    expect(page.get_by_text("stopped by POST")).to_be_visible()


def test_a_refused_entry_replaces_the_part(page: Page, live_server: Any) -> None:
    page.goto(f"{live_server.url}/parts")
    page.get_by_role("button", name="Send a wrong entry").click()
    expect(page.locator("#here")).to_have_text("Wall 1 can't be read")


@pytest.mark.parametrize(
    ("button", "said"),
    [
        ("Ask for nothing", "There is no such page here"),
        ("Meet a fault", "Rowbook could not finish this"),
    ],
)
def test_what_goes_wrong_behind_a_part_is_said_at_the_top(
    page: Page, live_server: Any, button: str, said: str
) -> None:
    page.goto(f"{live_server.url}/parts")
    page.get_by_role("button", name=button).click()
    expect(page.locator("#notices")).to_contain_text(said)
    expect(page.locator("#here")).to_have_text("as it was")


def test_the_first_tab_offers_to_skip_to_the_page(page: Page, live_server: Any) -> None:
    page.goto(f"{live_server.url}/help")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()


def test_the_main_action_stays_at_the_thumb(page: Page, live_server: Any) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{live_server.url}/help/components")
    page.get_by_label("Room", exact=True).scroll_into_view_if_needed()
    box = page.get_by_role("button", name="Save the room").bounding_box()
    assert box is not None
    assert 700 < box["y"] < 844 - 44


def test_paper_gets_the_page_without_what_only_a_screen_can_do(
    page: Page, live_server: Any
) -> None:
    page.goto(f"{live_server.url}/help/components")
    page.emulate_media(media="print")
    expect(page.get_by_text("Job 2026-014").first).to_be_visible()
    for hidden in (".head", ".path", ".actions", ".foot"):
        expect(page.locator(hidden).first).to_be_hidden()


def test_pictures_for_the_eye(
    page: Page, live_server: Any, shoot: Callable[[Page, str], None]
) -> None:
    for path in PAGES:
        page.goto(live_server.url + path)
        shoot(page, "look-" + (re.sub(r"\W+", "-", path).strip("-")))
        expect(page.locator("#main")).to_be_visible()
