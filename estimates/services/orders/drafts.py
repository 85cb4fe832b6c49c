"""Drafts of change orders: written, changed, dropped; keyword-only, atomic, audited."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from estimates.models import ChangeAnswer, ChangeDraft, ChangeLine, ChangeLineKind
from jobs.clock import day_of
from jobs.domain.checks import BadValueError, require_number, require_text
from jobs.models import Job, JobExtra, User
from jobs.models.base import Values
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

DRAFT_FIELDS = ("text", "why", "asked_by", "noted_on", "order_number", "with_plan")


@writes_once(ChangeDraft, "write change draft")
def write_draft(*, job: Job, user: User, key: str, values: Values) -> ChangeDraft:
    """Return the new draft of a change order.

    Raises BadValueError before anything is agreed on, and for a job that is closed.
    """
    _refuse_unready(job)
    draft = ChangeDraft.objects.create(job=job, made_by=user, **values)
    audit_job(job=job, user=user, act=f"Wrote the draft of a change: {draft}")
    return draft


def draft_of_extra(extra: JobExtra, user: User) -> ChangeDraft | None:
    """Return the draft that extra work makes, with its hours; None before anything is agreed on.

    Called within the write that notes the extra work.
    """
    if extra.job.agreed_scope_id is None:
        return None
    draft = ChangeDraft.objects.create(
        job=extra.job,
        extra=extra,
        text=extra.text,
        asked_by=extra.asked_by,
        noted_on=day_of(extra.at, extra.job.company),
        photo=extra.photo,
        made_by=user,
    )
    if extra.hours:
        hours = {"label": extra.text[:120], "quantity": extra.hours, "unit": "h"}
        ChangeLine.objects.create(draft=draft, kind=ChangeLineKind.HOURS, **hours)
    return draft


def agreed_extras_of(job: Job) -> frozenset[int]:
    """Return the keys of the job's extra work whose change order was accepted."""
    drafts = ChangeDraft.objects.filter(
        job=job,
        extra__isnull=False,
        offers__answer=ChangeAnswer.ACCEPTED,
        offers__withdrawn_at__isnull=True,
    )
    return frozenset(key for key in drafts.values_list("extra_id", flat=True) if key)


def give_up_extra(extra: JobExtra, user: User) -> None:
    """Drop the draft that extra work made, as long as it is as the extra work made it.

    Raises BadValueError where the office has worked on it, or it was sent.
    """
    draft = ChangeDraft.objects.filter(extra=extra, dropped_at__isnull=True).first()
    if draft is None:
        return
    offers = draft.offers.filter(withdrawn_at__isnull=True)
    if offers.filter(answer=ChangeAnswer.ACCEPTED).exists():
        accepted = "a log whose extra work is not agreed on; what is agreed stays in the book"
        raise BadValueError(field=f"extra work “{draft}”", value="agreed on", accepted=accepted)
    value = "sent as a change order" if offers.exists() else "worked on by the office"
    if offers.exists() or not _is_as_noted(draft, extra):
        accepted = "extra work that nothing was built on; drop the draft of its change first"
        raise BadValueError(field=f"extra work “{draft}”", value=value, accepted=accepted)
    drop_draft(draft=draft, user=user)


def _is_as_noted(draft: ChangeDraft, extra: JobExtra) -> bool:
    lines = [(line.kind, line.quantity) for line in draft.lines.all()]
    noted = [(ChangeLineKind.HOURS.value, extra.hours)] if extra.hours else []
    return draft.version == 1 and lines == noted


@writes_once(ChangeDraft, "change draft")
def change_draft(
    *, draft: ChangeDraft, user: User, key: str, expected: int, values: Values
) -> ChangeDraft:
    """Return the changed draft; what was sent of it before stays as it was sent.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: it is agreed on, or dropped.
    """
    require_open(draft)
    put_values(draft, values)
    saved = save_versioned(draft, expected=expected, names=DRAFT_FIELDS)
    audit_job(job=draft.job, user=user, act=f"Changed the draft of a change: {draft}")
    return saved


@writes_once(ChangeLine, "add change line")
def add_change_line(*, draft: ChangeDraft, user: User, key: str, values: Values) -> ChangeLine:
    """Return the new line of a draft. Raises BadValueError where it is agreed on, or dropped."""
    require_open(draft)
    require_text("label", str(values["label"]))
    require_number("quantity", values["quantity"], above=0)
    fields = dict(values)
    if fields["kind"] == ChangeLineKind.HOURS:
        fields |= {"unit": "h", "each": None, "taxable": False}
    elif fields["each"] is None:
        accepted = "what one unit costs, or is charged at"
        raise BadValueError(field="each", value=None, accepted=accepted)
    line = ChangeLine.objects.create(draft=draft, **fields)
    audit_job(job=draft.job, user=user, act=f"Added “{line}” to the draft of a change")
    return line


@transaction.atomic
def remove_change_line(*, line: ChangeLine, user: User) -> ChangeLine:
    """Return the line that was taken off a draft; the audit line keeps what it was called."""
    require_open(line.draft)
    audit_job(job=line.draft.job, user=user, act=f"Took “{line}” off the draft of a change")
    line.delete()
    return line


@transaction.atomic
def drop_draft(*, draft: ChangeDraft, user: User) -> ChangeDraft:
    """Drop a draft that nobody wants any more; what was sent of it is withdrawn.

    Raises BadValueError where it is agreed on.
    """
    require_open(draft)
    now = timezone.now()
    draft.dropped_at = now
    draft.save(update_fields=["dropped_at"])
    draft.offers.filter(withdrawn_at__isnull=True, answer="").update(withdrawn_at=now)
    if draft.extra is not None and draft.extra.dropped_at is None:
        draft.extra.dropped_at = now
        draft.extra.save(update_fields=["dropped_at"])
    audit_job(job=draft.job, user=user, act=f"Dropped the draft of a change: {draft}")
    return draft


def require_open(draft: ChangeDraft) -> None:
    """Raise BadValueError for a draft that is agreed on or dropped."""
    accepted = "a draft that is open; write another one"
    if draft.dropped_at is not None:
        raise BadValueError(field="draft", value="dropped", accepted=accepted)
    if draft.offers.filter(answer=ChangeAnswer.ACCEPTED).exists():
        raise BadValueError(field="draft", value="agreed on", accepted=accepted)


@transaction.atomic
def draft_trip(*, job: Job, user: User, label: str, price: Decimal) -> ChangeDraft:
    """Return the draft of a paid trip, at its price; the open one again where there is one."""
    _refuse_unready(job)
    for draft in job.change_drafts.filter(dropped_at__isnull=True, text=label):
        if not draft.offers.filter(answer=ChangeAnswer.ACCEPTED).exists():
            return draft
    today = day_of(timezone.now(), job.company)
    draft = ChangeDraft.objects.create(job=job, text=label, noted_on=today, made_by=user)
    trip = {"label": label, "quantity": Decimal(1), "unit": "trip", "each": price}
    ChangeLine.objects.create(draft=draft, kind=ChangeLineKind.PRICE, **trip)
    audit_job(job=job, user=user, act=f"Wrote the draft of a change: {draft}")
    return draft


def _refuse_unready(job: Job) -> None:
    if job.closed_at is not None:
        accepted = "a job that is open; open it again first"
        raise BadValueError(field="job", value="closed", accepted=accepted)
    if Job.objects.get(pk=job.pk).agreed_scope_id is None:
        accepted = "a job whose quote is accepted; before that a change is a new quote"
        raise BadValueError(field="job", value="nothing agreed", accepted=accepted)
