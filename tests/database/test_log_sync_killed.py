"""The server killed again and again while a phone sends its log: nothing lost, nothing twice."""

from __future__ import annotations

import http.client
import os
import random
import signal
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from socketserver import ThreadingMixIn
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer

import pytest
from django.contrib.staticfiles.handlers import StaticFilesHandler
from django.core.wsgi import get_wsgi_application
from django.db import connections
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image

from jobs.models import DayLog, LogEntry, LogPhoto, User, WorkDay
from tests.jobs.agreed import a_crew, agreed_job, laid_out

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.xdist_group("log killed")]

KILLS = 20
ENTRIES = 60
TOKEN = "a" * 32
BOUNDARY = "rows-and-planks"


class _Server(ThreadingMixIn, WSGIServer):
    """A server on a socket that the test keeps open, so that a phone finds it again."""

    daemon_threads = True

    def server_bind(self) -> None:
        """Take the socket as it is."""
        self.server_name, self.server_port = "localhost", self.socket.getsockname()[1]
        self.setup_environ()


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


def started(listening: socket.socket) -> int:
    """Return the process of a server started on a socket."""
    process = os.fork()
    if process:
        return process
    for each in connections.all(initialized_only=True):
        each.connection = None  # the parent's; it must not be closed from here
    server = _Server(("localhost", 0), _Quiet, bind_and_activate=False)
    server.socket.close()
    server.socket = listening
    server.server_bind()
    server.set_app(StaticFilesHandler(get_wsgi_application()))
    server.serve_forever()
    os._exit(0)


@contextmanager
def killed_again_and_again(listening: socket.socket, done: threading.Event) -> Iterator[list[int]]:
    """Keep a server up and kill it outright, `KILLS` times; the last one stays until the end."""
    kills: list[int] = []
    chance = random.Random(17)
    process = started(listening)

    def kill() -> None:
        nonlocal process
        while len(kills) < KILLS and not done.is_set():
            time.sleep(chance.uniform(0.03, 0.35))
            os.kill(process, signal.SIGKILL)
            os.waitpid(process, 0)
            kills.append(process)
            process = started(listening)

    killer = threading.Thread(target=kill)
    killer.start()
    try:
        yield kills
    finally:
        done.set()
        killer.join()
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)


class SendingPhone:
    """Sends what waits, one after the other, each until the server says that it has it."""

    def __init__(self, port: int, day: WorkDay, person: User) -> None:
        signed_in = Visitor()
        signed_in.force_login(person)
        self.cookie = f"sessionid={signed_in.cookies['sessionid'].value}; csrftoken={TOKEN}"
        self.port, self.day, self.person = port, day, person
        picture = BytesIO()
        Image.new("RGB", (400, 300), "tan").save(picture, "JPEG")
        self.picture = picture.getvalue()
        self.tries = 0

    def body(self, number: int) -> bytes:
        """Return the entry of this number as a browser sends it."""
        fields = {
            "csrfmiddlewaretoken": TOKEN,
            "key": f"entry-{number}",
            "crew": "yes",
            "scope": str(self.day.scope_id),
            f"hours-setup-0-{self.person.pk}": "0.05",
        }
        parts = [
            f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
            for name, value in fields.items()
        ]
        head = f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="photos"; filename="a.jpg"'
        head += "\r\nContent-Type: image/jpeg\r\n\r\n"
        end = f"\r\n--{BOUNDARY}--\r\n"
        return "".join(parts).encode() + head.encode() + self.picture + end.encode()

    def send(self, number: int) -> bool:
        """Whether the server said that it has the entry."""
        self.tries += 1
        line = http.client.HTTPConnection("localhost", self.port, timeout=20)
        headers = {
            "Cookie": self.cookie,
            "X-Rowbook-Log": "later",
            "Content-Type": f"multipart/form-data; boundary={BOUNDARY}",
        }
        try:
            line.request("POST", reverse("log-add", args=[self.day.pk]), self.body(number), headers)
            answer = line.getresponse()
            said = answer.read()
        except (OSError, http.client.HTTPException):
            return False
        finally:
            line.close()
        assert answer.status in (201, 500, 503), said[:500]
        return answer.status == 201


def test_nothing_acknowledged_is_missing_or_doubled_though_the_server_is_killed_20_times() -> None:
    job = agreed_job()
    day = laid_out(job, a_crew(job.company))[0]
    person = day.crew.members.get()
    with socket.create_server(("localhost", 0), backlog=64) as listening:
        phone = SendingPhone(listening.getsockname()[1], day, person)
        connections.close_all()
        sent, number = 0, 0
        with killed_again_and_again(listening, threading.Event()) as kills:
            until = time.monotonic() + 120
            while sent < ENTRIES or len(kills) < KILLS:
                assert time.monotonic() < until, f"{sent} sent, {len(kills)} kills"
                if phone.send(number):
                    sent, number = sent + 1, number + 1
    assert len(kills) == KILLS
    assert phone.tries > sent  # a kill did hit a sending
    assert DayLog.objects.count() == LogEntry.objects.count() == LogPhoto.objects.count() == sent
