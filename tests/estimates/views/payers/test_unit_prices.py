"""A payer's unit prices in their rows, and a job priced by them: sums by hand."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PayerPrice, PriceItem, PriceTerms
from estimates.readers.prices import priced_of
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import AuditLine, Client, ClientKind, Job, JobPayer, User
from tests.builders import make_client, make_company, make_planned_job
from tests.estimates.a_job import an_estimate, company_of
from tests.queries import assert_same_queries
from tests.reading import words

pytestmark = pytest.mark.django_db
CENT = Decimal("0.01")
HTMX = {"hx-request": "true"}


@pytest.fixture
def store(owner: User) -> Client:
    return make_client(company_of(owner), "Alder Store", kind=ClientKind.STORE)


@pytest.fixture
def job(owner: User, store: Client) -> Job:
    """A planned job at 50 an hour, overhead 10 %, margin 20 %, least 900, by the store's prices."""
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 900}
    PriceTerms.objects.create(company=company_of(owner), burdened_rate=50, **shares)
    planned = make_planned_job(company_of(owner))
    JobPayer.objects.create(job=planned, payer=store, prices="payer")
    return planned


def agreed(store: Client, day: str = "2026-01-01", **amounts: str) -> None:
    for code, amount in amounts.items():
        PayerPrice.objects.create(
            client=store, code=code, amount=Decimal(amount), effective_from=day
        )


def send(
    visitor: Visitor, store: Client, code: str, amount: str, *, query: str = "", **more: str
) -> HttpResponse:
    typed = {"key": "once", "version": "1", "row": "", "amount": amount}
    typed |= {"effective_from": "2026-01-01"} | more
    data = {f"rate-{code}-{name}": value for name, value in typed.items()}
    url = reverse("payer-price", args=[store.pk, code]) + query
    return visitor.post(url, data, headers=None if query else HTMX)  # type: ignore[return-value]


def test_a_unit_price_is_saved_in_its_row_beside_its_cost(
    visitor: Visitor, owner: User, store: Client
) -> None:
    answer = words(send(visitor, store, "casings", "10"))
    assert "Saved: $10.00 each from Jan 1, 2026" in answer
    # 0.2 h at 48 with 12 % overhead is 10.752, more than 10.
    assert "costs more than its rate" in answer
    page = words(visitor.get(reverse("payer-prices", args=[store.pk])))
    assert "Unit prices of Alder Store" in page
    assert "1 unit price brings less than one unit costs" in page
    assert "Set the unit price of Casing undercut" in AuditLine.objects.latest("pk").act
    # It is no rate of the company's card.
    assert not PriceItem.objects.filter(kind="adder").exists()
    assert ">no rate yet<" in words(visitor.get(reverse("rate-card")))


def test_an_older_price_stays_in_force_for_its_days(visitor: Visitor, store: Client) -> None:
    send(visitor, store, "casings", "14")
    first = PayerPrice.objects.get()
    send(visitor, store, "casings", "16", key="b", row=str(first.pk), effective_from="2026-06-01")
    amounts = PayerPrice.objects.values_list("amount", flat=True)
    assert list(amounts) == [Decimal(16), Decimal(14)]
    page = words(visitor.get(reverse("payer-price", args=[store.pk, "casings"])))
    assert "$14.00 each" in page
    late = send(
        visitor, store, "casings", "9", key="c", row=str(first.pk), effective_from="2026-07-01"
    )
    assert late.status_code == 422
    assert "Somebody else saved this meanwhile" in words(late)


@pytest.mark.parametrize("amount", ["", "-1", "14,50", "<b>9</b>", "1000000"])
def test_a_price_that_cannot_be_is_refused(visitor: Visitor, store: Client, amount: str) -> None:
    answer = send(visitor, store, "casings", amount)
    assert answer.status_code == 422
    assert "<b>9" not in words(answer)
    assert not PayerPrice.objects.exists()


def test_a_dropped_price_is_none(visitor: Visitor, store: Client) -> None:
    agreed(store, casings="14")
    visitor.post(reverse("payer-price", args=[store.pk, "casings"]), {"do": "drop"})
    assert not PayerPrice.objects.exists()


def test_the_job_is_priced_by_the_payers_prices_alone(owner: User, store: Client, job: Job) -> None:
    # A rate of our own card stands for everything; none of it counts.
    for code, unit in (("floor_area", "ft2"), ("casings", "each")):
        PriceItem.objects.create(
            company=job.company,
            kind="adder",
            code=code,
            label=code,
            unit=unit,
            amount=99,
            effective_from="2026-01-01",
        )
    agreed(store, floor_area="9.00", trips="45")
    agreed(store, "2099-01-01", floor_area="12.00")
    scope, priced = price_now(job, today_of(job.company))
    trips = sum(entry.amount for entry in scope.quantities if entry.code == "trips")
    bought = [line.cost for line in priced.lines if line.kind == "material"]
    # 20.42 ft2 at 9.00 is 183.78; trips at 45.00; each line of material x 1.10 / 0.80.
    material = [(cost * 11 / 8).quantize(CENT, ROUND_HALF_UP) for cost in bought]
    by_hand = Decimal("183.78") + 45 * trips + sum(material, Decimal(0))
    assert priced.faults == ()
    assert (priced.method, priced.subtotal) == ("rates", by_hand)
    # Our minimum of 900 is none that the store agreed to.
    assert by_hand < 900
    assert priced_of(an_estimate(owner, job)).payer == priced.payer


def test_the_least_is_the_payers_half_day(job: Job, store: Client) -> None:
    agreed(store, floor_area="9.00", trips="45", half_day="2000")
    assert price_now(job, today_of(job.company))[1].subtotal == 2000


def test_what_has_no_unit_price_is_named_and_answered_in_place(
    visitor: Visitor, job: Job, store: Client
) -> None:
    agreed(store, floor_area="9.00")
    _, priced = price_now(job, today_of(job.company))
    (fault,) = priced.faults
    assert fault.text == "Trip: no unit price agreed with Alder Store"
    page = words(visitor.get(reverse("job-price", args=[job.pk])))
    assert "Trip: no unit price agreed with Alder Store" in page
    assert "Alder Store has agreed to no unit price for this work" in page
    assert "Rates missing" not in page
    answer = send(visitor, store, "trips", "45", query=f"?job={job.pk}")
    assert answer.headers["location"] == reverse("job-price", args=[job.pk])
    assert price_now(job, today_of(job.company))[1].faults == ()


def test_the_page_of_what_makes_the_price_says_whose_prices_count(
    visitor: Visitor, job: Job
) -> None:
    page = words(visitor.get(reverse("price-method", args=[job.pk])))
    assert "The unit prices of Alder Store make the price of this job" in page


def test_a_payer_of_another_company_is_hidden(visitor: Visitor) -> None:
    strange = make_client(make_company("Other Floors"), "Their store")
    for name, args in (("payer-prices", [strange.pk]), ("payer-price", [strange.pk, "casings"])):
        assert visitor.get(reverse(name, args=args)).status_code == 404


def test_the_list_asks_no_more_for_many_prices(visitor: Visitor, store: Client) -> None:
    def more(count: int) -> None:
        there = PayerPrice.objects.count()
        for number in range(there, there + count):
            agreed(store, f"20{number + 30}-01-01", casings=str(number))

    assert_same_queries(visitor, reverse("payer-prices", args=[store.pk]), more)
