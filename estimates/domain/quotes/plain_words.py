"""The trade's words as a homeowner reads them, and how things are listed in a sentence.

Every word of the trade has its plain twin. What a company types itself is left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time

from jobs.domain.figures import NO_BREAK

PLAIN: Mapping[str, str] = {
    r"base": "baseboard",
    r"casings?": "door trim",
    r"undercut(?:ting)?": "trimmed at the bottom",
    r"T-moldings?": "joining strip",
    r"reducers?": "sloped strip",
    r"end caps?": "end strip",
    r"stair nos(?:e|ing)s?": "stair edge",
    r"transitions?": "strips at the doors",
    r"subfloors?": "floor beneath",
    r"underlayments?": "pad",
    r"leveler": "leveling compound",
    r"ripped|rips?": "cut lengthwise",
    r"trapped": "closed in",
}
"""Words of the trade, as patterns, with what stands in their place."""

STRIPS: Mapping[str, tuple[str, str]] = {
    "T-molding": ("a joining strip", "joining strips"),
    "reducer": ("a sloped strip", "sloped strips"),
    "end cap": ("an end strip", "end strips"),
    "threshold": ("a threshold", "thresholds"),
    "stair nose": ("a stair edge", "stair edges"),
}
"""What joins two floors, one and several of it."""

OLD_FLOORS: Mapping[str, tuple[str, str]] = {
    "carpet": ("the carpet and its pad", "them"),
    "resilient": ("the old sheet or tile floor", "it"),
    "laminate": ("the old floating floor", "it"),
    "wood": ("the old wood floor", "it"),
    "tile": ("the old tile", "it"),
}
"""An old floor as it is spoken of, and the word that stands for it afterwards."""
ANY_OLD_FLOOR = ("the old floor", "it")

_COMMON_ROOM = re.compile(
    r"(?:(?:main|primary|guest|half|front|back|upstairs|downstairs) )?"
    r"(?:bedroom|nursery|hall|hallway|kitchen|living room|dining room|family room|bathroom|bath"
    r"|office|study|den|laundry|closet|sunroom|entry|pantry|basement|landing|mudroom)(?: \d+)?",
    re.IGNORECASE,
)
"""Rooms that a house has by kind; any other is called by its own name."""

_TRADE = re.compile(r"\b(?:" + "|".join(PLAIN) + r")\b", re.IGNORECASE)


def plain_words(text: str) -> str:
    """Return a text with every word of the trade in plain words."""
    return _TRADE.sub(_plain, text)


def _plain(match: re.Match[str]) -> str:
    word = match.group()
    for pattern, twin in PLAIN.items():
        if re.fullmatch(pattern, word, re.IGNORECASE):
            return twin[0].upper() + twin[1:] if word[0].isupper() and word[:2] != "T-" else twin
    return word


def listed(things: Iterable[str]) -> str:
    """Return things as a sentence names them: a, b and c."""
    several = list(things)
    if len(several) < 2:
        return "".join(several)
    return f"{', '.join(several[:-1])} and {several[-1]}"


def called(name: str, before: str = "the") -> str:
    """Return a room as a sentence names it: the bedroom; one with a name of its own keeps it."""
    return f"{before} {name[0].lower()}{name[1:]}" if _COMMON_ROOM.fullmatch(name) else name


def called_all(names: Iterable[str]) -> str:
    """Return rooms as a sentence names them: the bedroom and the hall."""
    return listed(called(name) for name in names)


def opened(sentence: str) -> str:
    """Return a sentence with a capital at its start."""
    return sentence[:1].upper() + sentence[1:]


def in_letters(length: str) -> str:
    """Return a length with its units in letters: ¼ in, 4 ft, 3 ft 11½ in."""
    signed = length.replace(f'{NO_BREAK}0"', "")
    return signed.replace("'", f"{NO_BREAK}ft").replace('"', f"{NO_BREAK}in")


def day_words(day: date) -> str:
    """Return a day as it is written out: December 7, 2026."""
    return f"{day:%B} {day.day}, {day.year}"


def clock_words(hour: time) -> str:
    """Return an hour of the day as it is said: 8:30 in the morning is 8:30."""
    return f"{hour.hour}:{hour:%M}"


def counted_words(count: int, one: str, several: str = "") -> str:
    """Return so many of a thing: 1 night, 2 nights."""
    return f"{count} {one if count == 1 else several or f'{one}s'}"


def as_sentences(lines: Sequence[str]) -> str:
    """Return lines as one paragraph, each closed by a period where it has no end of its own."""
    closed = (line if line[-1:] in ".!?:" else f"{line}." for line in lines if line)
    return " ".join(closed)
