"""`manage.py restore ARCHIVE`: put the whole book back as an archive has it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError

from jobs.domain.backups.manifest import Manifest, UnusableArchiveError
from jobs.services.backups.restoring import LiveDataError, checked, restore


class Command(BaseCommand):
    """Checks an archive whole, then restores it; the database may be another one than it was."""

    help = "Restore a backup into the database and the folder of files; stop web and worker first."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Name the archive; say what may go."""
        parser.add_argument("archive", type=Path)
        parser.add_argument("--check", action="store_true", help="check the archive, restore none")
        parser.add_argument("--identity", type=Path, metavar="FILE", help="key of an encrypted one")
        parser.add_argument(
            "--over-live-data",
            action="store_true",
            help="let the book that is there go; it is saved first",
        )
        parser.add_argument(
            "--without-saving",
            action="store_true",
            help="with --over-live-data: don't save it first, as after an upgrade that failed",
        )

    # Any: each option has the type that its reader above returns.
    def handle(self, *_: object, **options: Any) -> None:
        """Restore, or only check."""
        place: Path = options["archive"]
        try:
            identity = options["identity"].read_text("ascii") if options["identity"] else ""
            if options["check"]:
                with checked(place, identity) as (_archive, manifest):
                    self._tell(f"{place} can be restored", manifest)
                return
            restored = restore(
                place,
                identity=identity,
                over_live_data=options["over_live_data"],
                save_first=not options["without_saving"],
            )
        except UnusableArchiveError as fault:
            message = f"{place} can't be restored. {fault} Nothing was changed."
            raise CommandError(message) from None
        except LiveDataError as live:
            message = f"{live} Nothing was changed. To let it go, add --over-live-data."
            raise CommandError(message) from None
        except (OSError, ValueError, DatabaseError) as trouble:
            message = f"{place} was not restored: {trouble}"
            raise CommandError(message) from None
        if restored.saved_before:
            self.stdout.write(f"What was there is saved as {restored.saved_before.name}.")
        self._tell(f"{place} is restored", restored.manifest)

    def _tell(self, sentence: str, manifest: Manifest) -> None:
        self.stdout.write(
            f"{sentence}: made {manifest.moment} by Rowbook {manifest.version} on "
            f"{manifest.engine}, {manifest.row_count} rows of {len(manifest.tables)} tables, "
            f"{len(manifest.files)} files."
        )
