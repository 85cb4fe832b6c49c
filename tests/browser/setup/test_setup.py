"""A blank company set up by hands that type and click as a person does; keys and clicks counted."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import expect

from estimates.models import PriceTerms, SalesTerms, StateNotice
from estimates.readers.setup.sales import letterhead_of, missing_for_sending
from jobs.models import Company, User
from tests.axe import axe_faults
from tests.browser.hands import Hands, look_at
from tests.browser.typist import Typist
from tests.builders import make_company, make_person

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def owner() -> User:
    """The owner of a company of which only the name is known."""
    company = make_company("Fernwood Floors", address="", phone="")
    return make_person(company, name="Mara Quill")


@pytest.fixture
def typist(hands: Hands) -> Typist:
    """The owner's hands on an empty Home."""
    hands.open("/")
    return Typist(hands=hands)


def company() -> Company:
    return Company.objects.get()


def fill_contact(typist: Typist) -> None:
    typist.types("contact-address", "18 Mill Race Road\nHarrow Glen, PA 19000")
    typist.types("contact-phone", "555-0100")
    typist.types("contact-email", "office@example.com")
    typist.presses("Save name and address")
    expect(typist.page.locator("#license")).to_have_attribute("open", "")


def test_what_a_quote_waits_for_is_typed_in_three_fields(typist: Typist) -> None:
    typist.hands.press("Set up the company")
    typist.clicks += 1
    look_at(typist.hands, "setup-blank")
    assert len(missing_for_sending(company())) == 2
    fill_contact(typist)
    assert missing_for_sending(company()) == ()
    typist.hands.expect("A quote can be sent")
    tell(typist, "what a quote waits for")
    assert typist.fields == 3


def test_the_whole_set_up_is_done_in_the_order_of_need(typist: Typist, tmp_path: Path) -> None:
    typist.hands.press("Set up the company")
    typist.clicks += 1
    fill_contact(typist)
    fill_the_rest(typist, a_logo(tmp_path))
    look_at(typist.hands, "setup-whole")
    head = letterhead_of(company())
    assert (head.license, head.registration) == ("HG-0420", "PA000000")
    assert head.logo_sha256
    terms = SalesTerms.objects.get()
    assert (terms.state, str(terms.deposit_dollars), terms.warranty_months) == ("PA", "2000.00", 24)
    assert (PriceTerms.objects.get().valid_days, terms.cancel_right) == (30, True)
    assert StateNotice.objects.get().title == "Registration"
    typist.hands.expect("Nothing is missing.")
    tell(typist, "the whole set-up")
    assert typist.seconds < 6 * 60


def a_logo(folder: Path) -> Path:
    picture = folder / "ours.png"
    Image.new("RGB", (300, 120), "#1D4F91").save(picture)
    return picture


def fill_the_rest(typist: Typist, picture: Path) -> None:
    """Every part behind the first; what stands there already and fits is left."""
    typist.types("license-license", "HG-0420")
    typist.types("license-registration", "PA000000")
    typist.types("license-insurance", "Harrow Mutual, policy 77-0193")
    typist.presses("Save license and insurance")
    typist.page.locator("[name=logo-logo]").set_input_files(picture)
    typist.clicks += 3  # the field, the file, its button
    typist.presses("Save the logo")
    typist.picks("law-state", "Pennsylvania")
    typist.presses("Save state and law")
    typist.types("payment-deposit_dollars", "2000")
    typist.types("payment-payment_ways", "Check or card.")
    typist.hands.see("setup-payment")
    typist.presses("Save payment")
    typist.types("terms-warranty_months", "24")
    typist.types("terms-warranty_words", "Seams that open are put right without charge.")
    typist.hands.see("setup-terms")
    typist.presses("Save terms and warranty")
    typist.presses("Save numbers")
    typist.types("notices-title", "Registration")
    typist.types("notices-text", "Our registration can be checked with the state.")
    typist.presses("Add the notice")
    expect(typist.page.get_by_role("link", name="Change Registration")).to_be_visible()


def tell(typist: Typist, what: str) -> None:
    print(f"\n{typist.summary(what)}")  # noqa: T201


def test_by_keys_alone_a_part_opens_is_typed_and_saved(typist: Typist, owner: User) -> None:
    page = typist.page
    typist.hands.open("/company/setup?open=license#license")
    page.locator("#numbers > summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#numbers")).to_have_attribute("open", "")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.type("214")
    page.keyboard.press("Enter")
    typist.hands.expect("Saved: numbers.")
    assert company().next_job_number == 214


def test_a_refused_logo_is_said_beside_it_on_a_phone(typist: Typist, tmp_path: Path) -> None:
    page, picture = typist.page, tmp_path / "big.png"
    picture.write_bytes(bytes(40 * 2**20))
    page.set_viewport_size({"width": 390, "height": 844})
    typist.hands.open("/company/setup?open=logo#logo")
    page.locator("[name=logo-logo]").set_input_files(picture)
    typist.presses("Save the logo")
    typist.hands.expect("“40 MB” can't be a logo; accepted: up to 8 MB.")
    typist.hands.see("setup-refused")
    assert axe_faults(page) == []
    assert company().logo_id is None


def test_a_name_of_200_letters_is_refused_and_stays(typist: Typist) -> None:
    typist.hands.open("/company/setup")
    name = typist.page.locator("[name=contact-name]")
    name.evaluate("field => field.removeAttribute('maxlength')")
    name.fill("Floor" * 40)
    typist.presses("Save name and address")
    typist.hands.expect("200 characters are too many; accepted: up to 120.")
    expect(name).to_have_value("Floor" * 40)
    assert company().name == "Fernwood Floors"


def test_long_words_do_not_break_the_page(typist: Typist) -> None:
    Company.objects.update(name="W" * 120, address="A" * 400, phone="5" * 40, license="L" * 80)
    StateNotice.objects.create(company=company(), title="T" * 120, text="x" * 3000, place=1)
    typist.hands.open("/company/setup?open=notices")
    typist.hands.see("setup-long")
