"""A paper goes by mail: one mail an address, each with the PDF, posted once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.domain.checks import BadValueError
from jobs.domain.documents import digest
from jobs.models import Company, StoredFile, User
from jobs.services.mail.outbox import checked_address, post

MOST_ADDRESSES = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Letter:
    """A mail that brings a paper; ``about`` names the paper, such as quote:12."""

    kind: str
    about: str
    subject: str
    text: str
    paper: StoredFile
    link: tuple[str, int] | None = None


def mail_to_each(
    letter: Letter, *, company: Company, user: User, key: str, to: Sequence[str]
) -> list[str]:
    """Return the addresses that a letter was posted to, each once.

    Raises:
        BadValueError: an address is none, there are none or too many, or no mail server is set.
    """
    if not 1 <= len(to) <= MOST_ADDRESSES:
        accepted = f"1 to {MOST_ADDRESSES} addresses, one a line"
        raise BadValueError(field="to", value=f"{len(to)} addresses", accepted=accepted)
    addresses = list(dict.fromkeys(checked_address(address) for address in to))
    for address in addresses:
        post(
            company=company,
            kind=letter.kind,
            about=letter.about,
            key=f"{letter.about}:{digest(f'{key} {address}')[:32]}",
            to=address,
            reply_to=company.email or user.email,
            subject=letter.subject,
            text=letter.text,
            attachment=letter.paper,
            link=letter.link,
            user=user,
        )
    return addresses
