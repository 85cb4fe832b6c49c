"""Estimates and quotes: what was made or sent never changes, and nothing is issued twice."""

from __future__ import annotations

import pytest

from estimates.models import Estimate, PriceItem, Quote
from estimates.readers.prices import priced_of
from estimates.services import quotes as money
from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import scope_document
from jobs.models import AuditLine, Job, Scope, User
from jobs.services.files import read_file
from jobs.services.records import freeze
from tests.builders import make_job, make_planned_job
from tests.estimates.a_job import (
    LATER,
    TODAY,
    a_quote,
    accepted,
    an_agreed_job,
    an_estimate,
    company_of,
    set_price,
)
from tests.jobs.kept import a_scope_by_room

pytestmark = pytest.mark.django_db


def test_an_estimate_holds_the_price_of_its_day(owner: User) -> None:
    estimate = an_estimate(owner)
    set_price(company_of(owner), "cartons", "99.00", TODAY)
    assert priced_of(Estimate.objects.get(pk=estimate.pk)).total == estimate.total


def test_a_dearer_carton_makes_a_dearer_estimate(owner: User) -> None:
    first = an_estimate(owner)
    set_price(company_of(owner), "cartons", "99.00", TODAY)
    assert an_estimate(owner, first.job, key="again").total > first.total


def test_an_estimate_sent_twice_is_made_once(owner: User) -> None:
    job = make_planned_job(company_of(owner))
    assert an_estimate(owner, job) == an_estimate(owner, job)
    assert job.estimates.count() == 1


def test_what_has_no_price_is_named_and_nothing_is_made(owner: User) -> None:
    PriceItem.objects.filter(code="cartons").delete()
    job = make_planned_job(company_of(owner))
    with pytest.raises(BadValueError, match=r"Flooring .*: no price per carton on 2027-03-01"):
        an_estimate(owner, job)
    assert not job.estimates.exists()


def test_a_job_without_a_floor_cannot_be_priced(owner: User) -> None:
    job = make_job(company_of(owner))
    with pytest.raises(BadValueError, match="floor is 'none'; accepted: a planned floor"):
        an_estimate(owner, job)
    assert not job.scopes.exists()


def test_a_quote_stays_as_sent_when_prices_and_terms_change(owner: User) -> None:
    quote = a_quote(owner)
    text, pdf = quote.document.text, read_file(quote.pdf)
    set_price(company_of(owner), "cartons", "99.00", TODAY)
    company_of(owner).__class__.objects.update(name="Another name")
    again = Quote.objects.get(pk=quote.pk)
    assert (again.document.text, read_file(again.pdf)) == (text, pdf)


def test_a_quote_sent_twice_is_issued_once(owner: User) -> None:
    estimate = an_estimate(owner)
    issued = [
        money.issue_quote(estimate=estimate, user=owner, key="quote", today=TODAY) for _ in range(2)
    ]
    assert issued[0] == issued[1]
    assert estimate.job.quotes.count() == 1


def test_an_estimate_has_one_quote(owner: User) -> None:
    quote = a_quote(owner)
    with pytest.raises(BadValueError, match="an estimate without a quote"):
        money.issue_quote(estimate=quote.estimate, user=owner, key="second", today=TODAY)


def test_only_the_newest_estimate_is_quoted(owner: User) -> None:
    old = an_estimate(owner)
    an_estimate(owner, old.job, key="newer")
    with pytest.raises(BadValueError, match="the newest, estimate 2"):
        money.issue_quote(estimate=old, user=owner, key="quote", today=TODAY)


def test_no_quote_is_issued_over_an_agreed_scope(owner: User) -> None:
    job = an_agreed_job(owner)
    newer = an_estimate(owner, job, key="newer")
    with pytest.raises(BadValueError, match="a change order: this job has an agreed scope"):
        money.issue_quote(estimate=newer, user=owner, key="second", today=TODAY)


def test_acceptance_makes_the_quoted_scope_the_agreed_one(owner: User) -> None:
    quote = a_quote(owner)
    word = accepted(quote)
    assert Job.objects.get(pk=quote.job_id).agreed_scope == quote.estimate.scope
    assert word.document_sha256 == quote.document.sha256


@pytest.mark.parametrize(("by_link", "said"), [(True, "by link"), (False, "recorded by us")])
def test_the_book_tells_how_the_word_was_given(owner: User, by_link: bool, said: str) -> None:
    accepted(a_quote(owner), by_link=by_link)
    assert AuditLine.objects.filter(act__endswith=f"accepted by Ines Okafor, {said}").exists()


def test_a_second_word_changes_nothing(owner: User) -> None:
    quote = a_quote(owner)
    assert accepted(quote) == accepted(quote, name="Somebody Else")


def test_a_quote_is_good_on_its_last_day_and_no_longer(owner: User) -> None:
    quote = a_quote(owner)
    late = quote.valid_until.replace(year=quote.valid_until.year + 1)
    with pytest.raises(BadValueError, match="a quote that is still valid"):
        accepted(quote, today=late)
    assert accepted(quote, today=quote.valid_until).quote == quote


def test_a_withdrawn_quote_is_not_accepted(owner: User) -> None:
    quote = money.withdraw_quote(quote=a_quote(owner), user=owner)
    with pytest.raises(BadValueError, match="quote is 'withdrawn'"):
        accepted(quote)


def test_an_accepted_quote_is_not_withdrawn(owner: User) -> None:
    quote = a_quote(owner)
    accepted(quote)
    with pytest.raises(BadValueError, match="agree on a change order instead"):
        money.withdraw_quote(quote=quote, user=owner)


def test_a_superseded_quote_is_not_accepted(owner: User) -> None:
    old = a_quote(owner)
    a_quote(owner, old.job, key="newer")
    with pytest.raises(BadValueError, match="the newest one, quote 2"):
        accepted(old, today=LATER)


def test_accepting_a_quote_agrees_to_the_nights_that_its_scope_names(owner: User) -> None:
    quote = a_quote(owner)
    job, value = quote.job, a_scope_by_room()
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=None)
    scope = Scope.objects.create(job=job, number=9, document=document, hours=value.hours)
    Estimate.objects.filter(job=job).update(scope=scope)
    accepted(Quote.objects.get(pk=quote.pk))
    row = job.agreed_nights.get()
    assert row.room is not None
    assert (row.room.name, row.nights, row.by) == ("Den", 1, "Ines Okafor")
    assert (row.on, row.quote) == (TODAY, quote.number)
