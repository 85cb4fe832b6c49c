"""Real workers as processes of their own: killed, stopped, canceled, cut off the database."""

import json
import random
import signal
import time
from collections.abc import Callable

import pytest
from django.db import connection, transaction

from jobs.models.company import Company
from jobs.models.work import ACTIVE, Errand, ErrandState, WorkerBeat
from jobs.worker import errands
from tests.jobs.errand_lab.workers import (
    is_alive,
    make_company,
    process_at_work,
    state_of,
    wait_until,
    work_until_nothing_waits,
    worker,
)

pytestmark = pytest.mark.django_db(transaction=True)

KILLS = 10


def ask(kind: str, number: int = 1, *, seconds: float = 0.0, attempts: int = 3) -> Errand:
    company = Company.objects.first() or make_company()
    return errands.ask(
        company=company,
        kind=kind,
        subject=f"zone:{number}",
        payload={"steps": 6, "pause_seconds": seconds / 6},
        attempts_allowed=attempts,
    )


def traces(errand: Errand) -> int:
    return Errand.objects.filter(kind="trace", subject=errand.subject).count()


def active() -> Errand | None:
    return Errand.objects.filter(state__in=ACTIVE).first()


def doer_of(worker_process: int) -> int | None:
    """Return the process in which a worker does an errand just now, if it has reported."""
    mine = Errand.objects.filter(
        state=ErrandState.RUNNING,
        claimed_by__contains=f":{worker_process}:",
        progress_text__startswith="process ",
    ).first()
    return int(mine.progress_text.split()[1]) if mine else None


def kill_a_worker_at_work(errands: list[Errand], *, after_seconds: float) -> None:
    """Start a worker and kill it that long after its first progress; its process dies with it."""
    doers: list[int] = []

    def at_work() -> bool:
        if active() is None:
            errands.append(ask("lab-count", len(errands), seconds=0.6))
        doer = doer_of(process.pid)
        doers.extend([doer] if doer else [])
        return bool(doers)

    with worker("--lease", "1") as process:
        wait_until(at_work, what="a worker at work")
        time.sleep(after_seconds)
        process.kill()
        process.wait()
        wait_until(lambda: not is_alive(doers[0]), what="the end of the dead worker's process")


def test_every_errand_ends_once_however_often_the_worker_is_killed() -> None:
    errands = [ask("lab-count", number, seconds=0.6) for number in range(6)]
    chance = random.Random(4)
    for _ in range(KILLS):
        kill_a_worker_at_work(errands, after_seconds=chance.uniform(0.0, 0.7))
    with worker():
        wait_until(lambda: active() is None, what="the end of all errands")
    states = [state_of(errand) for errand in errands]
    assert set(states) <= {ErrandState.DONE, ErrandState.FAILED}
    assert [traces(errand) for errand in errands] == [int(state == "done") for state in states]
    assert all(bool(errand.error) == (errand.state == "failed") for errand in errands)
    assert sum(errand.attempts for errand in errands) > len(errands)


def test_several_workers_do_each_errand_once() -> None:
    errands = [ask("lab-count", number, seconds=0.1) for number in range(9)]
    with worker(), worker(), worker():
        wait_until(lambda: active() is None, what="the end of all errands")
    assert [(state_of(errand), errand.attempts, traces(errand)) for errand in errands] == [
        ("done", 1, 1)
    ] * 9


def test_a_process_that_dies_each_time_fails_the_errand_and_not_the_worker() -> None:
    poison, after = ask("lab-poison"), ask("lab-count", 2)
    assert work_until_nothing_waits() == 0
    assert (state_of(poison), poison.attempts) == (ErrandState.FAILED, 3)
    assert state_of(after) == ErrandState.DONE


def test_a_crash_between_effect_and_done_leaves_neither() -> None:
    errand = ask("lab-half", attempts=2)
    assert work_until_nothing_waits() == 0
    assert (state_of(errand), traces(errand)) == (ErrandState.FAILED, 0)


def test_work_longer_than_its_lease_is_left_to_its_worker() -> None:
    errand = ask("lab-count", seconds=4.0)
    with worker("--lease", "3"), worker("--lease", "3"):
        wait_until(lambda: state_of(errand) == ErrandState.DONE, what="the end of the errand")
    assert errand.attempts == 1


def test_canceling_kills_the_process_and_the_worker_goes_on() -> None:
    hanging = ask("lab-hang")
    with worker("--lease", "600"):
        doer = process_at_work(hanging)
        errands.cancel(hanging)
        wait_until(lambda: not is_alive(doer), what="the end of the canceled process")
        after = ask("lab-count", 2)
        wait_until(lambda: state_of(after) == ErrandState.DONE, what="the next errand")
    assert state_of(hanging) == ErrandState.CANCELED


def test_stopping_keeps_the_best_that_was_found() -> None:
    errand = ask("lab-best")
    with worker():
        wait_until(lambda: "best so far" in shown(errand), what="a first find")
        errands.stop_and_keep(errand)
        wait_until(lambda: state_of(errand) == ErrandState.DONE, what="the best being kept")
    assert json.loads(errand.result)["best"] >= 1


def shown(errand: Errand) -> str:
    errand.refresh_from_db()
    return errand.progress_text


def test_a_worker_asked_to_stop_gives_its_errand_back_unspent() -> None:
    errand = ask("lab-hang")
    with worker() as process:
        doer = process_at_work(errand)
        assert WorkerBeat.objects.count() == 1
        process.send_signal(signal.SIGTERM)
        assert process.wait(5) == 0
    assert not is_alive(doer)
    assert (state_of(errand), errand.attempts) == (ErrandState.WAITING, 0)
    assert not WorkerBeat.objects.exists()


def cut_off_postgres() -> None:
    """Close every other session on the database, twice, a moment apart."""
    for _ in range(2):
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                "WHERE datname = current_database() AND pid <> pg_backend_pid()"
            )
        time.sleep(0.3)


def lock_sqlite() -> None:
    """Hold the write lock for several times as long as a writer waits."""
    with transaction.atomic():
        time.sleep(1.5)


def test_a_database_that_is_away_for_a_while_does_not_end_the_worker() -> None:
    disturb: Callable[[], None] = cut_off_postgres
    if connection.vendor == "sqlite":
        disturb = lock_sqlite
    with worker() as process:
        process_at_work(ask("lab-count", seconds=0.8))
        disturb()
        after = ask("lab-count", 2)
        wait_until(lambda: state_of(after) == ErrandState.DONE, what="the next errand")
        assert process.poll() is None
    assert active() is None
