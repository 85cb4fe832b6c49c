"""The homeowner's link: one quote, its word of acceptance, and nothing else."""

from __future__ import annotations

import datetime

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.domain.quote import quote_document
from estimates.models import Acceptance, Quote, QuoteEvent, QuoteOption
from estimates.services import quotes as money
from jobs.clock import today_of
from jobs.models import Job
from jobs.services.files import read_file
from jobs.services.records import freeze
from tests.builders import make_planned_job
from tests.estimates.a_job import an_owner, company_of
from tests.quoted import quote_values as values

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote() -> Quote:
    """A quote issued today."""
    owner = an_owner()
    today = today_of(company_of(owner))
    job = make_planned_job(company_of(owner))
    estimate = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    return money.issue_quote(estimate=estimate, user=owner, key="quote", today=today)


def address(quote: Quote) -> str:
    return reverse("quote-public", args=[quote.token])


def seen(quote: Quote) -> str:
    return Visitor().get(address(quote)).content.decode()


def accept(quote: Quote, name: str = "Ines Okafor", **changes: str) -> int:
    sent = {"name": name, "read": "on"} | changes
    return Visitor().post(address(quote), sent).status_code


def test_the_link_opens_the_quote_without_a_sign_in(quote: Quote) -> None:
    assert f"Quote {quote.called}: {quote.job.title}" in seen(quote)


def test_another_token_opens_nothing(quote: Quote) -> None:
    assert Visitor().get(reverse("quote-public", args=["x" * 32])).status_code == 404


def test_the_page_leads_nowhere_but_to_its_own_pdf(quote: Quote) -> None:
    ours = (address(quote), reverse("quote-public-file", args=[quote.token]), "#")
    page = seen(quote)
    links = {
        part.split('"')[0] for part in page.split("<a ")[1:] for part in [part.split('href="')[1]]
    }
    assert {link for link in links if not link.startswith(ours)} == set()


@pytest.mark.parametrize("word", ["margin", "Overhead", "Cost", "burdened", "profit"])
def test_the_page_has_no_word_of_our_side(quote: Quote, word: str) -> None:
    assert word not in seen(quote)


def test_a_name_and_a_tick_accept(quote: Quote) -> None:
    assert accept(quote) == 302
    assert Job.objects.get(pk=quote.job_id).agreed_scope == quote.estimate.scope
    assert "Ines Okafor accepted this quote" in seen(quote)


def test_without_the_tick_nothing_is_agreed_and_the_name_stays(quote: Quote) -> None:
    answer = Visitor().post(address(quote), {"name": "Ines Okafor"})
    assert answer.status_code == 422
    assert 'value="Ines Okafor"' in answer.content.decode()
    assert not Acceptance.objects.exists()


def test_a_name_without_letters_is_refused(quote: Quote) -> None:
    answer = Visitor().post(address(quote), {"name": "..", "read": "on"})
    assert "“..” is no name; accepted: first and last name." in answer.content.decode()


def test_a_withdrawn_quote_says_so_and_takes_no_word(quote: Quote) -> None:
    owner = quote.issued_by
    assert owner is not None
    money.withdraw_quote(quote=quote, user=owner)
    assert "has withdrawn this quote" in seen(quote)
    assert accept(quote) == 422


def test_an_expired_quote_says_so_and_takes_no_word(quote: Quote) -> None:
    Quote.objects.update(valid_until=today_of(quote.job.company) - datetime.timedelta(days=1))
    assert "Ask Fernwood Floors for a new one" in seen(quote)
    assert accept(quote) == 422


def test_the_pdf_is_the_one_that_was_issued(quote: Quote) -> None:
    answer = Visitor().get(reverse("quote-public-file", args=[quote.token]))
    assert b"".join(answer) == read_file(quote.pdf)


@pytest.fixture
def of_three(quote: Quote) -> Quote:
    """The quote with three choices, told by room."""
    content = quote_document(values.by_room())
    owner = quote.issued_by
    quote.document = freeze(company=quote.job.company, kind="quote", content=content, user=owner)
    quote.save()
    quote.options.all().delete()
    for place, way in enumerate(values.by_room().choices, start=1):
        QuoteOption.objects.create(
            quote=quote, place=place, key=way.key, name=way.name, estimate=quote.estimate
        )
    return quote


def test_nothing_is_marked_beforehand(of_three: Quote) -> None:
    page = seen(of_three)
    assert page.count('type="radio"') == 3
    assert "checked" not in page


def test_without_a_choice_nothing_is_agreed(of_three: Quote) -> None:
    answer = Visitor().post(address(of_three), {"name": "Ines Okafor", "read": "on"})
    assert answer.status_code == 422
    assert "Nothing is chosen yet; choose one of: Your baseboard back" in answer.content.decode()
    assert not Acceptance.objects.exists()


def test_what_is_not_offered_can_not_be_chosen(of_three: Quote) -> None:
    assert accept(of_three, choice="z") == 422
    assert not Acceptance.objects.exists()


def test_a_choice_is_accepted_and_told_from_then_on(of_three: Quote) -> None:
    assert accept(of_three, choice="b") == 302
    assert Acceptance.objects.get().choice == "b"
    page = " ".join(seen(of_three).split())
    assert "New baseboard, $4,825.57" in page
    assert 'id="accept-form"' not in page


def test_a_question_is_kept_and_shown(of_three: Quote) -> None:
    sent = {"act": "ask", "name": "Ines Okafor", "text": "Does <b>the cat</b> mind?"}
    assert Visitor().post(address(of_three), sent).status_code == 302
    assert QuoteEvent.objects.filter(kind="asked").count() == 1
    assert "Does &lt;b&gt;the cat&lt;/b&gt; mind?" in seen(of_three)


def test_an_empty_question_is_refused_and_the_name_stays(of_three: Quote) -> None:
    answer = Visitor().post(address(of_three), {"act": "ask", "name": "Ines Okafor"})
    assert answer.status_code == 422
    assert 'value="Ines Okafor"' in answer.content.decode()


def test_a_refusal_ends_the_quote(of_three: Quote) -> None:
    sent = {"act": "decline", "reason": "We wait until spring."}
    assert Visitor().post(address(of_three), sent).status_code == 302
    assert "You declined this quote and owe nothing" in seen(of_three)
    assert accept(of_three, choice="a") == 422


def test_a_quote_that_was_replaced_shows_no_accept(quote: Quote) -> None:
    owner, today = quote.issued_by, today_of(quote.job.company)
    assert owner is not None
    estimate = money.make_estimate(job=quote.job, user=owner, key="again", today=today)
    money.issue_quote(estimate=estimate, user=owner, key="second", today=today)
    page = seen(quote)
    assert "A newer quote took its place" in page
    assert 'id="accept-form"' not in page


def test_the_page_is_headed_by_the_company_and_never_by_the_program(quote: Quote) -> None:
    page = seen(quote)
    assert "Fernwood Floors" in page
    assert "Rowbook" not in page
    assert reverse("help") not in page


def test_markup_that_was_typed_is_shown_as_text(quote: Quote) -> None:
    content = quote_document(values.hostile())
    quote.document = freeze(
        company=quote.job.company, kind="quote", content=content, user=quote.issued_by
    )
    quote.save()
    page = seen(quote)
    assert "<script>alert" not in page
    assert 'src="file:' not in page


def test_the_right_to_cancel_is_dated_by_the_day_of_acceptance(of_three: Quote) -> None:
    assert accept(of_three, choice="a") == 302
    # A Thursday: Christmas and Sunday don't count, Saturday does; 26, 28 and 29 are the three days.
    at = datetime.datetime(2026, 12, 24, 15, tzinfo=datetime.UTC)
    Acceptance.objects.update(at=at)
    page = seen(of_three)
    assert "December 24, 2026</span> (date of transaction)" in page
    assert "December 29, 2026" in page
