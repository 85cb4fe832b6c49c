"""What a quote can't go out without, and what most carry."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimates.domain.quotes.content import Letterhead
from estimates.domain.setup.missing import advised, lacking

WHOLE = Letterhead(
    name="Fernwood Floors",
    address=("18 Mill Race Road",),
    phone="555-0100",
    email="office@example.com",
    license="HG-0420",
    registration="R-77",
    insurance="Harrow Mutual",
    logo_sha256="0" * 64,
)


def test_a_whole_letterhead_lacks_nothing() -> None:
    assert lacking(WHOLE) == ()
    assert advised(WHOLE, state="PA") == ()


@pytest.mark.parametrize(
    ("gaps", "fields"),
    [
        ({"address": ()}, ["contact-address"]),
        ({"phone": ""}, []),
        ({"email": ""}, []),
        ({"phone": "", "email": ""}, ["contact-phone"]),
        ({"name": "", "address": (), "phone": "", "email": ""}, None),
        ({"license": "", "registration": "", "insurance": "", "logo_sha256": ""}, []),
    ],
)
def test_only_who_where_and_how_to_answer_hold_a_quote_back(
    gaps: dict[str, Any], fields: list[str] | None
) -> None:
    lacks = [missing.field for missing in lacking(replace(WHOLE, **gaps))]
    assert lacks == (
        ["contact-name", "contact-address", "contact-phone"] if fields is None else fields
    )


def test_one_number_of_license_or_registration_is_enough() -> None:
    assert advised(replace(WHOLE, license=""), state="PA") == ()
    assert advised(replace(WHOLE, registration=""), state="PA") == ()
    bare = replace(WHOLE, license="", registration="")
    assert [missing.field for missing in advised(bare, state="")] == [
        "law-state",
        "license-license",
    ]


def test_each_says_where_it_is_typed() -> None:
    missing = lacking(replace(WHOLE, address=()))[0]
    assert (missing.url_name, missing.part) == ("company-setup", "contact")
