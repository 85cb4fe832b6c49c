"""A quote, its paper, its link and the review name one day for one event: the company's."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from estimates.models import Estimate, Quote, SalesTerms
from estimates.services import quotes as money
from jobs.clock import today_of
from jobs.models import Job
from jobs.services.files import read_file
from tests.builders import make_company, make_person, make_planned_job
from tests.estimates.a_job import an_owner, company_of
from tests.evening import AUCKLAND, NEW_YORK, days_named, each_place

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("evening")]


def signed_in_at(zone: str) -> Visitor:
    """A browser of the owner of a company of this time zone, its one job planned and priced.

    The company sells nothing at home: no day to cancel until stands beside the others.
    """
    owner = an_owner(time_zone=zone)
    company = company_of(owner)
    SalesTerms.objects.create(company=company, cancel_right=False)
    today = today_of(company)
    money.make_estimate(job=make_planned_job(company), user=owner, key="price", today=today)
    visitor = Visitor()
    visitor.force_login(owner)
    return visitor


def issue(visitor: Visitor) -> Quote:
    """The quote that was looked at and issued."""
    job = Job.objects.get().pk
    seen = visitor.get(reverse("quote-preview", args=[job])).context["issue"].initial["seen"]
    visitor.post(reverse("quote-issue-draft", args=[job]), {"key": "issue", "seen": seen})
    return Quote.objects.select_related("job", "pdf").get()


def seen(visitor: Visitor, name: str, *keys: object) -> str:
    """The main part of a page."""
    answer = visitor.get(reverse(name, args=keys))
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split("<main")[1].split())


def by_link(quote: Quote) -> str:
    """What the homeowner sees, who is not signed in."""
    return seen(Visitor(), "quote-public", quote.token)


def accept(quote: Quote, visitor: Visitor) -> int:
    """Accept a quote by its link; the status of the answer."""
    address = reverse("quote-public", args=[quote.token])
    return visitor.post(address, {"name": "Ines Okafor", "read": "on"}).status_code


def last_day(quote: Quote, day: int) -> Quote:
    """The quote, valid until this day of March."""
    quote.valid_until = date(2026, 3, day)
    quote.save()
    return quote


@pytest.mark.usefixtures("set_paper")
@each_place
def test_paper_pages_list_and_link_name_one_day_of_issue(zone: str, day: int) -> None:
    visitor = signed_in_at(zone)
    quote = issue(visitor)
    paper = PdfReader(BytesIO(read_file(quote.pdf))).pages[0].extract_text()
    texts = (
        paper,
        seen(visitor, "estimate", quote.estimate_id),
        seen(visitor, "job-quotes", quote.job_id),
        seen(visitor, "quote", quote.pk),
        by_link(quote),
    )
    assert [days_named(text) for text in texts] == [{day}] * 5


@each_place
def test_the_price_page_has_the_companys_hour(zone: str, day: int) -> None:
    hour = {NEW_YORK: "22:30", AUCKLAND: "15:30"}[zone]
    visitor = signed_in_at(zone)
    job = Estimate.objects.get().job_id
    assert f"Mar {day}, 2026, {hour}" in seen(visitor, "job-price", job)


@each_place
def test_office_and_homeowner_see_one_day_of_acceptance(zone: str, day: int) -> None:
    visitor = signed_in_at(zone)
    quote = issue(visitor)
    assert accept(quote, Visitor()) == 302
    assert f"accepted this quote on March {day}, 2026" in by_link(quote)
    assert f"Ines Okafor, Mar {day}, 2026, through the link" in seen(visitor, "quote", quote.pk)


def test_a_stranger_from_elsewhere_sees_the_day_of_who_issued_it() -> None:
    quote = issue(signed_in_at(NEW_YORK))
    accept(quote, Visitor())
    stranger = Visitor()
    stranger.force_login(make_person(make_company("Other Floors", time_zone=AUCKLAND)))
    assert days_named(seen(stranger, "quote-public", quote.token)) == {9}


def test_a_quote_is_valid_to_the_end_of_its_last_evening() -> None:
    visitor = signed_in_at(NEW_YORK)
    quote = last_day(issue(visitor), 9)
    assert ">expired<" not in seen(visitor, "job-quotes", quote.job_id)
    assert "Expired" not in by_link(quote)
    assert accept(quote, Visitor()) == 302


def test_where_the_next_day_has_begun_it_has_expired() -> None:
    visitor = signed_in_at(AUCKLAND)
    quote = last_day(issue(visitor), 9)
    assert ">expired<" in seen(visitor, "job-quotes", quote.job_id)
    assert "The price held until" in by_link(quote)
    assert accept(quote, Visitor()) == 422


@each_place
def test_a_withdrawn_quote_names_the_companys_day(zone: str, day: int) -> None:
    visitor = signed_in_at(zone)
    quote = issue(visitor)
    visitor.post(reverse("quote-withdraw", args=[quote.pk]))
    assert days_named(seen(visitor, "quote", quote.pk).split("withdrawn</")[1]) == {day}


@each_place
def test_review_and_path_name_one_day_of_closing(zone: str, day: int) -> None:
    visitor = signed_in_at(zone)
    job = Estimate.objects.get().job_id
    visitor.post(reverse("job-close", args=[job]))
    page = seen(visitor, "job-review", job)
    assert f"Mar {day}, 2026" in page
    assert f"Closed Mar {day}" in visitor.get(reverse("job", args=[job])).content.decode()
    assert days_named(page) == {day}


@each_place
def test_nothing_is_bought_on_the_companys_tomorrow(zone: str, day: int) -> None:
    visitor = signed_in_at(zone)
    form = {"code": "caulk", "quantity": "2", "amount": "9.10", "bought_on": "2026-03-11"}
    address = reverse("purchase-add", args=[Estimate.objects.get().job_id])
    page = visitor.post(address, form | {"key": "k", "version": "1"}).content.decode()
    assert f"2026-03-11 has not come yet; accepted: up to 2026-03-{day:02}, today." in page


@each_place
def test_a_new_price_counts_from_the_companys_today(zone: str, day: int) -> None:
    assert f'value="2026-03-{day:02}"' in seen(signed_in_at(zone), "price-set")
