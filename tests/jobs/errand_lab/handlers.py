"""Handlers with one habit each: they count, hang, crash, refuse or keep the best they have.

What an effect wrote can be counted afterwards: each run leaves one row of the kind `trace`.
"""

import os
import signal
import time
from functools import cache
from typing import NoReturn

from django.core.exceptions import ValidationError
from django.template import Context, Template
from django.utils import timezone

from jobs.models.work import Errand, ErrandState
from jobs.worker.claims import Effect
from jobs.worker.errands import Attempt, handler
from layout.values.errors import LayoutError
from tests.layout.core_refusals import refusals

REFUSALS: dict[str, type[Exception]] = {
    error.__name__: error for error in (ValueError, ValidationError, LayoutError)
}


def leave_trace(attempt: Attempt) -> None:
    """Write the row that tells of one run of an effect."""
    Errand.objects.create(
        company=attempt.company,
        kind="trace",
        subject=attempt.subject,
        state=ErrandState.DONE,
        finished_at=timezone.now(),
    )


def die() -> NoReturn:
    """End this process as `kill -9` or a lack of memory would."""
    os.kill(os.getpid(), signal.SIGKILL)
    raise AssertionError


@handler("lab-count")
def count(attempt: Attempt) -> Effect:
    """Count to `steps`, pausing before each; the progress names the process."""
    steps = attempt.payload["steps"]
    for step in range(steps):
        attempt.progress((step + 1) / (steps + 1), f"process {os.getpid()}")
        time.sleep(attempt.payload["pause_seconds"])

    def keep() -> dict[str, object]:
        leave_trace(attempt)
        return {"counted": steps}

    return keep


@handler("lab-hang")
def hang(attempt: Attempt) -> None:
    """Report once, then hear and see nothing until killed."""
    attempt.progress(0.5, f"process {os.getpid()}")
    while True:
        time.sleep(60)


@handler("lab-best")
def best(attempt: Attempt) -> Effect:
    """Improve until asked to stop, then keep what there is."""
    rounds = 0
    while not attempt.should_stop():
        rounds += 1
        attempt.progress(0.5, f"best so far: {rounds}")
        time.sleep(0.05)
    return lambda: {"best": rounds}


@handler("lab-poison")
def poison(attempt: Attempt) -> None:
    """Take the process along, each time."""
    die()


@handler("lab-half")
def half(attempt: Attempt) -> Effect:
    """Die between the effect's first row and its commit."""

    def keep() -> None:
        leave_trace(attempt)
        die()

    return keep


@handler("lab-clock")
def clock(attempt: Attempt) -> Effect:
    """Keep how a template tells the moment at which the errand was asked for."""
    page = Template("{{ errand.created_at|date:'M j, H:i' }}")
    moment = page.render(Context({"errand": attempt.errand}))
    return lambda: {"moment": moment}


@handler("lab-refuse")
def refuse(attempt: Attempt) -> None:
    """Refuse what was asked, in words for the person."""
    error = REFUSALS[attempt.payload["refusal"]]
    message = "The room has 2 walls; at least 3 are needed."
    raise error(message)


@cache
def core_refusals() -> dict[str, LayoutError]:
    """Return the errors of the layout core by their places; its source is read once."""
    return dict(refusals())


@handler("lab-core")
def refuse_as_the_core(attempt: Attempt) -> None:
    """Refuse as the layout core does at one place of its source."""
    raise core_refusals()[attempt.payload["place"]]


@handler("lab-break")
def break_down(attempt: Attempt) -> None:
    """Fail as a fault in the program would."""
    raise ZeroDivisionError


@handler("lab-torn")
def torn(attempt: Attempt) -> Effect:
    """Write a row, then fail before the effect has ended."""

    def keep() -> None:
        leave_trace(attempt)
        raise ZeroDivisionError

    return keep
