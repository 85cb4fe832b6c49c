"""The outbox: mail is posted together with what it tells of, and sent by the worker later.

    post(company=..., kind="quote", about="quote:12", key="quote:12:1", to="ines@example.com",
         subject=..., text=f"... {LINK} ...", link=("quote", 7))

Where the mail has a link, ``LINK`` in its text becomes the link's address in the moment of sending;
`link_address` names who computes it. The address is kept nowhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import datetime

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import Company, Errand, Mail, MailState, StoredFile, User
from jobs.models.work import ErrandState
from jobs.worker.errands import ask

KIND = "send-mail"
LINK = "%link%"
"""Where the address of its link stands in a mail's text."""

STAYS_HERE = ("filebased", "console", "dummy")
"""Ways to "send" mail by which it leaves no machine."""

LinkAddress = Callable[[int], str]
_addresses: dict[str, LinkAddress] = {}


def link_address(kind: str) -> Callable[[LinkAddress], LinkAddress]:
    """Register the function that computes the address of a link of this kind by its number."""

    def register(compute: LinkAddress) -> LinkAddress:
        _addresses[kind] = compute
        return compute

    return register


def mail_is_set() -> bool:
    """Whether mail leaves this machine: EMAIL_URL names a server."""
    return settings.EMAIL_BACKEND.split(".")[-2] not in STAYS_HERE


@transaction.atomic
def post(
    *,
    company: Company,
    kind: str,
    about: str,
    key: str,
    to: str,
    subject: str,
    text: str,
    reply_to: str = "",
    attachment: StoredFile | None = None,
    link: tuple[str, int] | None = None,
    user: User | None = None,
) -> Mail:
    """Return the mail posted under this key, now or before; the worker sends it.

    It stands or falls with the transaction in which it is posted.

    Raises:
        BadValueError: no mail server is set, or the address is none.
    """
    if not mail_is_set():
        accepted = "a mail server, named by EMAIL_URL; text the link, or download the PDF"
        raise BadValueError(field="mail", value="without a server", accepted=accepted)
    link_kind, number = link or ("", None)
    mail, new = Mail.objects.get_or_create(
        company=company,
        key=key,
        defaults={
            "kind": kind,
            "about": about,
            "to": checked_address(to),
            "reply_to": reply_to,
            "subject": one_line(subject)[:200],
            "text": text,
            "attachment": attachment,
            "link_kind": link_kind,
            "link": number,
            "posted_by": user,
        },
    )
    if new:
        ask_to_send(mail)
    return mail


def checked_address(text: str) -> str:
    """Return an e-mail address. Raises BadValueError for what is none."""
    address = text.strip()
    try:
        validate_email(address)
    except ValidationError:
        accepted = "an address such as ines@example.com"
        raise BadValueError(field="to", value=address, accepted=accepted) from None
    return address


def one_line(text: str) -> str:
    """Return a text without breaks of lines, fit for the head of a mail."""
    return re.sub(r"\s+", " ", text).strip()


def ask_to_send(mail: Mail, *, not_before: datetime | None = None) -> Errand:
    """Return the errand that sends a mail, asked for now."""
    return ask(
        company=mail.company,
        kind=KIND,
        subject=f"mail:{mail.pk}",
        payload={"mail": mail.pk},
        not_before=not_before,
    )


@transaction.atomic
def send_again(*, mail: Mail) -> Mail:
    """Return the mail, queued anew by a person; one that went out or is going out stays as it is.

    One that waits for its next try is tried at once.
    """
    ended = (MailState.FAILED, MailState.UNSURE)
    rows = Mail.objects.filter(pk=mail.pk)
    again = {"state": MailState.QUEUED, "tries": 0, "next_try_at": None, "noted_at": None}
    if rows.filter(state__in=ended).update(**again, error=""):
        ask_to_send(mail)
    elif rows.filter(state=MailState.QUEUED).update(next_try_at=None):
        waiting = Errand.objects.filter(company=mail.company, kind=KIND, subject=f"mail:{mail.pk}")
        waiting.filter(state=ErrandState.WAITING).update(not_before=None)
    mail.refresh_from_db()
    return mail


@transaction.atomic
def put_failure_aside(*, mail: Mail) -> None:
    """Note that the office knows that a mail did not go out."""
    Mail.objects.filter(pk=mail.pk, noted_at=None).update(noted_at=timezone.now())


def mails_about(company: Company, subjects: Iterable[str]) -> list[Mail]:
    """Return the mails about these things, newest first."""
    return list(Mail.objects.filter(company=company, about__in=subjects).order_by("-pk"))


def text_of(mail: Mail) -> str:
    """Return what a mail says, its link computed now.

    Raises LookupError where nobody computes links of its kind.
    """
    if mail.link is None:
        return mail.text
    return mail.text.replace(LINK, _addresses[mail.link_kind](mail.link))
