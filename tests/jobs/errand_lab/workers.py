"""Starting real workers on the database of the running test, and waiting for what they do."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from django.db import connection

from jobs.models.company import Company
from jobs.models.work import Errand

ROOT = Path(__file__).resolve().parents[3]
PATIENCE_SECONDS = 40.0
Worker = subprocess.Popen[bytes]


def make_company() -> Company:
    """Return a company to ask errands for."""
    return Company.objects.create(name="Plumb & Level Floors")


def start_worker(*options: str) -> Worker:
    """Return a worker started as an installer would, on the test's database."""
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "tests.jobs.errand_lab.settings",
        "ERRAND_LAB_DATABASE": str(connection.settings_dict["NAME"]),
    }
    command = [sys.executable, "manage.py", "work", "--poll", "0.05", *options]
    return subprocess.Popen(command, cwd=ROOT, env=environment)


@contextmanager
def worker(*options: str) -> Iterator[Worker]:
    """Start a worker, and kill it at the end unless it ended by itself."""
    process = start_worker(*options)
    try:
        yield process
    finally:
        process.kill()
        process.wait()


def work_until_nothing_waits() -> int:
    """Run a worker with `--once` to its end; return its exit code."""
    with worker("--once") as process:
        return process.wait(PATIENCE_SECONDS)


def wait_until(condition: Callable[[], bool], *, what: str) -> None:
    """Return as soon as `condition` holds; fail the test when it doesn't come true."""
    until = time.monotonic() + PATIENCE_SECONDS
    while not condition():
        assert time.monotonic() < until, f"waited {PATIENCE_SECONDS:.0f} s for: {what}"
        time.sleep(0.02)


def state_of(errand: Errand) -> str:
    """Return the errand's state as it is now."""
    errand.refresh_from_db()
    return errand.state


def process_at_work(errand: Errand) -> int:
    """Return the process that does the errand, once it has reported."""
    processes: list[str] = []

    def reported() -> bool:
        errand.refresh_from_db()
        processes[:] = re.findall(r"process (\d+)", errand.progress_text)
        return bool(processes)

    wait_until(reported, what=f"progress of {errand}")
    return int(processes[0])


def is_alive(process: int) -> bool:
    """Return whether a process runs; one that has ended and waits to be fetched does not."""
    try:
        status = Path(f"/proc/{process}/stat").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return False
    return status.rpartition(")")[2].split()[0] not in "ZX"
