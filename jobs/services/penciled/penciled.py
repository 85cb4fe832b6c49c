"""Penciling in a crew, pricing a job with it, and rubbing it out."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.db.models import F

from jobs.domain.checks import BadValueError
from jobs.domain.scope.laid_for.basis import stored_basis
from jobs.models import Job, PenciledCrew, Scope, User
from jobs.services.days import Wish, refuse_wish
from jobs.services.penciled.standing import PenciledStanding, crew_basis, standing_of
from jobs.services.records import audit_job, save_versioned, writes_once
from jobs.services.scope import freeze_scope, work_basis

WISHED = ("crew", "start", "saturdays", "holidays_too")
_WORKED_OUT = ("days", "differs", "looked")


@writes_once(PenciledCrew, "pencil in crew")
def pencil_in(
    *, job: Job, user: User, key: str, expected: int, wish: Wish, today: date
) -> PenciledCrew:
    """Return the crew that is penciled in for a job, with its days and what they do otherwise.

    Raises:
        StaleError: somebody else penciled in another one since.
        BadValueError: the job is agreed on, closed or not planned; nobody is in the crew, the start
            is past, or the work can't be laid onto days of this crew.
    """
    job = _open_job(job)
    refuse_wish(job, wish, today)
    row = PenciledCrew.objects.filter(job=job).first() or PenciledCrew(job=job)
    for name in WISHED:
        setattr(row, name, getattr(wish, name))
    _keep(row, _looked_at(row, today))
    if row._state.adding:  # noqa: SLF001  public by Django's documentation
        # Whoever saw no row sends version 1 too: what is saved first is then another version.
        row.version = expected + 1
        row.save()
    else:
        save_versioned(row, expected=expected, names=(*WISHED, *_WORKED_OUT))
    audit_job(job=job, user=user, act=f"Penciled in {row.crew} from {row.start}")
    return row


@transaction.atomic
def price_penciled(*, job: Job, user: User, today: date) -> Scope:
    """Return the scope of a job made anew for its penciled crew; the price goes on with it.

    What was issued before stays as it was issued.

    Raises BadValueError where nobody is penciled in, and what `pencil_in` refuses.
    """
    job = _open_job(job)
    row = PenciledCrew.objects.select_for_update(of=("self",)).filter(job=job).first()
    if row is None:
        accepted = "a crew and a first day; pencil them in first"
        raise BadValueError(field="crew", value="none penciled in", accepted=accepted)
    refuse_wish(job, Wish(crew=row.crew, start=row.start), today)
    row.priced = stored_basis(crew_basis(row))
    row.save(update_fields=["priced"])
    _keep(row, _looked_at(row, today))
    row.save(update_fields=[*_WORKED_OUT])
    PenciledCrew.objects.filter(pk=row.pk).update(version=F("version") + 1)
    scope = freeze_scope(job=job, user=user)
    audit_job(job=job, user=user, act=f"Priced with {row.crew} from {row.start}")
    return scope


@transaction.atomic
def rub_out(*, job: Job, user: User) -> Job:
    """Return the job without its penciled crew; its price is the usual crew's again.

    Raises BadValueError for a job that is agreed on or closed.
    """
    job = _open_job(job)
    row = PenciledCrew.objects.filter(job=job).first()
    if row is not None:
        audit_job(job=job, user=user, act=f"Rubbed out {row.crew} from {row.start}")
        row.delete()
    return job


def _open_job(job: Job) -> Job:
    """Return the job, locked. Raises BadValueError for one that is agreed on or closed."""
    rows = Job.objects.select_for_update(of=("self",)).select_related("company")
    job = rows.get(pk=job.pk)
    if job.agreed_scope_id is not None:
        accepted = "a job without an accepted quote; this one's days are planned"
        raise BadValueError(field="job", value="agreed on", accepted=accepted)
    if job.closed_at is not None:
        raise BadValueError(field="job", value="closed", accepted="a job that is still open")
    return job


def _looked_at(row: PenciledCrew, today: date) -> PenciledStanding:
    basis = work_basis(row.job)
    return standing_of(row, basis, basis.worked_out(), today)


def _keep(row: PenciledCrew, standing: PenciledStanding) -> None:
    row.days, row.differs = list(standing.days), list(standing.differs)
    row.looked = stored_basis(crew_basis(row))
