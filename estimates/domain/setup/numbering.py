"""How a quote is numbered. Pure: the same quote has the same number for ever."""

from __future__ import annotations

from datetime import date
from typing import Literal

Numbering = Literal["job", "year"]
"""By job and quote, "4-1"; or by the year and the job, "2026-004", a further quote "2026-004-2"."""

_DIGITS = 3


def quote_number(numbering: Numbering, *, job_number: int, number: int, issued_on: date) -> str:
    """Return what a quote is called on paper: quote ``number`` of the job ``job_number``."""
    if numbering == "job":
        return f"{job_number}-{number}"
    of_the_year = f"{issued_on.year}-{job_number:0{_DIGITS}d}"
    return of_the_year if number == 1 else f"{of_the_year}-{number}"
