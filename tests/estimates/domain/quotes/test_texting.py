"""The address of a phone's message: RFC 5724, percent-encoded as RFC 3986 asks."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest

from estimates.domain.quotes.texting import sms_address


@pytest.mark.parametrize(
    ("phone", "address"),
    [
        # The second example of RFC 5724, section 2.5.
        ("+15105550101", "sms:+15105550101?body=hello%20there"),
        ("(510) 555-0101", "sms:5105550101?body=hello%20there"),
        ("510.555.0101 ext. 12", "sms:5105550101?body=hello%20there"),
        ("ask at the store", "sms:?body=hello%20there"),
        ("", "sms:?body=hello%20there"),
    ],
)
def test_a_number_is_told_by_its_digits(phone: str, address: str) -> None:
    assert sms_address(phone, "hello there") == address


def test_words_come_back_as_they_were_written() -> None:
    words = "A & B's floor: 100% \u2019done\u2019\nhttps://book.example.com/q/a-b_c?x=1#y"
    parts = urlsplit(sms_address("+15105550101", words))
    assert (parts.scheme, parts.path, parts.fragment) == ("sms", "+15105550101", "")
    assert parse_qs(parts.query) == {"body": [words]}
