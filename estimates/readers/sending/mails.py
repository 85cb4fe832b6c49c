"""The mails about one paper, as its page shows them."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.models import Company, Mail


@dataclass(frozen=True, kw_only=True, slots=True)
class PostedMails:
    """The mails about one paper, the oldest first."""

    mails: tuple[Mail, ...]

    @property
    def has_mail_waiting(self) -> bool:
        """Whether a mail waits for the worker."""
        return any(mail.state == Mail.State.QUEUED for mail in self.mails)


def posted_mails(company: Company, about: str) -> PostedMails:
    """Return the mails about a paper, named such as change:12."""
    return PostedMails(mails=tuple(Mail.objects.filter(company=company, about=about)))
