"""The owner's named word that a task goes on under an open hold."""

from __future__ import annotations

from jobs.domain.checks import BadValueError
from jobs.models import HoldOverride, Job, User
from jobs.readers.days import open_holds_of
from jobs.services.records import audit_job, writes_once


@writes_once(HoldOverride, "let task go on")
def let_go_on(
    *, job: Job, user: User, key: str, code: str, task: str, by: str, reason: str
) -> HoldOverride:
    """Return the override of a hold for one task: kept with the name, the time and the reason.

    Raises BadValueError for anybody but an owner, and for a hold that is not open.
    """
    if not user.is_owner:
        raise BadValueError(field="hold", value=f"by {user.name}", accepted="the owner's own word")
    if code not in open_holds_of(job):
        raise BadValueError(field="hold", value=code, accepted="a hold that is open")
    kept, new = HoldOverride.objects.get_or_create(
        job=job, code=code, task=task, defaults={"by": by, "reason": reason, "user": user}
    )
    if new:
        act = f"Let {task} go on under the hold {code}, named: {by}. {reason}"
        audit_job(job=job, user=user, act=act)
    return kept
