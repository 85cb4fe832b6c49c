"""Many people at once while backups and packets are made: how long each act takes, what is lost."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field

from django.urls import reverse

from jobs.models import Errand, Packet
from jobs.models.work import ErrandState
from jobs.readers.backups.shelf import made_backups
from tests.sweeps.crowd.afterwards import all_faults
from tests.sweeps.crowd.book import FilledBook
from tests.sweeps.crowd.people import ACTS, AtWork, Doings, form, send
from tests.sweeps.crowd.site import CrowdSite

AIMS_MS = {"list": 500, "plan": 500, "log": 500, "photograph": 1000}


@dataclass(frozen=True, kw_only=True, slots=True)
class Load:
    """How many people, for how long, how long each pauses between two acts, by seed."""

    people: int
    seconds: float
    pause: float = 3.0
    seed: int = 12


@dataclass(kw_only=True)
class Loaded:
    """What came of it."""

    doings: Doings
    backups: int
    packets: int
    errands_failed: int
    faults: list[str] = field(default_factory=list)


@contextmanager
def work_under_way(book: FilledBook, port: int) -> Iterator[None]:
    """Keep a backup and a packet under way: as soon as one is made, the next is begun."""
    over = threading.Event()

    def press() -> None:
        number = 0
        while not over.is_set():
            send(port, book.owner.cookie, reverse("backup-make"), form({}))
            job = book.jobs[number % len(book.jobs)]
            send(port, book.owner.cookie, reverse("packet-print", args=[job]), form({}))
            number += 1
            over.wait(1.0)

    pressing = threading.Thread(target=press, daemon=True)
    pressing.start()
    try:
        yield
    finally:
        over.set()
        pressing.join()


def crowd_of(book: FilledBook, load: Load, ports: Sequence[int], doings: Doings) -> list[AtWork]:
    """Return the people, who begin at once."""
    until = time.monotonic() + load.seconds
    people = [
        AtWork(
            seat, ports=ports, until=until, pause=load.pause, doings=doings, seed=f"{load.seed}:{n}"
        )
        for n, seat in enumerate(book.seats)
    ]
    for person in people:
        person.start()
    return people


def loaded(site: CrowdSite, book: FilledBook, load: Load, ports: Sequence[int]) -> Loaded:
    """Let the crowd work at a site that runs; return what came of it."""
    doings = Doings()
    with work_under_way(book, ports[0]):
        for person in crowd_of(book, load, ports, doings):
            person.join()
    failed = Errand.objects.filter(state=ErrandState.FAILED)
    return Loaded(
        doings=doings,
        backups=len(made_backups()),
        packets=Packet.objects.count(),
        errands_failed=failed.count(),
        faults=all_faults(site, doings) + [f"{errand}: {errand.error}" for errand in failed],
    )


def percentile(seconds: Sequence[float], share: float) -> float:
    """Return the time under which this share of all lies: the nearest rank, as it was measured."""
    ranked = sorted(seconds)
    return ranked[max(0, -(-len(ranked) * round(share * 100) // 100) - 1)]


def lines_of(load: Load, came: Loaded, engine: str) -> list[str]:
    """Return the figures in lines."""
    lines = [
        f"{engine}: {load.people} people, {load.seconds:.0f} s, {load.pause:.1f} s between acts",
        f"{'act':12}{'count':>7}{'p50 ms':>9}{'p95 ms':>9}{'p99 ms':>9}{'aim p95':>9}",
    ]
    for act in ACTS:
        took = came.doings.seconds[act]
        if not took:
            lines.append(f"{act:12}{0:7}")
            continue
        figures = "".join(f"{percentile(took, share) * 1000:9.0f}" for share in (0.5, 0.95, 0.99))
        lines.append(f"{act:12}{len(took):7}{figures}{AIMS_MS[act]:9}")
    errors = ", ".join(f"{what} {count}" for what, count in sorted(came.doings.errors.items()))
    promised = len(came.doings.logs) + len(came.doings.photographs)
    lost = sum("acknowledged" in fault for fault in came.faults)
    lines += [
        f"errors: {errors or 'none'}",
        f"writes acknowledged {promised}, lost {lost}",
        f"meanwhile {came.backups} backups and {came.packets} packets were made",
        *(came.faults or ["no fault"]),
    ]
    return lines
