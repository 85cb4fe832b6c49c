"""`manage.py migrate`: as the framework does it, after a backup where there is a book."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandError, CommandParser
from django.core.management.commands import migrate
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from jobs.domain.backups.manifest import UnusableArchiveError
from jobs.domain.backups.retention import BackupKind
from jobs.services.backups.making import make_backup
from jobs.services.backups.restoring import holds_a_book


class Command(migrate.Command):
    """Saves the book before its tables are changed; one that can't be saved is not changed."""

    def add_arguments(self, parser: CommandParser) -> None:
        """Add to the framework's options that no backup is made."""
        super().add_arguments(parser)
        parser.add_argument("--no-backup", action="store_true", help="change tables unsaved")

    # Any: options of the framework's command, each of its type.
    def handle(self, *args: Any, **options: Any) -> None:
        """Save, then migrate."""
        if not options.get("no_backup") and not options.get("check_unapplied"):
            self._save_first(options)
        super().handle(*args, **options)

    def _save_first(self, options: dict[str, Any]) -> None:
        if options.get("plan") or not holds_a_book() or not self._waits():
            return
        try:
            backup = make_backup(kind=BackupKind.BEFORE_MIGRATION)
        except (OSError, ValueError, UnusableArchiveError) as trouble:
            message = (
                f"The book can't be saved, so its tables were left as they are: {trouble} "
                "Make room, or migrate with --no-backup."
            )
            raise CommandError(message) from None
        if options.get("verbosity", 1):
            self.stdout.write(f"The book is saved as {backup.name}.")

    def _waits(self) -> bool:
        """Whether any migration is not applied yet, or one is to be taken back."""
        executor = MigrationExecutor(connection)
        return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))
