"""A floor passport: what the homeowner opens by a link that stays, and what it told when. Rows."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.domain.link_token import link_token
from jobs.models import Document, Job

PURPOSE = "passport"
"""What the word of a passport's link is computed for."""


class FloorPassport(models.Model):
    """The link to the floors of a job as they lie; only the hash of its word is kept.

    It has no last day: a floor is lived on for decades. ``leftovers_stay``: the cut pieces that the
    plan leaves over are with the homeowner too.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="passport")
    version = models.PositiveIntegerField(default=1)
    token_hash = models.CharField(max_length=64, unique=True)
    leftovers_stay = models.BooleanField("cut leftovers stay with the homeowner", default=False)
    revoked_at = models.DateTimeField(null=True, blank=True)
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(token_hash=""), name="passport_has_a_hash"),
            models.CheckConstraint(condition=Q(version__gte=1), name="passport_version_counts"),
        ]

    def __str__(self) -> str:
        return f"Floor passport of {self.job}"

    @property
    def token(self) -> str:
        """The word of the link, computed afresh."""
        secret = str(settings.SECRET_KEY)
        return link_token(secret, purpose=PURPOSE, link=self.pk, version=self.version)


class PassportEdition(models.Model):
    """What a passport told from a day on: frozen, never edited; what comes later is another one.

    ``handed_over``: the work was signed off, or the job closed, when it was told. ``note``: what
    the office says of a correction.
    """

    LONGEST = 300

    passport = models.ForeignKey(FloorPassport, on_delete=models.CASCADE, related_name="editions")
    number = models.PositiveSmallIntegerField()
    document = models.OneToOneField(
        Document, on_delete=models.PROTECT, related_name="passport_edition"
    )
    handed_over = models.BooleanField(default=False)
    note = models.CharField("what was corrected, in words", max_length=LONGEST, blank=True)
    who = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    frozen_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(
                fields=["passport", "number"], name="passport_edition_number_once"
            ),
        ]

    def __str__(self) -> str:
        return f"Edition {self.number} of passport {self.passport_id}"
