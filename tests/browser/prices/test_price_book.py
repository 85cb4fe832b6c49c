"""The price book by hand: a row by the keyboard, on a phone, stale; a long list of prices sent."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Iterator
from decimal import Decimal

import pytest
from django.db import connection
from playwright.sync_api import FilePayload, expect

from estimates.models import PriceItem
from jobs.clock import today_of
from jobs.models import Errand, User
from jobs.worker.worker import carry_out_waiting, record_beat
from tests.browser.hands import Hands, look_at
from tests.builders import make_product
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices
from tests.estimates.services.test_price_import import many_rows

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

log = logging.getLogger(__name__)


@pytest.fixture
def pad(owner: User) -> PriceItem:
    """Pad at 32.00 a roll since 2020, in a book with a price for everything, all seen today."""
    set_prices(company_of(owner))
    PriceItem.objects.update(last_seen=today_of(company_of(owner)))
    return PriceItem.objects.get(code="pad")


@pytest.fixture
def worker() -> Iterator[None]:
    """A worker that looks for errands as the real one does, until the test ends."""
    over = threading.Event()

    def work() -> None:
        while not over.wait(0.3):
            record_beat("tests")
            carry_out_waiting()
        connection.close()

    working = threading.Thread(target=work)
    working.start()
    yield
    over.set()
    working.join()


def test_a_row_is_saved_by_the_keyboard_where_it_stands(hands: Hands, pad: PriceItem) -> None:
    hands.open("/prices?group=Pads")
    hands.page.locator(f"[name=p{pad.pk}-amount]").focus()
    hands.page.keyboard.press("Control+a")
    hands.page.keyboard.type("0.35")
    hands.page.keyboard.press("Tab")
    hands.page.keyboard.type("ft")
    hands.page.keyboard.press("Tab")
    hands.page.keyboard.type("100")
    hands.page.keyboard.press("Enter")
    hands.expect("Saved: $0.35 a ft² from")
    hands.expect("$35.00 a roll")
    newest = PriceItem.objects.filter(code="pad").latest("effective_from")
    assert (newest.amount, newest.covers, newest.per) == (Decimal("0.35"), Decimal(100), "measure")


def test_a_refused_row_keeps_what_was_typed_and_the_others_stay(
    hands: Hands, pad: PriceItem
) -> None:
    hands.open("/prices?group=Trim")
    other = PriceItem.objects.get(code="base_stock")
    row = PriceItem.objects.get(code="shoe_stock")
    hands.page.locator(f"[name=p{other.pk}-amount]").fill("15.25")
    hands.page.locator(f"[name=p{row.pk}-amount]").fill("7,50")
    hands.page.locator(f"#p{row.pk}-form-save").click()
    hands.expect("accepted: a number such as 61.50")
    expect(hands.page.locator(f"[name=p{row.pk}-amount]")).to_have_value("7,50")
    expect(hands.page.locator(f"[name=p{other.pk}-amount]")).to_have_value("15.25")
    look_at(hands, "70-price-refused")


def test_a_stale_row_is_told_and_the_second_save_counts(hands: Hands, pad: PriceItem) -> None:
    hands.open("/prices?group=Pads")
    PriceItem.objects.filter(pk=pad.pk).update(amount=33, version=2)
    field = hands.page.locator(f"[name=p{pad.pk}-amount]")
    field.fill("36")
    field.press("Enter")
    hands.expect("Price is now $33.00 a roll")
    hands.settle()
    hands.page.locator(f"[name=p{pad.pk}-amount]").press("Enter")
    hands.expect("Saved: $36.00 a roll")


def test_on_a_phone_a_row_is_a_card_that_is_saved(hands: Hands, pad: PriceItem) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open("/prices?group=Pads")
    card = hands.page.locator(f"#price-{pad.pk}").bounding_box()
    assert card is not None
    assert card["width"] <= PHONE
    assert card["height"] < 420
    hands.page.locator(f"[name=p{pad.pk}-amount]").fill("35")
    hands.page.get_by_role("button", name="Save Pad").click()
    hands.expect("Saved: $35.00 a roll")
    hands.page.get_by_text("More").first.click()
    look_at(hands, "71-price-card")


def test_missing_prices_are_typed_in_one_list_and_saved_in_one_go(
    hands: Hands, owner: User
) -> None:
    make_product(company_of(owner), name="Oak 7 x 48")
    hands.open("/prices")
    look_at(hands, "72-prices-missing")
    hands.page.locator("[name=need0-amount]").fill("2.62")
    hands.page.locator("[name=need0-per]").select_option(label="ft²")
    hands.page.locator("[name=need1-amount]").fill("45")
    hands.press("Save the prices")
    hands.expect("2 prices are saved.")
    row = PriceItem.objects.get(code="cartons")
    assert (row.item, row.covers) == ("Oak 7 x 48", Decimal("23.33"))
    look_at(hands, "73-prices-some")


def test_five_thousand_prices_come_in_with_progress(
    hands: Hands, pad: PriceItem, worker: None
) -> None:
    hands.open("/prices/import")
    look_at(hands, "74-price-import")
    upload: FilePayload = {"name": "prices.csv", "mimeType": "text/csv", "buffer": many_rows()}
    hands.page.locator("[name=file]").set_input_files(files=[upload])
    began = time.monotonic()
    hands.press("Open the preview")
    hands.expect("The first 20 of 5000")
    looked = time.monotonic()
    hands.see("75-price-preview")
    pressed = time.monotonic()
    hands.press("Import 5000 prices")
    hands.expect("Importing the prices")
    hands.expect("5000 new, 0 changed, 0 as before")
    took = time.monotonic() - pressed
    log.info(
        "preview %.1f s, import %.1f s (aim 5 s), %d clicks", looked - began, took, hands.clicks
    )
    look_at(hands, "76-price-imported")
    assert Errand.objects.get().state == Errand.State.DONE


def test_a_file_with_faults_shows_them_by_row_and_column(hands: Hands, pad: PriceItem) -> None:
    text = "material,item,price,per\nplanks,,1,\npad,<b>Soft</b>,=1+2,\ncartons,Oak,2.62,ft2\n"
    upload: FilePayload = {"name": "faults.csv", "mimeType": "text/csv", "buffer": text.encode()}
    hands.open("/prices/import")
    hands.page.locator("[name=file]").set_input_files(files=[upload])
    hands.press("Open the preview")
    hands.expect("3 entries can't be read")
    look_at(hands, "77-price-faults")
