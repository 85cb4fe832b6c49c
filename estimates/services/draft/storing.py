"""A quote as it is issued: its content frozen, printed, and kept with its choices."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from estimates.domain.quote import quote_document
from estimates.domain.quotes.compose import issued_quote
from estimates.domain.quotes.content import IssuedQuote
from estimates.domain.quotes.plain_words import listed
from estimates.models import Estimate, Quote, QuoteDraft, QuoteOption
from estimates.readers.draft.preview import DraftedChoice, quote_before
from estimates.readers.draft.sold import sold_of
from estimates.readers.prices import priced_of
from estimates.readers.quote import quote_of
from estimates.readers.setup.sales import missing_for_sending
from estimates.services.quote_pdf import quote_pdf
from estimates.services.sending.links import open_link
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.readers.scope import scope_value
from jobs.readers.site import site_facts
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, next_number

Frozen = tuple[DraftedChoice, Estimate]
"""A choice with the estimate that it was frozen as."""


def refuse_issuing(job: Job) -> None:
    """Raise BadValueError where no quote of a job may go out: it is agreed, or nobody is named."""
    if job.agreed_scope_id is not None:
        accepted = "a change order: this job has an agreed scope"
        raise BadValueError(field="quote", value=f"job {job.number}", accepted=accepted)
    missing = missing_for_sending(job.company)
    if missing:
        lacking = listed(each.words for each in missing)
        accepted = f"{lacking}; type it in the company's set-up, and what you chose here stays"
        raise BadValueError(field="company", value="not complete", accepted=accepted)


def frozen_content(draft: QuoteDraft, frozen: Sequence[Frozen], today: date) -> IssuedQuote:
    """Return what stands on the quote of these frozen choices, the plain one first."""
    job = draft.job
    choices = [
        drafted.priced(
            scope_value(estimate.scope),
            priced_of(estimate),
            frozen=(estimate.scope.document.sha256, estimate.document.sha256),
        )
        for drafted, estimate in frozen
    ]
    number = next_number(job.quotes.all())
    sold = sold_of(draft, choices, facts=site_facts(job), number=number, today=today)
    return issued_quote(sold, before=quote_before(job))


def store_quote(
    draft: QuoteDraft, frozen: Sequence[Frozen], *, content: IssuedQuote, user: User
) -> Quote:
    """Freeze the content of a quote, print it, and store both with its choices."""
    job, plain = draft.job, frozen[0][1]
    document = freeze(company=job.company, kind="quote", content=quote_document(content), user=user)
    pdf = store_file(
        company=job.company,
        content=quote_pdf(job.company, quote_of(document)),
        name=f"quote-{job.number}-{content.number}.pdf",
        content_type="application/pdf",
    )
    quote = Quote.objects.create(
        job=job,
        estimate=plain,
        number=content.number,
        label=content.label,
        document=document,
        pdf=pdf,
        total=plain.total,
        issued_by=user,
        valid_until=content.valid_until,
    )
    open_link(quote=quote)
    _keep_choices(quote, frozen)
    audit_job(job=job, user=user, act=f"Issued {quote}, {quote.total}")
    return quote


def _keep_choices(quote: Quote, frozen: Sequence[Frozen]) -> None:
    for place, (drafted, estimate) in enumerate(frozen, start=1):
        QuoteOption.objects.create(
            quote=quote,
            place=place,
            key=drafted.key,
            name=drafted.name,
            way=drafted.way,
            estimate=estimate,
        )
