"""The parts of a site as processes: pages, worker, backup; started, killed outright, ended."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from tests.conftest import ROOT

PATIENCE_S = 90.0
WORK = ("work", "--poll", "0.1", "--lease", "3")
"""A worker whose errands come back soon after it was killed."""
Part = subprocess.Popen[bytes]


def free_port() -> int:
    """Return a port on which nothing listens."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port: int = free.getsockname()[1]
        return port


def web_words(port: int) -> list[str]:
    """Return the command of the pages, word for word as the image starts it."""
    text = (ROOT / "docker" / "entrypoint.sh").read_text().replace("\\\n", " ")
    line = re.search(r"exec gunicorn (.*)", text)
    assert line is not None
    words = line[1].replace('"', "").replace("0.0.0.0:${PORT:-8000}", f"127.0.0.1:{port}")
    return [sys.executable, "-m", "gunicorn", *words.split()]


class CrowdSite:
    """One site on one folder and one database: as many webs and workers as are started."""

    def __init__(self, folder: Path, environment: Mapping[str, str]) -> None:
        self.folder = folder
        self.environment = {**os.environ, **environment}
        self.webs: dict[int, Part] = {}
        self.workers: list[Part] = []
        self._started = 0

    def start(self, words: Sequence[str], log: str) -> Part:
        """Start a part as the leader of a group of its own; its lines go to a log of that name."""
        with (self.folder / f"{log}.log").open("ab") as out:
            return subprocess.Popen(
                list(words),
                cwd=ROOT,
                env=self.environment,
                stdout=out,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    def manage(self, *words: str, log: str) -> Part:
        """Start a command of the site."""
        return self.start([sys.executable, "manage.py", *words], log)

    def start_web(self, port: int = 0, *, healthy: bool = True) -> int:
        """Start the pages, and return their port once they answer, healthily where that is due."""
        port = port or free_port()
        self.webs[port] = self.start(web_words(port), f"web-{port}")
        wait_for(port, *((200,) if healthy else ()))
        return port

    def start_worker(self) -> None:
        """Start one more worker."""
        self._started += 1
        self.workers.append(self.manage(*WORK, log=f"work-{self._started}"))

    def lines(self, kind: str) -> str:
        """Return what the parts of a kind wrote: web, work or backup."""
        logs = sorted(self.folder.glob(f"{kind}-*.log"))
        return "\n".join(log.read_text(errors="replace") for log in logs)

    def end(self) -> None:
        """End all parts, and whatever they started."""
        for part in [*self.webs.values(), *self.workers]:
            kill(part)
        self.webs.clear()
        self.workers.clear()


def kill(part: Part) -> None:
    """Kill a part outright, with its whole group, and wait until it is gone."""
    with suppress(ProcessLookupError):
        os.killpg(part.pid, signal.SIGKILL)
    part.wait()


def children_of(part: Part) -> list[int]:
    """Return the processes that a part started, as the system knows them."""
    listed = Path(f"/proc/{part.pid}/task/{part.pid}/children")
    try:
        return [int(word) for word in listed.read_text().split()]
    except FileNotFoundError:
        return []


def wait_for(port: int, *health: int) -> None:
    """Return as soon as the pages answer, with one of these statuses where any are named."""
    until = time.monotonic() + PATIENCE_S
    while True:
        line = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
        try:
            line.request("GET", "/healthz")
            status = line.getresponse().status
            if not health or status in health:
                return
        except (OSError, http.client.HTTPException):
            pass
        finally:
            line.close()
        if time.monotonic() > until:
            message = f"port {port} does not answer after {PATIENCE_S:.0f} s"
            raise TimeoutError(message)
        time.sleep(0.1)
