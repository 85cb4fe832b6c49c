"""A product by hand: the first one of an empty company, counted; then its steps, one by one."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from decimal import Decimal

import pytest
from playwright.sync_api import Page, expect

from jobs.models import Product, User
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.builders import make_job, make_product, make_room
from tests.conftest import DESK, PHONE
from tests.estimates.a_job import company_of

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

MOST_FIELDS = 8
log = logging.getLogger(__name__)


@dataclass(kw_only=True)
class Handwork:
    """What a person did: fields filled, clicks, keys."""

    fields: int = 0
    clicks: int = 0
    keys: int = 0


def keyed(page: Page, done: Handwork, **texts: str) -> None:
    """Type texts into fields by their names, key by key."""
    for name, text in texts.items():
        page.locator(f"[name={name}]").press_sequentially(text)
        done.fields += 1
        done.keys += len(text)


def chosen(page: Page, done: Handwork, **labels: str) -> None:
    """Choose from lists by the words shown: a click to open, a click on the word."""
    for name, label in labels.items():
        page.locator(f"select[name={name}]").select_option(label=label)
        done.fields += 1
        done.clicks += 2


def test_the_first_product_of_an_empty_company_plans_after_eight_fields(
    hands: Hands, owner: User, capsys: pytest.CaptureFixture[str]
) -> None:
    job = make_job(company_of(owner))
    room = make_room(job, size=(144, 120))
    done, page = Handwork(), hands.page
    hands.open(f"/jobs/{job.pk}/floor")
    hands.press("Add a product")
    look_at(hands, "80-product-new")
    keyed(page, done, name="Slate Oak", length="48", width="7.05", thickness="1/4")
    keyed(page, done, per_carton="10", carton_weight="32")
    chosen(page, done, core="Rigid vinyl core", attached_pad="Yes")
    hands.press("Save the product")
    hands.expect("Rooms without a floor")
    hands.press(f"Make {room.name} a floor")
    hands.expect('7.05 in × 48"')
    hands.press("Plan the floor")
    hands.expect("Planning the floor")
    carry_out_waiting()
    hands.expect("In the plan")
    done.clicks += hands.clicks
    with capsys.disabled():
        log.warning("First product planned: %s", done)
    assert 0 < done.fields <= MOST_FIELDS
    assert Product.objects.get().width_mm == Decimal("179.07")


def test_a_product_shows_what_follows_and_every_step(hands: Hands, owner: User) -> None:
    """Ten planks of 7 by 48 in cover 23.33 ft²; 32 lb over that is 137 lb for 100 ft²."""
    hands.open("/products/add")
    hands.fill(name="Slate Oak", length="48", width="7", thickness="1/4", per_carton="10")
    hands.fill(carton_weight="32 lb", covers="23.3")
    hands.choose(core="Rigid vinyl core", attached_pad="Yes")
    hands.press("Save the product")
    for line in ("23.33 ft²", "3 planks", "137 lb", "The long side in, slid to the end"):
        hands.expect(line.replace(" ft²", "\u00a0ft²").replace(" lb", "\u00a0lb"))
    look_at(hands, "81-product")


def test_a_refused_carton_keeps_what_was_typed(hands: Hands) -> None:
    hands.open("/products/add")
    hands.fill(name="<b>Slate</b>", length="48", width="7,05", thickness="1/4", per_carton="10")
    hands.fill(covers="0")
    hands.choose(core="Rigid vinyl core", attached_pad="Yes")
    hands.press("Save the product")
    hands.expect('“7,05” is no length; accepted: 7", 7 1/16, 7.05 (inches, with a point)')
    hands.expect("“0” can't be used; accepted: a number from 0.01 to 2000.")
    expect(hands.page.locator("[name=name]")).to_have_value("<b>Slate</b>")
    look_at(hands, "82-product-refused")


def test_the_steps_of_the_makers_sheet_are_saved_one_by_one(hands: Hands, owner: User) -> None:
    product = make_product(company_of(owner), name="Slate Oak")
    hands.open(f"/products/{product.pk}")
    hands.press("How it joins")
    hands.fill(tilt_deg="25", page="2")
    hands.choose(tapping="With a tapping block only", comes_from="Maker's sheet")
    look_at(hands, "83-step-joining")
    hands.press("Save the step")
    hands.press("Rules of laying")
    hands.page.get_by_text("A single rule comes from elsewhere").click()
    hands.choose(comes_from="Maker's sheet", from_min_row_mm="Our default, common practice")
    look_at(hands, "84-step-laying")
    hands.press("Save the step")
    hands.press("Where it may lie")
    hands.page.get_by_label("Concrete slab").check()
    look_at(hands, "85-step-place")
    hands.press("Save the step")
    hands.press("Mixed widths and shades")
    hands.fill(width_2="5.05", count_2="3")
    look_at(hands, "86-step-mix")
    hands.press("Save the step")
    hands.expect("1 is ours †")
    hands.expect("page 2")
    hands.expect('Widths 7", 5.05\u00a0in')
    look_at(hands, "87-product-steps")


def test_a_carton_is_typed_by_the_keyboard_alone_and_seen_under_the_drawing(
    hands: Hands, owner: User
) -> None:
    page = hands.page
    for width in (PHONE, DESK):
        page.set_viewport_size({"width": width, "height": 844})
        hands.open("/products/add")
        page.locator("[name=name]").focus()
        for text in (f"Oak {width}", "R", "48", "7", "1/4", "10", "32", "N"):
            page.keyboard.type(text)
            shown = page.evaluate(
                "() => { const at = document.activeElement.getBoundingClientRect();"
                " const over = document.elementFromPoint(at.x + at.width / 2, at.y + 20);"
                " return over === document.activeElement }"
            )
            assert shown, f"{text} is covered at {width}"
            page.keyboard.press("Tab")
        page.locator("[name=per_carton]").press("Enter")
        hands.expect("The product is in the book.")
    assert Product.objects.count() == 2
