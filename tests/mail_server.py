"""A real mail server on this machine for one test: takes mail, or fails as it is told to."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.message import EmailMessage

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, LoginPassword, Session
from django.test import override_settings

BACKEND = "django.core.mail.backends.smtp.EmailBackend"


@dataclass(kw_only=True)
class Mailbox:
    """What came in, and how the server behaves.

    ``refuses``: replies by address; ``says``: the reply to content, "silent" hangs after it was
    taken, "hangs up" drops the connection after it was taken; ``slow``: seconds before each RCPT.
    """

    came: list[EmailMessage] = field(default_factory=list)
    refuses: dict[str, str] = field(default_factory=dict)
    says: str = "250 OK"
    slow: float = 0
    port: int = 0

    def to(self, address: str) -> list[EmailMessage]:
        """What came in for one address."""
        return [mail for mail in self.came if mail["To"] == address]

    # The names of these two are the server library's.
    async def handle_RCPT(  # noqa: N802
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        """Take an address, or refuse it."""
        await asyncio.sleep(self.slow)
        if address in self.refuses:
            return self.refuses[address]
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(  # noqa: N802
        self, server: SMTP, session: Session, envelope: Envelope
    ) -> str:
        """Take the content, and answer as told."""
        if not self.says.startswith(("4", "5")):
            assert isinstance(envelope.content, bytes)
            mail = message_from_bytes(envelope.content, policy=policy.default)
            assert isinstance(mail, EmailMessage)
            self.came.append(mail)
        if self.says == "hangs up":
            assert server.transport is not None
            server.transport.close()
        if self.says == "silent":
            await asyncio.sleep(3)
        return self.says if self.says[:1].isdigit() else "250 OK"


def _knows(
    server: SMTP, session: Session, envelope: Envelope, mechanism: str, given: object
) -> AuthResult:
    """Take the user "us" with the password "right"."""
    right = isinstance(given, LoginPassword) and given.password == b"right"
    return AuthResult(success=right, handled=False)


@contextmanager
def mail_server(timeout: float = 1.0) -> Iterator[Mailbox]:
    """Let mail of the site go to a server that listens on this machine while it lasts."""
    box = Mailbox()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        box.port = free.getsockname()[1]
    controller = Controller(
        box, "127.0.0.1", box.port, authenticator=_knows, auth_require_tls=False
    )
    controller.start()
    try:
        with override_settings(
            EMAIL_BACKEND=BACKEND,
            EMAIL_HOST="127.0.0.1",
            EMAIL_PORT=box.port,
            EMAIL_HOST_USER="",
            EMAIL_TIMEOUT=timeout,
            DEFAULT_FROM_EMAIL="office@rowbook.example.com",
        ):
            yield box
    finally:
        controller.stop()
