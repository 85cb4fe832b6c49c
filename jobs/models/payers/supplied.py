"""Material that the client or the payer supplies, and what came of it."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from jobs.models.base import Versioned
from jobs.models.job import Job


class SuppliedBy(models.TextChoices):
    """Who brings a material."""

    OURS = "ours", "We buy it"
    CLIENT = "client", "The client's"
    PAYER = "payer", "The payer's"


class SuppliedMaterial(Versioned):
    """A material of a job, by code and item, and whose it is. A thing without a row is ours."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="supplied")
    code = models.SlugField(max_length=60)
    item = models.CharField(max_length=120, blank=True)
    whose = models.CharField(max_length=6, choices=SuppliedBy.choices, default=SuppliedBy.OURS)
    lot_ordered = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "code", "item"], name="supplied_once"),
            models.CheckConstraint(
                condition=Q(whose__in=SuppliedBy.values), name="supplied_by_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.item}".strip()


class SuppliedReceipt(models.Model):
    """What came of a supplied material at once, as somebody counted it. Never edited."""

    material = models.ForeignKey(
        SuppliedMaterial, on_delete=models.CASCADE, related_name="receipts"
    )
    counted = models.DecimalField(max_digits=9, decimal_places=2)
    faulty = models.DecimalField("faulty of these", max_digits=9, decimal_places=2, default=0)
    lot = models.CharField(max_length=60, blank=True)
    faults = models.CharField("faults seen", max_length=300, blank=True)
    day = models.DateField("came on")
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["day", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(counted__gte=0), name="receipt_not_negative"),
            models.CheckConstraint(
                condition=Q(faulty__gte=0, faulty__lte=F("counted")),
                name="receipt_faulty_of_counted",
            ),
            models.CheckConstraint(
                condition=Q(faulty=0) | ~Q(faults=""), name="receipt_fault_has_words"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.counted.normalize():f} of {self.material}"
