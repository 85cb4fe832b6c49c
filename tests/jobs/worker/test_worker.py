"""Errands without a worker: asked for, claimed, done, canceled, in this process."""

import json
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import TypeVar

import pytest
import time_machine
from django.db import IntegrityError, connection, transaction

from jobs.domain.checks import BadValueError
from jobs.models.company import Company
from jobs.models.work import ALIVE_FOR, Errand, ErrandState, WorkerBeat
from jobs.worker import claims, errands
from jobs.worker.worker import carry_out, carry_out_waiting, record_beat
from tests.jobs.errand_lab import handlers as lab
from tests.jobs.errand_lab.workers import make_company

LEASE = timedelta(seconds=20)
NOON = datetime(2025, 3, 3, 12, tzinfo=UTC)
Answer = TypeVar("Answer")


@pytest.fixture
def company(db: None) -> Company:
    return make_company()


def ask(company: Company, kind: str = "lab-count", **extra: int) -> Errand:
    return errands.ask(
        company=company,
        kind=kind,
        subject="zone:12",
        payload={"steps": 1, "pause_seconds": 0},
        attempts_allowed=extra.get("attempts_allowed", 3),
    )


def claim(worker: str = "one") -> Errand:
    errand = claims.claim(worker=worker, lease=LEASE)
    assert errand is not None
    return errand


def traces() -> int:
    return Errand.objects.filter(kind="trace").count()


def at_once(step: Callable[[], Answer], *, threads: int = 6) -> list[Answer]:
    """Return what `step` answers in several threads that begin at the same moment."""
    barrier = threading.Barrier(threads)
    answers: list[Answer] = []

    def run() -> None:
        barrier.wait()
        try:
            answers.append(step())
        finally:
            connection.close()

    running = [threading.Thread(target=run) for _ in range(threads)]
    for thread in running:
        thread.start()
    for thread in running:
        thread.join()
    return answers


def test_asking_twice_gives_the_active_errand(company: Company) -> None:
    assert ask(company) == ask(company)


def test_asking_again_after_the_end_gives_a_new_errand(company: Company) -> None:
    first = ask(company)
    errands.cancel(first)
    assert ask(company) != first
    assert errands.latest(company=company, kind="lab-count", subject="zone:12") != first


def test_two_companies_never_share_an_errand(company: Company) -> None:
    assert ask(company) != ask(make_company())


@pytest.mark.django_db(transaction=True)
def test_asking_at_the_same_moment_gives_one_errand() -> None:
    company = make_company()
    errands = at_once(lambda: ask(company).pk)
    assert len(errands) == 6
    assert len(set(errands)) == 1


@pytest.mark.parametrize(
    ("wrong", "named"),
    [
        ({"kind": "Plan Floor"}, "kind"),
        ({"subject": ""}, "subject"),
        ({"subject": "x" * 81}, "subject"),
        ({"attempts_allowed": 0}, "attempts_allowed"),
        ({"attempts_allowed": 21}, "attempts_allowed"),
    ],
)
def test_a_request_that_cannot_be_right_is_refused_by_name(
    company: Company, wrong: dict[str, object], named: str
) -> None:
    right: dict[str, object] = {"kind": "lab-count", "subject": "zone:12", "payload": {}}
    with pytest.raises(BadValueError, match=named):
        errands.ask(company=company, **{**right, **wrong})  # type: ignore[arg-type]
    assert not Errand.objects.exists()


@pytest.mark.parametrize(
    "wrong",
    [
        {"state": "paused"},
        {"progress": 1.01},
        {"progress": -0.01},
        {"attempts": 4},
        {"attempts_allowed": 0},
        {"state": ErrandState.RUNNING},
        {"state": ErrandState.DONE},
    ],
)
def test_the_database_refuses_an_impossible_errand(
    company: Company, wrong: dict[str, object]
) -> None:
    errand = ask(company)
    with pytest.raises(IntegrityError), transaction.atomic():
        Errand.objects.filter(pk=errand.pk).update(**wrong)


@pytest.mark.django_db(transaction=True)
def test_of_several_claimers_one_gets_the_errand() -> None:
    ask(make_company())
    claimed = at_once(lambda: claims.claim(worker="one", lease=LEASE))
    assert len([errand for errand in claimed if errand]) == 1
    assert len(claimed) == 6


def test_the_oldest_waiting_errand_is_claimed_first(company: Company) -> None:
    first = ask(company)
    ask(company, "lab-best")
    assert claim() == first


def test_a_claim_holds_until_its_lease_runs_out(company: Company) -> None:
    ask(company)
    with time_machine.travel(NOON, tick=False) as clock:
        claim()
        clock.shift(LEASE)
        assert claims.claim(worker="two", lease=LEASE) is None
        clock.shift(timedelta(seconds=1))
        assert claim("two").attempts == 2


def test_a_renewed_lease_is_not_taken(company: Company) -> None:
    ask(company)
    with time_machine.travel(NOON, tick=False) as clock:
        errand = claim()
        clock.shift(timedelta(seconds=15))
        assert claims.renew(errand, lease=LEASE)
        clock.shift(timedelta(seconds=15))
        assert claims.claim(worker="two", lease=LEASE) is None


def test_a_late_worker_can_write_nothing(company: Company) -> None:
    ask(company)
    with time_machine.travel(NOON, tick=False) as clock:
        late = claim()
        clock.shift(timedelta(minutes=1))
        claim("two")
    assert not claims.renew(late, lease=LEASE)
    assert not claims.fail(late, "no")
    assert not claims.give_back(late)
    assert not claims.retry_or_fail(late)
    with pytest.raises(claims.LostClaimError):
        claims.note_progress(late, fraction=0.5, text="")


def test_a_late_worker_leaves_no_effect(company: Company) -> None:
    ask(company)
    with time_machine.travel(NOON, tick=False) as clock:
        late = claim()
        clock.shift(timedelta(minutes=1))
        current = claim("two")
    carry_out(late)
    assert traces() == 0
    carry_out(current)
    assert traces() == 1


def test_leases_that_run_out_use_up_the_attempts(company: Company) -> None:
    errand = ask(company, attempts_allowed=2)
    with time_machine.travel(NOON, tick=False) as clock:
        for _ in range(2):
            claim()
            clock.shift(timedelta(minutes=1))
        assert claims.claim(worker="one", lease=LEASE) is None
    errand.refresh_from_db()
    assert errand.state == ErrandState.FAILED
    assert "started 2 times and broke off" in errand.error


def test_an_errand_given_back_has_not_spent_its_attempt(company: Company) -> None:
    ask(company)
    errand = claim()
    assert claims.give_back(errand)
    errand.refresh_from_db()
    assert (errand.state, errand.attempts) == (ErrandState.WAITING, 0)


def test_the_effect_and_done_come_together(company: Company) -> None:
    errand = ask(company)
    assert carry_out_waiting() == 1
    errand.refresh_from_db()
    assert (errand.state, errand.percent, traces()) == (ErrandState.DONE, 100, 1)
    assert json.loads(errand.result) == {"counted": 1}


def test_an_effect_that_fails_leaves_nothing_behind(company: Company) -> None:
    errand = ask(company, "lab-torn")
    carry_out_waiting()
    errand.refresh_from_db()
    assert (errand.state, traces()) == (ErrandState.FAILED, 0)
    assert "unexpected error (ZeroDivisionError)" in errand.error


@pytest.mark.parametrize("refusal", sorted(lab.REFUSALS))
def test_a_refusal_reaches_the_person_word_for_word(company: Company, refusal: str) -> None:
    errand = errands.ask(
        company=company, kind="lab-refuse", subject="zone:12", payload={"refusal": refusal}
    )
    carry_out_waiting()
    errand.refresh_from_db()
    assert errand.error == "The room has 2 walls; at least 3 are needed."


def test_a_fault_is_logged_with_its_traceback(
    company: Company, caplog: pytest.LogCaptureFixture
) -> None:
    errand = ask(company, "lab-break")
    carry_out_waiting()
    errand.refresh_from_db()
    assert errand.state == ErrandState.FAILED
    assert "unexpected error (ZeroDivisionError)" in errand.error
    assert "errand_lab/handlers.py" in caplog.text


def test_work_that_nobody_can_do_fails_in_words(company: Company) -> None:
    errand = ask(company, "unheard-of")
    carry_out_waiting()
    errand.refresh_from_db()
    assert errand.error == (
        "This worker has no handler for work of the kind 'unheard-of'; is it up to date?"
    )


def test_a_kind_has_one_handler() -> None:
    with pytest.raises(ValueError, match="have a handler already"):
        errands.handler("lab-count")(lab.hang)


def test_a_canceled_errand_is_not_claimed(company: Company) -> None:
    errand = ask(company)
    assert errands.cancel(errand)
    assert claims.claim(worker="one", lease=LEASE) is None
    assert not errands.cancel(errand)


def test_canceling_a_running_errand_keeps_its_effect_out(company: Company) -> None:
    ask(company)
    errand = claim()
    errands.cancel(Errand.objects.get())
    carry_out(errand)
    assert traces() == 0
    assert Errand.objects.get().state == ErrandState.CANCELED


def test_a_cancel_reaches_a_handler_that_looks(company: Company) -> None:
    ask(company, "lab-best")
    attempt = errands.Attempt(claim())
    errands.cancel(Errand.objects.get())
    with pytest.raises(claims.LostClaimError):
        attempt.should_stop()


def test_asked_to_stop_while_waiting_the_handler_keeps_what_it_has(company: Company) -> None:
    errand = ask(company, "lab-best")
    assert errands.stop_and_keep(errand)
    carry_out_waiting()
    errand.refresh_from_db()
    assert json.loads(errand.result) == {"best": 0}


def test_progress_is_shown_and_starts_anew_with_each_attempt(company: Company) -> None:
    errand = ask(company)
    errands.Attempt(claim()).progress(0.416, "row 5 of 12")
    errand.refresh_from_db()
    assert (errand.percent, errand.progress_text) == (42, "row 5 of 12")
    claims.retry_or_fail(errand)
    errand.refresh_from_db()
    assert (errand.percent, errand.progress_text) == (0, "")


def test_progress_is_written_at_most_twice_a_second(company: Company) -> None:
    errand = ask(company)
    attempt = errands.Attempt(claim())
    with time_machine.travel(NOON, tick=False):
        for step in range(100):
            attempt.progress(step / 100, f"step {step}")
    errand.refresh_from_db()
    assert errand.progress_text == "step 0"


def test_progress_past_the_end_is_shown_as_the_end(company: Company) -> None:
    errand = ask(company)
    claims.note_progress(claim(), fraction=1.0000001, text="x" * 300)
    errand.refresh_from_db()
    assert (errand.percent, len(errand.progress_text)) == (100, 200)


def test_a_worker_not_heard_of_counts_as_gone(db: None) -> None:
    assert not errands.worker_is_running()
    with time_machine.travel(NOON, tick=False) as clock:
        record_beat("one")
        assert errands.worker_is_running()
        clock.shift(ALIVE_FOR + timedelta(seconds=1))
        assert not errands.worker_is_running()


def test_a_sign_of_life_forgets_workers_of_long_ago(db: None) -> None:
    with time_machine.travel(NOON, tick=False) as clock:
        record_beat("one")
        clock.shift(timedelta(days=2))
        record_beat("two")
    assert [beat.name for beat in WorkerBeat.objects.all()] == ["two"]
