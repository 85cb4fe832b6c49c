"""How often a page asks the database, and whether that stays the same as its list grows."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

FEW, MANY = 3, 30


def queries_of(client: Client, url: str) -> list[str]:
    """Return what a page asks the database, statement by statement; the page must be found."""
    assert connection.features.supports_json_field  # a process asks for it once
    with CaptureQueriesContext(connection) as caught:
        response = client.get(url)
        b"".join(response)
    assert response.status_code == 200, f"{url} answers {response.status_code}"
    return [str(query["sql"]) for query in caught.captured_queries]


def assert_same_queries(client: Client, url: str, make_rows: Callable[[int], object]) -> None:
    """Assert that a page with 30 rows asks as many queries as with 3.

    ``make_rows`` makes so many rows more.
    """
    make_rows(FEW)
    few = queries_of(client, url)
    make_rows(MANY - FEW)
    many = queries_of(client, url)
    counts = f"{len(few)} queries with {FEW} rows, {len(many)} with {MANY}; asked more often:\n"
    assert len(few) == len(many), counts + _repeated(few, many)


def _repeated(few: list[str], many: list[str]) -> str:
    """Return the statements of which there are more than before, the commonest first."""
    more = Counter(_shape(sql) for sql in many)
    more.subtract(Counter(_shape(sql) for sql in few))
    return "\n".join(f"{count} x {sql}" for sql, count in more.most_common(8) if count)


def _shape(sql: str) -> str:
    """Return a statement without what it is about: no columns, no keys, no texts."""
    without = re.sub(r"'[^']*'|\b\d+\b", "?", sql)
    without = re.sub(r"\(\?(, \?)+\)", "(?)", without)
    return re.sub(r"^SELECT (DISTINCT )?.*? FROM", "SELECT ... FROM", without)[:300]
