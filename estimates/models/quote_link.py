"""A quote's link and what happened to the quote: sent, seen, asked, accepted, declined. Rows."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from estimates.models.money import Quote
from jobs.domain.link_token import link_token
from jobs.models import User

PURPOSE = "quote"
"""What the word of a quote's link is computed for."""


class QuoteLink(models.Model):
    """What opens a quote without a sign-in; only the hash of its word is kept.

    Each quote has one link that counts. Version 0 is a link of before words were computed: nobody
    can say its word again, yet whoever was sent it gets in.
    """

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="links")
    version = models.PositiveIntegerField(default=1)
    token_hash = models.CharField(max_length=64, unique=True)
    expires_on = models.DateField("opens the quote until", null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["quote"], condition=Q(version__gte=1), name="quote_link_that_counts"
            ),
            models.CheckConstraint(condition=~Q(token_hash=""), name="quote_link_has_a_hash"),
        ]

    def __str__(self) -> str:
        return f"Link {self.version} of {self.quote}"

    @property
    def token(self) -> str:
        """The word of this link, computed afresh. Raises BadValueError for one of before."""
        secret = str(settings.SECRET_KEY)
        return link_token(secret, purpose=PURPOSE, link=self.pk, version=self.version)


class QuoteEventKind(models.TextChoices):
    """What can happen to an issued quote; the stored word is the one that is shown."""

    MAILED = "mailed", "Mailed"
    TEXTED = "texted", "Texted"
    SEEN = "seen", "Seen"
    QUESTION = "asked", "Asked"
    ANSWERED = "answered", "Answered"
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    RENEWED = "link renewed", "Link renewed"


ONCE = (QuoteEventKind.SEEN, QuoteEventKind.ACCEPTED, QuoteEventKind.DECLINED)
"""What happens to a quote at most once."""


class QuoteEvent(models.Model):
    """One thing that happened to a quote: what, when, by whom, and from where. Never edited.

    ``noted_at``: when the office put it aside; until then it stands on Home, if it is of those that
    do. ``question``: what an answer is to. ``ip`` and ``agent`` are those of a homeowner's phone.
    """

    Kind = QuoteEventKind

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="events")
    kind = models.CharField(max_length=12, choices=QuoteEventKind.choices)
    at = models.DateTimeField(default=timezone.now)
    name = models.CharField(max_length=200, blank=True)
    text = models.TextField(blank=True)
    choice = models.CharField(max_length=60, blank=True)
    ip = models.CharField("from the address", max_length=45, blank=True)
    agent = models.CharField("with the browser", max_length=300, blank=True)
    link = models.ForeignKey(QuoteLink, null=True, on_delete=models.SET_NULL, related_name="+")
    user = models.ForeignKey(User, null=True, on_delete=models.SET_NULL, related_name="+")
    question = models.ForeignKey(
        "self", null=True, on_delete=models.CASCADE, related_name="answers"
    )
    noted_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind__in=QuoteEventKind.values), name="quote_event_known"
            ),
            models.UniqueConstraint(
                fields=["quote", "kind"],
                condition=Q(kind__in=[kind.value for kind in ONCE]),
                name="quote_event_once",
            ),
            models.CheckConstraint(
                condition=~Q(kind__in=["asked", "answered"]) | ~Q(text=""),
                name="quote_event_has_words",
            ),
        ]
        indexes = [models.Index(fields=["kind", "noted_at"], name="quote_event_to_note")]

    def __str__(self) -> str:
        return f"{self.quote}: {self.kind}"
