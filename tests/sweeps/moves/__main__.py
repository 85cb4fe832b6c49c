"""A book goes SQLite, SQLite, PostgreSQL, PostgreSQL, SQLite: every table and file stays the same.

    bin/with-postgres python -m tests.sweeps.moves [--people 3]

Each machine has a folder and a database of its own and gets nothing but the archive that the one
before made; digests of all tables and files are compared with those of the first. Then one bit of
the last archive is turned: it must be refused. Exit 1 where anything differs.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.conftest import ROOT

WAY = ("sqlite", "sqlite", "postgres", "postgres", "sqlite")
KEY = "moves-only-and-nothing-else-uses-this-key"
Digests = dict[str, str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Machine:
    """A machine with a folder and a database of its own."""

    folder: Path
    address: str

    def run(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Run Python words on it."""
        here = {"ROWBOOK_VAR": str(self.folder), "DATABASE_URL": self.address, "SECRET_KEY": KEY}
        return subprocess.run(
            [sys.executable, *words],
            cwd=ROOT,
            env=os.environ | here | {"DJANGO_SETTINGS_MODULE": "installer_site.settings"},
            capture_output=True,
            text=True,
            check=False,
        )

    def manage(self, *words: str) -> str:
        """Run a command of the site that must end well; return what it said."""
        done = self.run("manage.py", *words)
        if done.returncode:
            raise RuntimeError(done.stderr)
        return done.stdout

    def archive(self) -> Path:
        """Make a backup and return where it lies."""
        before = set(self.folder.glob("backups/*.zip"))
        self.manage("backup")
        (made,) = set(self.folder.glob("backups/*.zip")) - before
        return made


def machine_of(engine: str, folder: Path, number: int) -> Machine:
    """Return an empty machine of an engine."""
    folder.mkdir()
    if engine == "sqlite":
        return Machine(folder=folder, address=f"sqlite:///{folder}/db.sqlite3")
    import psycopg

    address = os.environ["DATABASE_URL"]
    name = f"rowbook_moved_{number}"
    host = "/" + address.partition("@/")[2].rpartition("/")[0].lstrip("/")
    with psycopg.connect(host=host, user="rowbook", dbname="rowbook", autocommit=True) as base:
        base.execute(f"CREATE DATABASE {name}")
    return Machine(folder=folder, address=f"{address.rpartition('/')[0]}/{name}")


def digests_of(archive: Path) -> Digests:
    """Return the digest of every table and file of an archive, by name."""
    from jobs.services.backups.archive import opened

    with opened(archive) as (_, manifest):
        tables = {f"table {one.table} ({one.rows} rows)": one.sha256 for one in manifest.tables}
        return tables | {f"file {one.name}": one.sha256 for one in manifest.files}


def turned_bit_is_refused(machine: Machine, archive: Path) -> bool:
    """Whether an archive with one bit turned in its middle is refused, and the book stays."""
    content = bytearray(archive.read_bytes())
    content[len(content) // 2] ^= 1
    spoiled = archive.with_name("spoiled.zip")
    spoiled.write_bytes(content)
    done = machine.run("manage.py", "restore", str(spoiled), "--over-live-data")
    spoiled.unlink()
    sys.stdout.write(f"a turned bit: exit {done.returncode}, {done.stderr.strip()[-160:]}\n")
    return done.returncode != 0 and digests_of(machine.archive()) == digests_of(archive)


def main() -> int:
    """Return 0 where every digest stayed."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.moves")
    parser.add_argument("--people", type=int, default=3)
    people = parser.parse_args().people
    if "DATABASE_URL" not in os.environ:
        sys.stdout.write("Run it under bin/with-postgres.\n")
        return 2
    with tempfile.TemporaryDirectory(prefix="rowbook-moves-") as folder:
        return _moved(Path(folder), people)


def _moved(folder: Path, people: int) -> int:
    first = machine_of(WAY[0], folder / "0", 0)
    first.manage("migrate", "--no-input")
    filled = first.run("-m", "tests.sweeps.moves.filled", str(people))
    if filled.returncode:
        raise RuntimeError(filled.stderr)
    os.environ |= {"DJANGO_SETTINGS_MODULE": "installer_site.settings"}
    os.environ |= {"ROWBOOK_VAR": str(first.folder), "SECRET_KEY": KEY}
    import django

    django.setup()
    archive = first.archive()
    wanted, faults, machine = digests_of(archive), 0, first
    for number, engine in enumerate(WAY[1:], start=1):
        machine = machine_of(engine, folder / str(number), number)
        machine.manage("restore", str(archive))
        archive = machine.archive()
        came = digests_of(archive)
        differ = sorted(name for name in wanted.keys() | came if wanted.get(name) != came.get(name))
        faults += len(differ)
        said = ", ".join(differ) or "all the same"
        sys.stdout.write(f"{WAY[number - 1]} to {engine}: {len(came)} tables and files: {said}\n")
    faults += not turned_bit_is_refused(machine, archive)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
