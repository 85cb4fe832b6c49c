"""The folder of backups: each archive with a note beside it, read without opening the archive.

The folder is the truth: a backup made before there were tables, or by another book, lies in it too.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

from django.conf import settings

from jobs.domain.backups.retention import BackupKind, MadeBackup

NOTE = ".json"
PART = ".part"


def shelf() -> Path:
    """Return the folder in which this site keeps its backups."""
    return Path(settings.BACKUP_FOLDER)


def second_shelf() -> Path | None:
    """Return the second folder, on another disk; None where none is set."""
    return Path(settings.BACKUP_COPY_TO) if settings.BACKUP_COPY_TO else None


def made_backups(folder: Path | None = None) -> list[MadeBackup]:
    """Return the finished backups of a folder, newest first; one cut short is none."""
    notes = sorted((folder or shelf()).glob(f"rowbook-*{NOTE}"))
    backups = [backup for note in notes if (backup := _backup_of(note))]
    return sorted(backups, key=lambda one: (one.moment, one.name), reverse=True)


def note_text(backup: MadeBackup) -> str:
    """Return the note that lies beside an archive."""
    content = asdict(backup) | {"moment": backup.moment.isoformat()}
    return json.dumps(content, sort_keys=True, indent=1) + "\n"


def _backup_of(note: Path) -> MadeBackup | None:
    """Return the backup that a note tells of; None where its archive is not whole beside it."""
    try:
        content = json.loads(note.read_text(encoding="utf-8"))
        kind = BackupKind(content["kind"])
        moment = datetime.fromisoformat(content["moment"])
        backup = MadeBackup(**content | {"kind": kind, "moment": moment})
        whole = note.with_name(backup.name).stat().st_size == backup.size
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return backup if whole else None
