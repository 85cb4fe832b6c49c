"""A room is sketched by pointer, by touch and by keys; form and sketch edit the same room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from jobs.models import Job, Role, Room
from jobs.readers.room_drawings import drawn_of
from layout.values.errors import InputError
from layout.values.units import Unit, parse_length
from tests.axe import axe_faults
from tests.browser.hands import Shoot
from tests.builders import PASSWORD, make_company, make_job, make_person, make_room

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("sketch"),
]

# The ell as the tape reads it, and as it is first pointed at, in feet from the paper's middle.
ELL_LENGTHS = ["19' 4\"", "9' 10\"", "7' 7", "7' 3 1/2\"", "141", "17' 1 1/2\""]
ELL_CORNERS = [(-6, -5), (5, -5), (5, 0), (1, 0), (1, 4), (-6, 4)]
# 19 ft 4 in by 9 ft 10 in, and 11 ft 9 in by 7 ft 3 1/2 in on it; a column of 12 1/2 by 10 in.
ELL_SQUARE_INCHES = 232 * 118 + 141 * 87.5
COLUMN_SQUARE_INCHES = 12.5 * 10
PEN = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}


@dataclass(kw_only=True)
class Sketcher:
    """A hand with a pointer, or with fingers, on the paper of an open sketch."""

    page: Page
    fingers: bool

    def at(self, feet: tuple[float, float]) -> tuple[float, float]:
        """Where a point lies on the window of a fresh paper, its lesser side being 20 ft."""
        box = self.page.locator("#sketch-canvas").bounding_box()
        assert box is not None
        scale = min(box["width"], box["height"]) / 20
        x, y = feet
        return box["x"] + box["width"] / 2 + x * scale, box["y"] + box["height"] / 2 - y * scale

    def tap(self, x: float, y: float) -> None:
        """Tap a point of the window."""
        if self.fingers:
            self.page.touchscreen.tap(x, y)
        else:
            self.page.mouse.click(x, y)

    def middle(self, key: str) -> tuple[float, float]:
        """Where a corner, a wall or an obstacle lies on the window."""
        self.page.locator("#sketch-canvas").scroll_into_view_if_needed()
        box = self.page.locator(f"[data-key={key}], #{key}").bounding_box()
        assert box is not None
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def drag(self, key: str, right: float, down: float) -> None:
        """Take hold of something and drag it by pixels."""
        x, y = self.middle(key)
        if self.fingers:
            drag_fingers(self.page, [(x, y)], [(x + right, y + down)])
            return
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + right / 2, y + down / 2)
        self.page.mouse.move(x + right, y + down)
        self.page.mouse.up()

    def sketch(self, corners: Sequence[tuple[float, float]]) -> None:
        """Tap corner after corner, and the first one once more."""
        for corner in [*corners, corners[0]]:
            self.tap(*self.at(corner))
        self.says("The outline is closed")

    def type_lengths(self, lengths: list[str]) -> None:
        """Type the length of every wall, from the first one on."""
        self.tap(*self.middle("wall-0"))
        self.page.keyboard.press("Enter")
        for length in lengths:
            self.page.keyboard.press("ControlOrMeta+a")
            self.page.keyboard.type(length)
            self.page.keyboard.press("Enter")

    def place_column(self, **figures: str) -> None:
        """Tap a column into the middle of the paper and type its figures."""
        self.page.get_by_label("Obstacle", exact=True).select_option(label="Column or post")
        self.page.get_by_role("button", name="Place it").click()
        self.page.locator("#sketch-canvas").scroll_into_view_if_needed()
        self.tap(*self.at((-3, -3)))
        self.says("Column or post placed.")
        for name, text in figures.items():
            self.page.locator(f"#sketch-{name}").fill(text)
        self.page.locator("#sketch-depth").press("Enter")

    def says(self, text: str) -> None:
        """Wait until the sketch says this."""
        expect(self.page.locator("#sketch-status")).to_contain_text(text)

    def lengths(self) -> list[str]:
        """What the form beside says of the walls, rows left empty left out."""
        fields = self.page.locator("[name^=wall-][name$=-length]")
        return [text for text in fields.evaluate_all("all => all.map(one => one.value)") if text]


def drag_fingers(
    page: Page, start: list[tuple[float, float]], end: list[tuple[float, float]]
) -> None:
    """Drag one or more fingers over the page, in steps."""
    client = page.context.new_cdp_session(page)

    def send(kind: str, share: float) -> None:
        points = [
            {"x": a + (c - a) * share, "y": b + (d - b) * share, "id": i}
            for i, ((a, b), (c, d)) in enumerate(zip(start, end, strict=True))
        ]
        client.send(
            "Input.dispatchTouchEvent",
            {"type": kind, "touchPoints": [] if kind == "touchEnd" else points},
        )

    send("touchStart", 0)
    for step in range(1, 6):
        send("touchMove", step / 5)
    send("touchEnd", 1)


def sign_in(page: Page, url: str, job: Job) -> None:
    """Sign in as the owner of the job's company."""
    owner = job.company.people.get(role=Role.OWNER)
    page.goto(f"{url}/sign-in")
    page.get_by_label("E-mail").fill(owner.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def open_sketch(page: Page, url: str, job: Job, room: Room | None = None) -> None:
    """Sign in as the owner and open the sketch of a room."""
    sign_in(page, url, job)
    page.goto(f"{url}/rooms/{room.pk}" if room else f"{url}/jobs/{job.pk}/rooms/add")
    page.get_by_role("button", name="Sketch the room").click()
    expect(page.locator("#sketch-canvas")).to_be_visible()


@pytest.fixture
def job() -> Job:
    """A job in feet and inches."""
    company = make_company()
    make_person(company, Role.OWNER)
    return make_job(company)


@pytest.fixture(params=["pointer", "touch"])
def anyone(
    request: pytest.FixtureRequest, browser: Browser, live_server: Any, job: Job
) -> Iterator[Sketcher]:
    """A hand on an empty sketch: with a mouse at a desk, and with fingers on a phone."""
    fingers = request.param == "touch"
    context = browser.new_context(viewport=PHONE if fingers else PEN, has_touch=fingers)  # type: ignore[arg-type]
    page = context.new_page()
    open_sketch(page, live_server.url, job)
    yield Sketcher(page=page, fingers=fingers)
    context.close()


@pytest.fixture
def pen(page: Page, live_server: Any, job: Job) -> Sketcher:
    """A hand with a mouse at a desk, on an empty sketch."""
    page.set_viewport_size({"width": 1280, "height": 900})
    open_sketch(page, live_server.url, job)
    return Sketcher(page=page, fingers=False)


def test_an_ell_with_a_column_is_sketched_saved_and_read_by_the_form(
    anyone: Sketcher, shoot: Shoot
) -> None:
    anyone.sketch(ELL_CORNERS)
    anyone.type_lengths(ELL_LENGTHS)
    anyone.place_column(x="5'", y="70", width='12 1/2"', depth="10")
    assert axe_faults(anyone.page) == []
    shoot(anyone.page, f"sketch-{'touch' if anyone.fingers else 'pointer'}")
    anyone.page.locator("[name=name]").fill("Living room")
    anyone.page.get_by_role("button", name="Save the room").click()
    expect(anyone.page.get_by_text("Living room is in the book.")).to_be_visible()
    assert anyone.lengths() == ELL_LENGTHS
    room = Room.objects.get()
    assert drawn_of(room).area == pytest.approx(ELL_SQUARE_INCHES - COLUMN_SQUARE_INCHES, rel=0.001)
    assert [hole["name"] for hole in room.measured["holes"]] == ["column"]


def test_the_fields_read_lengths_as_the_form_does(pen: Sketcher) -> None:
    texts = ["12' 4 1/2\"", "12 4 1/2", "148.5", "11' 7-3/8\"", "3.76 m", "376 cm", "5\u00bd"]
    texts += [
        "7'",
        "12' 14\"",
        "3 m 4",
        "1/3 m",
        "abc",
        "-4",
        "1001'",
        "7\u00b3\u2044\u2088",
        "9 ft 2 in",
    ]
    read = "([texts, unit]) => texts.map(text => rowbookSketch.lengths.parse(text, unit))"
    for unit in (Unit.INCH, Unit.MILLIMETER):
        lengths = pen.page.evaluate(read, [texts, unit.value])
        assert lengths == [pytest.approx(read_by_the_form(text, unit)) for text in texts]


def read_by_the_form(text: str, unit: Unit) -> float | None:
    """A length as the server reads it, None where it refuses."""
    try:
        return float(parse_length(text, bare=unit).to(unit))
    except InputError:
        return None


def test_a_computed_wall_is_dragged_and_a_typed_one_is_held_until_it_is_let_go(
    pen: Sketcher,
) -> None:
    pen.sketch([(-6, -4), (6, -4), (6, 4), (-6, 4)])
    pen.drag("wall-1", -58, 3)
    before = pen.lengths()
    assert before == ["10'", "8'", "10'", "8'"]
    pen.type_lengths(["11' 2 1/2\""])
    pen.drag("wall-3", -40, 0)
    pen.says("Wall 1 is held at 11' 2 1/2\" as typed.")
    assert pen.lengths() == ["11' 2 1/2\"", "8'", "11' 2 1/2\"", "8'"]
    pen.page.get_by_label("Hold typed lengths").uncheck()
    pen.drag("wall-3", -40, 0)
    assert pen.lengths()[0] not in ("11' 2 1/2\"", "10'")
    for _ in range(3):
        pen.page.get_by_role("button", name="Undo", exact=True).click()
    assert pen.lengths() == ["12'", "8'", "12'", "8'"]


def test_fingers_drag_a_column_and_pinch_the_paper(
    browser: Browser, live_server: Any, job: Job
) -> None:
    room = make_room(job, size=(240, 240))
    context = browser.new_context(viewport=PHONE, has_touch=True)  # type: ignore[arg-type]
    hand = Sketcher(page=context.new_page(), fingers=True)
    open_sketch(hand.page, live_server.url, job, room)
    hand.page.get_by_role("button", name="Place it").click()
    hand.tap(*hand.middle("sketch-canvas"))
    column = hand.page.locator("[name=hole-0-x]")
    expect(column).to_have_value("9' 6\"")
    hand.drag("hole-0", -60, 0)
    expect(column).not_to_have_value("9' 6\"")
    wide = hand.page.locator("[data-key=wall-0]").bounding_box()
    x, y = hand.middle("hole-0")
    drag_fingers(hand.page, [(x - 20, y), (x + 40, y)], [(x - 60, y), (x + 100, y)])
    pinched = hand.page.locator("[data-key=wall-0]").bounding_box()
    assert wide is not None
    assert pinched is not None
    assert pinched["width"] > 2 * wide["width"]
    context.close()


def test_keys_alone_sketch_a_room_with_a_column(pen: Sketcher) -> None:
    page, keys = pen.page, pen.page.keyboard
    page.locator("#sketch-canvas").focus()
    keys.press("Enter")
    for way in ("ArrowRight", "ArrowUp", "ArrowLeft"):
        for _ in range(8):
            keys.press(way)
        keys.press("Enter")
    page.get_by_role("button", name="Close the outline").press("Enter")
    assert pen.lengths() == ["4'"] * 4
    page.locator("[data-key=wall-0]").press("Enter")
    keys.type("5' 1/4\"")
    keys.press("Enter")
    page.locator("[data-key=corner-2]").press("Shift+ArrowUp")
    assert pen.lengths() == ["5' 1/4\"", "4' 0 1/2\"", "5' 0 1/4\"", "4' 0 1/2\""]
    page.get_by_role("button", name="Place it").press("Enter")
    keys.press("Enter")
    page.locator("[data-key=hole-0]").press("Delete")
    pen.says("The obstacle is taken out.")


def test_form_and_sketch_follow_each_other(
    page: Page, live_server: Any, job: Job, shoot: Shoot
) -> None:
    open_sketch(page, live_server.url, job, make_room(job, size=(150, 120)))
    hand = Sketcher(page=page, fingers=False)
    page.locator("[name=wall-0-length]").fill("twelve")
    page.locator("[name=wall-0-length]").blur()
    hand.says("Wall 1: \u201ctwelve\u201d is no length; accepted:")
    page.locator("[name=wall-0-length]").fill("12' 6\"")
    page.locator("[name=wall-0-length]").blur()
    hand.says("The walls are read from the form.")
    hand.tap(*hand.middle("wall-2"))
    page.get_by_role("button", name="Add an alcove").click()
    assert len(hand.lengths()) == 8
    assert hand.lengths()[-1] == "120"
    expect(page.locator("label[for=id_wall-7-length]")).to_contain_text("Wall 8")
    page.emulate_media(color_scheme="dark")
    assert axe_faults(page) == []
    shoot(page, "sketch-dark")


def test_without_script_the_form_alone_measures_and_no_sketch_is_offered(
    browser: Browser, live_server: Any, job: Job
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    sign_in(page, live_server.url, job)
    page.goto(f"{live_server.url}/jobs/{job.pk}/rooms/add")
    expect(page.locator("[name=wall-0-length]")).to_be_visible()
    expect(page.locator("#sketch")).to_be_hidden()
    context.close()
