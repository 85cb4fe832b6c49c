"""Migrate an empty database from nothing and keep it for the test run: python -m tests.database."""

from pathlib import Path

import django
from django.db import connection

from tests.database import is_kept, keep_made, tables_after


def walk_past_books() -> None:
    """Migrate the database to be, and leave a copy where each kept book's migrations end."""
    from tests.books.book import kept_books, open_book

    before = connection.settings_dict["NAME"]
    connection.settings_dict["NAME"] = made = connection.settings_dict["TEST"]["NAME"]
    Path(made).unlink(missing_ok=True)
    for folder in kept_books():
        tables_after(open_book(folder).migrations_of_rows)
    connection.close()
    connection.settings_dict["NAME"] = before


django.setup()
if is_kept():
    walk_past_books()
    connection.creation.create_test_db(verbosity=0, keepdb=True, serialize=False)
    keep_made()
    # Its log is written into it; whoever copies a kept one over it finds no old log beside it.
    connection.close()
