"""Sends one mail of the outbox, at most once, and says how it went.

A mail is claimed before its server is spoken to. A failure that is known to come before the server
had the whole mail is tried again; where it may have had it, nobody but a person sends it again. So
where a process dies between the server's yes and our note of it, it errs on a mail that stands as
"not sure" though it went out, and never on one that goes out twice.
"""

from __future__ import annotations

import logging
import smtplib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from email.utils import formataddr, parseaddr
from hashlib import sha256

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db.models import F
from django.utils import timezone

from jobs.domain.formats import BrokenDocumentError
from jobs.models import Mail, MailState
from jobs.services.files import read_file
from jobs.services.mail.outbox import ask_to_send, one_line, text_of
from jobs.worker.claims import Effect

log = logging.getLogger(__name__)

PAUSES = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 30, 120, 480))
"""How long a mail waits after each failure; after the last it has failed."""

FOR_GOOD = 500
"""Replies of a mail server from here on are final; RFC 5321, 4.2.1."""

LONGEST_REPLY = 200
BROKE_OFF = (
    "The sending broke off half way, so it may have gone out or not. Call and ask, "
    "or send it again."
)
BROKE_DOWN = "The sending ended with an unexpected error; the worker's log says more."


@dataclass(kw_only=True, slots=True)
class _Handover:
    """Whether a server was given the content and may have taken it; whether that is noted."""

    begun: bool = False
    noted: bool = False


def send_mail(pk: int) -> Effect | None:
    """Send the mail with this key if it waits; return what else is to be written, for its errand.

    Nothing is sent where it was sent, or is being sent, by another.
    """
    mail = _claimed(pk)
    if mail is None:
        _note_broken_off(pk)
        return None
    handover = _Handover()
    try:
        return _sent(mail, handover)
    finally:
        if not handover.noted:
            _settle(mail, MailState.UNSURE if handover.begun else MailState.FAILED, BROKE_DOWN)


def _sent(mail: Mail, handover: _Handover) -> Effect | None:
    """Hand a mail over and note how it went; return what else is to be written."""
    following = None
    try:
        _hand_over(mail, handover)
    except (smtplib.SMTPException, OSError) as trouble:
        following = _note_trouble(mail, trouble, handover)
    except (ValueError, LookupError, BrokenDocumentError) as fault:
        _settle(mail, MailState.FAILED, f"The mail can't be written: {fault}")
    else:
        _settle(mail, MailState.SENT, "")
        log.info("mail %s (%s) went out", mail.pk, mail.kind)
    handover.noted = True
    return following


def _claimed(pk: int) -> Mail | None:
    """Return the mail, now claimed by us alone; None where it does not wait."""
    waits = Mail.objects.filter(pk=pk, state=MailState.QUEUED)
    claimed = waits.update(
        state=MailState.SENDING, tries=F("tries") + 1, fence=F("fence") + 1, next_try_at=None
    )
    if not claimed:
        return None
    return Mail.objects.select_related("company", "attachment").get(pk=pk)


def _note_broken_off(pk: int) -> None:
    """Say of a mail whose sender died that nobody knows whether it went out."""
    left = Mail.objects.filter(pk=pk, state=MailState.SENDING)
    if left.update(state=MailState.UNSURE, error=BROKE_OFF):
        log.warning("mail %s: its sending broke off half way", pk)


def _settle(mail: Mail, state: MailState, error: str) -> None:
    """Write how our claim ended; what another claim wrote since stays."""
    sent_at = timezone.now() if state == MailState.SENT else None
    ours = Mail.objects.filter(pk=mail.pk, fence=mail.fence)
    ours.update(state=state, error=error, sent_at=sent_at)


def _hand_over(mail: Mail, handover: _Handover) -> None:
    """Give the mail to its server; returns once the server took it."""
    letter = _letter(mail)
    connection = get_connection(fail_silently=False)
    try:
        connection.open()
        with _watched(connection, handover):
            connection.send_messages([letter])
    finally:
        # The server has the mail, or has refused it: how it says good-bye changes nothing.
        with suppress(smtplib.SMTPException, OSError):
            connection.close()


@contextmanager
def _watched(connection: BaseEmailBackend, handover: _Handover) -> Iterator[None]:
    """Note in ``handover`` when the content of a mail begins to go to an SMTP server."""
    server = getattr(connection, "connection", None)
    if not isinstance(server, smtplib.SMTP):
        yield
        return
    give = server.data

    def noted(content: bytes | str) -> tuple[int, bytes]:
        handover.begun = True
        return give(content)

    server.data = noted  # type: ignore[method-assign,assignment]
    yield


def _letter(mail: Mail) -> EmailMessage:
    """Return the mail as it goes out. Raises BrokenDocumentError where its file is gone."""
    name, sender = one_line(mail.company.name), parseaddr(settings.DEFAULT_FROM_EMAIL)[1]
    mark = sha256(f"{mail.company_id} {mail.key}".encode()).hexdigest()[:16]
    letter = EmailMessage(
        subject=mail.subject,
        body=text_of(mail),
        from_email=formataddr((name, sender)),
        to=[mail.to],
        reply_to=[mail.reply_to] if mail.reply_to else None,
        # The same each time, so that a mailbox knows a mail that was sent again.
        headers={"Message-ID": f"<mail.{mail.pk}.{mark}@{sender.rpartition('@')[2]}>"},
    )
    if mail.attachment is not None:
        file = mail.attachment
        letter.attach(file.name, read_file(file), file.content_type)
    return letter


def _note_trouble(mail: Mail, trouble: Exception, handover: _Handover) -> Effect | None:
    """Write why a mail did not go out; return the next try where there is to be one."""
    code, words = _reason(mail, trouble)
    log.warning("mail %s: try %d: %s", mail.pk, mail.tries, words)
    if handover.begun and not code:
        _settle(mail, MailState.UNSURE, f"{words} {BROKE_OFF}")
        return None
    if code >= FOR_GOOD or mail.tries > len(PAUSES):
        _settle(mail, MailState.FAILED, words)
        return None
    return _try_later(mail, words, timezone.now() + PAUSES[mail.tries - 1])


def _try_later(mail: Mail, words: str, moment: datetime) -> Effect:
    """Return what queues the mail again for a moment, written together with "done"."""

    def queue() -> dict[str, object]:
        ours = Mail.objects.filter(pk=mail.pk, fence=mail.fence, state=MailState.SENDING)
        if ours.update(state=MailState.QUEUED, error=words, next_try_at=moment):
            ask_to_send(mail, not_before=moment)
        return {"next": moment.isoformat()}

    return queue


def _reason(mail: Mail, trouble: Exception) -> tuple[int, str]:
    """Return the server's reply code, 0 where it gave none, and what a person is told."""
    if isinstance(trouble, smtplib.SMTPRecipientsRefused):
        code, reply = next(iter(trouble.recipients.values()), (0, b""))
        return int(code), f"The mail server did not take the address {mail.to}: {_text(reply)}"
    if isinstance(trouble, smtplib.SMTPAuthenticationError):
        return trouble.smtp_code, "The mail server did not take the user name and password."
    if isinstance(trouble, smtplib.SMTPResponseException):
        words = f"{trouble.smtp_code} {_text(trouble.smtp_error)}"
        return trouble.smtp_code, f"The mail server refused: {words}"
    if isinstance(trouble, smtplib.SMTPNotSupportedError):
        return FOR_GOOD, f"The mail server can't do what was asked: {trouble}"
    if isinstance(trouble, TimeoutError):
        return 0, f"The mail server did not answer within {settings.EMAIL_TIMEOUT} seconds."
    return 0, f"The mail server can't be reached: {str(trouble) or type(trouble).__name__}."


def _text(reply: bytes | str) -> str:
    """Return what a server replied as one line for a person."""
    text = reply.decode(errors="replace") if isinstance(reply, bytes) else reply
    return one_line(text)[:LONGEST_REPLY]
