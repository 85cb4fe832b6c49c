"""When the hours of a person's day are asked about before they count."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

ASK_OVER = Decimal(12)
"""A day longer than this is asked about: a rule of this program, no law's."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Source:
    """Who said something, and on which phone; empty where a phone has no mark."""

    person: int
    phone: str = ""

    def differs_from(self, other: Source) -> bool:
        """Whether another phone speaks: another person's, or another mark of the same person."""
        if self.person != other.person:
            return True
        return bool(self.phone and other.phone and self.phone != other.phone)


def why_questioned(
    now: Decimal, before: Decimal, source: Source, sources_before: Iterable[Source]
) -> str:
    """Return why hours said now are asked about: "phones", "over", or "" where they count."""
    if not now:
        return ""
    if any(source.differs_from(other) for other in sources_before):
        return "phones"
    return "over" if before + now > ASK_OVER else ""
