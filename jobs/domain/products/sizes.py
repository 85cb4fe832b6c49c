"""The size of a plank as somebody typed it from the carton. Pure.

A maker's 7.05 in is no 7 1/16: a tape's sixteenths are for what is cut, never for what is named.
"""

from __future__ import annotations

import re
from decimal import Decimal

from jobs.domain.figures import NO_BREAK
from jobs.domain.lengths import millimeters, size_words
from layout.values.errors import InputError
from layout.values.units import Unit, parse_length

_NUMBER = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_MARKED = re.compile(r"[a-z'\"\u2018-\u201d\u2032\u2033]", re.IGNORECASE)
BARE = {"imperial": Unit.INCH, "metric": Unit.MILLIMETER}
"""The unit of a number without one, by the unit system of the maker's sheet."""


def size_as_typed(text: str, mm: Decimal, system: str) -> str:
    """Return a size as it was typed, with its unit; in exact words where the text is another size.

    A row may get another size without a text: the millimeters count, the text only names them.
    """
    text = text.strip()
    if millimeters_typed(text, system) != mm:
        return size_words(mm, system)
    if _NUMBER.fullmatch(text):
        return _with_unit(text, system)
    return text.replace(" ", NO_BREAK) if _MARKED.search(text) else size_words(mm, system)


def millimeters_typed(text: str, system: str) -> Decimal | None:
    """Return what a typed size means in millimeters, None where it is no length."""
    try:
        return millimeters(parse_length(text, bare=BARE[system]).mm)
    except InputError:
        return None


def _with_unit(number: str, system: str) -> str:
    """Return a bare number with the unit that it was read in."""
    if system == "metric":
        return f"{number}{NO_BREAK}mm"
    return f"{number}{NO_BREAK}in" if "." in number else f'{number}"'
