"""What became other than a homeowner agreed to: days, dates and nights. In sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from estimates.domain.at_home.closed import ShutRoom, short_day
from estimates.domain.quotes.plain_words import called, counted_words, opened


@dataclass(frozen=True, kw_only=True, slots=True)
class Promised:
    """What the accepted quote said: days on site, nights by room, the week it named, if any."""

    days: int
    nights: Mapping[str, int]
    earliest: date | None = None
    latest: date | None = None


def since_agreed(
    promised: Promised, dates: Sequence[date], shut: Sequence[ShutRoom]
) -> Iterator[str]:
    """Yield what is other now than the accepted quote said."""
    if promised.days and promised.days != len(dates):
        was = counted_words(promised.days, "day")
        yield f"Your quote said {was} of work; now it takes {counted_words(len(dates), 'day')}."
    if promised.earliest and promised.latest and dates:
        week, kept = short_day(promised.earliest), promised.earliest <= dates[0] <= promised.latest
        if not kept:
            yield f"Your quote said the week of {week}; we begin on {short_day(dates[0])}."
    for room in shut:
        if room.use and len(room.nights) != promised.nights.get(room.name, 0):
            was = counted_words(promised.nights.get(room.name, 0), "night")
            now = counted_words(len(room.nights), "night")
            name = opened(called(room.name, "your"))
            yield f"{name} can't be used for {now}; your quote said {was}."


def moved_dates(was: Mapping[int, date], now: Mapping[int, date]) -> Iterator[str]:
    """Yield each day that lies on another date than it did, by its number."""
    for number in sorted({*was, *now}):
        before, after = was.get(number), now.get(number)
        if before is None and after is not None:
            yield f"Day {number}, {short_day(after)}, is new."
        elif before is not None and after is None:
            yield f"Day {number} was {short_day(before)} and is no longer needed."
        elif before is not None and after is not None and before != after:
            yield f"Day {number} was {short_day(before)}; it is {short_day(after)} now."


def other_hour(quoted: str, now: str, *, when: str) -> str:
    """Return in words that we come at another hour than the quote said; empty where it said so.

    The quote says an hour of the morning without AM.
    """
    alike = quoted in ("", now, now.removesuffix(" AM"))
    return "" if alike else f"Your quote said {quoted}; {when} we come at {now}."
