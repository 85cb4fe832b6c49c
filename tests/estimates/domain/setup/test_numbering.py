"""What a quote is called on paper."""

from __future__ import annotations

from datetime import date

import pytest

from estimates.domain.setup.numbering import Numbering, quote_number

LAST_DAY, FIRST_DAY = date(2026, 12, 31), date(2027, 1, 1)


@pytest.mark.parametrize(
    ("numbering", "job", "quote", "day", "name"),
    [
        ("job", 4, 1, LAST_DAY, "4-1"),
        ("job", 4, 2, FIRST_DAY, "4-2"),
        ("year", 4, 1, LAST_DAY, "2026-004"),
        ("year", 4, 2, FIRST_DAY, "2027-004-2"),
        ("year", 1204, 1, LAST_DAY, "2026-1204"),
    ],
)
def test_a_quote_bears_the_numbers_it_was_made_of(
    numbering: Numbering, job: int, quote: int, day: date, name: str
) -> None:
    assert quote_number(numbering, job_number=job, number=quote, issued_on=day) == name


@pytest.mark.parametrize("numbering", ["job", "year"])
def test_no_two_quotes_of_a_company_bear_the_same_number(numbering: Numbering) -> None:
    names = [
        quote_number(numbering, job_number=job, number=quote, issued_on=LAST_DAY)
        for job in range(1, 1200)
        for quote in range(1, 4)
    ]
    assert len(names) == len(set(names))
