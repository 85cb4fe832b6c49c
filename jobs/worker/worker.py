"""The worker: claims errands one after another and sees each through in a process of its own.

    worker ---- fork ----> work on one errand
      | renews the lease      | computes, then writes effect and "done" in one transaction
      | looks for a cancel    | dies with the worker
      +-- kills it <----------+

Whatever dies, the errand ends once or is tried again: a dead worker's lease runs out, a dead
process of the work is noticed by its worker. Several workers may run side by side.
"""

import ctypes
import logging
import multiprocessing
import os
import secrets
import signal
import socket
import sys
import threading
import time
from collections.abc import Callable
from datetime import timedelta
from multiprocessing import connection as pipes
from multiprocessing.process import BaseProcess
from types import FrameType
from typing import TypeVar

from django.core.exceptions import ValidationError
from django.db import connections
from django.utils import timezone

from jobs.clock import local_to
from jobs.domain.checks import BadValueError
from jobs.domain.plans.refused import refusal_words
from jobs.models.work import Errand, WorkerBeat
from jobs.worker import claims
from jobs.worker.claims import DATABASE_TROUBLE, LostClaimError
from jobs.worker.daily import ask_for_daily_work
from jobs.worker.errands import Attempt, find_handlers, handler_for
from layout.values.errors import LayoutError

log = logging.getLogger(__name__)

LEASE = timedelta(seconds=20)
"""How long an errand stays with a worker that is not heard of."""

POLL_SECONDS = 0.5
TICK_SECONDS = 0.2
LOOK_SECONDS = 0.5
BEAT_SECONDS = 10.0
DAILY_LOOK_SECONDS = 60.0
LONGEST_PAUSE_SECONDS = 10.0
FINISH_TRIES = 6
FORGET_BEATS_AFTER = timedelta(days=1)
PR_SET_PDEATHSIG = 1  # prctl(2), linux/prctl.h

Answer = TypeVar("Answer")


def patiently(
    step: Callable[[], Answer],
    *,
    give_up: Callable[[int], bool],
    pause: Callable[[float], None] = time.sleep,
) -> Answer:
    """Return what `step` returns, trying again while the database is locked or away.

    Pauses double up to 10 s. `give_up` is asked after each failure with their number so far.

    Raises the database's error when it gives up.
    """
    seconds = 0.2
    failures = 0
    while True:
        try:
            return step()
        except DATABASE_TROUBLE as trouble:
            failures += 1
            if give_up(failures):
                raise
            log.warning("database not ready, next try in %.1f s: %s", seconds, trouble)
        connections.close_all()
        pause(seconds)
        seconds = min(seconds * 2, LONGEST_PAUSE_SECONDS)


def carry_out(errand: Errand) -> None:
    """Do one claimed errand in this process: handler, then effect and `done` together.

    A refusal of the handler and an unexpected exception fail the errand. Trouble with the database
    is raised, so that the attempt counts as broken off.
    """
    try:
        with local_to(errand.company):
            effect = handler_for(errand.kind)(Attempt(errand))
            patiently(lambda: claims.finish(errand, effect), give_up=_enough_tries)
        log.info("errand %s is done", errand.pk)
    except LostClaimError as lost:
        log.info("%s", lost)
    except DATABASE_TROUBLE:
        raise
    except (LayoutError, BadValueError, ValidationError) as refusal:
        _fail(errand, refusal)
    except Exception as error:
        log.exception("errand %s (%s) broke down", errand.pk, errand.kind)
        _fail(errand, error)


def carry_out_waiting() -> int:
    """Do all waiting errands in this process, one after another; return how many.

    For tests and one-off commands: no lease is renewed and nothing can be killed.
    """
    find_handlers()
    done = 0
    while errand := claims.claim(worker=worker_name(), lease=timedelta(hours=1)):
        carry_out(errand)
        done += 1
    return done


def worker_name() -> str:
    """Return a name that no other worker has: host, process and a random mark."""
    return f"{socket.gethostname()[:50]}:{os.getpid()}:{secrets.token_hex(3)}"


class Worker:
    """The loop of one worker, until it is asked to stop."""

    def __init__(
        self, *, lease: timedelta = LEASE, poll_seconds: float = POLL_SECONDS, once: bool = False
    ) -> None:
        self.name = worker_name()
        self.lease = lease
        self.poll_seconds = poll_seconds
        self.once = once
        self.stopping = False
        self._beat_at = float("-inf")
        self._daily_at = float("-inf")

    def run(self) -> None:
        """Claim and do errands until SIGTERM or SIGINT; with `once`, until none waits.

        Asked to stop, it gives the errand in hand back without spending its attempt.
        """
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._stop)
        find_handlers()
        log.info("worker %s is ready", self.name)
        while not self.stopping:
            self._beat()
            self._look_for_daily_work()
            errand = self._patiently(lambda: claims.claim(worker=self.name, lease=self.lease))
            if errand is not None:
                self._see_through(errand)
            elif self.once:
                break
            else:
                self._pause(self.poll_seconds)
        self._patiently(lambda: WorkerBeat.objects.filter(name=self.name).delete())
        log.info("worker %s has ended", self.name)

    def _see_through(self, errand: Errand) -> None:
        log.info("errand %s (%s %s) begins", errand.pk, errand.kind, errand.subject)
        child = start_process(errand)
        try:
            self._watch(child, errand)
        finally:
            child.kill()
            child.join()
        # Neither touches an errand that has ended or that belongs to another claim.
        settle = claims.give_back if self.stopping else claims.retry_or_fail
        if self._patiently(lambda: settle(errand)):
            log.warning("errand %s: its process ended with %s", errand.pk, child.exitcode)

    def _watch(self, child: BaseProcess, errand: Errand) -> None:
        """Return when the process has ended, the claim was lost or this worker has to stop."""
        third = self.lease.total_seconds() / 3
        look_at = time.monotonic() + LOOK_SECONDS
        renew_at = time.monotonic() + third
        while not self.stopping:
            child.join(TICK_SECONDS)
            now = time.monotonic()
            if child.exitcode is not None:
                return
            if now < min(look_at, renew_at):
                continue
            if not self._still_held(errand, renew=now >= renew_at):
                log.info("errand %s was canceled or given to another worker", errand.pk)
                return
            self._beat()
            look_at = now + LOOK_SECONDS
            renew_at = now + third if now >= renew_at else renew_at

    def _still_held(self, errand: Errand, *, renew: bool) -> bool:
        """Whether the claim holds; a database that can't say leaves it standing."""
        try:
            if renew:
                return claims.renew(errand, lease=self.lease)
            return claims.held(errand).exists()
        except DATABASE_TROUBLE as trouble:
            log.warning("errand %s: claim not looked up: %s", errand.pk, trouble)
            connections.close_all()
            return True

    def _beat(self) -> None:
        now = time.monotonic()
        if now - self._beat_at < BEAT_SECONDS:
            return
        self._beat_at = now
        try:
            record_beat(self.name)
        except DATABASE_TROUBLE as trouble:
            log.warning("sign of life not written: %s", trouble)
            connections.close_all()

    def _look_for_daily_work(self) -> None:
        """Ask once a minute for what is due; a worker that works `once` asks for nothing."""
        now = time.monotonic()
        if self.once or now - self._daily_at < DAILY_LOOK_SECONDS:
            return
        self._daily_at = now
        try:
            ask_for_daily_work()
        except DATABASE_TROUBLE as trouble:
            log.warning("daily work not looked for: %s", trouble)
            connections.close_all()

    def _patiently(self, step: Callable[[], Answer]) -> Answer | None:
        """Return what `step` returns once the database is ready; None when asked to stop first.

        Raises the database's error after several tries when working `once`.
        """
        try:
            return patiently(step, give_up=self._gives_up, pause=self._pause)
        except DATABASE_TROUBLE as trouble:
            if not self.stopping:
                raise
            log.warning("database not ready while stopping: %s", trouble)
            return None

    def _gives_up(self, failures: int) -> bool:
        return self.stopping or (self.once and _enough_tries(failures))

    def _pause(self, seconds: float) -> None:
        until = time.monotonic() + seconds
        while not self.stopping and (left := until - time.monotonic()) > 0:
            time.sleep(min(left, TICK_SECONDS))

    def _stop(self, _number: int, _frame: FrameType | None) -> None:
        self.stopping = True


def record_beat(name: str) -> None:
    """Write that the worker of this name is alive, and forget those long gone."""
    now = timezone.now()
    WorkerBeat.objects.update_or_create(name=name, defaults={"seen_at": now})
    WorkerBeat.objects.filter(seen_at__lt=now - FORGET_BEATS_AFTER).delete()


def start_process(errand: Errand) -> BaseProcess:
    """Start the process that does one claimed errand and dies with this one.

    Forked, so that it begins at once with everything imported. No database connection may be
    shared: this process closes its own first.
    """
    connections.close_all()
    fork = multiprocessing.get_context("fork")
    child = fork.Process(target=_do_and_end, args=(errand, os.getpid()), daemon=True)
    child.start()
    return child


def _do_and_end(errand: Errand, parent: int) -> None:
    # Stopping is the worker's business: a Ctrl-C reaches both, and the worker kills this one.
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _die_with(parent)
    try:
        carry_out(errand)
    finally:
        connections.close_all()


def _die_with(parent: int) -> None:
    """End this process at once when `parent` ends, however that happens."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
    if os.getppid() != parent:
        os._exit(1)
    threading.Thread(target=_end_after_parent, daemon=True).start()


def _end_after_parent() -> None:
    """Wait on the pipe that closes with the parent; for systems without a death signal."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        pipes.wait([parent.sentinel])
        os._exit(1)


def _fail(errand: Errand, error: Exception) -> None:
    sentence = _sentence(error)
    log.info("errand %s failed: %s", errand.pk, sentence)
    patiently(lambda: claims.fail(errand, sentence), give_up=_enough_tries)


def _enough_tries(failures: int) -> bool:
    return failures >= FINISH_TRIES


def _sentence(error: Exception) -> str:
    """Return what the person is told of a handler's exception."""
    if isinstance(error, ValidationError):
        return " ".join(error.messages)
    if isinstance(error, LayoutError) and type(error) is not LayoutError:
        return refusal_words(error)
    if isinstance(error, (LayoutError, ValueError)) and str(error):
        return str(error)
    return (
        f"The work ended with an unexpected error ({type(error).__name__}). "
        "The worker's log says more."
    )
