"""What quotes read of a company."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from PIL import Image

from estimates.models import SalesTerms, StateNotice
from estimates.readers.setup.sales import (
    advised_for_sending,
    letterhead_of,
    missing_for_sending,
    notices_of,
    number_of_quote,
)
from estimates.services.setup.logo import logo_png, set_logo
from tests.builders import make_company, make_person

pytestmark = pytest.mark.django_db


def test_a_new_company_lacks_address_and_a_way_to_answer() -> None:
    words = [missing.words for missing in missing_for_sending(make_company(address="", phone=""))]
    assert words == ["the company's address", "a phone number or an e-mail address"]


def test_a_letterhead_has_lines_without_blanks() -> None:
    company = make_company(address=" 18 Mill Race Road \r\n\r\nHarrow Glen, PA 19000\n")
    head = letterhead_of(company)
    assert head.address == ("18 Mill Race Road", "Harrow Glen, PA 19000")
    assert (head.name, head.registration, head.logo_sha256) == ("Fernwood Floors", "", "")


def test_a_letterhead_names_its_logo() -> None:
    company = make_company()
    out = BytesIO()
    Image.new("RGB", (9, 9), "navy").save(out, "PNG")
    png = logo_png(out, size=99, name="a.png")
    set_logo(company=company, user=make_person(company), key="1", expected=1, png=png)
    assert company.logo is not None
    assert letterhead_of(company).logo_sha256 == company.logo.sha256
    assert "a logo" not in [missing.words for missing in advised_for_sending(company)]


def test_notices_come_in_their_turn() -> None:
    company = make_company()
    for place, title in ((2, "Liens"), (1, "Mold")):
        StateNotice.objects.create(company=company, title=title, text="Read this.", place=place)
    assert [notice.title for notice in notices_of(company)] == ["Mold", "Liens"]


def test_a_quote_is_numbered_as_the_company_says() -> None:
    company = make_company()
    quote = {"job_number": 4, "number": 1, "issued_on": date(2026, 12, 1)}
    assert number_of_quote(company, **quote) == "4-1"  # type: ignore[arg-type]
    SalesTerms.objects.create(company=company, numbering="year")
    assert number_of_quote(company, **quote) == "2026-004"  # type: ignore[arg-type]
