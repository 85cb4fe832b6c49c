"""Deposits worked by hand: the lowest of percent, the company's cap and the state's."""

from decimal import Decimal
from typing import Any

import pytest

from estimates.domain.law.deposit import STATE_CAPS, Deposit, deposit_for
from jobs.domain.checks import BadValueError


def deposit(total: str, percent: int, **more: Any) -> Deposit:
    """Return the deposit of a price at so many percent."""
    return deposit_for(total=Decimal(total), percent_of_total=Decimal(percent), **more)


# By hand; the laws are named in STATE_CAPS.
BY_HAND = [
    # California, the lesser of $1,000 and 10 %: 465.533, down to the cent; 30 % would be 1,396.59.
    ("4655.33", 30, {"state": "CA"}, "465.53", "state"),
    # California: 10 % would be 1,200.
    ("12000", 10, {"state": "CA"}, "1000.00", "state"),
    # Pennsylvania over $5,000: a third of 9,000 is 3,000, and 1,200 of special orders.
    (
        "9000",
        50,
        {"state": "PA", "special_order": Decimal(1200), "adds_special_order": True},
        "4200.00",
        "state",
    ),
    # Pennsylvania up to $5,000: no cap by this law.
    ("4999", 50, {"state": "PA"}, "2499.50", ""),
    ("5000", 50, {"state": "PA"}, "2500.00", ""),
    ("5000.01", 50, {"state": "PA"}, "1666.67", "state"),
    # Maryland: a third of 4,655.33 is 1,551.77666; special orders don't raise it.
    ("4655.33", 50, {"state": "MD", "special_order": Decimal(800)}, "1551.77", "state"),
    # Massachusetts: the greater of a third, 1,500, and the special orders, 1,800.
    ("4500", 50, {"state": "MA", "special_order": Decimal(1800)}, "1800.00", "state"),
    ("4500", 50, {"state": "MA", "special_order": Decimal(900)}, "1500.00", "state"),
    # Maine: a third.
    ("3000", 34, {"state": "ME"}, "1000.00", "state"),
    # The company's own cap, no state: 30 % would be 1,800.
    ("6000", 30, {"cap": Decimal(500)}, "500.00", "company"),
    # The company's own: 10 % and what is ordered for this house, 400 + 300.
    ("4000", 10, {"special_order": Decimal(300), "adds_special_order": True}, "700.00", ""),
    # Special orders that the company doesn't ask for beforehand change nothing.
    ("4000", 10, {"special_order": Decimal(300)}, "400.00", ""),
    # Never more than the price.
    ("100", 90, {"special_order": Decimal(300), "adds_special_order": True}, "100.00", ""),
    # A cap above the percent changes nothing.
    ("4000", 10, {"cap": Decimal(500), "state": "tx"}, "400.00", ""),
]


@pytest.mark.parametrize(("total", "percent", "more", "amount", "capped_by"), BY_HAND)
def test_a_deposit_worked_by_hand(
    total: str, percent: int, more: dict[str, Any], amount: str, capped_by: str
) -> None:
    made = deposit(total, percent, **more)
    assert (str(made.amount), made.capped_by) == (amount, capped_by)


def test_a_deposit_never_stands_above_the_cap_by_a_rounding() -> None:
    # A tenth of 4,655.36 is 465.536: half up would be 465.54, above the cap.
    assert deposit("4655.36", 10, state="CA").amount == Decimal("465.53")


def test_an_empty_state_and_an_unknown_one_say_check_your_state() -> None:
    assert deposit("4000", 10).advice.startswith("Check your state")
    assert "no cap on deposits in TX" in deposit("4000", 10, state="tx").advice
    assert deposit("4000", 10, state="TX").source == ""


@pytest.mark.parametrize("state", STATE_CAPS)
def test_a_known_state_says_its_law_and_when_it_was_read(state: str) -> None:
    made = deposit("9000", 10, state=state)
    assert made.source == f"{STATE_CAPS[state].source}, read in November 2026"
    assert "Laws change" in made.advice


def test_the_words_say_what_the_deposit_is_made_of() -> None:
    assert deposit("4000", 10).words == "10% of the price."
    capped = deposit("12000", 10, state="CA", cap=Decimal(1100))
    assert capped.words == (
        "10% of the price, no more than $1,100.00, but no more than California allows."
    )
    special = deposit("4000", 10, special_order=Decimal(300), adds_special_order=True)
    assert special.words.endswith("and $300.00 for what is ordered for this house alone.")
    assert deposit("4000", 0).words == "Nothing is paid before the work."


def test_a_percent_beyond_the_price_is_refused() -> None:
    with pytest.raises(BadValueError, match="percent of the total is 101"):
        deposit("4000", 101)
