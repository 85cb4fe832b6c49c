"""Where a quote stands: every state once, and what ended it before how far it came."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import product

import pytest

from estimates.domain.quotes.states import OPEN, QuoteFacts, quote_state

LAST = date(2027, 3, 31)


@pytest.mark.parametrize(
    ("happened", "day", "state"),
    [
        ({}, LAST, "issued"),
        ({"sent": True}, LAST, "sent"),
        ({"sent": True, "seen": True}, LAST, "seen"),
        # Handed over as paper, then opened by its link: seen without having been sent by us.
        ({"seen": True}, LAST, "seen"),
        ({"sent": True, "seen": True}, LAST + timedelta(days=1), "expired"),
        ({"newer": True}, LAST + timedelta(days=1), "superseded"),
        ({"declined": True, "newer": True}, LAST, "declined"),
        ({"withdrawn": True, "declined": True}, LAST, "withdrawn"),
        ({"accepted": True, "seen": True}, LAST + timedelta(days=400), "accepted"),
    ],
)
def test_a_quote_stands_at_one_state(happened: dict[str, bool], day: date, state: str) -> None:
    assert quote_state(QuoteFacts(valid_until=LAST, **happened), day) == state


def test_what_is_not_issued_is_a_draft() -> None:
    assert quote_state(QuoteFacts(valid_until=None), LAST) == "draft"


def test_a_quote_is_open_exactly_while_nothing_ended_it() -> None:
    names = ("sent", "seen", "accepted", "declined", "withdrawn", "newer")
    for values in product([False, True], repeat=6):
        facts = QuoteFacts(valid_until=LAST, **dict(zip(names, values, strict=True)))
        assert (quote_state(facts, LAST) in OPEN) == (not any(values[2:]))
        assert quote_state(facts, LAST + timedelta(days=1)) not in OPEN
