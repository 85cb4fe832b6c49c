"""Whole numbers in addresses and hidden fields, which anybody may have written. Pure."""

LONGEST_NUMBER = 18
"""Digits that every database keeps as a whole number of 64 bits."""


def whole_number(text: str) -> int | None:
    """Return the number from 0 up that plain digits write, None for every other text.

    Raised figures and the digits of other scripts count as digits for Python, not here.
    """
    plain = text.isascii() and text.isdigit() and len(text) <= LONGEST_NUMBER
    return int(text) if plain else None
