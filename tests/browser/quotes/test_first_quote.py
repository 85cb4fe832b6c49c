"""From a blank company to its first sent quote, typed by hand; clicks and keys counted."""

from __future__ import annotations

import pytest

from estimates.models import Quote
from estimates.readers.sending.states import state_of
from tests.browser.quotes import by_hand
from tests.browser.typist import Typist
from tests.mail_server import mail_server

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

TAPE_SECONDS = 20
"""A wall measured with a tape and read aloud: our own guess, no source."""

WALLS = 8


def test_a_blank_company_sends_its_first_quote_within_fifteen_minutes(typist: Typist) -> None:
    typist.shots = "first"
    with mail_server(timeout=10) as box:
        by_hand.set_up(typist)
        by_hand.start_the_job(typist)
        by_hand.note_the_site(typist)
        by_hand.measure(typist)
        by_hand.plan(typist)
        by_hand.price(typist)
        by_hand.write(typist)
        by_hand.issue(typist)
        by_hand.mail(typist, box)
    tape = WALLS * TAPE_SECONDS
    line = typist.summary("a blank company to its first sent quote")
    print(f"\n{line}, and {tape} s at the tape")  # noqa: T201
    assert state_of(Quote.objects.get()) == "sent"
    assert typist.seconds + tape <= 15 * 60
