"""Ballparks: ranges that were said at the phone, as they were said. Rows, never edited."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models import Company, Job, User


class Ballpark(models.Model):
    """A range for a floor that nobody has measured, and who asked for it.

    ``floor``: what was said, by the names of the form's fields. ``lines`` and ``left_out`` are
    what the range held and what it did not: ``[{"label": ..., "least": "...", "most": "..."}]``
    and sentences. ``job`` is the one that was started from it.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="ballparks")
    name = models.CharField("caller", max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    size = models.CharField("size as it was said", max_length=80)
    area_ft2 = models.DecimalField(max_digits=8, decimal_places=2)
    floor = models.JSONField(default=dict)
    least = models.DecimalField(max_digits=12, decimal_places=2)
    most = models.DecimalField(max_digits=12, decimal_places=2)
    by_card = models.BooleanField("by the rate card", default=False)
    lines = models.JSONField(default=list)
    left_out = models.JSONField(default=list)
    made_on = models.DateField()
    made_by = models.ForeignKey(User, null=True, on_delete=models.SET_NULL, related_name="+")
    job = models.OneToOneField(
        Job, null=True, blank=True, on_delete=models.SET_NULL, related_name="ballpark"
    )

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(size=""), name="ballpark_has_a_size"),
            models.CheckConstraint(condition=Q(area_ft2__gt=0), name="ballpark_of_some_floor"),
            models.CheckConstraint(
                condition=Q(least__gte=0, most__gte=models.F("least")), name="ballpark_is_a_range"
            ),
        ]

    def __str__(self) -> str:
        return self.name or f"Ballpark {self.pk}"
