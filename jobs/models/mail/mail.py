"""Mail on its way to one person: what it says, how often it was tried, how it ended. Rows.

Mail goes queued -> sending -> sent or failed. One that was being sent when its process died, or
whose server fell silent after it had all of it, may have gone out or not: it is "unsure", and
nobody but a person sends it again. So no mail goes out twice by itself.
"""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.models.company import Company
from jobs.models.document import StoredFile


class MailState(models.TextChoices):
    """Where a mail stands; the last three are final until a person sends it again."""

    QUEUED = "queued", "Queued"
    SENDING = "sending", "Sending"
    SENT = "sent", "Sent"
    FAILED = "failed", "Failed"
    UNSURE = "unsure", "Not sure"


class Mail(models.Model):
    """One mail to one address, posted once under its ``key``.

    ``link_kind`` and ``link`` name a link that is computed only when the mail goes out; its address
    stands nowhere here. ``about`` is what it is of, such as quote:12. ``fence`` grows with each
    claim, so that a sender who comes back late writes nothing over its successor. ``noted_at`` says
    when the office put its failure aside.
    """

    State = MailState

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="mails")
    kind = models.SlugField(max_length=40, help_text="such as quote or quote-accepted")
    about = models.CharField(max_length=80, help_text="such as quote:12")
    key = models.CharField(max_length=120)
    to = models.EmailField(max_length=254)
    reply_to = models.EmailField(max_length=254, blank=True)
    subject = models.CharField(max_length=200)
    text = models.TextField()
    attachment = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    link_kind = models.SlugField(max_length=20, blank=True)
    link = models.PositiveBigIntegerField("number of the link", null=True, blank=True)
    state = models.CharField(max_length=8, choices=MailState.choices, default=MailState.QUEUED)
    tries = models.PositiveSmallIntegerField(default=0)
    fence = models.PositiveIntegerField(default=0)
    next_try_at = models.DateTimeField(null=True, blank=True)
    error = models.TextField(blank=True, help_text="why it did not go out, for a person")
    posted_at = models.DateTimeField(default=timezone.now)
    sent_at = models.DateTimeField(null=True, blank=True)
    noted_at = models.DateTimeField("failure put aside", null=True, blank=True)
    posted_by = models.ForeignKey(
        "jobs.User", null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="mail_posted_once"),
            models.CheckConstraint(
                condition=Q(state__in=MailState.values), name="mail_state_known"
            ),
            models.CheckConstraint(condition=~Q(to=""), name="mail_has_an_address"),
            models.CheckConstraint(
                condition=Q(link_kind="", link=None) | (~Q(link_kind="") & Q(link__isnull=False)),
                name="mail_link_whole",
            ),
            models.CheckConstraint(
                condition=~Q(state="sent") | Q(sent_at__isnull=False), name="mail_sent_has_time"
            ),
        ]
        indexes = [models.Index(fields=["company", "about"], name="mail_by_about")]

    def __str__(self) -> str:
        return f"Mail {self.pk} to {self.to}: {self.get_state_display()}"
