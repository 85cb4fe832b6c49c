"""Published margins, sums and taxes: typed on the pages of prices and read from the price."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobPrice, PriceTerms
from jobs.models import Company, Job
from tests.builders import make_planned_job
from tests.estimates.a_job import a_quote, accepted, set_prices
from tests.reading import words

pytestmark = pytest.mark.django_db


def a_job(company: Company, margin: str = "0", **terms: object) -> Job:
    """A planned job, labor only, at a cent an hour: what is added is all but the whole price."""
    set_prices(company)
    shares = {"overhead_percent": 0, "minimum_charge": 0, "burdened_rate": Decimal("0.01")}
    PriceTerms.objects.create(company=company, margin_percent=margin, **shares | terms)
    job = make_planned_job(company)
    JobPrice.objects.create(job=job, labor_only=True)
    return job


def add(visitor: Visitor, job: Job, label: str, **figures: str) -> None:
    """Add a line on the price page."""
    line = {"label": label, "quantity": "1", "unit": "job"} | figures
    sent = {f"new-{name}": value for name, value in line.items()} | {"new-key": label}
    assert visitor.post(reverse("price-line-add", args=[job.pk]), sent).status_code == 303


def price_page(visitor: Visitor, job: Job) -> str:
    return words(visitor.get(reverse("job-price", args=[job.pk])))


def change_terms(visitor: Visitor, **typed: str) -> None:
    """Change the price terms on their page."""
    address = reverse("price-terms")
    form = visitor.get(address).context["form"]
    shown = {f.html_name: f.value() for f in form if f.value() is not None}
    assert visitor.post(address, shown | {"burdened_rate": "1"} | typed).status_code == 303


@pytest.mark.parametrize(
    ("margin", "markup"),
    [
        *(("20", "25"), ("25", "33.33"), ("33.33", "49.99")),
        *(("35", "53.85"), ("40", "66.67"), ("50", "100")),
    ],
)
def test_margin_on_price_stands_beside_markup_on_cost(
    visitor: Visitor, company: Company, margin: str, markup: str
) -> None:
    # Centennial College Learning Centre, Markup: on cost M/C, on selling price M/S. A third is
    # typed as 33.33 %, so that its markup is 49.99 and not the 50 of the identity.
    job = a_job(company, margin)
    add(visitor, job, "Subcontract", unit_cost="10000")
    assert f"markup {markup}% on cost" in price_page(visitor, job)


def test_a_cost_of_a_thousand_at_35_percent_margin(visitor: Visitor, company: Company) -> None:
    # 1000 / 0.65 = 1538.4615...
    job = a_job(company, "35")
    add(visitor, job, "Subcontract", unit_cost="1000")
    assert "$1,538.46" in price_page(visitor, job)


@pytest.mark.parametrize(
    ("bid", "labor", "margin", "markup"),
    [("900", "750", "16.7", "20"), ("800", "600", "25", "33.33"), ("800", "650", "18.8", "23.08")],
)
def test_the_builder_with_the_better_crew_earns_more_at_the_lower_bid(
    visitor: Visitor, company: Company, bid: str, labor: str, margin: str, markup: str
) -> None:
    # I. P. Hicks, Builders' Guide (1890s): five men at 2.50 a day; 60, 48 and 52 days.
    job = a_job(company)
    add(visitor, job, "House framed", unit_cost=labor, unit_price=bid)
    page = price_page(visitor, job)
    assert f"{margin}%" in page
    assert f"markup {markup}% on cost" in page


@pytest.mark.parametrize(("basis", "tax"), [("item", "$0.66"), ("invoice", "$0.67")])
def test_sales_tax_is_rounded_as_the_seller_chose_on_the_page_of_the_terms(
    visitor: Visitor, company: Company, basis: str, tax: str
) -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: 2.07, 3.21 and 4.35 at 7 % are 0.14 +
    # 0.22 + 0.30 by item; 9.63 at 7 % is 0.6741 by invoice.
    job = a_job(company)
    change_terms(visitor, tax_mode="seller", state_percent="7", tax_basis=basis)
    for amount in ("2.07", "3.21", "4.35"):
        add(visitor, job, f"Part {amount}", unit_price=amount, taxable="on")
    page = price_page(visitor, job)
    assert f'<td class="num">{tax}</td>' in page


def test_half_a_cent_of_tax_goes_up(visitor: Visitor, company: Company) -> None:
    # Section 324: up where the third decimal is greater than four; 2.50 at 5 % is 0.125.
    job = a_job(company)
    change_terms(visitor, tax_mode="seller", state_percent="5")
    add(visitor, job, "Part", unit_price="2.50", taxable="on")
    assert '<td class="num">$0.13</td>' in price_page(visitor, job)


def test_lines_rounded_first_sum_to_what_the_reader_adds_up(
    visitor: Visitor, company: Company
) -> None:
    # International Library of Technology, Building Construction vol. 4: 3,280 ft at 26.10, 4,619 at
    # 33.60, 654 at 31.10 a thousand. The book prints 155.19 for the exact 155.1984 (a cut, not a
    # rounding) and so 261.14; lines in cents sum to 261.15, as the exact 261.1458 does.
    owner = company.people.get()
    job = make_planned_job(company)
    set_prices(company)
    accepted(a_quote(owner, job))
    form = {"text": "Lumber", "noted_on": "2027-03-09", "version": "1", "key": "draft"}
    visitor.post(reverse("change-add", args=[job.pk]), form)
    draft = job.change_drafts.get()
    for feet, each in (("3280", "0.0261"), ("4619", "0.0336"), ("654", "0.0311")):
        line = {"label": f"Lumber {feet}", "kind": "price", "quantity": feet, "unit": "ft"}
        sent = {f"line-{name}": value for name, value in (line | {"each": each}).items()}
        visitor.post(reverse("change-line-add", args=[draft.pk]), sent | {"line-key": feet})
    page = words(visitor.get(reverse("change-draft", args=[draft.pk])))
    for amount in ("$85.61", "$155.20", "$20.34", "$261.15"):
        assert amount in page
