"""A list of keys in a statement: one parameter, however many keys there are.

Named one by one, thirty keys and thirty-one make two statements, each to be put together and to
be understood by the database anew. As one parameter they make the same statement always.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from django.db.models import Expression, IntegerField


class KeyList(Expression):
    """Stands for keys after ``in`` of a query set; filled once the statement is written."""

    output_field = IntegerField()

    def as_sqlite(self, *_: Any, **__: Any) -> tuple[str, list[Any]]:
        """Return how SQLite takes the keys: out of a text."""
        return "(SELECT value FROM json_each(%s))", [KeyList]

    def as_postgresql(self, *_: Any, **__: Any) -> tuple[str, list[Any]]:
        """Return how PostgreSQL takes the keys: out of an array."""
        return "(SELECT unnest(%s::bigint[]))", [KeyList]

    @staticmethod
    def written(keys: Sequence[int], vendor: str) -> Any:
        """Return keys as the parameter that a database takes them in."""
        return list(keys) if vendor == "postgresql" else json.dumps(list(keys))

    @staticmethod
    def filled(parameters: Sequence[Any], written: Any) -> tuple[Any, ...]:
        """Return the parameters of a statement with the keys where they belong."""
        return tuple(written if one is KeyList else one for one in parameters)
