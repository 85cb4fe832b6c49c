"""What a company lacks before a quote of it can be sent, and what is only advised. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from estimates.domain.quotes.content import Letterhead

SETUP_URL = "company-setup"


@dataclass(frozen=True, kw_only=True, slots=True)
class Missing:
    """Something that is not typed yet: what, in words, and where it is typed.

    The link is the address named ``url_name`` with ``#id_`` and ``field`` behind it.
    """

    words: str
    field: str
    url_name: str = SETUP_URL

    @property
    def part(self) -> str:
        """The part of the set-up page in which it is typed."""
        return self.field.partition("-")[0]


def lacking(letterhead: Letterhead) -> tuple[Missing, ...]:
    """Return what a quote can't go out without: who sends it, from where, how to answer."""
    lacks = []
    if not letterhead.name:
        lacks.append(Missing(words="the company's name", field="contact-name"))
    if not letterhead.address:
        lacks.append(Missing(words="the company's address", field="contact-address"))
    if not (letterhead.phone or letterhead.email):
        words = "a phone number or an e-mail address"
        lacks.append(Missing(words=words, field="contact-phone"))
    return tuple(lacks)


def advised(letterhead: Letterhead, *, state: str) -> tuple[Missing, ...]:
    """Return what a quote can go out without, though most carry it. Common practice, no source."""
    advice = []
    if not state:
        words = "the state you work in, for its rule on deposits"
        advice.append(Missing(words=words, field="law-state"))
    if not (letterhead.license or letterhead.registration):
        words = "a license or registration number, where your state asks for one"
        advice.append(Missing(words=words, field="license-license"))
    if not letterhead.insurance:
        advice.append(Missing(words="your insurance", field="license-insurance"))
    if not letterhead.logo_sha256:
        advice.append(Missing(words="a logo", field="logo-logo"))
    return tuple(advice)
