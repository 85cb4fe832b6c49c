"""Allowances of a job: work that nobody can count yet, with its cap and its evidence. Rows."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models import Job, Versioned


class AllowanceOf(models.TextChoices):
    """What an allowance is for; beside the free ones a job has one of each."""

    BAGS = "bags", "Bags of leveler"
    PRIMER = "primer", "Primer under the leveler"
    SCREWS = "screws", "Screws in loose spots"
    BASE = "base", "Old base by the foot"
    FREE = "free", "Anything else"


class JobAllowance(Versioned):
    """So many units at most, at a price each; ``evidence`` says on what the cap stands."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="allowances")
    kind = models.CharField(max_length=6, choices=AllowanceOf.choices, default=AllowanceOf.FREE)
    label = models.CharField("what", max_length=120)
    unit = models.CharField(max_length=20)
    units = models.DecimalField("units at most", max_digits=6, decimal_places=2)
    unit_cost = models.DecimalField("cost of one", max_digits=10, decimal_places=4, default=0)
    unit_price = models.DecimalField("price of one", max_digits=10, decimal_places=2)
    evidence = models.CharField(max_length=300)
    taxable = models.BooleanField("taxed as material", default=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "kind"], condition=~Q(kind="free"), name="allowance_once_a_kind"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=AllowanceOf.values), name="allowance_kind_known"
            ),
            models.CheckConstraint(condition=~Q(label=""), name="allowance_has_a_name"),
            models.CheckConstraint(condition=~Q(evidence=""), name="allowance_has_evidence"),
            models.CheckConstraint(condition=Q(units__gt=0), name="allowance_of_something"),
            models.CheckConstraint(
                condition=Q(unit_cost__gte=0, unit_price__gte=0), name="allowance_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.label
