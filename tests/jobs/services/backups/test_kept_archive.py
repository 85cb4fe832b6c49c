"""An archive kept from the Rowbook that first made backups: today's restores it, on its engine too.

It was made on SQLite, before two of today's tables and columns. Where the suite runs on PostgreSQL
the same archive goes into a database of its own on the same cluster. It is never made anew.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connection

from jobs.readers.backups.shelf import made_backups
from jobs.services.backups.archive import opened
from tests.conftest import ROOT

pytestmark = pytest.mark.django_db(transaction=True)

KEPT = Path(__file__).parent / "kept" / "rowbook-0-5-first.zip"
BESIDE = "rowbook_kept"
# What the framework writes by itself when tables are added.
OF_THE_FRAMEWORK = {"auth_permission", "django_content_type", "django_migrations"}

Rows = list[dict[str, Any]]
"""Rows of a table as an archive has them. Any: each column has a type of its own."""


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    """The address of an empty database of the engine that the suite runs on."""
    if connection.vendor == "sqlite":
        yield f"sqlite:///{tmp_path}/db.sqlite3"
        return
    with connection.cursor() as cursor:
        cursor.execute(f"DROP DATABASE IF EXISTS {BESIDE}")
        cursor.execute(f"CREATE DATABASE {BESIDE}")
    yield os.environ["DATABASE_URL"].rpartition("/")[0] + f"/{BESIDE}"
    with connection.cursor() as cursor:
        cursor.execute(f"DROP DATABASE {BESIDE} WITH (FORCE)")


def manage(folder: Path, address: str, *words: str) -> str:
    """Run a command on a machine with that folder and database; return what it said."""
    here = {"ROWBOOK_VAR": str(folder), "DATABASE_URL": address, "SECRET_KEY": "kept " * 10}
    done = subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env=os.environ | here | {"DJANGO_SETTINGS_MODULE": "tests.settings"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def rows_in(archive: Path) -> dict[str, Rows]:
    """Return the rows of every table in an archive."""
    with zipfile.ZipFile(archive) as source:
        names = [name for name in source.namelist() if name.startswith("tables/")]
        return {
            Path(name).stem: [json.loads(line) for line in source.read(name).splitlines()]
            for name in names
        }


def test_todays_rowbook_restores_it_with_every_row_and_file(tmp_path: Path, address: str) -> None:
    assert "is restored" in manage(tmp_path, address, "restore", str(KEPT))
    manage(tmp_path, address, "backup")
    (made,) = made_backups(tmp_path / "backups")
    again = tmp_path / "backups" / made.name
    with opened(KEPT) as (_, before), opened(again) as (_, after):
        assert set(before.migrations) < set(after.migrations)
        assert after.files == before.files
        assert len(before.files) > 5
    was, now = rows_in(KEPT), rows_in(again)
    assert sum(len(rows) for rows in was.values()) > 200
    for table in set(was) - OF_THE_FRAMEWORK:
        assert len(now[table]) == len(was[table]), table
        for old, new in zip(was[table], now[table], strict=True):
            assert old.items() <= new.items(), table
