"""What a homeowner reads where a link opens nothing, and the labels of the page that opens."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import QuoteLink
from jobs.clock import today_of
from jobs.models import User
from tests.estimates.a_job import a_quote

pytestmark = pytest.mark.django_db

SAID = "Ask the company that sent it for a new one"


@pytest.mark.parametrize(
    "name", ["quote-public", "quote-public-file", "quote-public-days", "change-public"]
)
def test_a_guessed_link_says_so_to_a_homeowner(name: str) -> None:
    answer = Visitor().get(reverse(name, args=["x" * 43]))
    page = answer.content.decode()
    assert answer.status_code == 404
    assert SAID in page
    assert "Sign in" not in page
    assert "Rowbook" not in page.replace("rowbook.css", "")


def test_an_expired_link_says_so_and_takes_no_word(owner: User) -> None:
    quote = a_quote(owner)
    address = reverse("quote-public", args=[quote.token])
    QuoteLink.objects.update(expires_on=today_of(quote.job.company) - timedelta(days=1))
    words = {"name": "Ines Okafor", "read": "on", "text": "May I ask?", "reason": ""}
    for act in ("accept", "ask", "decline"):
        answer = Visitor().post(address, words | {"act": act})
        assert answer.status_code == 404
        assert SAID in answer.content.decode()
    assert not quote.events.exists()


def test_every_field_of_the_page_has_a_label_of_its_own(owner: User) -> None:
    quote = a_quote(owner)
    page = Visitor().get(reverse("quote-public", args=[quote.token])).content.decode()
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert {"id_name", "ask_name"} <= set(ids)
