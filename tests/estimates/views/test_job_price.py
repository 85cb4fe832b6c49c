"""The price page: lines, discount, rounding, tax and labor only, edited where they stand."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobLine, JobPrice, JobTax, PriceTerms, SalesTerms
from estimates.readers.prices import book_and_terms, priced_of
from estimates.readers.quote import stored_quote
from estimates.services.quotes import price_now
from jobs.domain.documents import canonical_json, digest
from jobs.models import AuditLine, Document, Job, User
from tests.builders import make_person, make_planned_job
from tests.estimates.a_job import TODAY, a_quote, an_estimate, an_owner, company_of

pytestmark = pytest.mark.django_db

PIANO = {"label": "Piano moved", "quantity": "1", "unit": "job", "unit_cost": "100"}


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job with a price for everything."""
    return make_planned_job(company_of(owner))


def add(visitor: Visitor, job: Job, **changes: str) -> HttpResponse:
    typed = {f"new-{name}": value for name, value in (PIANO | changes).items()}
    url = reverse("price-line-add", args=[job.pk])
    return visitor.post(url, {"new-key": "line", **typed})  # type: ignore[return-value]


def adjust(visitor: Visitor, job: Job, **typed: str) -> HttpResponse:
    sent = {"key": "adjust", "version": "1", "round_to": "0"} | typed
    url = reverse("price-adjust", args=[job.pk])
    return visitor.post(url, {f"adjust-{name}": value for name, value in sent.items()})  # type: ignore[return-value]


def tax(visitor: Visitor, job: Job, **typed: str) -> HttpResponse:
    rates = {"state_percent": "6", "county_percent": "1.5", "city_percent": "0.5"}
    sent = {"key": "tax", "version": "1"} | rates | typed
    url = reverse("price-tax", args=[job.pk])
    return visitor.post(url, {f"tax-{name}": value for name, value in sent.items()})  # type: ignore[return-value]


def page(answer: HttpResponse) -> str:
    return answer.content.decode()


def test_an_added_line_is_on_the_price_at_once(visitor: Visitor, job: Job) -> None:
    before = price_now(job, TODAY)[1].subtotal
    add(visitor, job)
    # 100 and 12 % overhead are 112; at a margin of 25 % that is 149.33.
    assert price_now(job, TODAY)[1].subtotal - before == Decimal("149.33")
    assert "Piano moved" in page(visitor.get(reverse("job-price", args=[job.pk])))  # type: ignore[arg-type]


def test_a_line_is_changed_where_it_stands(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    line = job.price_lines.get()
    typed = PIANO | {"unit_price": "180", "taxable": "on", "key": "again", "version": "1"}
    sent = {f"line{line.pk}-{name}": value for name, value in typed.items()}
    visitor.post(reverse("price-line", args=[line.pk]), sent)
    line.refresh_from_db()
    assert (line.unit_price, line.taxable, line.version) == (Decimal(180), True, 2)


def test_a_line_is_taken_off(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    visitor.post(reverse("price-line", args=[job.price_lines.get().pk]), {"do": "remove"})
    assert not job.price_lines.exists()
    assert AuditLine.objects.filter(act="Took “Piano moved” off the price").exists()


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("quantity", "0", "“0” can&#x27;t be used; accepted: more than 0."),
        ("quantity", "-2", "“-2” can&#x27;t be used"),
        ("label", "", "Nothing was typed"),
        ("unit_cost", "", "accepted: a price, or a cost that the margin is put on."),
        ("unit_price", "cheap", "“cheap” can&#x27;t be used"),
    ],
)
def test_a_line_that_can_not_be_priced_is_refused_at_its_field(
    visitor: Visitor, job: Job, field: str, typed: str, said: str
) -> None:
    answer = add(visitor, job, **{field: typed})
    assert answer.status_code == 422
    assert said in page(answer)
    assert not JobLine.objects.exists()


def test_a_name_is_shown_and_never_run(visitor: Visitor, job: Job) -> None:
    add(visitor, job, label="<script>alert(1)</script>")
    shown = page(visitor.get(reverse("job-price", args=[job.pk])))  # type: ignore[arg-type]
    assert "<script>alert(1)" not in shown


def test_five_percent_off_rounded_to_ten(visitor: Visitor, job: Job) -> None:
    whole = price_now(job, TODAY)[1].subtotal
    adjust(visitor, job, discount_percent="5", discount_reason="second job", round_to="10")
    priced = price_now(job, TODAY)[1]
    assert priced.subtotal % 10 == 0
    assert abs(priced.subtotal - whole * Decimal("0.95")) <= 5


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"discount_percent": "101", "discount_reason": "x"}, "accepted: a number from 0 to 100."),
        ({"discount_percent": "-1", "discount_reason": "x"}, "“-1” can&#x27;t be used"),
        ({"discount_percent": "5"}, "accepted: why, such as a second job."),
        (
            {"discount_percent": "5", "discount_amount": "50", "discount_reason": "x"},
            "Both were typed; accepted: a percentage or an amount.",
        ),
        ({"round_to": "7"}, "7 is not one of the available choices"),
    ],
)
def test_a_discount_that_can_not_be_is_refused_at_its_field(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    answer = adjust(visitor, job, **typed)
    assert answer.status_code == 422
    assert said in page(answer)
    assert not JobPrice.objects.exists()


def test_a_discount_beyond_the_price_is_refused_at_its_field(visitor: Visitor, job: Job) -> None:
    price = price_now(job, TODAY)[1].subtotal
    answer = adjust(visitor, job, discount_amount="9000", discount_reason="slip")
    assert f"“$9,000.00” can&#x27;t be used; accepted: up to ${price:,}" in page(answer)
    assert not JobPrice.objects.exists()


def test_a_price_that_falls_below_its_discount_says_so(visitor: Visitor, job: Job) -> None:
    JobPrice.objects.create(job=job, discount_amount=9000, discount_reason="a larger floor")
    shown = page(visitor.get(reverse("job-price", args=[job.pk])))  # type: ignore[arg-type]
    assert "The discount is more than the price" in shown


def test_of_a_labor_only_job_material_has_no_price(visitor: Visitor, job: Job) -> None:
    adjust(visitor, job, labor_only="on")
    priced = price_now(job, TODAY)[1]
    assert priced.material_cost == 0
    assert "client&#x27;s material" in page(visitor.get(reverse("job-price", args=[job.pk])))  # type: ignore[arg-type]


def test_an_overtaken_discount_keeps_what_was_typed(visitor: Visitor, job: Job) -> None:
    adjust(visitor, job, round_to="5")
    answer = adjust(visitor, job, key="other", discount_amount="40", discount_reason="late")
    assert answer.status_code == 409
    assert 'value="40"' in page(answer)


def test_tax_of_a_job_goes_before_the_companys(visitor: Visitor, job: Job) -> None:
    tax(visitor, job, tax_mode="all")
    priced = price_now(job, TODAY)[1]
    assert priced.tax == (priced.subtotal * Decimal("0.08")).quantize(Decimal("0.01"))


def test_without_a_mode_the_job_is_taxed_as_the_company_says(visitor: Visitor, job: Job) -> None:
    tax(visitor, job, tax_mode="")
    assert book_and_terms(job, TODAY)[1].tax_rate == 0


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"state_percent": "29"}, "31% together can&#x27;t be used; accepted: up to 30%"),
        ({"county_percent": "-1"}, "“-1” can&#x27;t be used; accepted: a number from 0 to 30."),
        ({"city_percent": "31"}, "“31” can&#x27;t be used; accepted: a number from 0 to 30."),
        ({"tax_mode": "exempt"}, "accepted: the number of the client&#x27;s certificate."),
    ],
)
def test_tax_out_of_bounds_is_refused_at_its_field(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    answer = tax(visitor, job, **{"tax_mode": "all"} | typed)
    assert answer.status_code == 422
    assert said in page(answer)
    assert not JobTax.objects.exists()


def test_the_company_too_is_refused_tax_above_thirty_percent(visitor: Visitor) -> None:
    shown = visitor.get(reverse("price-terms")).context["form"]
    typed = {field.html_name: field.value() for field in shown if field.value() is not None}
    answer = visitor.post(
        reverse("price-terms"), typed | {"state_percent": "30", "city_percent": 1}
    )
    assert "31% together can&#x27;t be used" in answer.content.decode()


def test_a_deposit_that_leaves_too_little_for_the_payment_half_way_is_refused_at_its_field(
    visitor: Visitor, owner: User
) -> None:
    staged = {"payment_stages": "deposit_progress_rest", "progress_percent": 40}
    SalesTerms.objects.create(company=company_of(owner), **staged)
    shown = visitor.get(reverse("price-terms")).context["form"]
    typed = {field.html_name: field.value() for field in shown if field.value() is not None}
    answer = visitor.post(reverse("price-terms"), typed | {"deposit_percent": "60.01"})
    assert answer.status_code == 422
    (said,) = answer.context["form"].errors["deposit_percent"]
    assert "60.01%" in said
    assert "up to 60%, what a payment half way of 40% leaves" in said
    assert not PriceTerms.objects.filter(deposit_percent__gt=60).exists()
    again = typed | {"deposit_percent": "60", "key": "again"}
    assert visitor.post(reverse("price-terms"), again).status_code == 303


def test_an_exempt_job_names_its_certificate_on_the_quote(owner: User, job: Job) -> None:
    JobTax.objects.create(job=job, tax_mode="exempt", certificate="EX-1047")
    quote = a_quote(owner, job)
    assert stored_quote(quote).tax_note == "Exempt from sales tax, certificate EX-1047"


def test_a_quote_shows_line_discount_and_rounding(owner: User, job: Job) -> None:
    JobLine.objects.create(job=job, label="Piano moved", quantity=1, unit="job", unit_price=180)
    JobPrice.objects.create(job=job, discount_percent=5, discount_reason="second job", round_to=10)
    quote = a_quote(owner, job)
    (off,) = [line for line in priced_of(quote.estimate).lines if line.kind == "discount"]
    said = stored_quote(quote).inclusions
    assert "Also in the price: Piano moved." in said
    assert f"Taken off: ${-off.amount:,.2f}, second job." in said
    assert quote.total % 10 == 0


def test_an_estimate_keeps_its_prices_rates_and_terms(owner: User, job: Job) -> None:
    JobPrice.objects.create(job=job, discount_percent=5, discount_reason="second job")
    basis = priced_of(an_estimate(owner, job)).basis
    assert basis is not None
    assert {price.code: (price.amount, price.effective) for price in basis.prices}["cartons"] == (
        Decimal(60),
        "2020-01-01",
    )
    assert {rate.task for rate in basis.rates} >= {"lay", "setup"}
    assert basis.discount is not None
    assert basis.discount.part == Decimal("0.05")


def test_an_estimate_shows_what_it_was_made_with(visitor: Visitor, owner: User, job: Job) -> None:
    estimate = an_estimate(owner, job)
    shown = page(visitor.get(reverse("estimate", args=[estimate.pk])))  # type: ignore[arg-type]
    assert "What this estimate was made with" in shown
    assert "2020-01-01" in shown


def test_an_estimate_of_before_opens_without_it(visitor: Visitor, owner: User, job: Job) -> None:
    estimate = an_estimate(owner, job)
    fields = json.loads(estimate.document.text)
    for name in ("basis", "days_on_site", "contribution_per_day", "added_cost"):
        del fields[name]
    text = canonical_json(fields | {"format": 1})
    values = {"text": text, "sha256": digest(text), "format": 1}
    Document.objects.filter(pk=estimate.document_id).update(**values)
    shown = page(visitor.get(reverse("estimate", args=[estimate.pk])))  # type: ignore[arg-type]
    assert "Contribution a crew-day" in shown
    assert "What this estimate was made with" not in shown


def test_a_crew_member_gets_no_line_of_a_price(job: Job) -> None:
    line = JobLine.objects.create(job=job, label="Piano", quantity=1, unit="job", unit_cost=9)
    crew = Visitor()
    crew.force_login(make_person(job.company, "crew"))
    assert crew.post(reverse("price-line", args=[line.pk]), {"do": "remove"}).status_code == 403


def test_another_company_finds_no_line_of_a_price(job: Job) -> None:
    line = JobLine.objects.create(job=job, label="Piano", quantity=1, unit="job", unit_cost=9)
    stranger = Visitor()
    stranger.force_login(an_owner(name="Other Floors"))
    assert stranger.post(reverse("price-line", args=[line.pk]), {"do": "remove"}).status_code == 404
