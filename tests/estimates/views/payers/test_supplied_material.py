"""Material that somebody else supplies in the price, and the trip that is paid when it is short."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import SuppliedItem
from estimates.models import JobLine, PriceTerms
from estimates.services import quotes
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Job, JobPayer, SuppliedMaterial, User
from jobs.services.payers.supplied import needs_now
from tests.builders import make_client, make_planned_job
from tests.estimates.a_job import company_of
from tests.estimates.a_price import a_book, a_quantity, a_scope, terms
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job at 50 an hour, overhead 10 %, margin 20 %."""
    company = company_of(owner)
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return make_planned_job(company)


def priced(job: Job) -> Priced:
    return price_now(Job.objects.get(pk=job.pk), today_of(job.company))[1]


def supplied(job: Job, whose: str = "payer") -> SuppliedMaterial:
    need = next(need for need in needs_now(job) if need.code == "cartons")
    return SuppliedMaterial.objects.create(job=job, code="cartons", item=need.item, whose=whose)


def test_one_product_of_two_is_supplied() -> None:
    # Oak: 6 cartons theirs, at nothing. Elm: 2 cartons at 60 are 120. 16 h at 50 are 800.
    scope = a_scope(
        quantities=(
            a_quantity("floor_area", 120),
            a_quantity("cartons", 6, item="Oak"),
            a_quantity("cartons", 2, item="Elm"),
        )
    )
    item = SuppliedItem(code="cartons", item="Oak", by="Alder Store")
    result = price_scope(scope, a_book(), terms(supplied_items=(item,)))
    assert [result.material_cost, result.labor_cost, result.subtotal] == [120, 800, 920]
    oak = next(line for line in result.lines if line.item == "Oak")
    assert [oak.cost, oak.amount] == [0, 0]
    assert oak.basis == "supplied by Alder Store"
    assert result.faults == ()


def test_a_supplied_material_leaves_the_price_and_its_list_of_missing_prices(
    visitor: Visitor, job: Job
) -> None:
    before = priced(job)
    carton = next(line for line in before.lines if line.code == "cartons")
    store = make_client(job.company, "Alder Store")
    JobPayer.objects.create(job=job, payer=store)
    supplied(job)
    after = priced(job)
    assert after.material_cost == before.material_cost - carton.cost
    line = next(line for line in after.lines if line.code == "cartons")
    assert line.cost == 0
    assert line.basis == "supplied by Alder Store"
    page = words(visitor.get(reverse("job-price", args=[job.pk])))
    assert "supplied by Alder Store" in page


def test_a_shortage_is_a_paid_trip(visitor: Visitor, job: Job) -> None:
    row = supplied(job, "client")
    price_page = reverse("job-price", args=[job.pk])
    assert "Add the trip to the price" not in words(visitor.get(price_page))
    row.receipts.create(counted=0, day=today_of(job.company))
    before = priced(job)
    # The company's trip: 1 h at 50 is 50.00; with 10 % overhead 55.00, at 20 % margin 68.75.
    page = words(visitor.get(price_page))
    assert "priced at $68.75, at margin" in page
    for _ in range(2):
        done = visitor.post(reverse("paid-trip", args=[job.pk]), {"key": "once"}, follow=True)
    assert "is added to the price" in words(done)
    line = JobLine.objects.get(job=job)
    need = next(need for need in needs_now(job) if need.code == "cartons")
    assert line.label == f"Trip back: {need.words} short of {need.label}"
    assert [line.quantity, line.unit_cost] == [1, 50]
    assert (line.unit, line.unit_price) == ("trip", None)
    assert priced(job).subtotal == before.subtotal + Decimal("68.75")
    assert f"On the price already: {line.label}" in words(visitor.get(price_page))


def test_a_shortage_after_acceptance_is_a_change_order(visitor: Visitor, job: Job) -> None:
    owner, today = User.objects.get(company=job.company), today_of(job.company)
    estimate = quotes.make_estimate(job=job, user=owner, key="e", today=today)
    quote = quotes.issue_quote(estimate=estimate, user=owner, key="q", today=today)
    quotes.accept_quote(quote=quote, name="Ines Okafor", today=today, by_link=True)
    supplied(job, "client").receipts.create(counted=0, day=today)
    PriceTerms.objects.update(burdened_rate=90, margin_percent=40)
    for _ in range(2):
        done = visitor.post(reverse("paid-trip", args=[job.pk]), {"key": "once"}, follow=True)
    page = words(done)
    # The trip's hour at the 50 of the quote, 10 % overhead, 20 % margin: 68.75, as then.
    assert "The trip is a draft of a change order" in page
    assert "$68.75" in page
    assert not JobLine.objects.exists()
    assert job.change_drafts.get().lines.get().unit == "trip"


def test_nothing_short_is_no_trip(visitor: Visitor, job: Job) -> None:
    supplied(job)
    done = visitor.post(reverse("paid-trip", args=[job.pk]), {"key": "once"}, follow=True)
    assert "nothing is short" in words(done)
    assert not JobLine.objects.exists()
