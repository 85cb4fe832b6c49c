"""Jobs put away and brought back; jobs, clients and products removed; anything removed put back."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import (
    Client,
    Job,
    Product,
    Removal,
    RemovedKind,
    User,
)
from jobs.services.archive.removals import put_back, take_out
from jobs.services.openings.doorways import follow_proposals
from jobs.services.records import audit, audit_job
from jobs.services.trim import derive_trim


@transaction.atomic
def archive_job(*, job: Job, user: User) -> Job:
    """Return the job, which stands in no list from now on; archived twice, it is so once."""
    if Job.objects.filter(pk=job.pk, archived_at=None).update(archived_at=timezone.now()):
        audit_job(job=job, user=user, act=f"Archived {job}")
    job.refresh_from_db(fields=["archived_at"])
    return job


@transaction.atomic
def unarchive_job(*, job: Job, user: User) -> Job:
    """Return the job, which stands in the lists again."""
    if Job.objects.filter(pk=job.pk, archived_at__isnull=False).update(archived_at=None):
        audit_job(job=job, user=user, act=f"Brought back {job}")
    job.refresh_from_db(fields=["archived_at"])
    return job


def kept_for_good(job: Job) -> tuple[str, ...]:
    """Return the documents and days of a job that are never removed, and so keep the job."""
    counts = (
        (job.scopes.count(), "frozen scope", "frozen scopes"),
        (job.packets.count(), "packet", "packets"),
        (job.days.count(), "day of work", "days of work"),
    )
    return tuple(f"{n} {one if n == 1 else many}" for n, one, many in counts if n)


@transaction.atomic
def remove_job(*, job: Job, user: User) -> Removal:
    """Return what is kept of a job removed with all that was measured for it.

    Raises BadValueError for a job from which something was issued; it can be archived.
    """
    documents = kept_for_good(job)
    if documents:
        accepted = "a job from which nothing was issued. Archive it instead"
        raise BadValueError(field=str(job), value=", ".join(documents), accepted=accepted)
    audit_job(job=job, user=user, act=f"Removed {job}")
    where = job.address.replace("\n", ", ")
    return take_out(job, kind=RemovedKind.JOB, company=job.company, user=user, where=where)


@transaction.atomic
def remove_client(*, client: Client, user: User) -> Removal:
    """Return what is kept of a client removed. Raises BadValueError for one who has a job."""
    company, subject = client.company, f"client {client.pk}"
    removal = take_out(client, kind=RemovedKind.CLIENT, company=company, user=user)
    audit(user=user, company=company, subject=subject, act=f"Removed {client}")
    return removal


@transaction.atomic
def remove_product(*, product: Product, user: User) -> Removal:
    """Return what is kept of a product removed. Raises BadValueError for one that a floor has."""
    company, subject = product.company, f"product {product.pk}"
    removal = take_out(product, kind=RemovedKind.PRODUCT, company=company, user=user)
    audit(user=user, company=company, subject=subject, act=f"Removed {product}")
    return removal


@transaction.atomic
def bring_back(*, removal: Removal, user: User) -> Removal:
    """Return the removal, undone; trim and treatments follow what is there again.

    Raises BadValueError where it belongs to a job that is closed, or to something that is gone.
    """
    kept = put_back(removal=removal, user=user)
    job = job_of(kept)
    if job is None:
        return kept
    if job.closed_at is not None:
        value, accepted = f"of job {job.number}, which is closed", "once the job is open again"
        raise BadValueError(field=kept.label, value=value, accepted=accepted)
    derive_trim(job=job)
    follow_proposals(job=job)
    return kept


def job_of(removal: Removal) -> Job | None:
    """Return the job of a thing that is there again; None for clients, products, or once gone."""
    jobs = Job.objects.select_related("company")
    path = _PATHS.get(removal.kind)
    return jobs.filter(**{path: removal.row}).first() if path else None


_PATHS: dict[str, str] = {
    RemovedKind.JOB: "pk",
    RemovedKind.ROOM: "rooms",
    RemovedKind.FLOOR: "zones",
    RemovedKind.DOORWAY: "rooms__doorways",
    RemovedKind.STAIR: "stairs",
    RemovedKind.NOTE: "rooms__notes",
}
