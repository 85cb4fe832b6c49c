"""The sentences of a cut sheet, all in one table.

Words are those of a person who kneels on the laid floor and faces the next row:

        far edge
    +----------------+
    | left     right |
    +----------------+
        near edge
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from tests.sweeps.lengths import FIGURE

Words = dict[str, str]

_SLOTS = {
    "F": FIGURE,
    "END": "left|right",
    "EDGE": "near|far",
    "SIDE": "left|right|near|far",
    "CORNER": "(?:near|far) (?:left|right)",
    "ANY": ".+?",
    "LETTER": "[A-Z]+",
    "WHAT": "goes|stays",
}
_SLOT = re.compile(r"\{(\w+):(\w+)\}")


def _patterns(sentences: dict[str, str]) -> dict[str, re.Pattern[str]]:
    """Return the sentences of a table as patterns: ``{name:SLOT}`` is a word to read."""
    return {
        name: re.compile(_SLOT.sub(lambda slot: f"(?P<{slot[1]}>{_SLOTS[slot[2]]})", sentence))
        for name, sentence in sentences.items()
    }


# A text is a cut and what becomes of the part that goes.
_TEXT = re.compile(r"(?P<cut>.+): (?P<kept>.+)\.")

_NOTHING = "0 mm"  # the least limit where only the most is told

# A figure that is found on site stands before the cut as it is drawn.
ON_SITE = _patterns(
    {
        "between": r"measure on site, (?:the nearer mark )?between {least:F} and {most:F}; "
        r"as drawn, {cut:ANY}",
        "at most": r"measure on site, (?:the nearer mark )?at most {most:F}; as drawn, {cut:ANY}",
        "one place": r"measure on site; as drawn, {cut:ANY}",
    }
)

# What a cut is, by the sentence that tells it.
CUTS = _patterns(
    {
        "square": r"cut square {at:F} from the {end:END} end; the {side:SIDE} part goes",
        "rip": r"rip {at:F} from the {edge:EDGE} edge; the {side:SIDE} part goes",
        "line": r"mark {marks:ANY}; cut along the line(?:, rise {rise:F} over run {run:F})?; "
        r"the {side:SIDE} part goes",
        "corner": r"notch: mark {at:F} from the {end:END} end and {across:F} from the {edge:EDGE} "
        r"edge, square to each other; the {corner:CORNER} corner goes",
        "bay": r"notch out {at:F} to {to:F} from the {end:END} end, {over:F} deep from the "
        r"{edge:EDGE} edge",
        "bay at an end": r"notch out {across:F} to {over:F} from the {edge:EDGE} edge, {to:F} deep "
        r"from the {end:END} end",
        "notch": r"mark {marks:ANY}; cut from mark to mark; {goes:ANY}",
        "box": r"cut out {at:F} to {to:F} from the {end:END} end, {across:F} to {over:F} from the "
        r"{edge:EDGE} edge",
        "ring": r"cut out inside the marks {marks:ANY}",
    }
)

# Where a mark is.
MARKS = _patterns(
    {
        "on edge": r"{at:F} from the {end:END} end on the {on:EDGE} edge",
        "on end": r"{across:F} from the {edge:EDGE} edge on the {on:END} end",
        "within": r"{at:F} from the {end:END} end by {across:F} from the {edge:EDGE} edge",
        "corner": r"the {corner:CORNER} corner",
    }
)

# Which part of a notched board goes.
GOES = _patterns(
    {
        "corner goes": r"the {corner:CORNER} corner goes",
        "side goes": r"the {side:SIDE} part goes",
        "corner stays": r"only the {corner:CORNER} corner stays, the rest goes",
        "between": r"what lies between them and the {side:SIDE} (?:end|edge) "
        r"{what:WHAT}(?:, the rest goes)?",
        "mark goes": r"what holds the mark {mark:ANY} goes",
    }
)

# What becomes of the part that goes.
KEPT = _patterns(
    {
        "waste": r"waste",
        "left over": r"kept as a leftover",
        "in hand": r"keep in hand for {pieces:ANY}",
        "stack": r"stack {stack:LETTER} for {pieces:ANY}",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutInWords:
    """What a text tells: the cut by its name in the table, and what becomes of what goes."""

    cut: str
    words: Words
    limits: tuple[str, str] | None
    on_site: bool
    kept: str
    pieces: frozenset[str]
    stack: str | None


def one_of(table: dict[str, re.Pattern[str]], text: str) -> tuple[str, Words] | None:
    """Return which sentence of a table a text is, and its words; None where it is none."""
    for name, pattern in table.items():
        if read := pattern.fullmatch(text):
            return name, {key: word for key, word in read.groupdict().items() if word is not None}
    return None


def listed(text: str) -> list[str]:
    """Return what stands in a list: one, one and another, or one, another and a third."""
    return re.split(r", | and ", text)


def cut_in_words(text: str) -> CutInWords | None:
    """Return what a text tells, None where it can't be followed."""
    whole = _TEXT.fullmatch(text)
    if whole is None:
        return None
    sentence = f"{whole['cut'][:1].lower()}{whole['cut'][1:]}"
    limits, on_site = None, one_of(ON_SITE, sentence)
    if on_site is not None:
        sentence = on_site[1]["cut"]
        words = on_site[1]
        limits = (words.get("least", _NOTHING), words["most"]) if "most" in words else None
    cut, kept = one_of(CUTS, sentence), one_of(KEPT, whole["kept"])
    if cut is None or kept is None:
        return None
    return CutInWords(
        cut=cut[0],
        words=cut[1],
        limits=limits,
        on_site=on_site is not None,
        kept=kept[0],
        pieces=frozenset(listed(kept[1]["pieces"])) if "pieces" in kept[1] else frozenset(),
        stack=kept[1].get("stack"),
    )
