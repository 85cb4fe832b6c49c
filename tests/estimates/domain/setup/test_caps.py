"""What the set-up says of deposits, against figures reckoned by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.law.deposit import STATE_CAPS
from estimates.domain.setup.caps import DepositRule, cap_rows, cap_words, examples


def thirty(state: str, limit: Decimal | None = None) -> DepositRule:
    """The rule of a company that asks for 30 %."""
    percent = Decimal(30)
    return DepositRule(percent_of_total=percent, cap=limit, state=state, currency="USD")


@pytest.mark.parametrize(
    ("state", "cap", "small", "large"),
    [
        ("", None, "$1,200.00.", "$3,600.00."),
        ("", "2000", "$1,200.00.", "$2,000.00, your own limit."),
        ("CA", None, "$400.00, as the state caps it.", "$1,000.00, as the state caps it."),
        ("CA", "300", "$300.00, your own limit.", "$300.00, your own limit."),
        ("PA", None, "$1,200.00.", "$3,600.00."),
    ],
)
def test_thirty_percent_of_4000_and_of_12000(
    state: str, cap: str | None, small: str, large: str
) -> None:
    limit = Decimal(cap) if cap else None
    lines = examples(thirty(state, limit))
    assert lines[0] == f"Of $4,000.00 the deposit is {small}"
    assert lines[1] == f"Of $12,000.00 the deposit is {large}"


def test_the_last_line_is_the_states_word_or_says_to_check() -> None:
    words = {state: examples(thirty(state))[-1] for state in ("", "OH", "CA")}
    assert words[""].startswith("Check your state")
    assert "no cap on deposits in OH" in words["OH"]
    assert words["CA"].startswith("Cal. Bus. & Prof. Code 7159.5")


def test_caps_are_said_in_words_with_source_and_day() -> None:
    rows = {row.state: row for row in cap_rows()}
    assert list(rows) == sorted(cap.name for cap in STATE_CAPS.values())
    assert rows["California"].words == "10% of the price, at most $1,000.00"
    assert rows["Maine"].words == "One third of the price"
    assert all(row.source and row.read for row in rows.values())
    assert cap_words(STATE_CAPS["PA"]) == (
        "One third of the price, and special orders; for prices above $5,000.00"
    )
    assert cap_words(STATE_CAPS["MA"]).endswith("or special orders where they are more")
