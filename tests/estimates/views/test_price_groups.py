"""The price page by groups: each figure with its source, a price and a rate changed in place."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobLine, JobPrice, PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.domain.scope.rates import STARTING_RATES
from jobs.models import Company, Job, Rate, SiteFacts, User
from tests.builders import make_job, make_person, make_plan, make_planned_job, make_room, make_zone
from tests.estimates.a_job import TODAY, an_estimate, an_owner, company_of
from tests.jobs.spoiled import spoil
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job with a price for everything."""
    return make_planned_job(company_of(owner))


def page(visitor: Visitor, job: Job) -> str:
    """The words of the price page, without its tags."""
    shown = visitor.get(reverse("job-price", args=[job.pk]))
    plain = unescape(re.sub(r"<[^>]*>", " ", shown.content.decode()))
    return " ".join(plain.split())


def post(visitor: Visitor, name: str, job: Job, **typed: str) -> HttpResponse:
    prefix = "here" if name == "price-here" else "rate"
    sent = {f"{prefix}-{field}": value for field, value in ({"key": "once"} | typed).items()}
    return visitor.post(reverse(name, args=[job.pk]), sent)  # type: ignore[return-value]


def carton_price(visitor: Visitor, job: Job, amount: str, **typed: str) -> HttpResponse:
    row = PriceItem.objects.filter(code="cartons").latest("effective_from")
    stands = {"row": str(row.pk), "version": str(row.version), "per": "pack"}
    thing = {"code": "cartons", "item": ""}
    return post(visitor, "price-here", job, **thing | stands | {"amount": amount} | typed)


def lay_rate(visitor: Visitor, job: Job, hours: str, **typed: str) -> HttpResponse:
    named = {"task": "lay", "driver": "floor_area", "item": "", "version": "1"}
    return post(visitor, "rate-here", job, **named | {"hours": hours} | typed)


def test_a_figure_leads_to_its_source(visitor: Visitor, job: Job) -> None:
    shown = visitor.get(reverse("job-price", args=[job.pk])).content.decode()
    zone = job.zones.get()
    assert f'href="{reverse("zone", args=[zone.pk])}"' in shown
    assert "?price=cartons&amp;item=#id_here-amount" in shown
    assert "?rate=lay&amp;driver=floor_area&amp;item=#id_rate-hours" in shown


def test_common_practice_is_one_mark_and_one_note(visitor: Visitor, job: Job) -> None:
    shown = page(visitor, job)
    assert "2 h per 100 ft²†" in shown
    assert shown.count("† Common practice, no source.") == 1


def test_a_price_is_opened_where_it_stands(visitor: Visitor, job: Job) -> None:
    shown = visitor.get(f"{reverse('job-price', args=[job.pk])}?price=cartons&item=")
    assert shown.context["open"] == "floor"
    assert 'name="here-amount"' in shown.content.decode()


@pytest.mark.parametrize(
    "query", ["?price=gold", "?rate=dance", "?rate=lay&driver=gold", "?open=nothing"]
)
def test_an_address_that_names_nothing_opens_nothing(
    visitor: Visitor, job: Job, query: str
) -> None:
    shown = visitor.get(f"{reverse('job-price', args=[job.pk])}{query}")
    assert shown.status_code == 200
    assert 'id="here"' not in shown.content.decode()


def test_a_price_saved_in_place_is_in_the_book_from_today(visitor: Visitor, job: Job) -> None:
    answer = carton_price(visitor, job, "66.00")
    assert answer["Location"].endswith("?open=floor#group-floor")
    prices = PriceItem.objects.filter(code="cartons").order_by("effective_from")
    assert [price.amount for price in prices] == [60, 66]


def test_a_price_that_is_still_right_is_seen_anew(visitor: Visitor, job: Job) -> None:
    PriceItem.objects.filter(code="cartons").update(last_seen=None)
    carton_price(visitor, job, "60.00")
    row = PriceItem.objects.get(code="cartons")
    assert row.last_seen is not None


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        ("", "Nothing was typed; accepted: a number such as 61.50."),
        ("sixty", "“sixty” can't be used"),
        ("-3", "“-3” can't be used"),
        ("=1+2", "“=1+2” can't be used"),
        ("1000000", "“1000000” can't be used"),
    ],
)
def test_a_price_that_can_not_be_is_refused_where_it_stands(
    visitor: Visitor, job: Job, amount: str, said: str
) -> None:
    answer = carton_price(visitor, job, amount)
    assert answer.status_code == 422
    assert said in words(answer)
    assert answer.context["open"] == "floor"  # type: ignore[attr-defined]
    assert PriceItem.objects.filter(code="cartons").count() == 1


def test_an_overtaken_price_is_told_and_the_second_save_counts(visitor: Visitor, job: Job) -> None:
    stale = PriceItem.objects.get(code="cartons")
    carton_price(visitor, job, "64")
    seen = {"row": str(stale.pk), "version": str(stale.version), "key": "other"}
    answer = carton_price(visitor, job, "70", **seen)
    assert answer.status_code == 409
    assert "Price is now $64.00 a carton" in words(answer)
    form = answer.context["here_price"]  # type: ignore[attr-defined]
    again = {name: form[name].value() for name in ("row", "version")}
    assert carton_price(visitor, job, "70", key="third", **again).status_code == 303
    newest = PriceItem.objects.filter(code="cartons").latest("effective_from")
    assert newest.amount == 70


def test_a_rate_saved_in_place_counts_for_every_job(visitor: Visitor, job: Job) -> None:
    other = make_planned_job(job.company)
    before = price_now(other, TODAY)[1].hours
    answer = lay_rate(visitor, job, "4")
    assert answer["Location"].endswith("?open=lay#group-lay")
    rate = Rate.objects.get(company=job.company)
    assert (rate.hours, rate.per, rate.source) == (Decimal(4), Decimal(100), "our own")
    assert price_now(other, TODAY)[1].hours > before


@pytest.mark.parametrize("hours", ["", "-1", "two", "1000"])
def test_a_rate_that_can_not_be_is_refused_where_it_stands(
    visitor: Visitor, job: Job, hours: str
) -> None:
    answer = lay_rate(visitor, job, hours)
    assert answer.status_code == 422
    assert "accepted: a number from 0 to 999" in words(answer)
    assert answer.context["open"] == "lay"  # type: ignore[attr-defined]
    assert not Rate.objects.exists()


def test_an_overtaken_rate_keeps_what_was_typed(visitor: Visitor, job: Job) -> None:
    Rate.objects.create(
        company=job.company, task="lay", driver="floor_area", hours=3, per=100, version=2
    )
    answer = lay_rate(visitor, job, "2.5")
    assert answer.status_code == 409
    assert 'value="2.5"' in answer.content.decode()


def test_a_crew_member_changes_neither(job: Job) -> None:
    crew = Visitor()
    crew.force_login(make_person(job.company, "crew"))
    assert carton_price(crew, job, "1").status_code in (403, 404)
    assert lay_rate(crew, job, "1").status_code in (403, 404)


def test_another_company_changes_neither(job: Job) -> None:
    stranger = Visitor()
    stranger.force_login(an_owner(name="Other Floors"))
    assert carton_price(stranger, job, "1").status_code == 404
    assert lay_rate(stranger, job, "1").status_code == 404


def test_names_of_rooms_and_items_are_shown_and_never_run(owner: User, visitor: Visitor) -> None:
    named = make_job(company_of(owner))
    SiteFacts.objects.filter(job=named).update(existing_floor="carpet", tear_out=True)
    make_plan(make_zone(make_room(named, "<img src=x onerror=alert(1)>")))
    shown = visitor.get(reverse("job-price", args=[named.pk])).content.decode()
    assert "<img src=x" not in shown
    assert "&lt;img src=x" in shown


def test_an_estimate_shows_the_same_groups_and_nothing_to_change(
    visitor: Visitor, owner: User, job: Job
) -> None:
    shown = visitor.get(reverse("estimate", args=[an_estimate(owner, job).pk]))
    keys = [group.key for group in shown.context["table"].groups]
    assert {"floor", "lay", "drive"} <= set(keys)
    assert "change the rate" not in shown.content.decode()
    assert "2 h per 100 ft²†" in words(shown).replace("\u00a0", " ")


def test_an_estimate_keeps_the_rates_it_was_made_with(
    visitor: Visitor, owner: User, job: Job
) -> None:
    estimate = an_estimate(owner, job)
    lay_rate(visitor, job, "9")
    shown = words(visitor.get(reverse("estimate", args=[estimate.pk])))
    assert "2 h per 100 ft²†" in shown.replace("\u00a0", " ")
    assert "9 h per 100" not in shown.replace("\u00a0", " ")


def test_an_estimate_outlives_a_scope_that_can_not_be_read(
    visitor: Visitor, owner: User, job: Job
) -> None:
    estimate = an_estimate(owner, job)
    spoil(estimate.scope.document)
    shown = visitor.get(reverse("estimate", args=[estimate.pk]))
    assert shown.status_code == 200
    assert "Lay" in shown.content.decode()


def a_bid(company: Company, *, labor: str, bid: str) -> Job:
    """A job of nothing but labor at this cost, sold for a bid; no overhead, no material."""
    PriceTerms.objects.create(
        company=company, burdened_rate=48, overhead_percent=0, margin_percent=0, minimum_charge=0
    )
    for rate in STARTING_RATES:
        named = {"task": rate.task_code, "driver": rate.driver, "item": rate.item}
        Rate.objects.create(company=company, hours=0, per=rate.per, **named)
    Company.objects.filter(pk=company.pk).update(trip_hours=0)
    company.refresh_from_db()
    job = make_planned_job(company)
    JobPrice.objects.create(job=job, labor_only=True)
    JobLine.objects.create(
        job=job, label="Labor", quantity=1, unit="job", unit_cost=labor, unit_price=bid
    )
    return job


@pytest.mark.parametrize(
    ("labor", "bid", "figures"),
    [
        # A: five men at 2.50 for 60 days are 750, bid 900: 150 left, a sixth of the price, a
        # fifth of the cost.
        ("750", "900", ("16.7%", "20%", "$150.00", "$750.00")),
        # B: four men do five men's work in 48 days for 600, bid 800: 200 left, a quarter, a third.
        ("600", "800", ("25%", "33.33%", "$200.00", "$600.00")),
    ],
)
def test_two_builders_of_an_old_textbook_on_the_page(
    owner: User, visitor: Visitor, labor: str, bid: str, figures: tuple[str, ...]
) -> None:
    # I. P. Hicks, Builders' Guide (1890s, public domain), Estimating Labor for Carpentry Work;
    # margin and markup as parts of price and cost reckoned from its sums.
    job = a_bid(company_of(owner), labor=labor, bid=bid)

    shown = page(visitor, job)
    margin, markup, left, cost = figures
    assert f"Margin on price {margin}" in shown
    assert f"a markup of {markup} on cost" in shown
    assert f"contribution {left}" in shown
    assert f"Break-even {cost}" in shown


@pytest.mark.parametrize(
    ("margin", "markup"),
    [("20", "25%"), ("25", "33.33%"), ("30", "42.86%"), ("40", "66.67%"), ("50", "100%")],
)
def test_margin_on_price_and_markup_on_cost_say_the_same(
    owner: User, visitor: Visitor, job: Job, margin: str, markup: str
) -> None:
    # Markup on cost M / C and on selling price M / S, with S = C + M: Centennial College Learning
    # Centre, Markup. So 20 % of the price is 25 % of the cost; the pairs are reckoned by hand.
    PriceTerms.objects.create(
        company=company_of(owner),
        burdened_rate=48,
        overhead_percent=12,
        margin_percent=margin,
        minimum_charge=0,
    )

    shown = page(visitor, job)
    assert f"Margin on price {margin}%" in shown
    assert f"a markup of {markup} on cost" in shown
