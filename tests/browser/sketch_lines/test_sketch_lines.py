"""A sketch draws diagonals and bows, and says what a walk misses before it is spread."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from jobs.models import Job, Role
from tests.axe import axe_faults
from tests.browser.hands import Shoot
from tests.browser.test_sketch import PEN, PHONE, Sketcher, open_sketch
from tests.builders import make_company, make_job, make_person, make_room

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("sketch"),
]

SQUARE = [(-6, -4), (6, -4), (6, 4), (-6, 4)]
"""12 by 8 ft; the walk around it is 480 in."""
MISSED = "more than 1 in 500"


@pytest.fixture
def job() -> Job:
    """A job in feet and inches."""
    company = make_company()
    make_person(company, Role.OWNER)
    return make_job(company)


def read(page: Page, kind: str, **fields: str) -> None:
    """Type one more reading of this kind into the form."""
    page.get_by_role("button", name=f"Add a {kind}").click()
    for field, text in fields.items():
        page.locator(f"[name={kind.split()[0]}-0-{field}]").fill(text)
    page.locator(f"[name={kind.split()[0]}-0-{field}]").blur()


def points_of(page: Page, key: str) -> list[tuple[float, float]]:
    """Return the points that a drawn path goes through."""
    path = page.locator(f".sketch-{key}").get_attribute("d") or ""
    pairs = re.findall(r"([-\d.]+) ([-\d.]+)", path)
    return [(float(x), float(y)) for x, y in pairs]


@pytest.mark.parametrize("size", [PEN, PHONE], ids=["desk", "phone"])
def test_a_diagonal_is_a_line_from_corner_to_corner_with_its_length(
    page: Page, live_server: Any, job: Job, shoot: Shoot, size: Any
) -> None:
    page.set_viewport_size(size)
    open_sketch(page, live_server.url, job, make_room(job, size=(150, 120)))
    read(page, "diagonal", start="1", end="3", length="16' 1/8\"")
    read(page, "bow reading", wall="3", along="5'", into="-1/2")
    line = page.locator(".sketch-diagonal")
    across = line.evaluate(
        "one => Math.hypot(one.x2.baseVal.value - one.x1.baseVal.value,"
        " one.y2.baseVal.value - one.y1.baseVal.value)"
    )
    wall = page.locator("[data-key=wall-0] .sketch-line").evaluate("one => one.getTotalLength()")
    assert across / wall == pytest.approx((150**2 + 120**2) ** 0.5 / 150, rel=0.001)
    expect(page.locator("#sketch-canvas").get_by_text("16' 1/8\"")).to_be_visible()
    assert axe_faults(page) == []
    shoot(page, f"sketch-lines-{size['width']}")


def test_a_bow_bends_to_the_side_that_its_reading_says(
    page: Page, live_server: Any, job: Job
) -> None:
    open_sketch(page, live_server.url, job, make_room(job, size=(150, 120)))
    read(page, "bow reading", wall="1", along="6' 3\"", into="1/2")
    first, middle, last = points_of(page, "bow")
    into = page.locator("[data-key=wall-2]").bounding_box()
    assert into is not None
    bent = middle[1] - (first[1] + last[1]) / 2
    assert abs(bent) >= 9  # seen, though half an inch of ten feet is a pixel
    page.locator("[name=bow-0-into]").fill("-1/2")
    page.locator("[name=bow-0-into]").blur()
    _, other, _ = points_of(page, "bow")
    assert other[1] - first[1] == pytest.approx(-bent)


@pytest.mark.parametrize(("last", "is_said"), [("12' 1\"", True), ("12' 1/2\"", False)])
def test_a_walk_that_misses_more_than_one_in_500_is_said_before_it_is_spread(
    page: Page, live_server: Any, job: Job, last: str, *, is_said: bool
) -> None:
    page.set_viewport_size(PEN)  # type: ignore[arg-type]
    open_sketch(page, live_server.url, job)
    hand = Sketcher(page=page, fingers=False)
    hand.sketch(SQUARE)
    hand.type_lengths(["12'", "8'", last, "8'"])
    assert hand.lengths() == ["12'", "8'", last, "8'"]
    status = page.locator("#sketch-status")
    if is_said:
        expect(status).to_contain_text(f'It closes 1" off, {MISSED}')
    else:
        expect(status).not_to_contain_text(MISSED)
