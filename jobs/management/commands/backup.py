"""`manage.py backup`: save the whole book, rows and files, as one archive that was checked."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.domain.backups.manifest import UnusableArchiveError
from jobs.domain.backups.retention import BackupKind
from jobs.readers.backups.shelf import shelf
from jobs.services.backups.archive import new_key
from jobs.services.backups.making import make_backup


class Command(BaseCommand):
    """Makes one backup while the site runs, or a key to encrypt backups with."""

    help = "Save database and files as one checked archive; people go on working meanwhile."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Choose where it goes and whether it is encrypted."""
        parser.add_argument("--to", type=Path, metavar="FOLDER", help="another folder than usual")
        parser.add_argument("--recipient", default="", help="encrypt to this recipient of age")
        parser.add_argument(
            "--new-key",
            type=Path,
            metavar="FILE",
            help="write a new secret key into FILE and tell its recipient; make no backup",
        )

    # Any: each option has the type that its reader above returns.
    def handle(self, *_: object, **options: Any) -> None:
        """Make the backup, or the key."""
        if options["new_key"]:
            self._make_key(options["new_key"])
            return
        try:
            backup = make_backup(
                kind=BackupKind.BY_HAND, recipient=options["recipient"], folder=options["to"]
            )
        except (OSError, ValueError, UnusableArchiveError) as trouble:
            message = f"No backup was made: {trouble}"
            raise CommandError(message) from None
        self.stdout.write(str((options["to"] or shelf()) / backup.name))
        self.stdout.write(
            f"{backup.rows} rows of {backup.tables} tables, {backup.files} files, "
            f"{backup.size} bytes, sha256 {backup.sha256}"
        )
        if backup.missing:
            self.stderr.write(f"{backup.missing} files that rows name were gone already.")

    def _make_key(self, place: Path) -> None:
        secret, recipient = new_key()
        try:
            place.touch(mode=0o600, exist_ok=False)
            place.write_text(f"# public key: {recipient}\n{secret}\n", encoding="ascii")
        except OSError as trouble:
            message = f"{place} can't be written: {trouble.strerror}"
            raise CommandError(message) from None
        self.stdout.write(f"BACKUP_AGE_RECIPIENT={recipient}")
        self.stdout.write(f"Keep {place} elsewhere: without it no backup can be read.")
