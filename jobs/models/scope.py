"""Production rates, and the scope that stands between plan and price."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.company import Company
from jobs.models.document import Document
from jobs.models.job import Job


class Rate(Versioned):
    """How long a task takes one person: ``hours`` for every ``per`` units of what drives it.

    ``item`` narrows the rate to one kind, such as the old floor being tile.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="rates")
    task = models.SlugField(max_length=40)
    driver = models.SlugField(max_length=40)
    item = models.CharField(max_length=40, blank=True)
    hours = models.DecimalField(max_digits=11, decimal_places=6)
    per = models.DecimalField(max_digits=8, decimal_places=2, default=1)
    source = models.CharField(max_length=160, default="Common practice, no source")
    jobs = models.PositiveIntegerField("closed jobs behind it", default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "task", "driver", "item"], name="rate_once_a_task"
            ),
            models.CheckConstraint(condition=Q(hours__gte=0, per__gt=0), name="rate_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.task} by {self.driver}: {self.hours} h per {self.per}"


class PastRate(models.Model):
    """A rate as it was until it was set anew or dropped. Never edited."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="past_rates")
    task = models.SlugField(max_length=40)
    driver = models.SlugField(max_length=40)
    item = models.CharField(max_length=40, blank=True)
    hours = models.DecimalField(max_digits=11, decimal_places=6)
    per = models.DecimalField(max_digits=8, decimal_places=2)
    source = models.CharField(max_length=160)
    jobs = models.PositiveIntegerField(default=0)
    set_at = models.DateTimeField()
    ended_at = models.DateTimeField(auto_now_add=True)
    ended_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ["-ended_at", "-pk"]
        indexes = [models.Index(fields=["company", "task", "driver", "item"], name="past_rate_of")]
        constraints = [
            models.CheckConstraint(
                condition=Q(hours__gte=0, per__gt=0), name="past_rate_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task} by {self.driver} once: {self.hours} h per {self.per}"


class RateTaking(models.Model):
    """Rates taken from the logs by a person, so that they can be given back as they were.

    ``rates``: ``[{"task", "driver", "item", "before": figures or None, "after": figures}]``;
    figures are hours, per, jobs and source, and before that the moment when it was set.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="rate_takings")
    who = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    rates = models.JSONField()
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(rates=[]), name="rate_taking_of_some"),
        ]

    def __str__(self) -> str:
        return f"{len(self.rates)} rates taken from the logs"


class Scope(models.Model):
    """Frozen quantities, tasks and hours of a job. Never edited; the next one supersedes it.

    ``laid_for``: the real crew and first day that its days were laid out for; empty where nobody
    was named yet.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="scopes")
    number = models.PositiveIntegerField()
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="scope")
    hours = models.DecimalField(max_digits=8, decimal_places=2)
    laid_for = models.JSONField("crew and first day of its days", default=dict, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-number"]
        get_latest_by = "number"
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="scope_number_once_a_job"),
            models.CheckConstraint(condition=Q(hours__gte=0), name="scope_hours_not_negative"),
        ]

    def __str__(self) -> str:
        return f"Scope {self.number} of job {self.job_id}"
