"""How the short parts of a quote stand in columns beside each other, about equally long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from estimates.domain.quotes.content import IssuedQuote

HEADING = 2
"""A heading takes about so many lines."""

Columns = tuple[tuple[str, ...], ...]
"""Columns from the left, each with the names of its parts."""


def columns_of(quote: IssuedQuote, parts: Sequence[str], *, count: int, letters: int) -> Columns:
    """Return parts in their order, in at most so many columns of about `letters` a line.

    The longest column is as short as it can be; a part that says nothing is left out.
    """
    lines = {part: _lines(_texts(quote, part), letters) for part in parts}
    held = [part for part in parts if lines[part]]
    if not held:
        return ()
    ways = (_cut(held, at) for at in combinations(range(1, len(held)), min(count, len(held)) - 1))
    return min(ways, key=lambda way: max(sum(lines[part] for part in column) for column in way))


def lines_of(quote: IssuedQuote, parts: Sequence[str], *, count: int, letters: int) -> int:
    """Return about how many lines a quote takes before its terms, at so many columns."""
    columns = columns_of(quote, parts, count=count, letters=letters)
    longest = max(
        (sum(_lines(_texts(quote, part), letters) for part in column) for column in columns),
        default=0,
    )
    whole, half = letters * count, letters * count // 2
    lines = [*quote.floor_words, *quote.changed, *(f"{day.title} {day.text}" for day in quote.days)]
    lines += [quote.payment_words]
    beside = max(
        _lines([[" ".join(quote.clear)]], half), _lines([[*quote.nights, quote.start]], half)
    )
    rooms = _lines([[room.text] for room in quote.rooms], whole * 2 // 3)
    ways = _lines([[way.text] for way in quote.choices if quote.has_choices], half)
    return longest + _lines([lines], whole) + beside + rooms + ways


def _cut(parts: Sequence[str], at: Sequence[int]) -> Columns:
    return tuple(
        tuple(parts[begin:end]) for begin, end in zip((0, *at), (*at, len(parts)), strict=True)
    )


def _lines(sections: Sequence[Sequence[str]], letters: int) -> int:
    """Return about how many lines sections take, each a heading and paragraphs under it."""
    return sum(HEADING + sum(-(-len(text) // letters) for text in section) for section in sections)


def _texts(quote: IssuedQuote, part: str) -> list[list[str]]:
    return [section for section in _sections(quote, part) if section]


def _sections(quote: IssuedQuote, part: str) -> Iterator[list[str]]:
    """Yield the paragraphs of each section of a part."""
    if part == "allowances":
        yield from ([each.text + " " * 80] for each in quote.allowances)
    elif part == "included":
        yield list(quote.inclusions)
    elif part == "excluded":
        yield list(quote.exclusions)
    elif part == "cautions":
        yield [f"{caution.title}: {caution.text}" for caution in quote.cautions]
    elif part == "changes":
        yield [quote.changes] if quote.changes else []
    elif part == "warranty":
        yield [quote.warranty] if quote.warranty else []
    elif part == "not_sure":
        yield [quote.letterhead.email + " " * 20, " " * 80]
