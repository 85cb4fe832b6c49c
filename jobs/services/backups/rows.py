"""Rows as lines of JSON, the same for every database; read and written as the tables are then.

The tables are known by the migrations that were applied, not by today's classes. So a backup can be
made before a migration, and an archive restored at the migrations that it was made at.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, date, datetime, time
from decimal import Decimal
from itertools import islice
from typing import Any
from uuid import UUID

from django.db import connection, models
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from jobs.clock import on_the_wall
from jobs.domain.backups.manifest import UnusableArchiveError

Steps = tuple[tuple[str, str], ...]
"""Migrations, each by app and name."""

LEFT_OUT = frozenset({"django_session", "jobs_opensession", "jobs_workerbeat"})
"""Who is signed in and which worker lives is no part of the book: after a restore all sign in."""

BATCH = 500


def applied_steps() -> Steps:
    """Return the migrations that the database has, in order of their names."""
    return tuple(sorted(MigrationLoader(connection).applied_migrations))


def unknown_steps(steps: Iterable[tuple[str, str]]) -> list[str]:
    """Return those of these migrations that this Rowbook does not know."""
    known = MigrationLoader(connection).graph.nodes
    return [f"{app}.{name}" for app, name in steps if (app, name) not in known]


def tables_at(steps: Steps) -> list[type[models.Model]]:
    """Return the models of all tables as they are after these migrations, by table."""
    loader = MigrationExecutor(connection).loader
    apps = loader.project_state(list(steps)).apps
    every = apps.get_models(include_auto_created=True)
    tables = [one for one in every if one._meta.managed and one._meta.db_table not in LEFT_OUT]  # noqa: SLF001  public by Django's documentation
    return sorted(tables, key=lambda one: one._meta.db_table)  # noqa: SLF001  as above


def lines_of(model: type[models.Model]) -> Iterator[bytes]:
    """Yield the rows of a table, each as a line, by key."""
    names = [field.attname for field in model._meta.local_concrete_fields]  # noqa: SLF001  as above
    rows = model._base_manager.order_by("pk").values_list(*names)  # noqa: SLF001  as above
    for row in rows.iterator(chunk_size=BATCH):
        content = {name: _plain(value) for name, value in zip(names, row, strict=True)}
        yield _line(content)


def _line(content: dict[str, object]) -> bytes:
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return text.encode() + b"\n"


def _plain(value: object) -> object:
    """Return a value as JSON has it, alike from every database."""
    if isinstance(value, datetime):
        return on_the_wall(value, UTC).isoformat()
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    return value


def put_rows(model: type[models.Model], lines: Iterable[bytes]) -> int:
    """Write rows from their lines into a table, under the keys that they have; return how many.

    Raises UnusableArchiveError for a line that is no row of the table.
    """
    fields = list(model._meta.local_concrete_fields)  # noqa: SLF001  as above
    most = min(BATCH, connection.ops.bulk_batch_size(fields, [None] * BATCH))
    remaining, count = iter(lines), 0
    while batch := list(islice(remaining, max(1, most))):
        rows = [_row(model, fields, line) for line in batch]
        model._base_manager._insert(rows, fields=fields, using="default", raw=True)  # type: ignore[attr-defined]  # noqa: SLF001  the way of fixtures: nothing is set anew on the way
        count += len(rows)
    return count


def _row(
    model: type[models.Model], fields: Sequence[models.Field[Any, Any]], line: bytes
) -> models.Model:
    try:
        content = json.loads(line)
        values = {field.attname: field.to_python(content.pop(field.attname)) for field in fields}
    except (ValueError, KeyError, TypeError, AttributeError) as fault:
        message = f"A row of {model._meta.db_table} can't be read ({fault})."  # noqa: SLF001  as above
        raise UnusableArchiveError(message) from None
    if content:
        message = f"A row of {model._meta.db_table} has unknown columns: {', '.join(content)}."  # noqa: SLF001  as above
        raise UnusableArchiveError(message)
    return model(**values)


def last_key_of(model: type[models.Model]) -> int | None:
    """Return the highest key that a table ever gave; None where it gives none, or gave none yet."""
    table, column = _keys_of(model)
    if not column:
        return None
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT seq FROM sqlite_sequence WHERE name = %s", [table])
        else:
            cursor.execute("SELECT pg_get_serial_sequence(%s, %s)", [f'"{table}"', column])
            (sequence,) = cursor.fetchone()
            cursor.execute(f"SELECT last_value FROM {sequence} WHERE is_called")  # noqa: S608  a name from the database itself
        row = cursor.fetchone()
    return int(row[0]) or None if row else None


def go_on_from(model: type[models.Model], last_key: int | None) -> None:
    """Let a table give only keys above the highest that it ever gave; None: it gave none yet."""
    table, column = _keys_of(model)
    if not column:
        return
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("DELETE FROM sqlite_sequence WHERE name = %s", [table])
            new = "INSERT INTO sqlite_sequence (name, seq) VALUES (%s, %s)"
            cursor.execute(new, (table, last_key or 0))
        else:
            set_next = "SELECT setval(pg_get_serial_sequence(%s, %s), %s, %s)"
            cursor.execute(set_next, (f'"{table}"', column, last_key or 1, bool(last_key)))


def _keys_of(model: type[models.Model]) -> tuple[str, str]:
    """Return the name of a table, and of the column in which it gives keys, if it gives any."""
    meta = model._meta  # noqa: SLF001  as above
    gives = isinstance(meta.pk, models.AutoField | models.BigAutoField)
    return meta.db_table, str(meta.pk.column) if gives else ""


def empty_tables(tables: Iterable[type[models.Model]]) -> None:
    """Remove every row of these tables, and who is signed in."""
    names = {model._meta.db_table for model in tables} | LEFT_OUT  # noqa: SLF001  as above
    there = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for name in sorted(names & there):
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(name)}")  # noqa: S608  our own table
