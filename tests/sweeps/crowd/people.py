"""People at work: each looks at lists and plans, logs, photographs, and remembers what was taken.

A write is sent under one key until the server says that it has it, as a phone's own queue does.
"""

from __future__ import annotations

import http.client
import re
import secrets
import threading
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from io import BytesIO
from random import Random

from PIL import Image

from tests.sweeps.crowd.book import Seat

TOKEN = "a" * 32
BOUNDARY = "rows-and-planks"
ACTS = ("list", "plan", "log", "photograph")
WEIGHTS = (3, 3, 2, 2)
TAKEN = 201
FAULT = 500
LONGEST_S = 70.0


@dataclass(kw_only=True)
class Doings:
    """What all of them did: seconds by act, what went wrong, the keys that were acknowledged."""

    seconds: dict[str, list[float]] = field(default_factory=lambda: {act: [] for act in ACTS})
    errors: Counter[str] = field(default_factory=Counter)
    logs: set[str] = field(default_factory=set)
    photographs: set[str] = field(default_factory=set)
    sent: set[str] = field(default_factory=set)
    lock: threading.Lock = field(default_factory=threading.Lock)


@dataclass(frozen=True, kw_only=True, slots=True)
class ServersAnswer:
    """What a server answered; status 0 where the line broke."""

    status: int
    content: bytes = b""
    cookie: str = ""


def send(port: int, cookie: str, path: str, body: bytes = b"", **headers: str) -> ServersAnswer:
    """Return the answer to a request; a POST where there is a body."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=LONGEST_S)
    head = {"Cookie": f"{cookie}; csrftoken={TOKEN}"} | headers
    if body:
        head["Content-Type"] = f"multipart/form-data; boundary={BOUNDARY}"
    try:
        line.request("POST" if body else "GET", path, body or None, head)
        answer = line.getresponse()
        session = re.search(r"sessionid=\w+", str(answer.headers))
        cookie = session[0] if session else ""
        return ServersAnswer(status=answer.status, content=answer.read(), cookie=cookie)
    except (OSError, http.client.HTTPException):
        return ServersAnswer(status=0)
    finally:
        line.close()


def form(fields: dict[str, str], picture: bytes = b"") -> bytes:
    """Return fields as a browser sends them, with a photograph where there is one."""
    parts = [
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
        for name, value in ({"csrfmiddlewaretoken": TOKEN} | fields).items()
    ]
    body = "".join(parts).encode()
    if picture:
        head = f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="photos"; filename="a.jpg"'
        body += head.encode() + b"\r\nContent-Type: image/jpeg\r\n\r\n" + picture + b"\r\n"
    return body + f"--{BOUNDARY}--\r\n".encode()


def a_photograph(chance: Random) -> bytes:
    """Return a photograph as a phone takes it: 1600 by 1200, no two alike."""
    written = BytesIO()
    small = Image.frombytes("RGB", (40, 30), chance.randbytes(3600))
    small.resize((1600, 1200), Image.Resampling.BICUBIC).save(written, "JPEG", quality=80)
    return written.getvalue()


class AtWork(threading.Thread):
    """One person at work until the time is up."""

    def __init__(
        self,
        seat: Seat,
        *,
        ports: Sequence[int],
        until: float,
        pause: float,
        doings: Doings,
        seed: str,
    ) -> None:
        super().__init__(daemon=True)
        self.seat, self.ports, self.until, self.pause = seat, ports, until, pause
        self.doings, self.chance = doings, Random(seed)
        self.picture = a_photograph(self.chance)

    def run(self) -> None:
        """Do one thing after the other, with a pause between."""
        time.sleep(self.chance.uniform(0, self.pause))
        while time.monotonic() < self.until:
            act = self.chance.choices(ACTS, WEIGHTS)[0]
            if act in ("list", "plan"):
                self._look(act)
            else:
                self._write(act)
            time.sleep(self.chance.uniform(0.3, 1.7) * self.pause)

    def _look(self, act: str) -> None:
        page = self.seat.list_page if act == "list" else self.seat.plan_page
        began = time.monotonic()
        answer = send(self.chance.choice(self.ports), self.seat.cookie, page)
        self._note(act, time.monotonic() - began, answer, good=200)

    def _write(self, act: str) -> None:
        """Send one entry until it was taken; where time runs out before, nobody was promised it."""
        key = secrets.token_hex(8)
        fields = {
            "key": key,
            "note": key,  # by which it is known afterwards
            "crew": "yes",
            "scope": str(self.seat.scope),
            f"hours-setup-0-{self.seat.person}": "0.05",
        }
        body = form(fields, self.picture if act == "photograph" else b"")
        with self.doings.lock:
            self.doings.sent.add(key)
        while True:
            began = time.monotonic()
            port = self.chance.choice(self.ports)
            later = {"X-Rowbook-Log": "later"}
            answer = send(port, self.seat.cookie, self.seat.log_page, body, **later)
            self._note(act, time.monotonic() - began, answer, good=TAKEN)
            if answer.status == TAKEN:
                with self.doings.lock:
                    (self.doings.photographs if act == "photograph" else self.doings.logs).add(key)
                return
            if 400 <= answer.status < FAULT or time.monotonic() > self.until + LONGEST_S:
                return
            time.sleep(0.2)

    def _note(self, act: str, seconds: float, answer: ServersAnswer, *, good: int) -> None:
        with self.doings.lock:
            if answer.status == good:
                self.doings.seconds[act].append(seconds)
            else:
                said = "line broke" if not answer.status else str(answer.status)
                self.doings.errors[f"{act}: {said}"] += 1
