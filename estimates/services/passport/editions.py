"""What a floor passport tells, frozen: when it is made, at the hand-over, where it is corrected."""

from __future__ import annotations

from dataclasses import replace

from django.db import transaction
from django.utils import timezone

from estimates.domain.passport.content import passport_document
from estimates.models import FloorPassport, PassportEdition
from estimates.readers.passport.as_it_stands import content_now
from estimates.readers.passport.editions import editions_of, stored_passport
from jobs.clock import day_of
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Job, User
from jobs.services.records import audit_job, freeze


@transaction.atomic
def tell_passport(
    *, passport: FloorPassport, user: User | None, note: str = "", seen: int | None = None
) -> PassportEdition | None:
    """Return the edition that tells the floor as it stands; None where none was written.

    One that says the same as the last, and has no note, is not written. ``seen`` is the number of
    the last edition that the user saw: where there is a newer one, a form came twice or late.
    """
    row = FloorPassport.objects.select_for_update(of=("self",)).get(pk=passport.pk)
    job = Job.objects.select_related("company").get(pk=row.job_id)
    now = timezone.now()
    content = content_now(job, frozen_on=day_of(now, job.company))
    editions = editions_of(row)
    if seen is not None and seen != len(editions):
        return None
    if editions and not note and _same(editions[-1], passport_document(content)):
        return None
    edition = PassportEdition.objects.create(
        passport=row,
        number=len(editions) + 1,
        document=freeze(
            company=job.company, kind="passport", content=passport_document(content), user=user
        ),
        handed_over=bool(content.done_on),
        note=note,
        who=user,
        frozen_at=now,
    )
    audit_job(job=job, user=user, act=f"Floor passport told as it stands, edition {edition.number}")
    return edition


def hand_over(*, job: Job, user: User | None) -> None:
    """Let the passport of a job, where it has one, tell the floor as it stands now."""
    passport = FloorPassport.objects.filter(job=job).first()
    if passport is not None:
        tell_passport(passport=passport, user=user)


def tell_older_passports() -> int:
    """Freeze what passports tell that were made before they were frozen; return how many.

    One whose papers can't be read is left as it is: the office's page says so.
    """
    count = 0
    for passport in FloorPassport.objects.filter(editions__isnull=True):
        try:
            count += tell_passport(passport=passport, user=None) is not None
        except BrokenDocumentError:
            continue
    return count


def _same(edition: PassportEdition, fields: dict[str, object]) -> bool:
    try:
        before = stored_passport(edition)
    except BrokenDocumentError:
        return False
    frozen_on = str(fields["frozen_on"])
    return passport_document(replace(before, frozen_on=frozen_on)) == fields
