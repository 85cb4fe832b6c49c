"""The runs by name: each makes its site, lets the crowd at it, and tells what came of it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.management import call_command
from django.db import connections

from tests.mail_server import Mailbox, mail_server
from tests.sweeps.crowd import disks as full_disks
from tests.sweeps.crowd import kills as killing
from tests.sweeps.crowd import load as loading
from tests.sweeps.crowd import pair as pairing
from tests.sweeps.crowd.book import FilledBook, fill_book
from tests.sweeps.crowd.site import CrowdSite

Said = tuple[list[str], bool]


@contextmanager
def a_site(folder: Path, people: int) -> Iterator[tuple[CrowdSite, FilledBook, Mailbox]]:
    """A migrated site with a filled book and a mail server, its parts not yet started."""
    call_command("migrate", verbosity=0, interactive=False)
    call_command("collectstatic", verbosity=0, interactive=False)
    with mail_server(timeout=5) as box:
        book = fill_book(people)
        connections.close_all()
        site = CrowdSite(folder, {"EMAIL_URL": f"smtp://127.0.0.1:{box.port}"})
        try:
            yield site, book, box
        finally:
            site.end()


def load(chosen: argparse.Namespace, folder: Path, engine: str) -> Said:
    """Many people at once while backups and packets are made."""
    wanted = loading.Load(
        people=chosen.people or 30,
        seconds=chosen.seconds or 120,
        pause=chosen.pause,
        seed=chosen.seed,
    )
    with a_site(folder, wanted.people) as (site, book, _):
        port = site.start_web()
        site.start_worker()
        came = loading.loaded(site, book, wanted, [port])
    return loading.lines_of(wanted, came, engine), not came.faults and not came.doings.errors


def kills(chosen: argparse.Namespace, folder: Path, engine: str) -> Said:
    """Web, worker and backup killed outright under load."""
    # They work until the last kill; no run of kills takes a day.
    people = loading.Load(
        people=chosen.people or 8, seconds=86_400, pause=chosen.pause / 3, seed=chosen.seed
    )
    with a_site(folder, people.people) as (site, book, box):
        port = site.start_web()
        site.start_worker()
        came = killing.killed_again_and_again(
            site, book, port=port, count=chosen.count, people=people, box=box
        )
    return killing.lines_of(came, engine), not came.faults


def pair(chosen: argparse.Namespace, folder: Path, engine: str) -> Said:
    """Two webs and two workers on one database and one folder of files."""
    wanted = loading.Load(
        people=chosen.people or 12,
        seconds=chosen.seconds or 40,
        pause=chosen.pause,
        seed=chosen.seed,
    )
    with a_site(folder, wanted.people) as (site, book, box):
        return pairing.paired(site, book, wanted, box, engine)


def disks(_chosen: argparse.Namespace, folder: Path, engine: str) -> Said:
    """A disk that is full, and one that may only be read."""
    with a_site(folder, 2) as (site, book, _):
        lines = full_disks.tried(site, book)
    faults = [line for line in lines if line.startswith("fault")]
    return [f"{engine}:", *lines, *(() if faults else ("no fault",))], not faults
