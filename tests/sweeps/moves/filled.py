"""Fills the book of the machine on which it runs: `python -m tests.sweeps.moves.filled PEOPLE`."""

from __future__ import annotations

import sys

import django


def main() -> None:
    """Fill it."""
    django.setup()
    from tests.builders import make_photo
    from tests.sweeps.crowd.book import fill_book

    book = fill_book(int(sys.argv[1]))
    make_photo(book.company)


if __name__ == "__main__":
    main()
