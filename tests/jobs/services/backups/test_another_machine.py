"""Archives on another machine: a later Rowbook, SQLite, commands that are killed."""

from __future__ import annotations

import json
import os
import random
import sqlite3
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from typing import Any

import pytest
from pytest_django import Settings

from jobs.domain.backups.retention import BackupKind
from jobs.readers.backups.shelf import made_backups
from jobs.services.backups.archive import opened
from jobs.services.backups.making import make_backup
from tests.builders import make_company, make_person, make_photo, make_planned_job
from tests.conftest import ROOT

pytestmark = pytest.mark.django_db(transaction=True)
KILLS = 8


def machine(folder: Path) -> dict[str, str]:
    """The environment of a site with a folder and a SQLite database of its own."""
    left = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return left | {
        "ROWBOOK_VAR": str(folder),
        "DATABASE_URL": f"sqlite:///{folder}/db.sqlite3",
        "DJANGO_SETTINGS_MODULE": "tests.later.settings",
    }


def manage(folder: Path, *words: str) -> str:
    """Run a command on a machine; return what it said."""
    command = [sys.executable, "manage.py", *words]
    done = subprocess.run(
        command, cwd=ROOT, env=machine(folder), capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def rows_in(archive: Path, table: str) -> list[dict[str, Any]]:
    """The rows of a table in an archive."""
    with zipfile.ZipFile(archive) as source:
        lines = source.read(f"tables/{table}.jsonl").splitlines()
    return [json.loads(line) for line in lines]


@pytest.fixture
def saved(settings: Settings, tmp_path: Path) -> Path:
    """An archive of today, of the engine that the suite runs on."""
    settings.BACKUP_FOLDER = str(tmp_path / "here")
    settings.MEDIA_ROOT = tmp_path / "files"
    company = make_company()
    make_person(company)
    make_planned_job(company)
    make_photo(company)
    return tmp_path / "here" / make_backup(kind=BackupKind.BY_HAND).name


def test_a_later_rowbook_restores_it_survives_kills_and_saves_before_it_migrates(
    saved: Path, tmp_path: Path
) -> None:
    there = tmp_path / "there"
    there.mkdir()
    assert "is restored" in manage(there, "restore", str(saved))
    manage(there, "backup")
    (made,) = made_backups(there / "backups")
    again = there / "backups" / made.name
    with opened(saved) as (_, before), opened(again) as (_, after):
        assert after.files == before.files
        assert before.files
        differ = {one.table for one in set(after.tables) ^ set(before.tables)}
        # The later migration added a column to jobs, and nothing else to anything.
        assert differ <= {"jobs_job", "auth_permission", "django_content_type"}
        assert set(after.migrations) - set(before.migrations) == {("jobs", "later_mark")}
    jobs = rows_in(saved, "jobs_job")
    assert rows_in(again, "jobs_job") == [row | {"later_mark": "of old"} for row in jobs]
    kill_backups(there)
    migrate_again(there)


def kill_backups(there: Path) -> None:
    """Kill the command at random moments: what has a good name is whole, and the book too."""
    chance = random.Random(7)
    command = [sys.executable, "manage.py", "backup"]
    for _ in range(KILLS):
        with subprocess.Popen(
            command, cwd=ROOT, env=machine(there), stdout=subprocess.DEVNULL
        ) as running:
            time.sleep(chance.uniform(0.5, 3.5))
            running.kill()
    for archive in (there / "backups").glob("*.zip"):
        with opened(archive):
            pass
    notes = {backup.name for backup in made_backups(there / "backups")}
    assert notes == {archive.name for archive in (there / "backups").glob("*.zip")}
    with sqlite3.connect(there / "db.sqlite3") as base:
        assert base.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    base.close()


def migrate_again(there: Path) -> None:
    """Take the later migration back, and see the command save the book before it."""
    with sqlite3.connect(there / "db.sqlite3") as base:
        base.execute("ALTER TABLE jobs_job DROP COLUMN later_mark")
        base.execute("DELETE FROM django_migrations WHERE name = 'later_mark'")
    base.close()
    assert "The book is saved as" in manage(there, "migrate")
    assert made_backups(there / "backups")[0].kind == BackupKind.BEFORE_MIGRATION
    assert "saved" not in manage(there, "migrate")
