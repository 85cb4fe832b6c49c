"""Makes a backup while people work: rows of one moment, then their files, checked and shelved.

The good name appears last, by a rename, after every digest was read back. Whoever kills it leaves
a file that ends with `.part` and is swept the next time.
"""

from __future__ import annotations

import os
import secrets
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.db import connection, transaction
from django.utils import timezone

from jobs.clock import on_the_wall
from jobs.domain.backups.manifest import Manifest, SavedFile, SavedTable, UnusableArchiveError
from jobs.domain.backups.retention import BackupKind, MadeBackup, outlived
from jobs.readers.backups.shelf import NOTE, PART, made_backups, note_text, second_shelf, shelf
from jobs.services.backups.archive import (
    ArchiveWriter,
    digest_of_file,
    encrypt,
    opened,
    pieces_of,
)
from jobs.services.backups.rows import (
    applied_steps,
    last_key_of,
    lines_of,
    tables_at,
    unknown_steps,
)
from jobs.services.storage.contents import open_content

Tell = Callable[[float, str], None]
"""Hears how far the backup is, 0 to 1, and in words."""

FORGET_PARTS_AFTER_S = 6 * 3600


def _quiet(share: float, words: str) -> None:
    """Tell nobody."""


def make_backup(
    *, kind: BackupKind, recipient: str = "", folder: Path | None = None, tell: Tell = _quiet
) -> MadeBackup:
    """Return the backup that was made, checked, shelved and copied; older ones are let go.

    ``recipient``: of age, to whom it is encrypted; empty: whom the settings name, if anybody.

    Raises OSError where a folder can't be written, UnusableArchiveError where what was written
    reads otherwise, or the database is of a newer Rowbook.
    """
    place = folder or shelf()
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    _sweep_parts(place)
    now = on_the_wall(timezone.now(), UTC)
    name = f"rowbook-{now:%Y%m%dT%H%M%SZ}-{kind}-{secrets.token_hex(3)}.zip"
    part = _private(place / f"{name}{PART}")
    try:
        manifest = _write(part, kind, now, tell)
        tell(0.85, "Reading it back")
        with opened(part):
            pass
        recipient = recipient or settings.BACKUP_AGE_RECIPIENT
        if recipient:
            name, part = f"{name}.age", _encrypted(part, place / f"{name}.age{PART}", recipient)
        backup = _note(name, part, now, manifest, encrypted=bool(recipient))
        _put(place / f"{name}{NOTE}", note_text(backup).encode())
        _rename(part, place / name)
    finally:
        part.unlink(missing_ok=True)
    if folder is None:
        backup = _copied(backup, tell)
        let_go_of_old(place)
    return backup


def _private(place: Path) -> Path:
    """Return a new file that only its owner reads: all prices and door codes will lie in it."""
    os.close(os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    return place


def _write(part: Path, kind: BackupKind, now: datetime, tell: Tell) -> Manifest:
    """Write everything into an unfinished archive; return what it says of itself."""
    writer = ArchiveWriter(part)
    try:
        # Nothing is told while the tables are read: telling writes, and would keep others waiting.
        tell(0.02, "Saving the tables")
        with _one_moment():
            steps = applied_steps()
            if unknown := unknown_steps(steps):
                message = f"The database is of a newer Rowbook: it has {', '.join(unknown)}."
                raise UnusableArchiveError(message)
            tables, names = _write_tables(writer, steps)
        files, missing = _write_files(writer, names, tell)
        manifest = Manifest(
            version=settings.VERSION,
            kind=kind,
            moment=now.isoformat(),
            engine=connection.vendor,
            migrations=steps,
            tables=tuple(tables),
            files=tuple(files),
            missing=tuple(missing),
        )
        writer.close(manifest)
    except BaseException:
        writer.drop()
        raise
    return manifest


@contextmanager
def _one_moment() -> Iterator[None]:
    """Read all tables as they are at one moment, and keep nobody from writing meanwhile."""
    if connection.in_atomic_block:
        yield
        return
    if connection.vendor != "sqlite":
        with transaction.atomic():
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
        return
    connection.ensure_connection()
    mode = connection.transaction_mode  # type: ignore[attr-defined]  # SQLite's wrapper has it
    connection.transaction_mode = "DEFERRED"  # type: ignore[attr-defined]
    try:
        with transaction.atomic():
            yield
    finally:
        connection.transaction_mode = mode  # type: ignore[attr-defined]


def _write_tables(
    writer: ArchiveWriter, steps: tuple[tuple[str, str], ...]
) -> tuple[list[SavedTable], list[str]]:
    """Write every table; return what was written, and the names of the files that rows know."""
    saved, names = [], set[str]()
    for model in tables_at(steps):
        meta = model._meta  # noqa: SLF001  public by Django's documentation
        key = last_key_of(model)
        member = SavedTable(
            table=meta.db_table, model=meta.label_lower, rows=0, sha256="", last_key=key
        )
        digest, _, rows = writer.add(member.member, lines_of(model), packed=True)
        saved.append(replace(member, sha256=digest, rows=rows))
        if meta.label_lower == "jobs.storedfile":
            names.update(model._base_manager.values_list("sha256", flat=True))  # noqa: SLF001  as above
    return saved, sorted(names)


def _write_files(
    writer: ArchiveWriter, names: list[str], tell: Tell
) -> tuple[list[SavedFile], list[str]]:
    """Write every file that a row knows; return what was written, and the names of those gone."""
    saved, missing = [], []
    for number, name in enumerate(names, start=1):
        tell(0.2 + 0.6 * number / len(names), f"File {number} of {len(names)}")
        try:
            with open_content(name) as source:
                file = SavedFile(name=name, sha256="", size=0)
                digest, size, _ = writer.add(file.member, pieces_of(source), packed=False)
        except FileNotFoundError:
            missing.append(name)
        else:
            saved.append(replace(file, sha256=digest, size=size))
    return saved, missing


def _encrypted(part: Path, place: Path, recipient: str) -> Path:
    try:
        encrypt(part, _private(place), recipient)
    except BaseException:
        place.unlink(missing_ok=True)
        raise
    finally:
        part.unlink(missing_ok=True)
    return place


def _note(
    name: str, part: Path, now: datetime, manifest: Manifest, *, encrypted: bool
) -> MadeBackup:
    return MadeBackup(
        name=name,
        kind=BackupKind(manifest.kind),
        moment=now,
        size=part.stat().st_size,
        sha256=digest_of_file(part),
        rows=manifest.row_count,
        tables=len(manifest.tables),
        files=len(manifest.files),
        missing=len(manifest.missing),
        version=manifest.version,
        encrypted=encrypted,
    )


def _copied(backup: MadeBackup, tell: Tell) -> MadeBackup:
    """Return the backup, copied into the second folder where one is set and can be written.

    A disk that is not there spoils no backup; the page and the first page say that it is missing.
    """
    second = second_shelf()
    if second is None:
        return backup
    tell(0.95, "Copying it to the second folder")
    part = second / f"{backup.name}{PART}"
    copied = replace(backup, copied_to=str(second))
    try:
        _sweep_parts(second)
        shutil.copyfile(shelf() / backup.name, _private(part))
        if digest_of_file(part) != backup.sha256:
            return backup
        _put(second / f"{backup.name}{NOTE}", note_text(copied).encode())
        _rename(part, second / backup.name)
        _put(shelf() / f"{backup.name}{NOTE}", note_text(copied).encode())
        let_go_of_old(second)
    except OSError:
        part.unlink(missing_ok=True)
        return backup
    return copied


def let_go_of_old(folder: Path) -> int:
    """Remove the backups of a folder that need not be kept any longer; return how many."""
    old = outlived(made_backups(folder))
    for backup in old:
        (folder / f"{backup.name}{NOTE}").unlink(missing_ok=True)
        (folder / backup.name).unlink(missing_ok=True)
    return len(old)


def _sweep_parts(folder: Path) -> None:
    """Remove what backups that broke off left behind."""
    for part in folder.glob(f"rowbook-*{PART}"):
        if time.time() - part.stat().st_mtime > FORGET_PARTS_AFTER_S:
            part.unlink(missing_ok=True)


def _put(place: Path, content: bytes) -> None:
    part = place.with_name(f"{place.name}.{secrets.token_hex(3)}{PART}")
    with _private(part).open("wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
    _rename(part, place)


def _rename(part: Path, place: Path) -> None:
    """Give a finished file its good name, and have the disk know it."""
    part.replace(place)
    folder = os.open(place.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)
