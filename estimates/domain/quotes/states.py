"""Where a quote stands: one word from what happened to it. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

QuoteState = Literal[
    "draft",
    "issued",
    "sent",
    "seen",
    "accepted",
    "declined",
    "expired",
    "superseded",
    "withdrawn",
]

OPEN: frozenset[QuoteState] = frozenset({"issued", "sent", "seen"})
"""The states in which a quote can be accepted or declined, and no others."""


@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteFacts:
    """What happened to a quote. ``valid_until`` None: it is a draft, nothing was issued.

    ``newer`` says that another quote of the job took its place: one that was issued later, or
    another that was accepted.
    """

    valid_until: date | None
    sent: bool = False
    seen: bool = False
    accepted: bool = False
    declined: bool = False
    withdrawn: bool = False
    newer: bool = False


def quote_state(facts: QuoteFacts, today: date) -> QuoteState:
    """Return where a quote stands today; what ended it counts before how far it came."""
    if facts.valid_until is None:
        return "draft"
    ended: tuple[tuple[bool, QuoteState], ...] = (
        (facts.accepted, "accepted"),
        (facts.withdrawn, "withdrawn"),
        (facts.declined, "declined"),
        (facts.newer, "superseded"),
        (today > facts.valid_until, "expired"),
        (facts.seen, "seen"),
        (facts.sent, "sent"),
    )
    return next((state for holds, state in ended if holds), "issued")
