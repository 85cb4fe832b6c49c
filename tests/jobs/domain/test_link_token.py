"""The word of a link: the same for the same link, another for any other, and known by its hash."""

from __future__ import annotations

import re

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.link_token import link_token, token_hash

SECRET = "a secret of this test alone, 40 letters."
# printf 'link\nquote\n7\n1' | openssl dgst -sha256 -hmac "$SECRET" -binary | basenc --base64url
BY_OPENSSL = "JcrZ1aPzoGimcGoH13Ud845PELp_0G1h2BVXP5M0Pak"
# printf '%s' "$BY_OPENSSL" | sha256sum
HASH_BY_SHA256SUM = "6f36f8bb02e325ef5025efc9e7a3003393bd3d39439c186418fb8f3b3fbcae80"


def a_word(secret: str = SECRET, purpose: str = "quote", link: int = 7, version: int = 1) -> str:
    return link_token(secret, purpose=purpose, link=link, version=version)


def test_the_word_is_the_hmac_that_another_program_computes() -> None:
    assert a_word() == BY_OPENSSL


def test_the_hash_is_the_one_that_another_program_computes() -> None:
    assert token_hash(BY_OPENSSL) == HASH_BY_SHA256SUM


def test_any_other_secret_purpose_link_or_version_has_another_word() -> None:
    words = {a_word(), a_word(secret="other"), a_word(purpose="days")}
    words |= {a_word(link=8), a_word(version=2), a_word(link=71), a_word(link=1, version=7)}
    assert len(words) == 7


def test_a_word_stands_in_an_address_as_it_is() -> None:
    assert all(re.fullmatch(r"[\w-]{43}", a_word(link=link)) for link in range(1, 200))


@pytest.mark.parametrize("bad", [{"purpose": ""}, {"purpose": "a\nb"}, {"link": 0}, {"version": 0}])
def test_what_is_no_link_has_no_word(bad: dict[str, object]) -> None:
    with pytest.raises(BadValueError, match="accepted"):
        link_token(SECRET, **{"purpose": "quote", "link": 7, "version": 1} | bad)  # type: ignore[arg-type]
