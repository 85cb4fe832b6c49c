"""The draft of a quote: what is typed of it is kept, and it is issued once it was looked at."""

from __future__ import annotations

from datetime import date

from estimates.models import Estimate, Quote, QuoteDraft
from estimates.readers.draft.preview import DraftedChoice, digest_of, drafted_choices
from estimates.readers.draft.rows import draft_row
from estimates.services.draft.storing import frozen_content, refuse_issuing, store_quote
from estimates.services.quotes import freeze_estimate
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.models.base import Values
from jobs.services.records import audit_job, put_values, save_versioned, writes_once
from jobs.services.scope import WorkBasis, work_basis

DRAFT_FIELDS = (
    *(
        "detail",
        "sold_where",
        "color",
        "sample_on",
        "start_week",
        "days_note",
        "exclusions",
        "photos",
    ),
    *("first_name", "first_text", "second_way", "second_name", "second_text"),
    *("third_way", "third_name", "third_text"),
)


@writes_once(QuoteDraft, "save quote draft")
def save_draft(
    *, row: QuoteDraft, user: User, key: str, expected: int, values: Values
) -> QuoteDraft:
    """Return the changed draft of a job's next quote.

    Raises StaleError where somebody else saved first.
    """
    put_values(row, values)
    if not row._state.adding:  # noqa: SLF001  public by Django's documentation
        save_versioned(row, expected=expected, names=DRAFT_FIELDS)
    else:
        # Whoever saw no row sends version 1 too: what is saved first is then another version.
        row.version = expected + 1
        row.save()
    audit_job(job=row.job, user=user, act="Changed the draft of the quote")
    return row


@writes_once(Quote, "issue drafted quote")
def issue_draft(*, job: Job, user: User, key: str, today: date, seen: str) -> Quote:
    """Return the quote that was looked at: each choice frozen as an estimate, then the quote.

    ``seen`` is the fingerprint of the preview: what is issued is what was seen, or nothing. Of two
    people who issue at once, one does; the other is told to look at it again.

    Raises:
        BadValueError: what would be issued isn't what was seen, nothing is planned, something has
            no price, a way is no longer offered, the job has an agreed scope, or the company lacks
            what no quote goes out without.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    refuse_issuing(job)
    draft = draft_row(job)
    basis = work_basis(job)
    plain, *others = drafted_choices(draft, basis)
    # The job as it is priced comes last, so that the newest estimate is its own.
    made = [(choice, _frozen(choice, basis, user, today)) for choice in (*others, plain)]
    frozen = [made[-1], *made[:-1]]
    content = frozen_content(draft, frozen, today)
    if digest_of(content) != seen:
        accepted = "what the preview shows now; look at it again, then issue it"
        raise BadValueError(field="quote", value="changed since you looked", accepted=accepted)
    return store_quote(draft, frozen, content=content, user=user)


def _frozen(choice: DraftedChoice, basis: WorkBasis, user: User, today: date) -> Estimate:
    scope = basis.worked_out(otherwise=choice.otherwise, plans=choice.plans)
    return freeze_estimate(job=basis.job, user=user, today=today, worked=scope)
