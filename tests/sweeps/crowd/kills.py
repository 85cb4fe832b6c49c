"""Kills web, worker and backup outright at random moments while people work and mails go out."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from random import Random

from django.db import connection

from jobs.models import Company
from jobs.services.mail.outbox import post
from tests.mail_server import Mailbox
from tests.sweeps.crowd.afterwards import all_faults, errands_left, mails_wrong
from tests.sweeps.crowd.book import FilledBook
from tests.sweeps.crowd.load import Load, crowd_of, work_under_way
from tests.sweeps.crowd.people import Doings
from tests.sweeps.crowd.site import CrowdSite, children_of, kill, wait_for

PATIENCE_S = 120.0


@dataclass(kw_only=True)
class WhatCameOfKills:
    """What was killed how often, what was done meanwhile, and what is wrong afterwards."""

    kills: Counter[str]
    doings: Doings
    mails: int
    faults: list[str]


class Killer:
    """Kills a part at a random moment and puts another in its place."""

    VICTIMS = ("one process of web", "web", "worker", "backup")
    WEIGHTS = (3, 2, 3, 3)

    def __init__(self, site: CrowdSite, port: int, chance: Random) -> None:
        self.site, self.port, self.chance = site, port, chance
        self.kills: Counter[str] = Counter()

    def kill_once(self) -> None:
        """Kill one part at a random moment."""
        victim = self.chance.choices(self.VICTIMS, self.WEIGHTS)[0]
        moment = self.chance.uniform(0.05, 1.2)
        if victim == "backup":
            backup = self.site.manage("backup", log="backup-1")
            time.sleep(moment * 3)  # most of it is the start of the command
            kill(backup)
        elif victim == "worker":
            time.sleep(moment)
            kill(self.site.workers.pop())
            self.site.start_worker()
        elif victim == "web":
            time.sleep(moment)
            kill(self.site.webs.pop(self.port))
            self.site.start_web(self.port)
        else:
            time.sleep(moment)
            serving = children_of(self.site.webs[self.port])
            if serving:
                os.kill(self.chance.choice(serving), signal.SIGKILL)
            wait_for(self.port)
        self.kills[victim] += 1


@contextmanager
def mails_posted(company: Company, pause: float) -> Iterator[Counter[str]]:
    """Post a mail every so often; count them."""
    over, posted = threading.Event(), Counter[str]()

    def go_on() -> None:
        while not over.wait(pause):
            number = posted["mails"]
            post(
                company=company,
                kind="quote",
                about="crowd",
                key=f"crowd-{number}",
                to=f"one{number}@example.com",
                subject="Days at your home",
                text="The crew comes at eight.",
            )
            posted["mails"] += 1
        connection.close()

    posting = threading.Thread(target=go_on, daemon=True)
    posting.start()
    try:
        yield posted
    finally:
        over.set()
        posting.join()


def killed_again_and_again(
    site: CrowdSite,
    book: FilledBook,
    *,
    port: int,
    count: int,
    people: Load,
    box: Mailbox,
    before: Doings | None = None,
) -> WhatCameOfKills:
    """Kill parts of a running site so often, under load; return what is wrong afterwards."""
    doings = before or Doings()
    killer = Killer(site, port, Random(people.seed))
    crowd = crowd_of(book, people, [port], doings)
    with work_under_way(book, port), mails_posted(book.company, 0.7) as posted:
        for _ in range(count):
            killer.kill_once()
    for person in crowd:
        person.until = time.monotonic()
    for person in crowd:
        person.join()
    faults = wait_for_errands()
    faults += all_faults(site, doings) + mails_wrong(box)
    return WhatCameOfKills(kills=killer.kills, doings=doings, mails=posted["mails"], faults=faults)


def wait_for_errands() -> list[str]:
    """Wait until no errand is left over: what was killed is claimed again once its lease is out.

    On a slow machine many are left: as long as they grow fewer, it is waited.
    """
    fewest, until = errands_left(), time.monotonic() + PATIENCE_S
    while left := errands_left():
        if left < fewest:
            fewest, until = left, time.monotonic() + PATIENCE_S
        if time.monotonic() > until:
            return [f"{left} errands still wait, and no fewer since {PATIENCE_S:.0f} s"]
        time.sleep(0.2)
    return []


def lines_of(came: WhatCameOfKills, engine: str) -> list[str]:
    """Return the figures in lines."""
    kills = ", ".join(f"{victim} {count}" for victim, count in sorted(came.kills.items()))
    promised = len(came.doings.logs) + len(came.doings.photographs)
    errors = ", ".join(f"{what} {count}" for what, count in sorted(came.doings.errors.items()))
    return [
        f"{engine}: {sum(came.kills.values())} kills: {kills}",
        f"writes acknowledged {promised}, mails posted {came.mails}",
        f"meanwhile {errors or 'no error'}",
        *(came.faults or ["no fault"]),
    ]
