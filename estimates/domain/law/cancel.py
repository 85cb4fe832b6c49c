"""The right to cancel a sale made at home: whether, until when, and the sentence prescribed.

Source: 16 CFR part 429, the rule on a cooling-off period for sales at homes. The notice that goes
with it, twice, stands in `templates/estimates/quotes/law/_cancel_notice.html`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.law.holidays import is_business_day
from estimates.domain.quotes.content import CancelRight, Letterhead

SOURCE = "16 CFR 429.1(a) and (b)"

SENTENCE = (
    "You, the buyer, may cancel this transaction at any time prior to midnight of the third "
    "business day after the date of this transaction. See the attached notice of cancellation form "
    "for an explanation of this right."
)
"""Word for word as 16 CFR 429.1(a) has it; to stand in bold of 10 points beside the signature."""

LEAST_AT_HOME = Decimal(25)
LEAST_ELSEWHERE = Decimal(130)
"""The prices from which a sale carries the right. 16 CFR 429.0(a), 80 FR 1329 (2015)."""
DAYS_TO_CANCEL = 3


LEAST_BY_PLACE = {"home": LEAST_AT_HOME, "away": LEAST_ELSEWHERE}
"""The places of a sale that carries the right. The others carry none: the seller's own shop after
talking it over there, wholly by phone, mail or online, an emergency waived by hand, a repair that
was called for. 16 CFR 429.0(a)."""


def carries_cancel_right(total: Decimal, *, sold_where: str = "home") -> bool:
    """Whether a sale of this price, agreed there, carries the right."""
    least = LEAST_BY_PLACE.get(sold_where)
    return least is not None and total >= least


def cancel_by(signed_on: date) -> date:
    """Return the day at whose midnight the right ends: the third business day after."""
    day, left = signed_on, DAYS_TO_CANCEL
    while left:
        day += timedelta(days=1)
        left -= is_business_day(day)
    return day


def cancel_right(letterhead: Letterhead, *, agreement: str, signed_on: date) -> CancelRight:
    """Return the right as it is filled in for a signature on this day.

    `agreement` says what is signed, such as "Quote 4-1, bedroom and hall, 230 Example Bend".
    """
    return CancelRight(
        sentence=SENTENCE,
        agreement=agreement,
        seller=letterhead.name,
        address=letterhead.address,
        signed_on=signed_on,
        cancel_by=cancel_by(signed_on),
        source=SOURCE,
    )


def signed_later(right: CancelRight, signed_on: date) -> CancelRight:
    """Return the right with the dates of the day that it was really signed on."""
    return replace(right, signed_on=signed_on, cancel_by=cancel_by(signed_on))


def starts_before(last_day: date, first_day: date) -> str:
    """Return a sentence where work would begin while the sale may still be canceled; else nothing.

    On the last day itself the right still holds: it ends at midnight.
    """
    if first_day > last_day:
        return ""
    return (
        f"Work would begin on {day_in_words(first_day)}, while the sale may still be canceled "
        f"until midnight of {day_in_words(last_day)}: what is done before then may have to be paid "
        f"back. Begin on {day_in_words(last_day + timedelta(days=1))} or later."
    )


def day_in_words(day: date) -> str:
    """Return a day as it is written in the notice: Thursday, December 3, 2026."""
    return f"{day:%A, %B} {day.day}, {day.year}"
