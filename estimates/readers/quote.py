"""What a quote says, gathered from the rows: company, client, floors with drawings, cautions."""

from __future__ import annotations

from datetime import date

from estimates.domain.priced import Priced
from estimates.domain.quote import (
    QUOTE,
    Party,
    QuoteCaution,
    QuoteContent,
    QuoteFloor,
    QuoteTerms,
    quote_content,
    quote_from,
)
from estimates.domain.terms.payment import payment_words
from estimates.models import Acceptance, Estimate, Quote
from estimates.readers.prices import terms_row
from jobs.clock import day_of
from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Client, Company, Document, FloorPlan, Job
from jobs.readers.documents import opened
from jobs.readers.payers.payer import payer_row
from jobs.readers.plans import plan_picture
from jobs.readers.scope import scope_value
from jobs.readers.site import cautions_of


def content_of(estimate: Estimate, priced: Priced, *, number: int, today: date) -> QuoteContent:
    """Return the content of a quote for an estimate."""
    job = estimate.job
    scope = scope_value(estimate.scope)
    areas = {zone.name: zone for zone in scope.zones}
    return quote_content(
        scope=scope,
        priced=priced,
        company=_company(job.company),
        client=_payer(job, priced),
        site=job.address,
        title=job.title,
        number=number,
        job_number=job.number,
        terms=_terms(job.company, priced, today),
        floors=tuple(
            QuoteFloor(
                name=zone.name,
                product=zone.product,
                rooms=tuple(room.name for room in plan.zone.rooms.all()),
                area_ft2=zone.area_ft2,
                drawing=plan_picture(plan, numbers=False),
            )
            for plan in _plans(job, {zone.plan_sha256 for zone in areas.values()})
            for zone in [areas[plan.zone.name]]
        ),
        cautions=tuple(
            QuoteCaution(title=caution.title, text=caution.text)
            for caution in cautions_of(job)
            if "quote" in caution.shown_on
        ),
    )


def _plans(job: Job, digests: set[str]) -> list[FloorPlan]:
    """Return the plans with these digests. Raises BadValueError where one is no longer kept."""
    rows = FloorPlan.objects.filter(zone__job=job, document__sha256__in=digests)
    plans = list(rows.select_related("zone", "document", "request").order_by("zone_id"))
    if {plan.document.sha256 for plan in plans} != digests:
        accepted = "a plan that is still kept; plan the floor and price the job again"
        raise BadValueError(field="plan of the estimate", value="gone", accepted=accepted)
    return plans


def _company(company: Company) -> Party:
    lines = [*company.address.splitlines(), company.phone, company.email]
    lines.append(f"License {company.license}" if company.license else "")
    lines.append(f"Insurance: {company.insurance}" if company.insurance else "")
    return Party(name=company.name, lines=tuple(line for line in lines if line))


def _payer(job: Job, priced: Priced) -> Party:
    """Return whom the quote is for: the payer of the estimate, else the client."""
    if priced.payer is None:
        return _party(job.client)
    payer = payer_row(job).payer
    if payer is not None and payer.name == priced.payer.name:
        return _party(payer)
    return Party(name=priced.payer.name, lines=())


def _party(client: Client) -> Party:
    lines = [*client.address.splitlines(), client.phone, client.email]
    return Party(name=client.name, lines=tuple(line for line in lines if line))


def _terms(company: Company, priced: Priced, today: date) -> QuoteTerms:
    row = terms_row(company)
    of_payer = payment_words(priced.payer, priced.total, priced.currency) if priced.payer else ""
    return QuoteTerms(
        issued_on=today,
        valid_days=row.valid_days,
        deposit_percent=row.deposit_percent,
        terms="\n".join(text for text in (of_payer, row.terms) if text),
        exclusions=row.exclusions,
    )


def acceptance_of(job: Job) -> Acceptance | None:
    """Return the word on the accepted quote of a job, with the estimate it was given on."""
    return Acceptance.objects.filter(quote__job=job).select_related("quote__estimate").first()


def agreed_estimate(acceptance: Acceptance) -> Estimate:
    """Return the estimate of the way that was accepted: of the choice, else of the quote."""
    option = acceptance.quote.options.filter(key=acceptance.choice).select_related("estimate")
    chosen = option.first() if acceptance.choice else None
    return chosen.estimate if chosen else acceptance.quote.estimate


def stored_quote(quote: Quote) -> QuoteContent:
    """Return the frozen content of an issued quote. Raises BrokenDocumentError where unreadable."""
    return quote_of(quote.document)


def issue_day(quote: Quote) -> date:
    """Return the day that a quote names as its day of issue; where it can't be read, the row's."""
    try:
        return stored_quote(quote).issued_on
    except BrokenDocumentError:
        return day_of(quote.issued_at, quote.job.company)


def quote_of(document: Document) -> QuoteContent:
    """Return the content of a quote's document; raises as `stored_quote`."""
    return opened(document, QUOTE, quote_from)
