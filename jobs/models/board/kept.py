"""A conflict of the crew board that somebody keeps, with the reason. Rows."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.models.company import Company


class KeptConflict(models.Model):
    """A conflict that stays as it is: which, as it was worded, who keeps it, when and why.

    ``key`` says what the conflict is between (`jobs.domain.board.conflicts`); one that is between
    something else is another, and is not kept by this row. Never edited; taken up again, it goes.
    """

    LONGEST = 300

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="kept_conflicts")
    key = models.CharField(max_length=200)
    text = models.CharField(max_length=400)
    reason = models.CharField("why it stays", max_length=LONGEST)
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    who = models.CharField(max_length=150)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="conflict_kept_once"),
            models.CheckConstraint(condition=~Q(reason=""), name="kept_conflict_has_a_reason"),
        ]

    def __str__(self) -> str:
        return f"Kept: {self.text}"
