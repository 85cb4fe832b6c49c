"""A payer on the price page, in the estimate that keeps it, and on the quote."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.domain.terms.payer import PayerTerms
from estimates.readers.prices import priced_of
from estimates.readers.quote import stored_quote
from estimates.services.quotes import issue_quote
from jobs.models import ClientKind, Job, JobPayer, User
from tests.builders import make_client, make_planned_job
from tests.estimates.a_job import TODAY, an_estimate, company_of
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def paid_by_a_store(owner: User) -> Job:
    """A planned job that a store pays for: order 4711, 30 days, 10 % retainage."""
    job = make_planned_job(company_of(owner))
    store = make_client(
        job.company, "Alder Store", kind=ClientKind.STORE, address="9 Market Street"
    )
    given = {"order_number": "4711", "payment_days": 30, "terms": "Invoice by the tenth."}
    JobPayer.objects.create(job=job, payer=store, retainage_percent=10, **given)
    return job


def test_the_price_page_names_the_payer_and_what_is_held_back(
    visitor: Visitor, owner: User, paid_by_a_store: Job
) -> None:
    priced = priced_of(an_estimate(owner, paid_by_a_store))
    page = words(visitor.get(reverse("job-price", args=[paid_by_a_store.pk])))
    assert "Payer: Alder Store, order 4711" in page
    # 10 % of the total, rounded half up to the cent.
    by_hand = (priced.total * 100 + 5) // 10 / 100
    assert priced.held_back == by_hand
    assert f"Retainage of 10%: ${by_hand:,.2f} is held back." in page


def test_the_page_of_an_estimate_names_the_payer_it_was_made_for(
    visitor: Visitor, owner: User, paid_by_a_store: Job
) -> None:
    estimate = an_estimate(owner, paid_by_a_store)
    JobPayer.objects.all().delete()
    page = words(visitor.get(reverse("estimate", args=[estimate.pk])))
    assert "Alder Store, order 4711" in page
    assert "is held back." in page


def test_an_estimate_keeps_the_payer_as_it_was(owner: User, paid_by_a_store: Job) -> None:
    estimate = an_estimate(owner, paid_by_a_store)
    JobPayer.objects.update(order_number="9", retainage_percent=0)
    assert priced_of(estimate).payer == PayerTerms(
        name="Alder Store",
        order_number="4711",
        terms="Invoice by the tenth.",
        payment_days=30,
        retainage=Decimal("0.1"),
    )


def test_the_quote_goes_to_the_payer(owner: User, paid_by_a_store: Job) -> None:
    estimate = an_estimate(owner, paid_by_a_store)
    quote = issue_quote(estimate=estimate, user=owner, key="q", today=TODAY)
    content = stored_quote(quote)
    assert (content.client, content.client_lines) == ("Alder Store", ("9 Market Street",))
    assert (content.site, content.order_number) == (paid_by_a_store.address, "4711")
    held = priced_of(estimate).held_back
    first = f"Order number 4711. To be paid within 30 days. 10% retainage, ${held:,.2f}, is held"
    assert first in content.payment_words
    assert "Invoice by the tenth." in content.payment_words


def test_without_a_payer_the_client_pays(visitor: Visitor, owner: User) -> None:
    job = make_planned_job(company_of(owner))
    priced = priced_of(an_estimate(owner, job))
    assert priced.payer is None
    assert priced.held_back == 0
    page = words(visitor.get(reverse("job-price", args=[job.pk])))
    assert f"Payer: {job.client}" in page
    assert "held back" not in page
