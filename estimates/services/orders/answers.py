"""The word on a change that was sent: accepted or declined, by link or taken down by us."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils import timezone

from estimates.models import ChangeAnswer, ChangeOffer, ChangeOrder
from estimates.readers.orders.offers import is_overtaken, standing_of
from estimates.services.orders.mails import post_copies
from jobs.domain.checks import BadValueError, require_text
from jobs.models import Job, User
from jobs.services.records import audit_job


@dataclass(frozen=True, kw_only=True, slots=True)
class Whence:
    """From where a word came: by link with address and browser, or taken down by a person."""

    user: User | None = None
    ip: str | None = None
    agent: str = ""

    @property
    def by_link(self) -> bool:
        """Whether it came by the link."""
        return self.user is None

    @property
    def words(self) -> str:
        """The same in words."""
        return "by link" if self.by_link else "recorded by us"


@transaction.atomic
def accept_change(*, offer: ChangeOffer, name: str, today: date, whence: Whence) -> ChangeOrder:
    """Return the change order that a word makes of what was sent; its scope is then agreed on.

    A second word changes nothing.

    Raises BadValueError where it is withdrawn, declined or past its date, where the job was agreed
    otherwise since, or is closed.
    """
    job = (
        Job.objects.select_for_update()
        .select_related("agreed_scope__document")
        .get(pk=offer.job_id)
    )
    offer = ChangeOffer.objects.select_for_update().get(pk=offer.pk)
    if offer.answer == ChangeAnswer.ACCEPTED:
        return ChangeOrder.objects.get(document=offer.document_id)
    require_text("name", name)
    _refuse_dead(offer, job, today)
    order = ChangeOrder.objects.create(
        job=job,
        number=offer.number,
        scope=offer.scope,
        document=offer.document,
        amount=offer.amount,
        agreed_by=name,
    )
    _answer(offer, ChangeAnswer.ACCEPTED, name, whence)
    Job.objects.filter(pk=job.pk).update(agreed_scope=offer.scope)
    act = f"{order} over {offer.amount}, accepted by {name}, {whence.words}"
    audit_job(job=job, user=whence.user, act=act)
    post_copies(offer)
    return order


@transaction.atomic
def decline_change(
    *, offer: ChangeOffer, name: str = "", reason: str = "", whence: Whence
) -> ChangeOffer:
    """Return what was sent as declined; a second word changes nothing.

    Raises BadValueError where it was accepted or withdrawn.
    """
    Job.objects.select_for_update().get(pk=offer.job_id)
    offer = ChangeOffer.objects.select_for_update().get(pk=offer.pk)
    if offer.answer == ChangeAnswer.DECLINED:
        return offer
    if offer.answer or offer.withdrawn_at:
        value = "accepted" if offer.answer else "withdrawn"
        accepted = "a change order that still waits for a word"
        raise BadValueError(field="change order", value=value, accepted=accepted)
    offer.reason = reason[:1000]
    _answer(offer, ChangeAnswer.DECLINED, name, whence)
    audit_job(job=offer.job, user=whence.user, act=f"{offer} declined, {whence.words}")
    post_copies(offer)
    return offer


def _answer(offer: ChangeOffer, answer: ChangeAnswer, name: str, whence: Whence) -> None:
    offer.answer, offer.answered_by = answer, name
    offer.answered_at = timezone.now()
    offer.by_link, offer.ip, offer.agent = whence.by_link, whence.ip, whence.agent[:200]
    offer.save()


def _refuse_dead(offer: ChangeOffer, job: Job, today: date) -> None:
    accepted = "a change order that still waits for a word"
    if offer.withdrawn_at:
        raise BadValueError(field="change order", value="withdrawn", accepted=accepted)
    if offer.answer == ChangeAnswer.DECLINED:
        raise BadValueError(field="change order", value="declined", accepted=accepted)
    if today > offer.valid_until:
        value = f"valid until {offer.valid_until.isoformat()}"
        raise BadValueError(field="change order", value=value, accepted="one that is still valid")
    if job.closed_at is not None:
        raise BadValueError(field="job", value="closed", accepted="a job that is open")
    if is_overtaken(offer, standing_of(job)):
        accepted = "one that was sent after the last change was agreed on; ask for it again"
        raise BadValueError(field="change order", value="overtaken", accepted=accepted)
