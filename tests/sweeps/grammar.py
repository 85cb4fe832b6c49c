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

from tests.sweeps.lengths import FIGURE

_WORDS = {
    "F": FIGURE,
    "END": "left|right",
    "EDGE": "near|far",
    "PART": "left|right|near|far",
    "MARKS": ".+?",
    "CORNER": "(?:near|far) (?:left|right)",
}
_SLOT = re.compile(r"\{(\w+):(\w+)\}")


def _pattern(sentence: str) -> re.Pattern[str]:
    """Return a sentence of the table as a pattern: ``{name:WORD}`` is a slot."""
    return re.compile(_SLOT.sub(lambda slot: f"(?P<{slot[1]}>{_WORDS[slot[2]]})", sentence))


_ON_SITE = r"(?:Measure on site, {least:F} to {most:F}; as drawn: )?"

# What a cut is, by the sentence that tells it.
CUTS = {
    name: _pattern(sentence)
    for name, sentence in {
        "square": _ON_SITE
        + r"[Cc]ut square {at:F} from the {end:END} end; the {part:PART} part goes\.",
        "rip": _ON_SITE + r"[Rr]ip {at:F} from the {edge:EDGE} edge; the {part:PART} part goes\.",
        "line": _ON_SITE
        + r"[Mm]ark {marks:MARKS}; cut along the line; the {part:PART} part goes\.",
        "corner": r"Notch: mark {at:F} from the {end:END} end and {across:F} from the {edge:EDGE} "
        r"edge, square to each other; the {corner:CORNER} corner goes\.",
        "between": r"Mark {marks:MARKS}; cut from mark to mark; what lies between them and the "
        r"{side:PART} (?:end|edge) goes\.",
        "box": r"Cut out {at:F} to {to:F} from the {end:END} end, {across:F} to {over:F} from the "
        r"{edge:EDGE} edge\.",
        "ring": r"Cut out inside the marks {marks:MARKS}\.",
    }.items()
}

# Where a mark is, in a list of marks.
MARKS = {
    name: _pattern(sentence)
    for name, sentence in {
        "on edge": r"{at:F} from the {end:END} end on the {on:EDGE} edge",
        "on end": r"{across:F} from the {edge:EDGE} edge on the {on:END} end",
        "within": r"{at:F} from the {end:END} end and {across:F} from the {edge:EDGE} edge",
    }.items()
}
BETWEEN_MARKS = re.compile(rf", (?:and )?| and (?={FIGURE} from the \w+ (?:end|edge) on )")


def cut_of(text: str) -> tuple[str, dict[str, str]] | None:
    """Return which cut the first sentence of a text tells, and its words; None where none does."""
    for name, pattern in CUTS.items():
        if read := pattern.match(text):
            return name, {key: word for key, word in read.groupdict().items() if word}
    return None


def marks_of(text: str) -> list[tuple[str, dict[str, str]]] | None:
    """Return the marks of a list, None where one can't be read."""
    marks = []
    for mark in BETWEEN_MARKS.split(text):
        read = next(
            ((name, m.groupdict()) for name, p in MARKS.items() if (m := p.fullmatch(mark))), None
        )
        if read is None:
            return None
        marks.append(read)
    return marks
