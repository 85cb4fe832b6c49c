"""The link of a floor passport: made, computed afresh, renewed, revoked. Atomic, audited."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.utils import timezone

from estimates.models import FloorPassport
from estimates.services.passport.editions import tell_passport
from jobs.domain.checks import BadValueError
from jobs.domain.link_token import token_hash
from jobs.http import whole_address
from jobs.models import Job, User
from jobs.services.records import audit_job


@transaction.atomic
def open_passport(*, job: Job, user: User, version: int) -> FloorPassport:
    """Return the floor passport of ``job``, open from now on under a link that is new.

    It tells the floor as it stands when it is made.

    ``version`` is that of the link that the user saw, 0 for none: one that was renewed since stays
    as it is, so that a form sent twice renews it once.

    Raises:
        BadValueError: nothing is agreed on yet, so there is no floor to tell of.
    """
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    if job.agreed_scope_id is None:
        accepted = "a job whose quote is accepted"
        raise BadValueError(field="job", value="no agreed scope", accepted=accepted)
    row = FloorPassport.objects.filter(job=job).first()
    if row is None:
        row = FloorPassport(job=job, token_hash=secrets.token_hex(32))
        row.save()
        made = _opened(row, user, "Made the floor passport")
        tell_passport(passport=made, user=user)
        return made
    if row.version != version:
        return row
    row.version += 1
    row.revoked_at = None
    return _opened(row, user, "Made a new link of the floor passport")


@transaction.atomic
def revoke_passport(*, passport: FloorPassport, user: User) -> FloorPassport:
    """Return the passport, whose link opens nothing any more."""
    row = FloorPassport.objects.select_for_update(of=("self",)).get(pk=passport.pk)
    if row.revoked_at is None:
        row.revoked_at = timezone.now()
        row.save(update_fields=["revoked_at"])
        audit_job(job=row.job, user=user, act="Revoked the link of the floor passport")
    return row


@transaction.atomic
def set_leftovers(*, passport: FloorPassport, user: User, stay: bool) -> FloorPassport:
    """Return the passport, which tells of cut leftovers where they stay with the homeowner."""
    if (
        FloorPassport.objects.filter(pk=passport.pk)
        .exclude(leftovers_stay=stay)
        .update(leftovers_stay=stay)
    ):
        where = "stay with the homeowner" if stay else "are gone"
        audit_job(job=passport.job, user=user, act=f"Floor passport: cut leftovers {where}")
    passport.refresh_from_db(fields=["leftovers_stay"])
    return passport


def address_of(passport: FloorPassport) -> str:
    """Return the whole address that the link is, computed afresh; kept nowhere.

    Where the site's secret was changed since, the hash is written anew: what was sent before opens
    nothing, what is sent from now on does.
    """
    if token_hash(passport.token) != passport.token_hash:
        _stamp(passport)
    return whole_address("passport-public", passport.token)


def open_address(job: Job) -> str:
    """Return the address of the passport of ``job`` that opens it; empty where none does."""
    row = open_passport_of(job)
    return address_of(row) if row else ""


def open_passport_of(job: Job) -> FloorPassport | None:
    """Return the passport of ``job`` whose link opens it; None where it has none."""
    return FloorPassport.objects.filter(job=job, revoked_at__isnull=True).first()


def _opened(row: FloorPassport, user: User, act: str) -> FloorPassport:
    _stamp(row)
    audit_job(job=row.job, user=user, act=act)
    return row


def _stamp(row: FloorPassport) -> None:
    row.token_hash = token_hash(row.token)
    row.save()
