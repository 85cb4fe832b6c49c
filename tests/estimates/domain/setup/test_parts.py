"""Parts of a payment, on both sides of the whole."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.setup.parts import plain, require_parts
from jobs.domain.checks import BadValueError


@pytest.mark.parametrize(("deposit", "progress"), [("30", "70"), ("0", "100"), ("100", "0")])
def test_parts_that_come_to_the_whole_are_taken(deposit: str, progress: str) -> None:
    require_parts(Decimal(deposit), Decimal(progress))


def test_parts_above_the_whole_are_refused_with_what_is_left() -> None:
    with pytest.raises(BadValueError, match=r"up to 69.99%, what a deposit of 30.01% leaves"):
        require_parts(Decimal("30.01"), Decimal("70.00"))


@pytest.mark.parametrize(("typed", "said"), [("30.00", "30"), ("100", "100"), ("0.50", "0.5")])
def test_numbers_are_said_as_people_write_them(typed: str, said: str) -> None:
    assert plain(Decimal(typed)) == said
