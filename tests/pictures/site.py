"""The pictured site: a scratch book with the demo and a company that has only its owner, served."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

from django.apps import apps

from tests.pictures import EFFORT_ITERATIONS, HOST, MOMENT
from tests.pictures.addresses import HOLD_JOB

HELD = (sys.executable, "-m", "tests.pictures.held")
EMPTY_COMPANY = "Fern Gate Floors"
EMPTY_OWNER = "Nell Ashby"
EMPTY_EMAIL = "nell@example.com"
EMPTY_PASSWORD = "only-for-pictures-4711"
PATIENCE_S = 300


class SiteError(RuntimeError):
    """The site could not be filled or served; the text ends with its own last words."""


def fill() -> None:
    """Make the book: the demo on the pictured day, with a hold point, and the empty company."""
    _held("migrate", "--no-input", "--verbosity", "0")
    _held("collectstatic", "--no-input", "--clear", "--verbosity", "0")
    effort = ("--effort-iterations", str(EFFORT_ITERATIONS))
    _held("demo", "--date", f"{MOMENT:%Y-%m-%d}", *effort)
    owner = ("--owner", EMPTY_OWNER, "--email", EMPTY_EMAIL)
    _held("company", EMPTY_COMPANY, *owner, typed=EMPTY_PASSWORD)
    sites = apps.get_model("jobs.SiteFacts")._default_manager
    sites.filter(job__title=HOLD_JOB).update(tear_out=True)


def sign_ins() -> dict[str, tuple[str, str]]:
    """Return the address and password of the first person of each role of the demo."""
    people: dict[str, tuple[str, str]] = {}
    for line in _held("demo", "--sign-ins").splitlines():
        role, email, password = line.split()
        people.setdefault(role, (email, password))
    return people


@contextmanager
def served(var: Path) -> Iterator[int]:
    """Serve the book on a free port and hand the port over; the server ends with the block."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = int(free.getsockname()[1])
    log = var / "site.log"
    # The kernel ends the server if this process is killed outright.
    command = ("setpriv", "--pdeathsig", "TERM", "--", *HELD)
    with log.open("w") as out:
        server = subprocess.Popen(
            (*command, "runserver", "--noreload", f"127.0.0.1:{port}"), stdout=out, stderr=out
        )
    try:
        _wait(server, port, log)
        yield port
    finally:
        server.send_signal(signal.SIGTERM)
        server.wait()


def _wait(server: subprocess.Popen[bytes], port: int, log: Path) -> None:
    """Wait until the site answers. Raises SiteError where it ends or keeps silent."""
    until = time.monotonic() + PATIENCE_S
    while not _answers(port):
        if server.poll() is not None or time.monotonic() > until:
            message = f"the site does not answer on port {port}:\n{log.read_text()[-2000:]}"
            raise SiteError(message)
        time.sleep(0.1)


def _answers(port: int) -> bool:
    """Whether the site answers at all."""
    connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    try:
        connection.request("GET", "/healthz", headers={"Host": HOST})
        return connection.getresponse().status < 500
    except OSError:
        return False
    finally:
        connection.close()


def _held(*command: str, typed: str = "") -> str:
    """Return what a command of manage.py wrote, run on the pictured day. Raises SiteError.

    Without a terminal of its own a password is read from what is typed here.
    """
    done = subprocess.run(
        (*HELD, *command),
        input=f"{typed}\n",
        capture_output=True,
        text=True,
        check=False,
        start_new_session=True,
        env={**os.environ, "PYTHONWARNINGS": "ignore"},
    )
    if done.returncode:
        message = f"manage.py {' '.join(command)} ended with {done.returncode}:\n{done.stderr}"
        raise SiteError(message)
    return done.stdout
