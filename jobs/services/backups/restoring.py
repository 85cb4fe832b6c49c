"""Restores an archive: everything is checked first, then files, then all rows or none.

Where the database stands at other migrations than the archive, its tables are made anew as they
were then, and migrated once the rows are in.
"""

from __future__ import annotations

import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from jobs.domain.backups.manifest import Manifest, UnusableArchiveError
from jobs.domain.backups.retention import BackupKind, MadeBackup
from jobs.models import Mail, MailState
from jobs.services.backups.archive import AGE_HEAD, decrypt, opened
from jobs.services.backups.making import make_backup
from jobs.services.backups.rows import (
    Steps,
    applied_steps,
    empty_tables,
    go_on_from,
    put_rows,
    tables_at,
    unknown_steps,
)
from jobs.services.storage.contents import put_content

UNSURE = (
    "The book was put back to {:%b %-d, %Y} (UTC); whether this mail went out since is not known."
)


class LiveDataError(Exception):
    """The database holds a book already, and nobody said that it may go."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Restored:
    """What a restore did: the archive's list of contents, and what was saved before it."""

    manifest: Manifest
    saved_before: MadeBackup | None


@contextmanager
def checked(place: Path, identity: str = "") -> Iterator[tuple[zipfile.ZipFile, Manifest]]:
    """Open an archive that can be restored here, decrypted where it must be.

    Raises UnusableArchiveError with the reason for any other.
    """
    with tempfile.TemporaryDirectory(prefix="restore-", dir=settings.VAR) as folder:
        plain = place
        if identity and _is_encrypted(place):
            plain = Path(folder) / "archive.zip"
            decrypt(place, plain, identity)
        with opened(plain) as (archive, manifest):
            if unknown := unknown_steps(manifest.migrations):
                message = (
                    f"It was made by Rowbook {manifest.version} and has what this one does not "
                    f"know: {', '.join(unknown[:3])}. Install that Rowbook, or a newer one."
                )
                raise UnusableArchiveError(message)
            yield archive, manifest


def _is_encrypted(place: Path) -> bool:
    """Whether a file is encrypted by age."""
    try:
        with place.open("rb") as source:
            return source.read(len(AGE_HEAD)) == AGE_HEAD
    except OSError:
        return False


def restore(
    place: Path, *, identity: str = "", over_live_data: bool = False, save_first: bool = True
) -> Restored:
    """Put the book back as an archive has it; return what was done.

    Raises UnusableArchiveError for an archive that can't be restored, LiveDataError where a book is
    there and ``over_live_data`` does not say that it may go. Then nothing was changed.
    """
    with checked(place, identity) as (archive, manifest):
        saved = None
        if holds_a_book():
            if not over_live_data:
                message = "The database holds a book already."
                raise LiveDataError(message)
            saved = make_backup(kind=BackupKind.BEFORE_RESTORE) if save_first else None
        put_files(archive, manifest)
        if applied_steps() != manifest.migrations:
            _drop_tables()
            _make_tables(manifest.migrations)
        _put_tables(archive, manifest)
    call_command("migrate", interactive=False, verbosity=0, no_backup=True)
    settle_mail(datetime.fromisoformat(manifest.moment))
    return Restored(manifest=manifest, saved_before=saved)


def holds_a_book() -> bool:
    """Whether the database holds a company, however old its tables are."""
    if "jobs_company" not in connection.introspection.table_names():
        return False
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1 FROM jobs_company LIMIT 1")
        return cursor.fetchone() is not None


def put_files(archive: zipfile.ZipFile, manifest: Manifest) -> None:
    """Put the files of an archive where they belong; those that are there whole stay."""
    for file in manifest.files:
        with archive.open(file.member) as source:
            put_content(file.name, source)


def _drop_tables() -> None:
    """Drop the tables of our apps, in whatever form they are; others are left alone."""
    prefixes = tuple(f"{config.label}_" for config in apps.get_app_configs())
    names = [
        name
        for name in connection.introspection.table_names()
        if name.startswith((*prefixes, "django_"))
    ]
    cascade = "" if connection.vendor == "sqlite" else " CASCADE"
    with connection.schema_editor() as editor:
        for name in names:
            editor.execute(f"DROP TABLE {connection.ops.quote_name(name)}{cascade}")


def _make_tables(steps: Steps) -> None:
    """Make the tables as they were at these migrations, without a row."""
    graph = MigrationLoader(connection).graph
    inner = {
        parent.key
        for step in steps
        for parent in graph.node_map[step].parents
        if parent.key[0] == step[0]
    }
    MigrationExecutor(connection).migrate([step for step in steps if step not in inner])
    if (made := applied_steps()) != steps:
        more = sorted({f"{app}.{name}" for app, name in set(made) ^ set(steps)})
        message = f"Its tables can't be made: they differ in {', '.join(more)}."
        raise UnusableArchiveError(message)


@transaction.atomic
def _put_tables(archive: zipfile.ZipFile, manifest: Manifest) -> None:
    """Put all rows of an archive in place of those that are there, or none.

    Raises UnusableArchiveError where the tables of the archive are not those of its migrations.
    """
    tables = {one._meta.db_table: one for one in tables_at(manifest.migrations)}  # noqa: SLF001  public by Django's documentation
    if different := set(tables) ^ {one.table for one in manifest.tables}:
        message = f"Its tables are not those of its migrations: {', '.join(sorted(different))}."
        raise UnusableArchiveError(message)
    empty_tables(tables.values())
    for saved in manifest.tables:
        with archive.open(saved.member) as lines:
            put_rows(tables[saved.table], lines)
        go_on_from(tables[saved.table], saved.last_key)
    connection.check_constraints()


def settle_mail(moment: datetime) -> None:
    """Let no mail go out twice: one that waited when the book was saved may have gone since."""
    waiting = Mail.objects.filter(state__in=(MailState.QUEUED, MailState.SENDING))
    waiting.update(state=MailState.UNSURE, error=UNSURE.format(moment))
