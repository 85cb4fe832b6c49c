"""Extra work that somebody asked for, or that turned up, noted by whoever stood there. Rows."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.crew import WorkDay
from jobs.models.document import StoredFile
from jobs.models.job import Job


class JobExtra(models.Model):
    """Work beyond what was agreed: what it is, who wants it, a photograph, about how many hours.

    Nothing of it is done before it is priced and agreed on. ``dropped_at``: it was a mistake, or
    nobody wants it any more. ``log``: the day's log that noted it, which takes it back where it is
    undone.
    """

    LONGEST = 1000

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="extras")
    day = models.ForeignKey(
        WorkDay, null=True, blank=True, on_delete=models.SET_NULL, related_name="extras"
    )
    log = models.ForeignKey(
        "jobs.DayLog", null=True, blank=True, on_delete=models.SET_NULL, related_name="extras"
    )
    who = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    text = models.CharField("what is wanted or was seen", max_length=LONGEST)
    asked_by = models.CharField("who wants it", max_length=120, blank=True)
    hours = models.DecimalField(
        "about how many man-hours", max_digits=6, decimal_places=2, null=True, blank=True
    )
    photo = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)
    dropped_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="extra_says_something"),
            models.CheckConstraint(
                condition=Q(hours__isnull=True) | Q(hours__gt=0), name="extra_hours_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"Extra work: {self.text}"[:80]
