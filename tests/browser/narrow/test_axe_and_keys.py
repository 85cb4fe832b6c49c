"""Every page of the owner on a phone and a desk: axe, targets, tiles, and the keyboard alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

import pytest
from django.conf import settings
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from tests.access_world import build_world
from tests.axe import axe_faults
from tests.browser.narrow.test_every_page import pages_of
from tests.conftest import DESK, PHONE, settle

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("every page"),
]

# A link in a sentence is as high as its line (WCAG 2.2, 2.5.8); every other target is 44 px.
SMALL_TARGETS = """() => {
  const inSentence = one => one.tagName === 'A' && getComputedStyle(one).display === 'inline' &&
    [...one.parentElement.childNodes].some(node => node !== one && node.textContent.trim());
  // A line of a drawing is hit as far as its stroke goes, of which its box knows nothing.
  const wide = one => Math.max(...[...one.querySelectorAll('*')].map(line =>
    parseFloat(getComputedStyle(line).strokeWidth) *
    (getComputedStyle(line).vectorEffect === 'non-scaling-stroke' ? 1 : line.getScreenCTM().a)));
  return [...document.querySelectorAll('a, button, input, select, summary, textarea')]
    .filter(one => one.type !== 'hidden' && one.checkVisibility() && !inSentence(one))
    .map(one => ['checkbox', 'radio'].includes(one.type) ? one.closest('label') ?? one : one)
    .filter(one => !one.closest('svg') || wide(one) < 43.9)
    .map(one => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
    .filter(([, box]) => box.width > 1 && (box.width < 43.9 || box.height < 43.9))
    .map(([html, box]) => `${html} ${Math.round(box.width)} x ${Math.round(box.height)}`);
}"""
EMPTY_TILES = """() => [...document.querySelectorAll('.figures')]
  .filter(row => row.checkVisibility() && row.lastElementChild)
  .filter(row => row.getBoundingClientRect().right -
    row.lastElementChild.getBoundingClientRect().right > 3)
  .map(row => row.textContent.trim().slice(0, 60))"""
# One radio button of a group is reached by Tab, the others by arrows.
TABBED = """() => {
  const groups = new Set();
  window.tabbed = [...document.querySelectorAll(
    'a[href], button, input, select, textarea, summary, [tabindex="0"]')].filter(one => {
      if (one.matches(':disabled') || one.type === 'hidden' || one.tabIndex < 0) return false;
      if (!one.checkVisibility({ visibilityProperty: true })) return false;
      if (one.tagName === 'SUMMARY' && one.parentElement.querySelector('summary') !== one)
        return false;
      if (one.type !== 'radio') return true;
      const group = `${one.form?.id}/${one.name}`;
      return !groups.has(group) && groups.add(group);
    });
  return window.tabbed.length;
}"""
FOCUSED = """() => {
  const one = document.activeElement, style = getComputedStyle(one);
  const ring = ['A', 'BUTTON', 'SUMMARY'].includes(one.tagName)
    && style.outlineStyle === 'none' && style.boxShadow === 'none';
  window.reached = (window.reached ?? new Set()).add(one);
  return ring ? one.outerHTML.slice(0, 90) : '';
}"""
MISSED = """() => window.tabbed
  .filter(one => !window.reached?.has(one))
  .filter(one => one.type !== 'radio' ||
    ![...window.reached].some(was => was.name === one.name && was.type === 'radio'))
  .map(one => one.outerHTML.slice(0, 90))"""


@pytest.fixture
def opened(page: Page, live_server: LiveServer) -> Iterator[str]:
    """Every page of the owner, opened one after another; what each is called."""
    world = build_world()
    cookie = world.browsers["owner"].cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": live_server.url}])
    pages = list(pages_of(world))
    assert len(pages) > 100

    def each() -> Iterator[str]:
        for name, url in pages:
            page.goto(live_server.url + url)
            yield name

    return each()


def test_axe_targets_and_tiles_of_every_page(page: Page, opened: Iterator[str]) -> None:
    faults: dict[tuple[str, int], list[str]] = {}
    for name in opened:
        for width in (PHONE, DESK):
            page.set_viewport_size({"width": width, "height": 844})
            settle(page)
            tiles = cast(list[str], page.evaluate(EMPTY_TILES))
            seen = [*axe_faults(page), *page.evaluate(SMALL_TARGETS), *tiles]
            if seen:
                faults[name, width] = seen
    assert faults == {}


def test_every_page_is_gone_through_by_the_tab_key(page: Page, opened: Iterator[str]) -> None:
    faults: dict[str, list[str]] = {}
    for name in opened:
        settle(page)
        bare = []
        # A field of a date has a stop for each of its parts.
        for _ in range(3 * page.evaluate(TABBED)):
            page.keyboard.press("Tab")
            bare += [one] if (one := page.evaluate(FOCUSED)) else []
            if not page.evaluate(MISSED):
                break
        if seen := [*(f"no ring: {one}" for one in bare), *page.evaluate(MISSED)]:
            faults[name] = seen
    assert faults == {}
