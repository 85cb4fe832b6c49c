"""The link of a quote: its word is kept nowhere, a renewed or expired one opens nothing."""

from __future__ import annotations

import datetime
import json

import pytest
from django.core import serializers
from django.db import connection
from django.test import Client as Visitor
from django.test import override_settings
from django.urls import reverse

from estimates.models import Quote, QuoteLink
from estimates.services.sending.links import address_of, renew_link, set_expiry
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.domain.link_token import token_hash
from jobs.models import User
from tests.estimates.a_job import a_quote

pytestmark = pytest.mark.django_db


def opens(token: str) -> int:
    return Visitor().get(reverse("quote-public", args=[token])).status_code


def test_the_word_of_a_link_stands_in_no_table(owner: User) -> None:
    quote = a_quote(owner)
    word, kept = quote.token, []
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
            kept.append(str(cursor.fetchall()))
    assert word not in "".join(kept)
    assert token_hash(word) in "".join(kept)
    assert opens(word) == 200


def test_a_renewed_link_opens_nothing_and_the_new_one_does(owner: User) -> None:
    quote = a_quote(owner)
    before = quote.token
    QuoteLink.objects.create(quote=quote, version=0, token_hash=token_hash("sent long ago"))
    assert (opens(before), opens("sent long ago")) == (200, 200)
    link = renew_link(quote=quote, user=owner)
    assert (link.version, quote.links.count()) == (2, 2)
    assert (opens(before), opens("sent long ago"), opens(quote.token)) == (404, 404, 200)


def test_a_link_opens_on_its_last_day_and_no_longer(owner: User) -> None:
    quote = a_quote(owner)
    today = today_of(quote.job.company)
    QuoteLink.objects.update(expires_on=today)
    assert opens(quote.token) == 200
    QuoteLink.objects.update(expires_on=today - datetime.timedelta(days=1))
    assert opens(quote.token) == 404


def test_a_link_is_not_cut_short_of_the_quotes_own_day(owner: User) -> None:
    quote = a_quote(owner)
    with pytest.raises(BadValueError, match="until which the quote is valid"):
        set_expiry(quote=quote, user=owner, until=quote.valid_until - datetime.timedelta(days=1))
    assert set_expiry(quote=quote, user=owner, until=quote.valid_until).quote == quote


def test_a_new_secret_of_the_site_leaves_what_was_sent_working_until_the_link_is_needed(
    owner: User,
) -> None:
    quote = a_quote(owner)
    sent = quote.token
    with override_settings(SECRET_KEY="another key of the site, long enough, really"):
        assert opens(sent) == 200
        again = address_of(quote.link).rpartition("/")[2]
        assert again != sent
        assert (opens(sent), opens(again)) == (404, 200)


def test_a_guessed_word_opens_nothing(owner: User) -> None:
    quote = a_quote(owner)
    kept = QuoteLink.objects.get(quote=quote)
    guesses = ["x" * 43, kept.token_hash, quote.token[:-1], quote.token + "A", str(quote.pk)]
    assert {opens(guess) for guess in guesses} == {404}


def test_a_row_handed_out_as_data_says_no_word(owner: User) -> None:
    quote = a_quote(owner)
    rows = [*Quote.objects.all(), *QuoteLink.objects.all()]
    assert quote.token not in json.dumps(serializers.serialize("json", rows))
