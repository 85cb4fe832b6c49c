"""A disk that fills up under a running site, and one that may only be read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from html import unescape
from random import Random

from django.conf import settings
from django.db import connection, connections
from django.urls import reverse

from jobs.models import Client, DayLog
from tests.sweeps.crowd.afterwards import archives_broken, book_broken, files_broken
from tests.sweeps.crowd.book import FilledBook
from tests.sweeps.crowd.mounting import filled_up, set_writable
from tests.sweeps.crowd.people import ServersAnswer, a_photograph, form, send
from tests.sweeps.crowd.site import CrowdSite

FULL, SHUT = "There is no room left on the disk", "can't be written on"
TYPED = "Lind of Example Lane"
MOST_TRIES = 400
"""So many small writes may still go where the database had room of its own."""


class DeskWithoutRoom:
    """One who goes on writing, and knows what was promised."""

    def __init__(self, site: CrowdSite, book: FilledBook) -> None:
        self.site, self.book, self.port = site, book, 0
        self.chance, self.number = Random(12), 0
        self.clients: list[str] = []
        self.logs: list[str] = []

    def add_client(self) -> ServersAnswer:
        """Type a client and save it."""
        self.number += 1
        name = f"{self.number} {TYPED}"
        fields = {"key": f"client-{self.number}", "version": "1", "name": name, "net_days": "30"}
        fields |= {"retainage": "0", "note": "Rings twice. " * 150}
        answer = send(self.port, self.book.owner.cookie, reverse("client-add"), form(fields))
        if answer.status in (302, 303):
            self.clients.append(name)
        return answer

    def photograph(self) -> ServersAnswer:
        """Log a photograph, as a phone's queue does."""
        self.number += 1
        seat = self.book.seats[-1]
        key = f"log-{self.number}"
        fields = {"key": key, "note": key, "crew": "yes", "scope": str(seat.scope)}
        fields[f"hours-setup-0-{seat.person}"] = "0.05"
        body = form(fields, a_photograph(self.chance))
        later = {"X-Rowbook-Log": "later"}
        answer = send(self.port, seat.cookie, seat.log_page, body, **later)
        if answer.status == 201:
            self.logs.append(key)
        return answer

    def lost(self) -> list[str]:
        """Return what was promised and is not there, and what is there without a promise."""
        clients = set(Client.objects.filter(name__contains=TYPED).values_list("name", flat=True))
        logs = set(DayLog.objects.values_list("note", flat=True))
        faults = [
            f"fault: {name} is promised or there alone" for name in clients ^ set(self.clients)
        ]
        return faults + [
            f"fault: {key} is promised or there alone" for key in logs ^ set(self.logs)
        ]


def tried(site: CrowdSite, book: FilledBook) -> list[str]:
    """Fill and shut the disk under a site; return what was answered, faults as such."""
    desk = DeskWithoutRoom(site, book)
    desk.port = site.start_web()
    lines = [_expect("before", desk.photograph(), 201), _expect("before", desk.add_client(), 303)]
    with filled_up(settings.VAR):
        lines += _on_a_full_disk(desk)
    lines += [_expect("room made", desk.photograph(), 201)]
    lines += [_expect("room made", desk.add_client(), 303)]
    lines += _shut(desk)
    return [*lines, *_whole(), *desk.lost()]


def _on_a_full_disk(desk: DeskWithoutRoom) -> Iterator[str]:
    yield _said("full disk, photograph", _until_refused(desk.photograph), FULL)
    if connection.vendor == "sqlite":  # else the database lies elsewhere
        refused = _until_refused(desk.add_client)
        yield _said("full disk, form", refused, FULL)
        page = unescape(refused.content.decode(errors="replace"))
        kept = TYPED in page or "what you typed is still in the form there" in page
        yield "full disk: what was typed stays" if kept else "fault: what was typed is gone"
    answer = send(desk.port, desk.book.owner.cookie, reverse("job-list"))
    # SQLite makes files beside its book to open it: without any room it opens none.
    good = answer.status == 200
    yield "full disk, list: 200" if good else _said("full disk, list", answer, FULL)
    yield _backup(desk, "full disk")


def _shut(desk: DeskWithoutRoom) -> Iterator[str]:
    """Let the disk only be read, as after an error of its own; then written on again."""
    desk.site.end()
    connections.close_all()
    set_writable(settings.VAR, writable=False)
    try:
        desk.port = desk.site.start_web(healthy=False)
        yield f"shut disk: /healthz says {send(desk.port, '', '/healthz').status}"
        yield _said("shut disk, photograph", desk.photograph(), SHUT)
        if connection.vendor == "sqlite":
            yield _said("shut disk, form", desk.add_client(), SHUT)
        yield _backup(desk, "shut disk")
    finally:
        desk.site.end()
        connections.close_all()
        set_writable(settings.VAR, writable=True)
    desk.port = desk.site.start_web()
    yield _expect("opened again", desk.photograph(), 201)
    yield _expect("opened again", desk.add_client(), 303)


def _backup(desk: DeskWithoutRoom, when: str) -> str:
    code = desk.site.manage("backup", log="backup-disk").wait()
    left = [place.name for place in settings.VAR.glob("backups/*") if ".part" in place.name]
    if code == 0 or left:
        return f"fault: {when}: backup ends with {code} and leaves {left}"
    said = desk.site.lines("backup").strip().splitlines()[-1]
    return f"{when}: backup is refused: {said}"


def _until_refused(write: Callable[[], ServersAnswer]) -> ServersAnswer:
    for _ in range(MOST_TRIES):
        answer = write()
        if answer.status not in (201, 302, 303):
            return answer
    return answer


def _expect(when: str, answer: ServersAnswer, status: int) -> str:
    good = answer.status == status
    return f"{when}: {answer.status}" if good else f"fault: {when}: {answer.status}, not {status}"


def _said(when: str, answer: ServersAnswer, words: str) -> str:
    said = unescape(answer.content.decode(errors="replace")).replace("’", "'")
    if answer.status == 503 and words in said:
        return f"{when}: 503, {words!r}"
    return f"fault: {when}: {answer.status}, without {words!r}: {said[:200]!r}"


def _whole() -> list[str]:
    return [f"fault: {wrong}" for wrong in (*book_broken(), *files_broken(), *archives_broken())]
