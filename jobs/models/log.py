"""What happened on the floor, as the crew told it."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from jobs.models.base import Versioned
from jobs.models.crew import WorkDay
from jobs.models.document import StoredFile
from jobs.models.job import Job


class SpoilReason(models.TextChoices):
    """Why a plank was lost."""

    WRONG_SIDE = "wrong side", "Cut from the wrong side"
    WRONG_END = "wrong end", "Cut from the wrong end"
    LOCK = "lock broken", "Lock broken"
    MEASURE = "bad measure", "Bad measure"
    DEFECT = "defect", "Factory fault"
    OTHER = "other", "Other"


class HoursStanding(models.TextChoices):
    """Whether the hours of an entry count: not while a question about them is open."""

    COUNTS = "counts", "Counts"
    OVER = "over", "Over 12 hours in a day"
    PHONES = "phones", "Told by two phones"
    OUT = "out", "Left out"


class LogEntry(models.Model):
    """One entry of a day's log. A phone may send it twice; the key makes it count once."""

    day = models.ForeignKey(WorkDay, on_delete=models.CASCADE, related_name="log")
    who = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    key = models.CharField(max_length=64)
    task = models.SlugField(max_length=60)
    zone = models.CharField(max_length=80, blank=True)
    hours = models.DecimalField(max_digits=5, decimal_places=2)
    row_from = models.PositiveIntegerField(null=True, blank=True)
    row_to = models.PositiveIntegerField(null=True, blank=True)
    planks_spoiled = models.PositiveSmallIntegerField(default=0)
    spoil_reason = models.CharField(max_length=12, choices=SpoilReason.choices, blank=True)
    photo = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    note = models.TextField(blank=True)
    log = models.ForeignKey(
        "jobs.DayLog", null=True, blank=True, on_delete=models.SET_NULL, related_name="entries"
    )
    standing = models.CharField(
        "whether its hours count",
        max_length=6,
        choices=HoursStanding.choices,
        default=HoursStanding.COUNTS,
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["at", "pk"]
        verbose_name_plural = "log entries"
        constraints = [
            models.UniqueConstraint(fields=["day", "key"], name="log_entry_counts_once"),
            models.CheckConstraint(
                condition=Q(hours__gte=0, hours__lte=24), name="log_hours_within_a_day"
            ),
            models.CheckConstraint(
                condition=Q(row_from__isnull=True, row_to__isnull=True)
                | Q(row_from__gte=1, row_to__gte=F("row_from")),
                name="log_rows_in_order",
            ),
            models.CheckConstraint(
                condition=Q(standing__in=HoursStanding.values), name="log_standing_known"
            ),
            models.CheckConstraint(
                condition=Q(planks_spoiled=0) | ~Q(spoil_reason=""), name="log_spoiled_has_reason"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task} {self.hours} h on {self.day}"


class LogCorrection(models.Model):
    """What an entry of a closed job should have said. Never edited; the entry stays as it was."""

    entry = models.ForeignKey(LogEntry, on_delete=models.CASCADE, related_name="corrections")
    hours = models.DecimalField("hours as they really were", max_digits=5, decimal_places=2)
    reason = models.CharField(max_length=300)
    who = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="correction_has_a_reason"),
            models.CheckConstraint(
                condition=Q(hours__gte=0, hours__lte=24), name="correction_within_a_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.hours} h in place of {self.entry}"


class CallbackCause(models.TextChoices):
    """Why somebody has to come back."""

    WORK = "our work", "Our own work"
    PRODUCT = "product", "The product"
    HOUSE = "house", "The house"
    CLIENT = "client", "The client's use"
    UNKNOWN = "unknown", "Not known yet"


class Callback(Versioned):
    """A trip back to a job that is closed: why, and the day whose log is its charge."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="callbacks")
    day = models.ForeignKey(WorkDay, on_delete=models.CASCADE, related_name="callbacks")
    what = models.CharField("what is wrong", max_length=300)
    cause = models.CharField(
        "why it came to it",
        max_length=8,
        choices=CallbackCause.choices,
        default=CallbackCause.UNKNOWN,
    )
    settled_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(what=""), name="callback_says_what"),
            models.CheckConstraint(
                condition=Q(cause__in=CallbackCause.values), name="callback_cause_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Callback to job {self.job_id}: {self.what}"
