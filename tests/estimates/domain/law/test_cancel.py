"""The right to cancel a sale at home: 16 CFR part 429."""

from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.law.cancel import (
    cancel_by,
    cancel_right,
    carries_cancel_right,
    signed_later,
    starts_before,
)
from estimates.domain.quotes.content import Letterhead

FLOORS = Letterhead(
    name="Example Floors",
    address=("18 Example Road", "Example Town, PA 00000"),
    phone="555-0100",
    email="office@example.com",
    license="DEMO-0420",
    registration="",
    insurance="",
    logo_sha256="",
)

# Worked by hand on a calendar, 16 CFR 429.0(f): every day counts but Sundays and federal holidays,
# Saturday counts. Beside each the three days that were counted.
WORKED_WEEKS = [
    ("2026-11-30", "2026-12-03"),  # Mon: Tue, Wed, Thu
    ("2026-11-25", "2026-11-30"),  # Wed before Thanksgiving: Fri, Sat, Mon
    ("2026-12-23", "2026-12-28"),  # Wed: Thu, (Christmas), Sat, (Sun), Mon
    ("2026-12-31", "2027-01-05"),  # Thu: (New Year's), Sat, (Sun), Mon, Tue
    ("2027-01-15", "2027-01-20"),  # Fri: Sat, (Sun), (King's birthday), Tue, Wed
    ("2027-02-12", "2027-02-17"),  # Fri: Sat, (Sun), (Washington's birthday), Tue, Wed
    ("2026-05-22", "2026-05-27"),  # Fri: Sat, (Sun), (Memorial Day), Tue, Wed
    ("2026-06-18", "2026-06-23"),  # Thu: (Juneteenth), Sat, (Sun), Mon, Tue
    ("2026-07-01", "2026-07-07"),  # Wed: Thu, (kept Fri), (July 4), (Sun), Mon, Tue
    ("2026-09-04", "2026-09-09"),  # Fri: Sat, (Sun), (Labor Day), Tue, Wed
    ("2026-10-10", "2026-10-15"),  # Sat: (Sun), (Columbus Day), Tue, Wed, Thu
    ("2026-11-10", "2026-11-14"),  # Tue: (Veterans Day), Thu, Fri, Sat
    ("2026-03-08", "2026-03-11"),  # a Sunday: Mon, Tue, Wed
    ("2027-12-29", "2028-01-04"),  # Wed: Thu, (kept Fri), (New Year's), (Sun), Mon, Tue
]


@pytest.mark.parametrize(("signed", "until"), WORKED_WEEKS)
def test_the_last_day_is_the_third_business_day_after(signed: str, until: str) -> None:
    assert cancel_by(date.fromisoformat(signed)) == date.fromisoformat(until)


def test_the_right_begins_at_the_prices_of_the_rule() -> None:
    # 16 CFR 429.0(a): $25 at the buyer's home, $130 elsewhere.
    assert carries_cancel_right(Decimal("25.00"))
    assert not carries_cancel_right(Decimal("24.99"))
    assert carries_cancel_right(Decimal(130), sold_where="away")
    assert not carries_cancel_right(Decimal("129.99"), sold_where="away")


def test_the_right_is_filled_in_for_the_day_of_issue_and_moves_with_the_signature() -> None:
    right = cancel_right(FLOORS, agreement="Quote 4-1", signed_on=date(2026, 11, 30))
    assert (right.seller, right.cancel_by) == ("Example Floors", date(2026, 12, 3))
    later = signed_later(right, date(2026, 12, 5))
    assert (later.signed_on, later.cancel_by) == (date(2026, 12, 5), date(2026, 12, 9))
    assert later.agreement == "Quote 4-1"


def test_the_sentence_is_the_one_prescribed() -> None:
    # 16 CFR 429.1(a), as published copies of the rule give it.
    right = cancel_right(FLOORS, agreement="Quote 4-1", signed_on=date(2026, 11, 30))
    assert right.sentence == (
        "You, the buyer, may cancel this transaction at any time prior to midnight of the third "
        "business day after the date of this transaction. See the attached notice of cancellation "
        "form for an explanation of this right."
    )


def test_work_before_the_right_ends_is_flagged() -> None:
    said = starts_before(date(2026, 12, 3), date(2026, 12, 3))
    assert "begin on Thursday, December 3, 2026" in said
    assert "Begin on Friday, December 4, 2026 or later" in said
    assert starts_before(date(2026, 12, 3), date(2026, 12, 4)) == ""
