"""The rate card on its page, and a job priced by it: rates saved in their rows, sums by hand."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from itertools import count, islice

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobPrice, PriceItem, PriceTerms
from estimates.readers.prices import terms_row
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import AuditLine, Job, User
from tests.builders import make_job, make_planned_job
from tests.estimates.a_job import an_owner, company_of
from tests.jobs.agreed import make_scope
from tests.queries import assert_same_queries

pytestmark = pytest.mark.django_db
HTMX = {"hx-request": "true"}


def send(
    visitor: Visitor, code: str, amount: str, *, item: str = "", part: bool = True, **more: str
) -> HttpResponse:
    """Save a row of the card as the page does; as a plain form does without `part`."""
    prefix = f"rate-{code}-{item}".strip("-")
    typed = {"key": "once", "version": "1", "row": "", "amount": amount}
    typed |= {"effective_from": more.pop("day", "2026-01-01")} | more
    url = reverse("card-rate", args=[code]) + (f"?item={item}" if item else "")
    data = {f"{prefix}-{name}": value for name, value in typed.items()}
    return visitor.post(url, data, headers=HTMX if part else None)  # type: ignore[return-value]


def text_of(answer: HttpResponse) -> str:
    return " ".join(answer.content.decode().split())


def card(visitor: Visitor) -> str:
    return text_of(visitor.get(reverse("rate-card")))  # type: ignore[arg-type]


def rate_of(code: str, item: str = "") -> PriceItem:
    return PriceItem.objects.filter(kind="adder", code=code, item=item).latest("effective_from")


def test_an_empty_card_shows_what_each_unit_costs(visitor: Visitor) -> None:
    page = card(visitor)
    # A casing takes 0.2 h at 48 with 12 % overhead: 10.752.
    assert "Casing undercut" in page
    assert "$10.75" in page
    assert page.count(">no rate yet<") == 23


def test_a_saved_rate_comes_back_alone_with_its_price(visitor: Visitor) -> None:
    page = text_of(send(visitor, "casings", "14"))
    assert page.startswith("<tr")
    assert "Saved: $14.00 each from Jan 1, 2026" in page
    assert "costs more than its rate" not in page


def test_a_rate_below_its_cost_is_flagged(visitor: Visitor) -> None:
    assert "costs more than its rate" in text_of(send(visitor, "casings", "10"))
    assert "1 rate brings less than one unit costs" in card(visitor)


def test_a_rate_of_just_its_cost_is_none_below(visitor: Visitor) -> None:
    assert "costs more than its rate" not in text_of(send(visitor, "casings", "10.75"))


def test_a_plain_form_leads_back_to_the_row(visitor: Visitor) -> None:
    answer = send(visitor, "tear_out", "2.40", item="tile", part=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/prices/card#tear_outtile"
    assert rate_of("tear_out", "tile").amount == Decimal("2.40")


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        ("", "This field is required"),
        ("14,50", "“14,50” can&#x27;t be used; accepted: a number such as 61.50"),
        ("-3", "“-3” can&#x27;t be used"),
        ("1000000", "“1000000” can&#x27;t be used; accepted: up to 99,999"),
        ("<b>4</b>", "“&lt;b&gt;4&lt;/b&gt;” can&#x27;t be used"),
    ],
)
def test_a_rate_that_cannot_be_is_refused_where_it_was_typed(
    visitor: Visitor, amount: str, said: str
) -> None:
    answer = send(visitor, "casings", amount)
    assert answer.status_code == 422
    assert said in text_of(answer) or "Nothing was typed" in text_of(answer)
    assert not PriceItem.objects.filter(kind="adder").exists()


def test_another_rate_from_another_day_leaves_the_old_one_in_force_for_its_days(
    visitor: Visitor, owner: User
) -> None:
    send(visitor, "casings", "14")
    first = rate_of("casings")
    send(visitor, "casings", "16", key="b", row=str(first.pk), day="2026-06-01")

    history = PriceItem.objects.filter(kind="adder", code="casings")
    assert [(str(rate.effective_from), rate.amount) for rate in history] == [
        ("2026-06-01", Decimal(16)),
        ("2026-01-01", Decimal(14)),
    ]
    page = text_of(visitor.get(reverse("card-rate", args=["casings"])))  # type: ignore[arg-type]
    assert "$16.00 each" in page
    assert "$14.00 each" in page


def test_a_rate_of_a_day_to_come_waits(visitor: Visitor, owner: User) -> None:
    send(visitor, "casings", "14")
    later = today_of(company_of(owner)) + timedelta(days=30)
    send(visitor, "casings", "16", key="b", row=str(rate_of("casings").pk), day=str(later))
    assert f"$16.00 from {later:%b} {later.day}, {later.year}" in card(visitor)


def test_before_a_rate_to_come_another_may_be_set_for_today(visitor: Visitor, owner: User) -> None:
    today = today_of(company_of(owner))
    send(visitor, "casings", "16", day=str(today + timedelta(days=30)))
    waiting = rate_of("casings")
    answer = send(visitor, "casings", "14", key="b", row=str(waiting.pk), day=str(today))
    assert answer.status_code == 200
    assert PriceItem.objects.filter(kind="adder", code="casings").count() == 2


def test_a_day_before_the_rate_in_force_is_refused(visitor: Visitor) -> None:
    send(visitor, "casings", "14")
    answer = send(
        visitor, "casings", "16", key="b", row=str(rate_of("casings").pk), day="2025-06-01"
    )
    assert "accepted: 2026-01-01 or later" in text_of(answer)


@pytest.mark.parametrize(("part", "status"), [(True, 422), (False, 409)])
def test_a_stale_save_is_told_and_may_be_sent_again(
    visitor: Visitor, part: bool, status: int
) -> None:
    send(visitor, "casings", "14")
    answer = send(visitor, "casings", "15", key="other", part=part)
    assert answer.status_code == status
    assert "The rate is now $14.00 each" in text_of(answer)
    assert f'name="rate-casings-row" value="{rate_of("casings").pk}"' in text_of(answer)


def test_a_dropped_rate_gives_way_to_the_one_before_it(visitor: Visitor) -> None:
    send(visitor, "casings", "14")
    send(visitor, "casings", "16", key="b", row=str(rate_of("casings").pk), day="2026-06-01")
    visitor.post(reverse("card-rate", args=["casings"]), {"do": "drop"})
    assert rate_of("casings").amount == 14
    assert AuditLine.objects.filter(act="Dropped the rate of Casing undercut, $16.00 each").exists()


def test_no_other_row_than_the_cards_has_a_rate(visitor: Visitor) -> None:
    assert visitor.get(reverse("card-rate", args=["spacers"])).status_code == 404
    assert visitor.get(reverse("card-rate", args=["casings"]) + "?item=tile").status_code == 404


def test_a_bag_has_a_price_to_buy_and_a_rate_from_the_same_day(visitor: Visitor) -> None:
    day = PriceItem.objects.get(code="leveller").effective_from
    assert send(visitor, "leveller", "88", day=str(day), taxable="on").status_code == 200
    assert PriceItem.objects.filter(code="leveller", effective_from=day).count() == 2
    assert rate_of("leveller").taxable


def test_the_card_and_its_history_are_read_at_once(visitor: Visitor, owner: User) -> None:
    company, days = company_of(owner), count(1)

    def make_rows(rows: int) -> None:
        for number in islice(days, rows):
            values = {"label": "Casing", "unit": "each", "amount": number, "kind": "adder"}
            day = date(2021, 1, 1) + timedelta(days=number)
            PriceItem.objects.create(company=company, code="casings", effective_from=day, **values)
            make_scope(make_job(company))

    make_rows(5)
    assert_same_queries(visitor, reverse("rate-card"), make_rows)
    assert_same_queries(visitor, reverse("card-rate", args=["casings"]), make_rows)


def test_the_card_of_another_company_stays_there(visitor: Visitor) -> None:
    send(visitor, "casings", "14")
    stranger = Visitor()
    stranger.force_login(an_owner())
    assert card(stranger).count(">no rate yet<") == 23


@pytest.fixture
def planned(owner: User) -> Job:
    """A planned job of one room of 60 by 49 in, with terms of our own."""
    company = company_of(owner)
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return make_planned_job(company)


def choose(visitor: Visitor, job: Job, method: str, **more: str) -> HttpResponse:
    typed = {"key": f"m{method}", "version": "1", "chosen": method} | more
    return visitor.post(reverse("price-method", args=[job.pk]), typed)  # type: ignore[return-value]


def today_price(job: Job) -> Decimal:
    return price_now(Job.objects.get(pk=job.pk), today_of(job.company))[1].subtotal


def test_what_the_card_lacks_for_a_job_is_asked_for_on_the_jobs_page(
    visitor: Visitor, planned: Job
) -> None:
    page = text_of(visitor.get(reverse("price-method", args=[planned.pk])))  # type: ignore[arg-type]
    assert "Rates missing" in page
    assert f'action="/prices/card/floor_area?job={planned.pk}"' in page
    url = reverse("card-rate", args=["floor_area"]) + f"?job={planned.pk}"
    typed = {"key": "k", "version": "1", "row": "", "amount": "9", "effective_from": "2026-01-01"}
    answer = visitor.post(url, {f"rate-floor_area-{name}": text for name, text in typed.items()})
    assert answer.headers["location"] == reverse("price-method", args=[planned.pk])


def test_a_rate_that_a_job_by_the_card_lacks_leads_back_to_its_price(
    visitor: Visitor, planned: Job
) -> None:
    choose(visitor, planned, "rates")
    url = reverse("card-rate", args=["trips"]) + f"?job={planned.pk}"
    typed = {"key": "k", "version": "1", "row": "", "amount": "9", "effective_from": "2026-01-01"}
    answer = visitor.post(url, {f"rate-trips-{name}": text for name, text in typed.items()})
    assert answer.headers["location"] == reverse("job-price", args=[planned.pk])


def test_a_job_of_others_is_no_way_back(visitor: Visitor, planned: Job) -> None:
    stranger = Visitor()
    stranger.force_login(an_owner())
    url = reverse("card-rate", args=["trips"]) + f"?job={planned.pk}"
    assert stranger.get(url).status_code == 404


def test_the_price_page_names_what_the_card_lacks(visitor: Visitor, planned: Job) -> None:
    choose(visitor, planned, "rates")
    page = text_of(visitor.get(reverse("job-price", args=[planned.pk])))  # type: ignore[arg-type]
    assert "Laying: no rate on" in page
    assert "Trip: no rate on" in page
    made = visitor.post(reverse("job-price", args=[planned.pk]), {"key": "make"})
    assert made.status_code == 422


def test_a_job_priced_by_the_card_is_feet_and_trips_and_its_material(
    visitor: Visitor, planned: Job
) -> None:
    send(visitor, "floor_area", "9")
    send(visitor, "trips", "45")
    scope, priced = price_now(planned, today_of(planned.company))
    feet = sum(entry.amount for entry in scope.quantities if entry.code == "floor_area")
    assert choose(visitor, planned, "rates").headers["location"] == f"/jobs/{planned.pk}/price"
    # 60 by 49 in is 2,940 in2, 20.42 ft2: at 9 a foot 183.78. One trip 45.00.
    assert feet == Decimal("20.42")
    trips = sum(entry.amount for entry in scope.quantities if entry.code == "trips")
    # Material of 60.00 a carton and what goes with it, each line x 1.10 / 0.80.
    material = sum(
        (
            (line.cost * Decimal("1.1") / Decimal("0.8")).quantize(Decimal("0.01"))
            for line in priced.lines
            if line.kind == "material"
        ),
        Decimal(0),
    )
    assert today_price(planned) == Decimal("183.78") + 45 * trips + material


def test_the_company_may_price_all_jobs_by_the_card_and_a_job_the_other_way(
    visitor: Visitor, planned: Job
) -> None:
    by_cost = today_price(planned)
    send(visitor, "floor_area", "9")
    send(visitor, "trips", "45")
    send(visitor, "half_day", "950")
    PriceTerms.objects.update(method="rates")
    assert today_price(planned) == 950
    choose(visitor, planned, "cost")
    assert JobPrice.objects.get().method == "cost"
    assert today_price(planned) == by_cost


def test_the_owner_says_on_the_terms_what_jobs_are_priced_by(
    visitor: Visitor, planned: Job
) -> None:
    shown = visitor.get(reverse("price-terms")).context["form"]
    typed = {field.html_name: field.value() for field in shown if field.value() is not None}
    assert visitor.post(reverse("price-terms"), typed | {"method": "rates"}).status_code == 303
    assert terms_row(planned.company).method == "rates"
    assert "Jobs are priced by: <b>The rate card</b>" in card(visitor)


def test_a_choice_that_somebody_else_made_meanwhile_is_told(visitor: Visitor, planned: Job) -> None:
    choose(visitor, planned, "rates")
    answer = choose(visitor, planned, "cost")
    assert answer.status_code == 409
    assert JobPrice.objects.get().method == "rates"


def test_another_way_of_pricing_is_refused(visitor: Visitor, planned: Job) -> None:
    assert choose(visitor, planned, "guess").status_code == 422


def test_an_estimate_by_the_card_keeps_its_rates(visitor: Visitor, planned: Job) -> None:
    send(visitor, "floor_area", "9")
    send(visitor, "trips", "45")
    choose(visitor, planned, "rates")
    made = visitor.post(reverse("job-price", args=[planned.pk]), {"key": "make"})
    row = rate_of("floor_area")
    send(visitor, "floor_area", "12", key="b", row=str(row.pk), day=str(date(2026, 1, 1)))
    frozen = text_of(visitor.get(made.headers["location"]))  # type: ignore[arg-type]
    # 20.42 ft2 at 9; at 12 it would be 245.04.
    assert "$183.78" in frozen
    assert "$245.04" not in frozen
