"""Measuring a room on its page: by keys alone, kept on the device, drawn while it is typed."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from jobs.models import Job, Room, User
from tests.axe import axe_faults
from tests.browser.hands import Hands
from tests.builders import make_job, make_room
from tests.conftest import DESK, PHONE
from tests.evening import EVENING

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

BAY = ("12'", "8'", "4'r", "2'", "3'", "2'r", "5'", "8'")


@pytest.fixture
def job(owner: User) -> Job:
    """A job in feet and inches."""
    assert owner.company is not None
    return make_job(owner.company)


def new_room(hands: Hands, job: Job) -> None:
    """Open the page of a new room."""
    hands.open(reverse("room-add", args=[job.pk]))
    hands.page.wait_for_load_state("networkidle")


def keys(page: Page, *texts: str) -> None:
    """Type texts, each with Enter after it."""
    for text in texts:
        page.keyboard.type(text)
        page.keyboard.press("Enter")


def someone_else(hands: Hands) -> Page:
    """Return a page of another browser, signed in as well."""
    browser = hands.page.context.browser
    assert browser is not None
    context = browser.new_context()
    cookies = hands.page.context.cookies()
    context.add_cookies(
        [{"name": c["name"], "value": c["value"], "url": hands.base} for c in cookies]
    )
    return context.new_page()


def walls(page: Page) -> list[str]:
    """Return the lengths of the walls as they stand in the fields."""
    fields = page.locator("[name^=wall-][name$=-length]")
    return [fields.nth(n).input_value() for n in range(fields.count())]


def test_the_keyboard_alone_measures_a_room(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.locator("[name=name]").focus()
    keys(page, "Bay room", "", *BAY)
    expect(page.locator("#drawing")).to_contain_text("ft²")
    hands.see("measure-keys")
    keys(page, "", "")
    hands.expect("Bay room is in the book.")
    room = Room.objects.get(name="Bay room")
    assert [wall["turn"] for wall in room.measured["walls"]].count("right") == 2
    assert len(room.outline) == 8


def test_enter_adds_a_wall_without_asking_the_server(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.context.set_offline(True)
    page.locator("[name=wall-3-length]").focus()
    keys(page, "10'")
    expect(page.locator("[name=wall-4-length]")).to_be_focused()
    expect(page.locator("label[for=id_wall-4-length]")).to_contain_text("Wall 5")


def test_a_reload_brings_back_what_was_typed(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.locator("[name=name]").focus()
    keys(page, "Den", "", "12'", "10'", "12'", "10'", "3'")
    page.reload()
    expect(page.locator("#kept-notice")).to_contain_text("Typed before and not saved")
    hands.see("measure-restored")
    assert page.locator("[name=name]").input_value() == "Den"
    assert walls(page) == ["12'", "10'", "12'", "10'", "3'", ""]


def test_what_came_back_was_typed_at_the_companys_hour(hands: Hands, job: Job) -> None:
    hands.page.clock.set_fixed_time(EVENING)
    new_room(hands, job)
    hands.page.locator("[name=name]").fill("Den")
    hands.page.reload()
    notice = hands.page.locator("#kept-notice")
    expect(notice).to_contain_text("What was typed here on Mar 9, 10:30")


def test_what_came_back_can_be_discarded(hands: Hands, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    hands.open(reverse("room-edit", args=[room.pk]))
    page = hands.page
    page.locator("[name=wall-0-length]").fill("150")
    page.reload()
    assert walls(page)[0] == "150"
    page.get_by_role("button", name="Discard").click()
    assert walls(page)[0] == "144"
    page.reload()
    expect(page.locator("[name=wall-0-length]")).to_have_value("144")
    expect(page.locator("#kept-notice")).to_have_count(0)


def test_a_saved_room_leaves_nothing_to_bring_back(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    hands.fill(name="Den", across="12'", along="10'")
    hands.press("Save the room")
    hands.expect("Den is in the book.")
    new_room(hands, job)
    expect(hands.page.locator("[name=name]")).to_have_value("")
    # Whose pages this phone keeps stays; of the room there is nothing.
    assert hands.page.evaluate("Object.keys(localStorage)") == ["rowbook-person"]


def test_without_signal_the_page_says_so_and_keeps_all(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.context.set_offline(True)
    hands.fill(name="Den", across="12'", along="10'")
    hands.press("Save the room")
    expect(page.locator("#signal-notice")).to_contain_text("nothing was saved")
    hands.see("measure-no-signal")
    assert page.locator("[name=across]").input_value() == "12'"
    page.context.set_offline(False)
    hands.press("Save the room")
    hands.expect("Den is in the book.")


def test_a_change_is_undone_and_done_again(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.locator("[name=wall-0-length]").focus()
    keys(page, "12'", "10'")
    hands.press("Undo a change")
    assert walls(page)[:2] == ["12'", ""]
    hands.press("Redo it")
    assert walls(page)[:2] == ["12'", "10'"]
    page.locator("[name=wall-2-turn]").focus()
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    assert walls(page)[:2] == ["", ""]


def test_a_forgotten_wall_is_inserted(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.locator("[name=wall-0-length]").focus()
    keys(page, "10'", "4'", "4'", "6'", "8'")
    hands.press("Add a bow reading")
    hands.fill(**{"bow-0-wall": "4"})
    page.locator("form summary").nth(1).click()
    page.get_by_role("button", name="Insert a wall after this one").click()
    page.keyboard.type("4'r")
    assert walls(page) == ["10'", "4'", "4'", "4'", "6'", "8'", ""]
    expect(page.locator("[name=wall-2-turn]")).to_have_value("right")
    expect(page.locator("[name=bow-0-wall]")).to_have_value("5")
    hands.press("Undo a change")
    hands.press("Undo a change")
    assert [text for text in walls(page) if text] == ["10'", "4'", "4'", "6'", "8'"]


def test_what_a_walk_is_short_is_told_as_a_tape_reads_it(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    # Held back, so that the page's own drawing stays: the root of 144 and 96 squared is 173.07 in.
    page.route("**/rooms/add", lambda route: None)
    page.locator("[name=wall-0-length]").focus()
    keys(page, "12'", "8'")
    caption = page.locator("#drawing .live figcaption")
    expect(caption).to_have_text("2 walls typed, 14' 5 1/16\" to the first corner.")


def test_the_outline_is_seen_at_once(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    page.locator("[name=wall-0-length]").focus()
    keys(page, "12'", "8'", "4'r", "2'")
    spans = page.evaluate(
        """async () => {
            const field = document.querySelector("[name=wall-4-length]");
            const spans = [];
            for (const text of ["1", "12", "121", "12", "1", "19"]) {
                const began = performance.now();
                field.value = text;
                field.dispatchEvent(new Event("input", { bubbles: true }));
                const drawn = document.querySelectorAll("#drawing .live text").length;
                await new Promise(requestAnimationFrame);
                await new Promise((done) => setTimeout(done));
                spans.push(drawn ? performance.now() - began : Infinity);
                await new Promise((done) => setTimeout(done, 50));
            }
            return spans;
        }"""
    )
    figures = ", ".join(f"{span:.0f}" for span in spans)
    print(f"\nfrom the key to the outline: {figures} ms")  # noqa: T201
    assert max(spans) < 1000


def test_the_lengths_on_the_drawing_are_read_on_a_phone(hands: Hands, job: Job) -> None:
    room = make_room(job, size=(150, 120))
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(reverse("room-edit", args=[room.pk]))
    letters = hands.page.locator("#drawing text")
    sizes = letters.evaluate_all(
        """texts => texts.map(text => {
            const own = text.getScreenCTM();
            return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(own.a, own.b);
        })"""
    )
    assert len(sizes) == 4
    assert min(sizes) >= 11
    hands.see("measure-letters")


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_room_page_is_accessible(hands: Hands, job: Job, width: int) -> None:
    page = hands.page
    page.set_viewport_size({"width": width, "height": 844})
    new_room(hands, job)
    page.locator("[name=name]").focus()
    keys(page, "Bay room", "", *BAY)
    for button in ("Add a diagonal", "Add a bow reading", "Add a post, island or register"):
        hands.press(button)
    page.locator("form summary").first.click()
    expect(page.locator("#drawing")).to_contain_text("ft²")
    assert axe_faults(page) == []
    page.reload()
    expect(page.locator("#kept-notice")).to_be_visible()
    assert axe_faults(page) == []
    hands.see("measure-all")


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_list_of_rooms_is_accessible(hands: Hands, job: Job, width: int) -> None:
    make_room(job, size=(144, 120))
    hands.page.set_viewport_size({"width": width, "height": 844})
    hands.open(reverse("room-list", args=[job.pk]))
    assert axe_faults(hands.page) == []
    hands.see("measure-list")


def test_the_second_of_two_savers_reads_what_changed(hands: Hands, job: Job) -> None:
    room = make_room(job, size=(144, 120))
    url, page = reverse("room-edit", args=[room.pk]), hands.page
    hands.open(url)
    page.wait_for_load_state("networkidle")
    for row in (0, 2):
        page.locator(f"[name=wall-{row}-length]").fill("13'")
    other = someone_else(hands)
    other.goto(hands.base + url)
    for row in (1, 3):
        other.locator(f"[name=wall-{row}-length]").fill("11'")
    other.get_by_role("button", name="Save the room").click()
    expect(other.get_by_role("main")).to_contain_text("Den is in the book.")
    hands.press("Save the room")
    hands.expect("Wall 2 was 120 and is now 11'; you have 120.")
    assert "Wall 1 was" not in page.get_by_role("main").inner_text()
    hands.see("measure-overtaken")
    assert axe_faults(page) == []
    assert walls(page) == ["13'", "120", "13'", "120"]
    other.context.close()


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_a_refused_room_is_accessible(hands: Hands, job: Job, width: int) -> None:
    page = hands.page
    page.set_viewport_size({"width": width, "height": 844})
    new_room(hands, job)
    page.locator("[name=name]").focus()
    keys(page, "Den", "", "12'", "10'", "9'", "10'")
    hands.press("Save the room")
    expect(page.locator("#form-errors")).to_contain_text("It would close with")
    assert axe_faults(page) == []
    hands.see("measure-refused")
    assert walls(page)[:4] == ["12'", "10'", "9'", "10'"]


def test_a_room_drawn_with_all_that_was_measured(hands: Hands, job: Job) -> None:
    new_room(hands, job)
    page = hands.page
    hands.fill(name="Kitchen")
    for row, length in enumerate(("16'", "12'", "16'", "12'")):
        hands.fill(**{f"wall-{row}-length": length})
    page.locator("form summary").first.click()
    page.locator("[name=wall-0-edge]").select_option("toe kick")
    hands.press("Add a diagonal")
    hands.fill(**{"diagonal-0-start": "1", "diagonal-0-end": "3", "diagonal-0-length": "20' 3\""})
    hands.press("Add a bow reading")
    hands.fill(**{"bow-0-wall": "3", "bow-0-along": "8'", "bow-0-into": "-2"})
    hands.press("Add a post, island or register")
    hands.fill(**{"hole-0-x": "4'", "hole-0-y": "4'", "hole-0-width": "10"})
    expect(page.locator("#drawing")).to_contain_text("Corner 2 is 91.5 degrees")
    hands.settle()
    hands.see("measure-everything")
    hands.press("Save the room")
    hands.expect("Kitchen is in the book.")
    assert axe_faults(page) == []
    hands.see("measure-saved")
    room = Room.objects.get(name="Kitchen")
    assert room.edges[0] == {"wall": 0, "kind": "toe kick"}
    assert len(room.holes[0]["ring"]) == 16
