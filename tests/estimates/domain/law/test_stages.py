"""Payment stages sum to the price, to the cent."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.law.stages import payment_stages
from estimates.domain.quotes.content import QuoteStage
from jobs.domain.checks import BadValueError


def said(stages: tuple[QuoteStage, ...]) -> list[tuple[str, str]]:
    """Return the stages as name and amount."""
    return [(stage.name, str(stage.amount)) for stage in stages]


def test_two_stages_by_hand() -> None:
    # 4,655.33 less 465.53.
    stages = payment_stages(total=Decimal("4655.33"), deposit=Decimal("465.53"))
    assert said(stages) == [("Deposit", "465.53"), ("Final payment", "4189.80")]


def test_three_stages_and_retainage_by_hand() -> None:
    # 5 % of 4,655.33 is 232.7665, held 232.77; 40 % is 1,862.132, progress 1,862.13;
    # 4,655.33 - 465.53 - 1,862.13 - 232.77 = 2,094.90.
    stages = payment_stages(
        total=Decimal("4655.33"),
        deposit=Decimal("465.53"),
        plan="deposit_progress_rest",
        progress_percent=Decimal(40),
        retainage=Decimal("0.05"),
    )
    assert said(stages) == [
        ("Deposit", "465.53"),
        ("Progress payment", "1862.13"),
        ("Final payment", "2094.90"),
        ("Retainage", "232.77"),
    ]


def test_progress_takes_no_more_than_is_left() -> None:
    stages = payment_stages(
        total=Decimal(100),
        deposit=Decimal(70),
        plan="deposit_progress_rest",
        progress_percent=Decimal(50),
    )
    assert said(stages) == [("Deposit", "70.00"), ("Progress payment", "30.00")]


def test_progress_stands_only_in_a_plan_that_has_it() -> None:
    stages = payment_stages(total=Decimal(100), deposit=Decimal(0), progress_percent=Decimal(50))
    assert said(stages) == [("Final payment", "100.00")]


def test_a_deposit_above_the_price_is_refused() -> None:
    with pytest.raises(BadValueError, match="deposit is 101"):
        payment_stages(total=Decimal(100), deposit=Decimal(101))


@given(
    total=st.decimals(min_value=0, max_value=99999, places=2),
    deposit=st.integers(min_value=0, max_value=100),
    progress=st.integers(min_value=0, max_value=100),
    retainage=st.decimals(min_value=0, max_value="0.99", places=2),
)
def test_stages_sum_to_the_price(
    total: Decimal, deposit: int, progress: int, retainage: Decimal
) -> None:
    paid = (total * deposit / 100).quantize(Decimal("0.01"), "ROUND_FLOOR")
    stages = payment_stages(
        total=total,
        deposit=paid,
        plan="deposit_progress_rest",
        progress_percent=Decimal(progress),
        retainage=retainage,
    )
    assert sum(stage.amount for stage in stages) == total
    assert all(stage.amount > 0 for stage in stages)
