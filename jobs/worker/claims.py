"""Who may write to an errand: claims, leases and fences.

Every change to a running errand goes through `held`, one conditional UPDATE that names the fence of
the claim. Where the claim was lost meanwhile (lease ran out, canceled), no row matches, so a
worker that comes back late can't write over its successor.
"""

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta

from django.db import InterfaceError, InternalError, OperationalError, transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from jobs.domain.documents import canonical_json
from jobs.models.work import Errand, ErrandState

Effect = Callable[[], Mapping[str, object] | None]
"""What an errand changes; runs inside the transaction that marks it done, and may run again after
that transaction was rolled back, so it touches nothing but the database. Hands back the result."""

DATABASE_TROUBLE = (OperationalError, InterfaceError, InternalError)
"""A locked SQLite file, a restarted PostgreSQL or one that only reads: worth another try."""

CLAIM_LOOKAHEAD = 20
LONGEST_PROGRESS_TEXT = 200


class LostClaimError(Exception):
    """The errand belongs to another claim by now, or to none; nothing was written."""

    def __init__(self, errand: Errand) -> None:
        super().__init__(f"errand {errand.pk}: claim {errand.fence} is no longer held")


def claim(*, worker: str, lease: timedelta) -> Errand | None:
    """Return the oldest errand that waits or whose lease ran out, now claimed; None without one.

    Of several claimers one gets it. An errand whose attempts are used up is failed on the way.
    """
    now = timezone.now()
    for errand in Errand.objects.filter(_claimable(now)).order_by("pk")[:CLAIM_LOOKAHEAD]:
        free = Errand.objects.filter(_claimable(now), pk=errand.pk, fence=errand.fence)
        if errand.attempts >= errand.attempts_allowed:
            free.update(**_ended(ErrandState.FAILED), error=worn_out(errand))
        elif _take(free, worker=worker, lease=lease):
            errand.refresh_from_db()
            return errand
    return None


def held(errand: Errand) -> QuerySet[Errand]:
    """Return the row of `errand` while its claim holds, else no row."""
    return Errand.objects.filter(pk=errand.pk, fence=errand.fence, state=ErrandState.RUNNING)


def renew(errand: Errand, *, lease: timedelta) -> bool:
    """Whether the claim still held, and now has its lease from now on."""
    return held(errand).update(lease_until=timezone.now() + lease) == 1


def note_progress(errand: Errand, *, fraction: float, text: str) -> None:
    """Write how far the errand is, 0 to 1.

    Raises LostClaimError.
    """
    shown = min(1.0, max(0.0, fraction))
    text = text[:LONGEST_PROGRESS_TEXT]
    if not held(errand).update(progress=shown, progress_text=text):
        raise LostClaimError(errand)


def finish(errand: Errand, effect: Effect | None) -> None:
    """Mark the errand done and run its effect: both in one transaction, or neither.

    The row is taken first, so a cancel or another claim waits for the outcome.

    Raises LostClaimError, and whatever the effect raises.
    """
    with transaction.atomic(durable=True):
        if not held(errand).update(**_ended(ErrandState.DONE), progress=1.0, progress_text=""):
            raise LostClaimError(errand)
        outcome = effect() if effect else None
        if outcome:
            Errand.objects.filter(pk=errand.pk).update(result=canonical_json(outcome))


def fail(errand: Errand, sentence: str) -> bool:
    """Whether the claim still held, and the errand has now ended with a sentence for a person."""
    return held(errand).update(**_ended(ErrandState.FAILED), error=sentence) == 1


def give_back(errand: Errand) -> bool:
    """Whether the claim still held; the errand now waits as if this attempt had not been made."""
    return held(errand).update(**_waiting(), attempts=F("attempts") - 1) == 1


def retry_or_fail(errand: Errand) -> bool:
    """Whether the claim still held; the errand waits for another attempt, or failed its last."""
    if errand.attempts >= errand.attempts_allowed:
        return fail(errand, worn_out(errand))
    return held(errand).update(**_waiting()) == 1


def worn_out(errand: Errand) -> str:
    """Return the sentence for work that broke off at each of its attempts."""
    tried = "once" if errand.attempts == 1 else f"{errand.attempts} times"
    return (
        f"The work was started {tried} and broke off each time before it finished. "
        "Start it again; if it breaks off again, the worker's log says more."
    )


def _claimable(now: datetime) -> Q:
    due = Q(not_before=None) | Q(not_before__lte=now)
    return Q(due, state=ErrandState.WAITING) | Q(state=ErrandState.RUNNING, lease_until__lt=now)


def _take(free: QuerySet[Errand], *, worker: str, lease: timedelta) -> bool:
    now = timezone.now()
    taken = free.update(
        state=ErrandState.RUNNING,
        fence=F("fence") + 1,
        attempts=F("attempts") + 1,
        lease_until=now + lease,
        claimed_by=worker,
        started_at=now,
        progress=0.0,
        progress_text="",
    )
    return taken == 1


def _waiting() -> dict[str, object]:
    return {
        "state": ErrandState.WAITING,
        "fence": F("fence") + 1,
        "lease_until": None,
        "claimed_by": "",
        "progress": 0.0,
        "progress_text": "",
    }


def _ended(state: ErrandState) -> dict[str, object]:
    return {"state": state, "lease_until": None, "finished_at": timezone.now()}
