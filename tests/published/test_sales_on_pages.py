"""What the law asks of a sale: on the draft of a quote, its preview and the homeowner's page."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from estimates.domain.law.cancel import day_in_words
from estimates.models import PriceItem, PriceTerms, QuoteDraft, SalesTerms
from estimates.services.sending.links import address_of
from jobs.models import Company, Job
from tests.builders import make_person, make_planned_job
from tests.estimates.a_job import a_quote, set_prices
from tests.estimates.domain.law.test_cancel import WORKED_WEEKS
from tests.published.test_money_on_pages import a_job, add
from tests.reading import words

pytestmark = pytest.mark.django_db

RIGHT = "You, the buyer, may cancel this transaction"


def preview(visitor: Visitor, job: Job) -> str:
    return words(visitor.get(reverse("quote-preview", args=[job.pk])))


def send_draft(visitor: Visitor, job: Job, **typed: str) -> None:
    """Save the draft as it is shown, with what is typed."""
    address = reverse("quote-draft", args=[job.pk])
    form = visitor.get(address).context["form"]
    shown = {f.html_name: f.value() for f in form if f.value() is not None and f.name != "photos"}
    assert visitor.post(address, shown | typed).status_code == 303


def at_price(visitor: Visitor, job: Job, price: str) -> None:
    """Bring the price of a job to so much with a line of its own."""
    now = visitor.get(reverse("job-price", args=[job.pk])).context["priced"].subtotal
    add(visitor, job, "The rest", unit_price=str(Decimal(price) - now))


@pytest.mark.parametrize(
    ("where", "price", "carries"),
    [
        ("home", "25", True),
        ("home", "24.99", False),
        ("away", "130", True),
        ("away", "129.99", False),
        ("shop", "9000", False),
        ("far", "9000", False),
        ("emergency", "9000", False),
        ("repair", "9000", False),
    ],
)
def test_a_sale_carries_the_right_by_its_place_and_price(
    visitor: Visitor, company: Company, where: str, price: str, carries: bool
) -> None:
    # 16 CFR 429.0(a), 80 FR 1329 (2015): $25 at home, $130 elsewhere; FTC: none in the seller's own
    # place, wholly by phone, mail or online, in an emergency, or for a repair that was called for.
    job = a_job(company)
    at_price(visitor, job, price)
    send_draft(visitor, job, sold_where=where)
    assert QuoteDraft.objects.get(job=job).sold_where == where
    assert (RIGHT in preview(visitor, job)) == carries


def test_a_place_that_is_none_is_refused(visitor: Visitor, company: Company) -> None:
    job = a_job(company)
    address = reverse("quote-draft", args=[job.pk])
    answer = visitor.post(address, {"key": "k", "version": "1", "sold_where": "moon"})
    assert answer.status_code == 422


@pytest.mark.parametrize(("signed", "until"), WORKED_WEEKS[:11])
def test_the_right_ends_on_the_third_business_day(
    company: Company, signed: str, until: str
) -> None:
    # 5 U.S.C. 6103: the eleven federal holidays; 16 CFR 429.0(f): nor Sundays. By hand.
    job = a_job(company)
    noon = datetime.fromisoformat(f"{signed}T17:00:00").replace(tzinfo=UTC)
    with travel(noon, tick=False):
        visitor = Visitor()
        visitor.force_login(make_person(company))
        at_price(visitor, job, "900")
        assert day_in_words(date.fromisoformat(until)) in preview(visitor, job)


@pytest.mark.parametrize(
    ("state", "price", "deposit"),
    [
        ("PA", "9000", "$4,200.00"),  # a third and special orders
        ("PA", "4999", "$4,999.00"),  # not above 5,000: no cap by this law
        ("MD", "9000", "$3,000.00"),
        ("ME", "9000", "$3,000.00"),
        ("MA", "9000", "$3,000.00"),  # a third, being more than the special orders
        ("MA", "3000", "$1,200.00"),  # the special orders, being more than a third
    ],
)
def test_a_deposit_is_no_more_than_the_state_allows(
    visitor: Visitor, company: Company, state: str, price: str, deposit: str
) -> None:
    # 73 P.S. 517.9; Md. Code, Bus. Reg. 8-617; M.G.L. c. 142A, 2(a)(6); 10 M.R.S. 1487. All of the
    # price is asked before the work; 1,200 of it is ordered for this house alone.
    set_prices(company)
    SalesTerms.objects.create(company=company, state=state)
    shares = {"overhead_percent": 0, "margin_percent": 0, "minimum_charge": 0}
    PriceTerms.objects.create(
        company=company, burdened_rate=Decimal("0.01"), deposit_percent=100, **shares
    )
    job = make_planned_job(company)
    PriceItem.objects.exclude(code="cartons").update(amount=0)
    priced = visitor.get(reverse("job-price", args=[job.pk])).context["priced"]
    (cartons,) = [line for line in priced.lines if line.code == "cartons"]
    each = Decimal(1200) / cartons.quantity
    of_these = {"item": job.zones.get().product.name, "amount": each, "special_order": True}
    PriceItem.objects.filter(code="cartons").update(**of_these)
    at_price(visitor, job, price)
    assert deposit in preview(visitor, job)


def test_who_signs_here_is_told_of_paper_and_of_what_opens_it(company: Company) -> None:
    # 15 U.S.C. 7001(c): consent, paper instead, taking it back, what is needed to open it.
    set_prices(company)
    quote = a_quote(make_person(company), make_planned_job(company))
    page = words(Visitor().get(address_of(quote.link)))
    assert "agree to sign here, and to get this agreement, electronically" in page
    assert "You may have it on paper instead, at no charge, or take this back" in page
    assert "any current browser opens and prints" in page
