"""What a company is told before it sends a quote."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.law.advice import NO_ADDRESS, advice_before_sending
from estimates.domain.law.cancel import cancel_right
from estimates.domain.law.deposit import deposit_for
from tests.estimates.domain.law.test_cancel import FLOORS
from tests.estimates.domain.law.test_lead import receipt

DEPOSIT = deposit_for(total=Decimal(4000), percent_of_total=Decimal(10), state="MD")
CANCEL = cancel_right(FLOORS, agreement="Quote 4-1", signed_on=date(2026, 11, 30))


def test_work_that_begins_while_the_sale_may_be_canceled_is_flagged() -> None:
    # Signed on Monday, November 30: until Thursday, December 3.
    said = advice_before_sending(
        deposit=DEPOSIT, cancel=CANCEL, lead=None, first_day=date(2026, 12, 1)
    )
    assert said[0].startswith("Md. Code")
    assert "Begin on Friday, December 4, 2026 or later." in said[1]


def test_a_later_day_and_a_sale_without_the_right_are_not_flagged() -> None:
    for cancel, day in ((CANCEL, date(2026, 12, 4)), (None, date(2026, 12, 1))):
        said = advice_before_sending(deposit=DEPOSIT, cancel=cancel, lead=None, first_day=day)
        assert said == (DEPOSIT.advice,)


def test_a_notice_without_an_address_is_flagged() -> None:
    said = advice_before_sending(deposit=DEPOSIT, cancel=replace(CANCEL, address=()), lead=None)
    assert NO_ADDRESS in said


def test_old_paint_is_flagged() -> None:
    said = advice_before_sending(deposit=DEPOSIT, cancel=None, lead=receipt(1950, "20", ""))
    assert "only a certified firm" in said[1]
