"""A kept book: every row and file of a company as a release left them, read in as they stood.

A book is a folder:

    book.json           the release, where its migrations stood, digests of documents and files
    rows/TABLE.jsonl    the rows of one table, a line each: the value of every field by its name
    files/...           the folder of stored files, as it lay under ROWBOOK_VAR

Rows pass through the models as they were at the book's migrations, never through today's, so a book
reads the same on every engine and whatever the models have become since.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.apps.registry import Apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader
from django.db.models import Field, Model

from tests.database import tables_after

Migration = tuple[str, str]
"""An app's label and the name of a migration."""

BOOKS = Path(__file__).parent
APPS = ("jobs", "estimates")
"""The apps whose rows make a book; the others hold what Django writes for itself."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Book:
    """A kept book: where it lies, the last migration of each app, what it holds for ever.

    ``documents`` and ``files`` give the digest of each frozen document and each stored file by the
    key of its row.
    """

    folder: Path
    release: str
    migrations: tuple[Migration, ...]
    documents: Mapping[int, str]
    files: Mapping[int, str]

    @property
    def migrations_of_rows(self) -> tuple[Migration, ...]:
        """The last migrations of the apps whose rows it holds."""
        return tuple(node for node in self.migrations if node[0] in APPS)


def kept_books() -> list[Path]:
    """Return the folders of all kept books, oldest release first."""
    return sorted(manifest.parent for manifest in BOOKS.glob("*/book.json"))


def open_book(folder: Path) -> Book:
    """Return the book that lies in a folder, its rows still unread."""
    content = json.loads((folder / "book.json").read_text(encoding="utf-8"))
    return Book(
        folder=folder,
        release=content["release"],
        migrations=tuple(content["migrations"].items()),
        documents={int(key): sha256 for key, sha256 in content["documents"].items()},
        files={int(key): sha256 for key, sha256 in content["files"].items()},
    )


def tables(apps: Apps) -> list[type[Model]]:
    """Return the models whose rows a book keeps, those between two tables with them."""
    models = apps.get_models(include_auto_created=True)
    return [model for model in models if model._meta.app_label in APPS]


def columns(model: type[Model]) -> list[Field[Any, Any]]:
    """Return the fields of a model that are columns of its table."""
    return list(model._meta.local_concrete_fields)


def models_at(migrations: tuple[Migration, ...]) -> Apps:
    """Return the models as they stood after these migrations."""
    apps: Apps = MigrationLoader(connection).project_state(list(migrations)).apps
    return apps


def read_in(book: Book) -> None:
    """Bring an empty database to the book's migrations, write its rows, migrate to today."""
    migrations = book.migrations_of_rows
    tables_after(migrations)
    models = {model._meta.label: model for model in tables(models_at(migrations))}
    with transaction.atomic(), connection.cursor() as cursor:
        for lines in (book.folder / "rows").iterdir():
            _write_rows(cursor, models[lines.stem], lines)
        # PostgreSQL counts on from where it was, not from the keys that rows came with.
        for statement in connection.ops.sequence_reset_sql(no_style(), list(models.values())):
            cursor.execute(statement)
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())


def _write_rows(cursor: Any, model: type[Model], lines: Path) -> None:
    """Write the rows of one table as the file has them."""
    fields = columns(model)
    quote = connection.ops.quote_name
    names = ", ".join(quote(str(field.column)) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    with lines.open(encoding="utf-8") as written:
        rows = [json.loads(line) for line in written]
    cursor.executemany(
        f"INSERT INTO {quote(model._meta.db_table)} ({names}) VALUES ({marks})",
        [[_stored(field, row[field.attname]) for field in fields] for row in rows],
    )


def _stored(field: Field[Any, Any], value: object) -> object:
    """Return a kept value as this engine stores it."""
    return field.get_db_prep_save(field.to_python(value), connection)


@contextmanager
def empty_database(folder: Path) -> Iterator[None]:
    """Let a new empty database stand in for the one in use; it is gone afterwards.

    SQLite's lies in ``folder``; PostgreSQL's is made in the same cluster.
    """
    before = connection.settings_dict["NAME"]
    is_file = connection.vendor == "sqlite"
    name = str(folder / "book.sqlite3") if is_file else f"{before}_book"
    if not is_file:
        _of_the_cluster(f"CREATE DATABASE {connection.ops.quote_name(name)}")
    _turn_to(name)
    try:
        yield
    finally:
        _turn_to(before)
        if not is_file:
            _of_the_cluster(f"DROP DATABASE {connection.ops.quote_name(name)}")
        # A browser's loop may run in this thread: then nobody else closes this connection.
        connection.close()


def _turn_to(name: str) -> None:
    connection.close()
    connection.settings_dict["NAME"] = name


def _of_the_cluster(statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)
