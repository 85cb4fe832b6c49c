"""The company that keeps this book, and the lines it leaves behind."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import Q

from jobs.models.base import MillimeterField, UnitSystem, Versioned


class Paper(models.TextChoices):
    """Sheet sizes for printed documents."""

    LETTER = "letter", "Letter"
    A4 = "a4", "A4"


class Company(Versioned):
    """One flooring company. Everything else belongs to exactly one.

    ``wall_error_mm``: what its new floors are planned for; None: common practice. ``logo``: a
    picture written anew as PNG; None: its name stands alone. ``photographs_months``,
    ``clients_months``: what is older goes; None: it is kept for good.
    """

    name = models.CharField(max_length=120)
    address = models.TextField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    license = models.CharField("license number", max_length=80, blank=True)
    registration = models.CharField("registration number", max_length=80, blank=True)
    insurance = models.CharField(max_length=160, blank=True)
    logo = models.ForeignKey(
        "jobs.StoredFile", null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    units = models.CharField(max_length=8, choices=UnitSystem.choices, default=UnitSystem.IMPERIAL)
    paper = models.CharField(max_length=6, choices=Paper.choices, default=Paper.LETTER)
    currency = models.CharField(max_length=3, default="USD")
    time_zone = models.CharField(max_length=64, default="America/New_York")
    country = models.CharField(max_length=2, default="US")
    state = models.CharField("state or province", max_length=8, blank=True)
    crew_day_hours = models.DecimalField(
        "working hours of a crew's day, all people together",
        max_digits=5,
        decimal_places=2,
        default=16,
    )
    trip_hours = models.DecimalField(
        "travel and set-up of one trip, all people together",
        max_digits=4,
        decimal_places=2,
        default=1,
    )
    wall_error_mm = MillimeterField("walls of new floors may stand off by", null=True, blank=True)
    photographs_months = models.PositiveSmallIntegerField(
        "photographs are kept so many months after a job is closed", null=True, blank=True
    )
    clients_months = models.PositiveSmallIntegerField(
        "clients are kept so many months after their last job is closed", null=True, blank=True
    )
    next_job_number = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name_plural = "companies"
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="company_has_a_name"),
            models.CheckConstraint(
                condition=Q(units__in=UnitSystem.values), name="company_units_known"
            ),
            models.CheckConstraint(
                condition=Q(trip_hours__gte=0, crew_day_hours__gt=models.F("trip_hours")),
                name="company_day_longer_than_trip",
            ),
            models.CheckConstraint(condition=Q(paper__in=Paper.values), name="company_paper_known"),
            models.CheckConstraint(
                condition=Q(photographs_months__isnull=True) | Q(photographs_months__gte=1),
                name="company_keeps_photographs_a_while",
            ),
            models.CheckConstraint(
                condition=Q(clients_months__isnull=True) | Q(clients_months__gte=12),
                name="company_keeps_clients_a_year",
            ),
            models.CheckConstraint(
                condition=Q(wall_error_mm__isnull=True) | Q(wall_error_mm__gte=0),
                name="company_wall_error_sane",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class AuditLine(models.Model):
    """One change that matters: who did what to which thing, in words. Never edited."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="audit_lines")
    user = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="audit_lines"
    )
    who = models.CharField(max_length=150)
    at = models.DateTimeField(auto_now_add=True)
    subject = models.CharField(max_length=80, help_text="such as job 12 or product 3")
    act = models.CharField(max_length=200)

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["company", "subject"], name="audit_by_subject")]

    def __str__(self) -> str:
        return f"{self.who}: {self.act} ({self.subject})"

    # Any: whatever Django hands a row's save and delete.
    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write a new line. Raises TypeError for one that was written before."""
        if not self._state.adding:
            message = "A line of the audit is never edited."
            raise TypeError(message)
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Raise TypeError: a line goes only with its whole company."""
        message = "A line of the audit is never removed."
        raise TypeError(message)


class SentOnce(models.Model):
    """A form or phone write that was carried out, so that sending it again changes nothing."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=64)
    action = models.CharField(max_length=60)
    result = models.CharField(max_length=200, blank=True, help_text="where the first one led")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="sent_once_per_key"),
            models.CheckConstraint(condition=~Q(key=""), name="sent_once_key_given"),
        ]

    def __str__(self) -> str:
        return f"{self.action} {self.key}"
