"""A small crowd at a real server while it is loaded and killed; `tests.sweeps.crowd` is sized."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from django.conf import settings
from django.db import connection, connections
from django.test import override_settings

from tests.mail_server import Mailbox, mail_server
from tests.sweeps.crowd.afterwards import writes_missing
from tests.sweeps.crowd.book import FilledBook, fill_book
from tests.sweeps.crowd.kills import Killer, killed_again_and_again
from tests.sweeps.crowd.load import Load, loaded, percentile
from tests.sweeps.crowd.people import Doings
from tests.sweeps.crowd.site import CrowdSite

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.xdist_group("crowd")]

KILLS = 3


@pytest.fixture
def box() -> Iterator[Mailbox]:
    """A mail server."""
    with mail_server(timeout=5) as box:
        yield box


@pytest.fixture
def book(unset_paper: None, tmp_path: Path) -> Iterator[FilledBook]:
    """A book of a few people, whose backups lie in a folder of this test alone."""
    with override_settings(BACKUP_FOLDER=str(tmp_path)):
        yield fill_book(4)


@pytest.fixture
def site(book: FilledBook, box: Mailbox, tmp_path: Path) -> Iterator[CrowdSite]:
    """A site on the database of this test."""
    name = str(connection.settings_dict["NAME"])
    url = f"sqlite:///{name}"
    if connection.vendor != "sqlite":
        url = f"{os.environ['DATABASE_URL'].rpartition('/')[0]}/{name}"
    environment = {
        "DJANGO_SETTINGS_MODULE": "tests.sweeps.crowd.settings",
        "ROWBOOK_VAR": str(settings.VAR),
        "SECRET_KEY": settings.SECRET_KEY,
        "DATABASE_URL": url,
        "BACKUP_FOLDER": str(tmp_path),
        "EMAIL_URL": f"smtp://127.0.0.1:{box.port}",
    }
    connections.close_all()
    site = CrowdSite(tmp_path, environment)
    yield site
    site.end()


def test_a_few_people_at_once_lose_nothing_while_it_is_killed(
    site: CrowdSite, book: FilledBook, box: Mailbox
) -> None:
    port = site.start_web()
    site.start_worker()
    calm = loaded(site, book, Load(people=4, seconds=2, pause=0.2), [port])
    assert calm.faults == []
    assert not calm.doings.errors
    people = Load(people=4, seconds=86_400, pause=0.3)
    came = killed_again_and_again(
        site, book, port=port, count=KILLS, people=people, box=box, before=calm.doings
    )
    assert came.faults == []
    assert sum(came.kills.values()) == KILLS
    assert came.doings.logs | came.doings.photographs


def test_what_was_acknowledged_and_is_gone_is_seen() -> None:
    doings = Doings(logs={"a"}, photographs={"b"}, sent={"a", "b"})
    assert writes_missing(doings) == [
        *sorted(["log a was acknowledged and is gone", "log b was acknowledged and is gone"]),
        "log b has 0 photographs, 1 was acknowledged",
    ]


def test_percentiles_are_of_what_was_measured() -> None:
    times = [number / 10 for number in range(1, 101)]
    assert [percentile(times, share) for share in (0.5, 0.95, 0.99)] == [5.0, 9.5, 9.9]
    assert percentile([3.0], 0.95) == 3.0


def test_every_kind_of_part_is_among_those_that_are_killed() -> None:
    chance = Random(12)
    drawn = {chance.choices(Killer.VICTIMS, Killer.WEIGHTS)[0] for _ in range(100)}
    assert drawn == set(Killer.VICTIMS)
