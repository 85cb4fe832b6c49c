"""Price terms, estimates, quotes and their acceptance: keyword-only, atomic, audited."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from django.db import transaction
from django.utils import timezone

from estimates.domain.estimate import estimate_document
from estimates.domain.priced import Priced, refuse_unpriced
from estimates.domain.pricing import price_scope
from estimates.domain.quotes.choices import KEYS
from estimates.domain.setup.parts import require_deposit
from estimates.domain.terms.job_terms import require_tax
from estimates.models import Acceptance, Estimate, PriceTerms, Quote, QuoteEvent, QuoteOption
from estimates.readers.draft.preview import DraftedChoice
from estimates.readers.draft.rows import draft_row
from estimates.readers.prices import book_and_terms
from estimates.readers.setup.sales import sales_terms
from estimates.services.draft.storing import frozen_content, refuse_issuing, store_quote
from estimates.services.options import other_product, take_ways
from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, User
from jobs.models.base import Values
from jobs.readers.floors.suitability import refuse_unfit
from jobs.readers.lived_in.nights import nights_named
from jobs.readers.scope import rates_used, scope_value
from jobs.services.floors.alternatives import take_alternatives
from jobs.services.lived_in.nights import agree_by_quote
from jobs.services.records import (
    audit,
    audit_job,
    freeze,
    next_number,
    put_values,
    save_versioned,
    writes_once,
)
from jobs.services.scope import freeze_scope, work_out

TERMS_FIELDS = (
    *("burdened_rate", "overhead_percent", "margin_percent", "minimum_charge", "tax_mode"),
    *("state_percent", "county_percent", "city_percent", "labor_taxed", "tax_basis"),
    *("method", "deposit_percent", "valid_days", "terms", "exclusions"),
)


@writes_once(PriceTerms, "change terms")
def change_terms(
    *, terms: PriceTerms, user: User, key: str, expected: int, values: Values
) -> PriceTerms:
    """Return the changed price terms.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: rates of tax that are negative or above 30 % together, or a deposit that
            with the payment half way comes to more than the whole.
    """
    put_values(terms, values)
    require_tax(terms.state_percent, terms.county_percent, terms.city_percent)
    require_deposit(terms.deposit_percent, sales_terms(terms.company).progress_percent)
    if terms._state.adding:  # noqa: SLF001  public by Django's documentation
        terms.save()
    else:
        save_versioned(terms, expected=expected, names=TERMS_FIELDS)
    act = "Changed the price terms"
    audit(user=user, company=terms.company, subject="price terms", act=act)
    return terms


def price_now(job: Job, today: date) -> tuple[FrozenScope, Priced]:
    """Return the scope of ``job`` as it stands and its price today; faults say what has no price.

    Raises:
        BadValueError: there is no planned floor, or a rate is missing.
    """
    scope = work_out(job)
    return scope, price_scope(scope, *book_and_terms(job, today))


@writes_once(Estimate, "make estimate")
def make_estimate(*, job: Job, user: User, key: str, today: date) -> Estimate:
    """Return the priced scope of ``job``, frozen.

    Raises:
        BadValueError: there is no planned floor, or something has no rate or no price.
    """
    return freeze_estimate(job=job, user=user, today=today)


@transaction.atomic
def freeze_estimate(
    *,
    job: Job,
    user: User,
    today: date,
    worked: FrozenScope | None = None,
) -> Estimate:
    """Return the scope of ``job`` as it stands now, frozen, priced today and frozen again.

    ``worked``: the scope of a choice of a quote, which makes another job of it.

    Raises:
        BadValueError: there is no planned floor, or something has no rate or no price.
    """
    scope = freeze_scope(job=job, user=user, worked=worked)
    value = scope_value(scope)
    priced = price_scope(value, *book_and_terms(job, today))
    refuse_unpriced(priced)
    basis = priced.basis and replace(priced.basis, rates=value.rates or rates_used(job.company))
    priced = replace(priced, scope_sha256=scope.document.sha256, basis=basis)
    content = estimate_document(priced)
    estimate = Estimate.objects.create(
        job=job,
        scope=scope,
        number=next_number(job.estimates.all()),
        document=freeze(company=job.company, kind="estimate", content=content, user=user),
        cost=priced.cost,
        total=priced.total,
    )
    act = f"Made {estimate}, {estimate.total}"
    audit_job(job=job, user=user, act=act)
    return estimate


@writes_once(Quote, "issue quote")
def issue_quote(*, estimate: Estimate, user: User, key: str, today: date) -> Quote:
    """Return the quote of an estimate as it stands: content and PDF frozen, with its own link.

    It has no choices; a quote with choices is issued from its draft, which prices them together.

    Raises:
        BadValueError: the estimate is superseded, or has a quote already, or the job has an agreed
            scope (a change goes by change order), or a product may not lie where it is to be laid,
            or the company lacks what no quote goes out without.
    """
    job = Job.objects.select_for_update().get(pk=estimate.job_id)
    refuse_issuing(job)
    newest = job.estimates.first()
    if newest and newest.pk != estimate.pk:
        accepted = f"the newest, estimate {newest.number}"
        raise BadValueError(field="estimate", value=estimate.number, accepted=accepted)
    refuse_unfit(job)
    if Quote.objects.filter(estimate=estimate).exists():
        accepted = "an estimate without a quote; price the job again after a change"
        raise BadValueError(field="estimate", value=estimate.number, accepted=accepted)
    only = DraftedChoice(key=KEYS[0], way="", name="", text="")
    draft, frozen = draft_row(job), [(only, estimate)]
    content = frozen_content(draft, frozen, today)
    return store_quote(draft, frozen, content=content, user=user)


@transaction.atomic
def accept_quote(
    *,
    quote: Quote,
    name: str,
    today: date,
    by_link: bool,
    user: User | None = None,
    choice: str = "",
) -> Acceptance:
    """Return the acceptance of a quote; the scope of the ``choice`` becomes the job's agreed one.

    ``choice`` is the key of a choice of the quote; it may be empty where there is but one. What
    the choice does otherwise than the job was priced is carried into the job's facts, so that
    nothing differs from what was agreed. A second word on the same quote changes nothing.

    Raises:
        BadValueError: the quote is withdrawn, superseded or past its date, nothing or something
            unknown is chosen, or the job has an agreed scope already (a change goes by change
            order), or floors can't be laid any more by the plans that the choice is priced from.
    """
    job = Job.objects.select_for_update().get(pk=quote.job_id)
    existing = Acceptance.objects.filter(quote=quote).first()
    if existing:
        return existing
    # Who waited for the job meanwhile may have seen another quote than now stands.
    quote = Quote.objects.select_for_update().get(pk=quote.pk)
    _refuse_dead(quote, job, today)
    option = chosen_option(quote, choice)
    scope = option.estimate.scope if option else quote.estimate.scope
    way = option.way if option else ""
    if (product := other_product(way)) is not None:
        take_alternatives(job=job, scope=scope_value(scope), product=product, user=user)
    take_ways(job, way)
    acceptance = Acceptance.objects.create(
        quote=quote,
        name=name,
        document_sha256=quote.document.sha256,
        by_link=by_link,
        choice=option.key if option else "",
    )
    Job.objects.filter(pk=job.pk).update(agreed_scope=scope)
    agree_by_quote(
        job=job,
        nights=nights_named(scope),
        quote=quote.number,
        by=name,
        on=today,
        user=user,
    )
    act = f"{quote} accepted by {name}" + (", by link" if by_link else ", recorded by us")
    audit_job(job=job, user=user, act=act)
    return acceptance


def chosen_option(quote: Quote, choice: str) -> QuoteOption | None:
    """Return the choice of a quote with this key; None where an older one has no choices.

    Raises BadValueError where nothing is chosen among several, or what is chosen isn't offered.
    """
    options = list(quote.options.select_related("estimate__scope"))
    if len(options) == 1 and not choice:
        return options[0]
    by_key = {option.key: option for option in options}
    if choice in by_key:
        return by_key[choice]
    if not choice and not options:
        return None
    offered = ", ".join(str(option) for option in options) or "nothing: the quote has one way"
    value = choice or "nothing chosen"
    raise BadValueError(field="choice", value=value, accepted=f"one of: {offered}")


def _refuse_dead(quote: Quote, job: Job, today: date) -> None:
    """Raise BadValueError where a quote can't be accepted any more."""
    newest = job.quotes.filter(withdrawn_at__isnull=True).first()
    if quote.withdrawn_at:
        raise BadValueError(field="quote", value="withdrawn", accepted="a quote that stands")
    if quote.events.filter(kind=QuoteEvent.Kind.DECLINED).exists():
        raise BadValueError(field="quote", value="declined", accepted="a new quote")
    if today > quote.valid_until:
        value = f"valid until {quote.valid_until.isoformat()}"
        raise BadValueError(field="quote", value=value, accepted="a quote that is still valid")
    if newest and newest.pk != quote.pk:
        accepted = f"the newest one, quote {newest.number}"
        raise BadValueError(field="quote", value=f"quote {quote.number}", accepted=accepted)
    if job.agreed_scope_id is not None:
        accepted = "a change order: this job has an agreed scope"
        raise BadValueError(field="quote", value=f"quote {quote.number}", accepted=accepted)


@transaction.atomic
def withdraw_quote(*, quote: Quote, user: User) -> Quote:
    """Mark a quote as withdrawn; its link then says so. An accepted one can't be.

    Whoever accepts it at the same moment goes first or comes too late.

    Raises:
        BadValueError: the quote was accepted.
    """
    Job.objects.select_for_update().get(pk=quote.job_id)
    if Acceptance.objects.filter(quote=quote).exists():
        accepted = "a quote that was not accepted; agree on a change order instead"
        raise BadValueError(field="quote", value="accepted", accepted=accepted)
    if quote.withdrawn_at is None:
        quote.withdrawn_at = timezone.now()
        quote.save(update_fields=["withdrawn_at"])
        audit_job(job=quote.job, user=user, act=f"Withdrew {quote}")
    return quote
