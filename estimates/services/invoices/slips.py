"""Completion slips signed on the phone: keyword-only, atomic, audited. Never edited."""

from __future__ import annotations

from datetime import date

from estimates.domain.invoices.slip import slip_document
from estimates.models import CompletionSlip
from estimates.readers.invoices.slips import slip_of, word_to_sign
from estimates.services.invoices.paper import slip_pdf
from estimates.services.passport.editions import hand_over
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, writes_once


@writes_once(CompletionSlip, "sign completion slip")
def sign_slip(
    *, job: Job, user: User, key: str, name: str, open_points: str, today: date
) -> CompletionSlip:
    """Return the occupant's word, frozen with its PDF. ``user`` is who handed the phone over.

    Raises:
        BadValueError: there is no agreed scope, so there is nothing to be done with.
    """
    rows = Job.objects.select_for_update(of=("self",))
    locked = rows.select_related("company__logo", "client", "agreed_scope__document").get(pk=job.pk)
    word = word_to_sign(locked, today=today, signed_by=name, open_points=open_points)
    if word is None:
        accepted = "a job whose quote is accepted"
        raise BadValueError(field="job", value="no agreed scope", accepted=accepted)
    document = freeze(
        company=locked.company, kind="completion-slip", content=slip_document(word), user=user
    )
    pdf = store_file(
        company=locked.company,
        content=slip_pdf(locked.company, slip_of(document)),
        name=f"completion-{locked.number}-{word.number}.pdf",
        content_type="application/pdf",
    )
    slip = CompletionSlip.objects.create(
        job=locked,
        number=word.number,
        document=document,
        pdf=pdf,
        signed_by=name,
        open_points=open_points,
        handed_by=user,
    )
    audit_job(job=locked, user=user, act=f"{slip} signed by {name}")
    hand_over(job=locked, user=user)
    return slip
