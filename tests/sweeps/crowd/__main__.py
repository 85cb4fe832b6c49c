"""Many people at a real site: gunicorn as the image starts it, and a real worker.

    python -m tests.sweeps.crowd load  [--people 30] [--seconds 120] [--pause 3] [--engine both]
    python -m tests.sweeps.crowd kills [--count 100] [--people 8] [--engine both]
    python -m tests.sweeps.crowd pair  [--people 12] [--seconds 40]      two webs, two workers
    python -m tests.sweeps.crowd disks [--engine both]                   needs root: mounts a disk

`--engine` is sqlite, postgres or both. Exit 1 where a write was lost, the book was locked or
broken, a mail came twice, or an errand was done twice.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from contextlib import nullcontext
from pathlib import Path

from tests.conftest import ROOT
from tests.sweeps.crowd.mounting import small_disk

ENGINES = {"sqlite": ["sqlite"], "postgres": ["postgres"], "both": ["sqlite", "postgres"]}
KEY = "crowds-only-and-nothing-else-uses-this-key"


def main() -> int:
    """Return 0 where nothing is wrong."""
    chosen = _read()
    if chosen.here:
        return _here(chosen)
    engines = ["postgres"] if chosen.what == "pair" else ENGINES[chosen.engine]
    codes = [_on(engine, sys.argv[1:]) for engine in engines]
    return max(codes)


def _read() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.crowd")
    parser.add_argument("what", choices=("load", "kills", "pair", "disks"))
    parser.add_argument("--engine", choices=sorted(ENGINES), default="both")
    parser.add_argument("--people", type=int)
    parser.add_argument("--seconds", type=float, default=None)
    parser.add_argument("--pause", type=float, default=3.0)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=12)
    parser.add_argument("--here", default="", help=argparse.SUPPRESS)
    return parser.parse_args()


def _on(engine: str, words: list[str]) -> int:
    """Run it in a process of its own, on a folder and a database of its own."""
    with tempfile.TemporaryDirectory(prefix="rowbook-crowd-") as folder:
        data = Path(folder) / "var"
        data.mkdir()
        environment = {**os.environ, "ROWBOOK_VAR": str(data), "SECRET_KEY": KEY}
        environment |= {"DJANGO_SETTINGS_MODULE": "installer_site.settings", "LOG_LEVEL": "WARNING"}
        environment.pop("DATABASE_URL", None)
        command = [sys.executable, "-m", "tests.sweeps.crowd", *words, "--here", engine]
        if engine == "postgres":
            command = ["bin/with-postgres", "--durable", *command]
        with small_disk(data) if words[0] == "disks" else nullcontext(True) as there:
            if not there:
                sys.stdout.write("No disk can be mounted here; run it as root.\n")
                return 1
            return subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode


def _here(chosen: argparse.Namespace) -> int:
    """Run it on the database that the environment names."""
    import django

    django.setup()
    from tests.sweeps.crowd import runs

    run = {"load": runs.load, "kills": runs.kills, "pair": runs.pair, "disks": runs.disks}
    lines, good = run[chosen.what](chosen, Path(os.environ["ROWBOOK_VAR"]).parent, chosen.here)
    sys.stdout.write("\n".join(lines) + "\n")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
