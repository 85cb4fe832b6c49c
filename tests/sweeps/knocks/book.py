"""What a refusal may not change: all rows of all tables, read again where something was written."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.db import connection

WRITES = re.compile(
    r'\s*(?:INSERT (?:OR IGNORE )?INTO|UPDATE|DELETE FROM)\s+"(\w+)"', re.IGNORECASE
)
NOT_COUNTED = {
    *("django_session", "jobs_opensession", "jobs_workerbeat", "axes_accesslog"),
    *("axes_accessattempt", "axes_accessfailurelog"),
}
"""What a refusal may write: who is signed in, and that a password was wrong."""


class WatchedBook:
    """Knows each table's rows by a print, and reads a table again once a statement wrote to it."""

    def __init__(self, prints: dict[str, str]) -> None:
        self.prints = dict(prints)
        self._written: set[str] = set()

    @classmethod
    def read(cls) -> WatchedBook:
        """Return the book as it is now."""
        tables = {model._meta.db_table for model in apps.get_models()}
        return cls({table: print_of(table) for table in sorted(tables - NOT_COUNTED)})

    @contextmanager
    def watched(self) -> Iterator[None]:
        """Note the tables to which statements go meanwhile."""
        with connection.execute_wrapper(self._note):
            yield

    # Any: as Django types what it hands to a wrapper.
    def _note(
        self, execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any
    ) -> Any:
        if written := WRITES.match(sql):
            self._written.add(written[1])
        return execute(sql, params, many, context)

    def changed(self) -> list[str]:
        """Return the tables whose rows are others than when this was last asked."""
        touched, self._written = self._written & set(self.prints), set()
        now = {table: print_of(table) for table in touched}
        others = sorted(table for table, rows in now.items() if rows != self.prints[table])
        self.prints |= now
        return others


def print_of(table: str) -> str:
    """Return a print of all rows of a table, whatever their order."""
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT * FROM "{table}"')
        rows = sorted(repr(row) for row in cursor.fetchall())
    return hashlib.sha256("\n".join(rows).encode("utf-8", "surrogatepass")).hexdigest()
