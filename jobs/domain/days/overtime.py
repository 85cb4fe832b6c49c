"""Hours of a week that count one and a half: what an hour then costs on the average. Pure."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.checks import ONE, ZERO
from jobs.domain.figures import percent

WEEK_HOURS = Decimal(40)
MORE = Decimal("0.5")
DAYS_A_WEEK = 5
SOURCE = "29 U.S.C. 207(a)(1)"
"""Over 40 h in a week an hour is paid one and a half times."""


def dearer(hours_a_week: Decimal) -> Decimal:
    """Return by what part an hour of such a week costs more on the average; 0 up to 40."""
    over = max(ZERO, hours_a_week - WEEK_HOURS)
    return over * MORE / hours_a_week if over else ZERO


def overtime_sentences(hours_a_day: Decimal) -> tuple[str, ...]:
    """Return what a week of such days costs beyond its hours; nothing up to 40 h."""
    week = hours_a_day * DAYS_A_WEEK
    part = dearer(week)
    if not part:
        return ()
    over = (week - WEEK_HOURS).normalize()
    said = (
        f"{DAYS_A_WEEK} such days are {week.normalize():f} h a week, {over:f} h more than 40: they "
        f"are paid {ONE + MORE} times, so that an hour costs {percent(part)} more on the average "
        f"({SOURCE}). No price adds it: raise the labor rate, or shorten the day."
    )
    return (said,)
