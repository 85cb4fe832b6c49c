"""Production rates, and the scope that stands between plan and price."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.company import Company
from jobs.models.document import Document
from jobs.models.job import Job


class Rate(Versioned):
    """How long a task takes a person, per unit of work."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="rates")
    task = models.SlugField(max_length=40)
    label = models.CharField(max_length=80)
    unit = models.CharField(max_length=20)
    hours_per_unit = models.DecimalField(max_digits=9, decimal_places=5)
    source = models.CharField(max_length=160, default="Common practice, no source")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["company", "task"], name="rate_once_a_task"),
            models.CheckConstraint(condition=Q(hours_per_unit__gte=0), name="rate_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.label}: {self.hours_per_unit} h per {self.unit}"


class Scope(models.Model):
    """Frozen quantities, tasks and hours of a job. Never edited; the next one supersedes it."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="scopes")
    number = models.PositiveIntegerField()
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="scope")
    hours = models.DecimalField(max_digits=8, decimal_places=2)
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
