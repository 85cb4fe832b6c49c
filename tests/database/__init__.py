"""An empty database as the migrations make it, kept between test runs for a quick start.

Where it is SQLite, a run copies the database that an earlier run made from the very same
migrations. One that is given `ROWBOOK_FRESH_DATABASE`, as `bin/test` gives it, copies only what was
migrated from nothing in this very run, by `python -m tests.database`, once for all its processes.

On the way it leaves a copy where the migrations of each kept book end (`tables_after`).
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Sequence
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

FRESH = "ROWBOOK_FRESH_DATABASE"


def is_kept() -> bool:
    """Whether this run may start from a database that is made already."""
    engine = settings.DATABASES["default"]["ENGINE"]
    made = connection.settings_dict["TEST"]["NAME"]
    return engine == "django.db.backends.sqlite3" and bool(made)


def take_kept() -> bool:
    """Put the kept database in place of the one to be made; False where there is none."""
    kept = _kept()
    if not is_kept() or not kept.is_file():
        return False
    shutil.copyfile(kept, _made())
    return True


def keep_made() -> None:
    """Keep the database that was made, once."""
    _keep(_made(), _kept())


def tables_after(migrations: Sequence[tuple[str, str]]) -> None:
    """Bring an empty database to where these migrations end: by a kept copy, where there is one."""
    kept, place = _kept(migrations), Path(str(connection.settings_dict["NAME"]))
    if is_kept() and kept.is_file():
        connection.close()
        shutil.copyfile(kept, place)
        return
    MigrationExecutor(connection).migrate(list(migrations))
    _keep(place, kept)


def _keep(made: Path, kept: Path) -> None:
    if not is_kept() or kept.exists():
        return
    kept.parent.mkdir(parents=True, exist_ok=True)
    written = kept.with_suffix(f".{os.getpid()}")
    with sqlite3.connect(made) as source:
        source.execute("VACUUM INTO ?", [str(written)])
    written.replace(kept)


def _made() -> Path:
    """Return where the test database of this process is made."""
    return Path(str(connection.settings_dict["TEST"]["NAME"]))


def _kept(migrations: Sequence[tuple[str, str]] = ()) -> Path:
    """Return where a database of all migrations, or up to these, is kept: by a run, or for all."""
    digest = hashlib.sha256(repr(sorted(migrations)).encode() if migrations else b"")
    for app in sorted(apps.get_app_configs(), key=lambda config: config.label):
        for path in sorted(Path(app.path).glob("migrations/*.py")):
            digest.update(f"{app.label}/{path.name}".encode())
            digest.update(path.read_bytes())
    shared = Path(tempfile.gettempdir()) / f"rowbook-tools-{os.getuid()}"
    folder = settings.VAR / "made" if FRESH in os.environ else shared
    return folder / f"empty-{digest.hexdigest()[:16]}.sqlite3"
