"""What was removed and can be brought back."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.company import Company


class RemovedKind(models.TextChoices):
    """What kinds of things can be removed and brought back."""

    JOB = "job", "Job"
    ROOM = "room", "Room"
    FLOOR = "floor", "Floor"
    DOORWAY = "doorway", "Doorway"
    STAIR = "stair", "Stair"
    NOTE = "note", "Note"
    CLIENT = "client", "Client"
    PRODUCT = "product", "Product"


class Removal(models.Model):
    """One thing that a person removed, with all that went with it, as it was.

    ``rows``: every row that went, as the framework writes rows, the thing itself first. ``links``:
    rows that stayed and pointed at one that went, ``[{"model": "jobs.room", "pk": 3, "empty":
    "zone_id", "was": {"zone_id": 5}}, ...]``; ``empty`` is the column that points nowhere since.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="removals")
    kind = models.CharField(max_length=8, choices=RemovedKind.choices)
    row = models.PositiveBigIntegerField(help_text="the key of the thing itself")
    label = models.CharField(max_length=160)
    where = models.CharField(max_length=200, blank=True)
    rows = models.TextField()
    links = models.JSONField(default=list, blank=True)
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    restored_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(rows=""), name="removal_has_rows"),
            models.CheckConstraint(
                condition=Q(kind__in=RemovedKind.values), name="removal_kind_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.label}"
