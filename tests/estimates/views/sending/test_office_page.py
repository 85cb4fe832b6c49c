"""The office's page of a quote: sent by text or by mail, followed, answered, never by a GET."""

from __future__ import annotations

from datetime import timedelta
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client as Visitor
from django.test import override_settings
from django.urls import reverse
from pytest_django.asserts import assertRedirects

from estimates.models import Quote, QuoteEvent
from estimates.services import quotes as money
from estimates.services.sending import answers
from jobs.clock import today_of
from jobs.models import Client, Mail, User
from tests.builders import make_planned_job
from tests.estimates.a_job import company_of
from tests.reading import words

pytestmark = pytest.mark.django_db
FILES = "django.core.mail.backends.filebased.EmailBackend"


@pytest.fixture
def quote(owner: User) -> Quote:
    """A quote issued today for somebody with a phone and an address."""
    company = company_of(owner)
    job = make_planned_job(company)
    Client.objects.filter(pk=job.client_id).update(email="ines@example.com", phone="510 555-0101")
    today = today_of(company)
    estimate = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    return money.issue_quote(estimate=estimate, user=owner, key="quote", today=today)


def page(visitor: Visitor, quote: Quote) -> str:
    return visitor.get(reverse("quote", args=[quote.pk])).content.decode()


def state(visitor: Visitor, quote: Quote) -> str:
    return words(visitor.get(reverse("job-quotes", args=[quote.job_id])))


def test_text_and_mail_stand_side_by_side_with_what_is_known(
    visitor: Visitor, quote: Quote
) -> None:
    shown = page(visitor, quote)
    assert "By text" in shown
    assert "By mail" in shown
    assert "ines@example.com" in shown
    sms = shown.partition('href="sms:')[2].partition('"')[0].replace("&amp;", "&")
    number, _, query = sms.partition("?")
    (body,) = parse_qs(query)["body"]
    assert number == "5105550101"
    assert f"/q/{quote.token} Fernwood Floors" in body
    assert urlsplit("sms:" + sms).scheme == "sms"


def test_without_a_mail_server_it_is_said_plainly(visitor: Visitor, quote: Quote) -> None:
    with override_settings(EMAIL_BACKEND=FILES):
        shown = page(visitor, quote)
        answer = visitor.post(
            reverse("quote-mail", args=[quote.pk]), {"to": "ines@example.com", "key": "k"}
        )
    assert "No mail server is set" in shown
    assert "Text the link, or download the PDF" in shown
    assert answer.status_code == 422
    assert not Mail.objects.exists()


def test_a_mail_is_posted_once_however_often_the_form_is_sent(
    visitor: Visitor, quote: Quote
) -> None:
    address = reverse("quote-mail", args=[quote.pk])
    sent = {"to": "ines@example.com\ntom@example.com", "key": "k"}
    for _ in range(2):
        answer = visitor.post(address, sent)
        assertRedirects(answer, reverse("quote", args=[quote.pk]), status_code=303)
    assert list(Mail.objects.values_list("to", flat=True)) == [
        "ines@example.com",
        "tom@example.com",
    ]
    assert "sent" in state(visitor, quote)


def test_a_bad_address_is_named_and_what_was_typed_stays(visitor: Visitor, quote: Quote) -> None:
    answer = visitor.post(
        reverse("quote-mail", args=[quote.pk]), {"to": "ines@example.com tom", "key": "k"}
    )
    assert answer.status_code == 422
    shown = answer.content.decode()
    assert "“tom” is no address; accepted: one such as ines@example.com." in shown
    assert "ines@example.com tom" in shown
    assert not Mail.objects.exists()


def test_a_text_is_noted_by_a_button_never_by_the_link(visitor: Visitor, quote: Quote) -> None:
    assert visitor.get(reverse("quote-texted", args=[quote.pk])).status_code == 405
    visitor.post(reverse("quote-texted", args=[quote.pk]), {"texted-key": "k"})
    event = quote.events.get()
    assert (event.kind, event.text) == ("texted", "510 555-0101")


def test_a_question_waits_on_home_until_it_is_answered(visitor: Visitor, quote: Quote) -> None:
    question = answers.ask(link=quote.link, text="<b>Piano</b>?", name="Ines")
    home = visitor.get(reverse("job-list")).content.decode()
    assert "Waits on you" in home
    assert "“&lt;b&gt;Piano&lt;/b&gt;?”" in home
    assert "<b>Piano" not in home + page(visitor, quote)
    address = reverse("quote-answer", args=[question.pk])
    empty = visitor.post(address, {f"answer-{question.pk}-key": "k"})
    assert empty.status_code == 422
    assert "accepted: your answer in a few words" in empty.content.decode()
    sent = {f"answer-{question.pk}-key": "k", f"answer-{question.pk}-text": "We move it."}
    visitor.post(address, sent)
    visitor.post(address, sent)
    assert "Waits on you" not in visitor.get(reverse("job-list")).content.decode()
    shown = page(visitor, quote)
    assert "We move it." in shown
    assert "We%20move%20it." in shown
    assert QuoteEvent.objects.filter(kind="answered").count() == 1


@pytest.mark.parametrize("kind", ["seen", "accepted", "declined"])
def test_what_happened_waits_on_home_until_it_is_put_aside(
    visitor: Visitor, quote: Quote, kind: str
) -> None:
    event = QuoteEvent.objects.create(quote=quote, kind=kind, name="Ines Okafor")
    said = {"seen": "was opened", "accepted": "is accepted by Ines", "declined": "is declined"}
    home = words(visitor.get(reverse("job-list")))
    assert said[kind] in home
    visitor.post(reverse("quote-noted", args=[event.pk]))
    assert said[kind] not in words(visitor.get(reverse("job-list")))


def test_a_mail_that_failed_waits_on_home_and_is_sent_again(visitor: Visitor, quote: Quote) -> None:
    visitor.post(reverse("quote-mail", args=[quote.pk]), {"to": "ines@example.com", "key": "k"})
    mail = Mail.objects.get()
    Mail.objects.update(state="failed", error="no such mailbox")
    assert "Mail to ines@example.com did not go out" in words(visitor.get(reverse("job-list")))
    assert "no such mailbox" in page(visitor, quote)
    visitor.post(reverse("mail-again", args=[mail.pk]))
    assert Mail.objects.get().state == "queued"
    Mail.objects.update(state="unsure")
    assert "may not have gone out" in words(visitor.get(reverse("job-list")))
    visitor.post(reverse("mail-noted", args=[mail.pk]))
    assert "may not have gone out" not in words(visitor.get(reverse("job-list")))


def test_a_new_link_is_made_by_a_button_and_the_old_one_opens_nothing(
    visitor: Visitor, quote: Quote
) -> None:
    before = quote.token
    visitor.post(reverse("quote-link-renew", args=[quote.pk]))
    assert Visitor().get(reverse("quote-public", args=[before])).status_code == 404
    assert Quote.objects.get(pk=quote.pk).token in page(visitor, quote)


def test_the_last_day_of_a_link_is_not_before_the_quotes(visitor: Visitor, quote: Quote) -> None:
    address = reverse("quote-link-until", args=[quote.pk])
    early = quote.valid_until - timedelta(days=1)
    refused = visitor.post(address, {"until-key": "k", "until-until": early.isoformat()})
    assert refused.status_code == 422
    assert "until which the quote is valid" in refused.content.decode()
    visitor.post(address, {"until-key": "k", "until-until": quote.valid_until.isoformat()})
    assert quote.link.expires_on == quote.valid_until


def test_an_acceptance_taken_down_by_us_is_an_event_with_our_name(
    visitor: Visitor, quote: Quote, owner: User
) -> None:
    visitor.post(reverse("quote-accept", args=[quote.pk]), {"name": "Ines Okafor", "read": "on"})
    event = quote.events.get(kind="accepted")
    assert (event.user, event.link, event.ip) == (owner, None, "")
    assert "Text the quote" not in page(visitor, quote)
