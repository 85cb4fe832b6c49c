"""A calendar of days that is read by a secret link, and each day as it was last published. Rows."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from jobs.domain.link_token import link_token
from jobs.models.company import Company
from jobs.models.crew import Crew

PURPOSE = "calendar"
"""What the word of a calendar's link is computed for."""


class CalendarFeed(models.Model):
    """The days of a crew, or of a person, for whoever has the link; only its word's hash is kept.

    Each crew and each person has one at most. Renewed, it goes on under its next ``version``: the
    events keep their identities, so that a calendar that is given the new link knows them again.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="feeds")
    crew = models.OneToOneField(
        Crew, null=True, blank=True, on_delete=models.CASCADE, related_name="feed"
    )
    person = models.OneToOneField(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="feed",
    )
    version = models.PositiveIntegerField(default=1)
    token_hash = models.CharField(max_length=64, unique=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    made_at = models.DateTimeField(default=timezone.now)
    read_at = models.DateTimeField("last read", null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(crew__isnull=True, person__isnull=False)
                | Q(crew__isnull=False, person__isnull=True),
                name="feed_of_a_crew_or_a_person",
            ),
            models.CheckConstraint(condition=~Q(token_hash=""), name="feed_has_a_hash"),
            models.CheckConstraint(condition=Q(version__gte=1), name="feed_version_counts"),
        ]

    def __str__(self) -> str:
        return f"Calendar of {self.whose}"

    @property
    def whose(self) -> str:
        """The name of its crew or person."""
        return str(self.crew or self.person)

    @property
    def token(self) -> str:
        """The word of the link, computed afresh."""
        secret = str(settings.SECRET_KEY)
        return link_token(secret, purpose=PURPOSE, link=self.pk, version=self.version)


class PublishedDay(models.Model):
    """One day of a job as a calendar last published it: RFC 5545's UID and SEQUENCE, and its text.

    It is of the first, second, third day of a job, whatever row that day has and on whatever date
    it lies: a day that moves is the same event under a higher ``sequence``. It outlives the day and
    the job (hence no foreign key), so that a calendar is told that the event is canceled.
    """

    feed = models.ForeignKey(CalendarFeed, on_delete=models.CASCADE, related_name="published")
    job_row = models.PositiveBigIntegerField(help_text="the key of the job")
    day_number = models.PositiveSmallIntegerField()
    uid = models.UUIDField(default=uuid.uuid4, unique=True)
    sequence = models.PositiveIntegerField(default=0)
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    title = models.CharField(max_length=300)
    place = models.TextField(blank=True)
    text = models.TextField(blank=True)
    canceled = models.BooleanField(default=False)
    tentative = models.BooleanField("penciled in", default=False)
    changed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["starts_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["feed", "job_row", "day_number"], name="published_day_once_a_feed"
            ),
            models.CheckConstraint(
                condition=Q(ends_at__gt=F("starts_at")), name="published_day_ends_after_it_starts"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.title}, as published"
