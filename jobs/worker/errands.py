"""Long work seen from both ends: pages ask for it, handlers do it.

A page calls `ask` and shows the errand's progress; `cancel` ends it at once, `stop_and_keep` asks
for the best that was found so far. A handler is registered in the module `handlers` of an app:

    @handler("plan-floor")
    def plan_floor(attempt: Attempt) -> Effect:
        plan = planned(attempt.payload, stop=attempt.should_stop, progress=attempt.progress)

        def keep() -> dict[str, object]:
            return {"plan": Plan.objects.create(...).pk}

        return keep

The handler computes outside any transaction, in a process of its own that may be killed at any
moment; what it returns runs together with `done` in one transaction, once. A ValueError,
ValidationError or LayoutError fails the errand with its message as the sentence shown; any other
exception fails it with a general sentence and a traceback in the log.
"""

import json
import logging
import re
import time
from collections.abc import Callable, Collection, Mapping
from datetime import datetime
from typing import Any

from django.db import IntegrityError
from django.db.models import F, QuerySet
from django.utils import timezone
from django.utils.module_loading import autodiscover_modules

from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json
from jobs.models.company import Company
from jobs.models.user import User
from jobs.models.work import ACTIVE, ALIVE_FOR, Errand, ErrandState, WorkerBeat
from jobs.worker.claims import DATABASE_TROUBLE, Effect, LostClaimError, held, note_progress

log = logging.getLogger(__name__)

KIND = re.compile(r"[a-z][a-z0-9-]{0,39}")
LONGEST_SUBJECT = 80
MOST_ATTEMPTS = 20
QUIET_SECONDS = 0.5
"""Shortest time between two looks at the database for progress or for a wish to stop."""


def ask(
    *,
    company: Company,
    kind: str,
    subject: str,
    payload: Mapping[str, object],
    user: User | None = None,
    attempts_allowed: int = 3,
    not_before: datetime | None = None,
) -> Errand:
    """Return the active errand of this company, kind and subject, made now if there is none.

    Asking twice gives the same errand, also when two ask at the same moment; the first payload
    stands. Where the payload may have changed meanwhile, `ask_anew`. Inside a transaction
    the worker sees the errand once it is committed, and once the moment ``not_before`` has come.

    Raises BadValueError for a kind that is no slug of up to 40 letters, an empty or overlong
    subject, or attempts outside 1 to 20.
    """
    _check_request(kind=kind, subject=subject, attempts_allowed=attempts_allowed)
    active = _of(company, kind, subject).filter(state__in=ACTIVE)
    new = {
        "payload": canonical_json(payload),
        "asked_by": user,
        "attempts_allowed": attempts_allowed,
        "not_before": not_before,
    }
    key = {"company": company, "kind": kind, "subject": subject}
    try:
        return active.get_or_create(**key, defaults=new)[0]
    except IntegrityError:
        # Another's errand stood in the way and ended before it could be fetched.
        return active.get_or_create(**key, defaults=new)[0]


def ask_anew(
    *,
    company: Company,
    kind: str,
    subject: str,
    payload: Mapping[str, object],
    user: User | None = None,
) -> Errand:
    """Return the active errand for this very payload; one for an older payload is canceled.

    Raises as `ask`.
    """

    def errand_now() -> Errand:
        return ask(company=company, kind=kind, subject=subject, payload=payload, user=user)

    errand = errand_now()
    if errand.payload != canonical_json(payload):
        cancel(errand)
        errand = errand_now()
    return errand


def latest(*, company: Company, kind: str, subject: str) -> Errand | None:
    """Return the newest errand of this company, kind and subject, whatever its state."""
    return _of(company, kind, subject).order_by("-pk").first()


def active_subjects(*, company: Company, kind: str, subjects: Collection[str]) -> set[str]:
    """Return those of these subjects for which an errand of this company and kind is active."""
    errands = Errand.objects.filter(company=company, kind=kind, subject__in=subjects)
    return set(errands.filter(state__in=ACTIVE).values_list("subject", flat=True))


def cancel(errand: Errand) -> bool:
    """Whether the errand was active; it is canceled now and its work dropped.

    From this call on nothing of it can be written; a running worker kills the process of the work
    within about a second. `errand` is read again.
    """
    ended = Errand.objects.filter(pk=errand.pk, state__in=ACTIVE).update(
        state=ErrandState.CANCELED,
        fence=F("fence") + 1,
        lease_until=None,
        finished_at=timezone.now(),
    )
    errand.refresh_from_db()
    return ended == 1


def stop_and_keep(errand: Errand) -> bool:
    """Whether the errand was active; it is asked to finish with the best it has.

    The handler sees it in `attempt.should_stop()`. `errand` is read again.
    """
    reached = Errand.objects.filter(pk=errand.pk, state__in=ACTIVE).update(stop_asked=True)
    errand.refresh_from_db()
    return reached == 1


def worker_is_running() -> bool:
    """Whether a worker was heard of lately; pages and the health answer say so if not."""
    return WorkerBeat.objects.filter(seen_at__gte=timezone.now() - ALIVE_FOR).exists()


class Attempt:
    """One attempt at an errand: what its handler knows, and how it reports back."""

    def __init__(self, errand: Errand) -> None:
        self.errand = errand
        # Any: the page that asks and the handler agree on what stands in it.
        self.payload: dict[str, Any] = json.loads(errand.payload)
        self._reported_at = float("-inf")
        self._looked_at = float("-inf")
        self._stopping = errand.stop_asked

    @property
    def company(self) -> Company:
        """Return the company for which the work is done."""
        return self.errand.company

    @property
    def subject(self) -> str:
        """Return what the work is about, as it was asked."""
        return self.errand.subject

    def progress(self, fraction: float, text: str = "") -> None:
        """Show how far the work is, 0 to 1; call it as often as you like.

        Written at most twice a second, and given up for this time while the database is busy.

        Raises LostClaimError when the errand was canceled or given to another worker: let it
        pass through.
        """
        now = time.monotonic()
        if now - self._reported_at < QUIET_SECONDS:
            return
        self._reported_at = now
        try:
            note_progress(self.errand, fraction=fraction, text=text)
        except DATABASE_TROUBLE as trouble:
            log.warning("errand %s: progress not written: %s", self.errand.pk, trouble)

    def should_stop(self) -> bool:
        """Whether the person wants the best that was found so far; cheap to call often.

        Raises LostClaimError, as `progress` does.
        """
        now = time.monotonic()
        if self._stopping or now - self._looked_at < QUIET_SECONDS:
            return self._stopping
        self._looked_at = now
        try:
            stopping = held(self.errand).values_list("stop_asked", flat=True).first()
        except DATABASE_TROUBLE as trouble:
            log.warning("errand %s: wish to stop not read: %s", self.errand.pk, trouble)
            return False
        if stopping is None:
            raise LostClaimError(self.errand)
        self._stopping = stopping
        return stopping


Handler = Callable[[Attempt], Effect | None]
_handlers: dict[str, Handler] = {}


def handler(kind: str) -> Callable[[Handler], Handler]:
    """Register the function that does all errands of one kind.

    Raises ValueError when the kind is taken already.
    """

    def register(work: Handler) -> Handler:
        if _handlers.get(kind, work) is not work:
            message = f"errands of kind {kind!r} have a handler already: {_handlers[kind]!r}"
            raise ValueError(message)
        _handlers[kind] = work
        return work

    return register


def find_handlers() -> None:
    """Import the module `handlers` of every installed app that has one."""
    autodiscover_modules("handlers")


def handler_for(kind: str) -> Handler:
    """Return the handler of a kind.

    Raises ValueError with a sentence for the person when there is none.
    """
    try:
        return _handlers[kind]
    except KeyError:
        message = f"This worker has no handler for work of the kind {kind!r}; is it up to date?"
        raise ValueError(message) from None


def _of(company: Company, kind: str, subject: str) -> QuerySet[Errand]:
    return Errand.objects.filter(company=company, kind=kind, subject=subject)


def _check_request(*, kind: str, subject: str, attempts_allowed: int) -> None:
    if not KIND.fullmatch(kind):
        accepted = "up to 40 small letters, digits and hyphens, a letter first"
        raise BadValueError(field="kind", value=kind, accepted=accepted)
    if not 0 < len(subject) <= LONGEST_SUBJECT:
        accepted = f"1 to {LONGEST_SUBJECT} characters, such as zone:12"
        raise BadValueError(field="subject", value=subject, accepted=accepted)
    if not 1 <= attempts_allowed <= MOST_ATTEMPTS:
        accepted = f"a whole number from 1 to {MOST_ATTEMPTS}"
        raise BadValueError(field="attempts_allowed", value=attempts_allowed, accepted=accepted)
