"""Published rates, wages and hours of work: typed on their pages and read from them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import Ballpark, PriceTerms
from jobs.models import Company
from tests.builders import make_crew
from tests.estimates.a_job import set_prices
from tests.published.test_money_on_pages import a_job, add, price_page
from tests.reading import words

pytestmark = pytest.mark.django_db

DRYWALL = {"work": "paint:paint_area", "item": "", "source": "NAVEDTRA 14045"}


def set_rate(visitor: Visitor, **typed: str) -> None:
    """Set a rate on its page."""
    sent = DRYWALL | typed | {"key": f"k{typed}", "version": "1"}
    assert visitor.post(reverse("rate-set"), sent).status_code == 303


def tried(visitor: Visitor, **typed: str) -> str:
    """Try the rate of the published example on so much work."""
    query = {"task": "paint", "driver": "paint_area", "item": "", "people": "5", "day": "8"}
    query |= {"there": "100", "efficiency": "67"} | typed
    return words(visitor.get(reverse("rate-set"), query))


def test_man_days_of_the_published_example(visitor: Visitor) -> None:
    # US Navy, NAVEDTRA 14045, p. 2-27: 16,000 ft2 of drywall at 33 man-hours for 1,000 ft2 are 66
    # man-days; 5 people, 75 % at the work, 9 h a day (1.125 of 8): 15.644 days, so 16.
    set_rate(visitor, hours="33", per="1000")
    page = tried(visitor, amount="16000", day="9", there="75")
    assert "528 h, 66 man-days of 8 h" in page
    assert "15.644 days of 5 people, so 16 on the calendar" in page
    assert "7.822 days of 10 people, so 8" in tried(
        visitor, amount="16000", day="9", there="75", people="10"
    )


@pytest.mark.parametrize(("efficiency", "factor"), [("67", "1.000"), ("59", "1.136")])
def test_the_average_crew_works_at_67_percent(
    visitor: Visitor, efficiency: str, factor: str
) -> None:
    # NAVEDTRA 14045, table 2-4: 67 % is average; 0.67 / efficiency from memory.
    set_rate(visitor, hours="33", per="1000")
    page = tried(visitor, amount="1000", efficiency=efficiency)
    assert f"{factor} times those of the average crew" in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [({"efficiency": "24"}, "25"), ({"people": "0"}, "1"), ({"amount": "-1"}, "0.01")],
)
def test_what_can_not_be_tried_is_refused_at_its_field(
    visitor: Visitor, typed: dict[str, str], said: str
) -> None:
    page = tried(visitor, **{"amount": "100"} | typed)
    assert "can't be used; accepted:" in page
    assert said in page
    assert 'id="tried"' not in page


@pytest.mark.parametrize(("hours", "slow"), [("16", False), ("16.01", True)])
def test_a_floor_slower_than_any_in_print_is_told(visitor: Visitor, hours: str, slow: bool) -> None:
    # Wm. Arthur, New Building Estimator: strip in a small room, two men under a square a day.
    set_rate(visitor, work="lay:floor_area", hours=hours, per="100")
    page = words(visitor.get(reverse("rate-list")))
    assert ("slower than the slowest strip floor in print" in page) == slow


@pytest.mark.parametrize(
    ("rate", "year", "low"),
    [("15.29", "$31,803.20", True), ("18.08", "$37,606.40", False), ("27.15", "$56,472.00", False)],
)
def test_a_labor_rate_is_held_against_wages_and_a_year(
    visitor: Visitor, company: Company, rate: str, year: str, low: bool
) -> None:
    # BLS OEWS 47-2042, May 2025: 18.08, 21.95, 27.15, 35.50, 46.49; 56,460 a year is 27.14 an hour.
    # 47-2043, May 2006: 15.29 an hour, 31,810 a year: 2,080 hours within the cent of an hour.
    PriceTerms.objects.create(company=company, burdened_rate=rate)
    page = words(visitor.get(reverse("price-terms")))
    for wage in ("$18.08", "$21.95", "$27.15", "$35.50", "$46.49"):
        assert wage in page
    assert f"A year of 2,080 hours at your labor rate comes to {year}." in page
    assert ("The rate is below $18.08" in page) == low
    published = {"15.29": 31_810, "27.15": 56_460}.get(rate)
    if published:
        assert abs(Decimal(year[1:].replace(",", "")) - published) <= Decimal("0.01") * 2080


@pytest.mark.parametrize(("day", "said"), [("8", ""), ("9", "5.6%"), ("10", "10%")])
def test_hours_over_forty_a_week_cost_one_and_a_half(
    visitor: Visitor, company: Company, day: str, said: str
) -> None:
    # 29 U.S.C. 207: 45 h cost 40 + 5 x 1.5 = 47.5, 5.56 % more; 50 h cost 55, 10 % more.
    crew = make_crew(company)
    type(crew).objects.filter(pk=crew.pk).update(hours_per_day=day)
    page = words(visitor.get(reverse("crew-edit", args=[crew.pk])))
    assert (f"an hour costs {said} more" in page) == bool(said)
    assert ("29 U.S.C. 207" in page) == bool(said)


@pytest.mark.parametrize(("price", "good"), [("870", True), ("869", False), ("1176", True)])
def test_a_ballpark_within_15_percent_of_its_price_is_good(
    visitor: Visitor, company: Company, price: str, good: bool
) -> None:
    # NAVEDTRA, Builder 3 & 2, ch. 9. The middle of 900 to 1,100 is 1,000; 1,000 / 1.15 = 869.57.
    job = a_job(company)
    said = {"size": "10 x 10", "area_ft2": 100, "made_on": date(2027, 3, 1)}
    Ballpark.objects.create(company=company, job=job, least=900, most=1100, **said)
    labor = visitor.get(reverse("job-price", args=[job.pk])).context["priced"].subtotal
    add(visitor, job, "All", unit_price=str(Decimal(price) - labor))
    page = price_page(visitor, job)
    assert "The ballpark was $900.00 to $1,100.00" in page
    assert ("within 15%, which is good" in page) == good


def test_the_tongues_of_nominal_strip_are_charged_to_nobody(
    visitor: Visitor, company: Company
) -> None:
    # ICS, Building Trades Pocketbook (c. 1900): 2,624 ft2 of strip of 3 in and more, a quarter
    # added for its tongues, are 3,280 ft. Planks are sold by what they cover: 5 to 12 % of waste.
    set_prices(company)
    shares = {"overhead_percent": 0, "margin_percent": 0, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    sent = {"key": "k", "do": "show", "size": "2624", "old_floor": "none", "base": "keep"}
    page = words(visitor.post(reverse("ballpark"), sent | {"flooring_ft2": "1"}))
    least = f"${Decimal('2624') * Decimal('1.05'):,.2f}"
    assert least in page
    assert "$3,280.00" not in page
