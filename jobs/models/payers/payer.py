"""Who pays for a job where it isn't the client, and on what terms."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.client import Client
from jobs.models.job import Job


class UnitPricesOf(models.TextChoices):
    """Whose prices make the price of a job."""

    OURS = "ours", "Our price"
    PAYER = "payer", "The payer's unit prices"


class JobPayer(Versioned):
    """The payer of a job: a store or a builder, while the client lives at the site.

    Without ``payer`` the client pays. ``payment_days`` None: nothing was said.
    ``retainage_percent`` is the part of the price that the payer holds back.
    """

    MOST_DAYS = 365
    MOST_RETAINAGE = 20

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="job_payer")
    payer = models.ForeignKey(
        Client, null=True, blank=True, on_delete=models.PROTECT, related_name="paid_jobs"
    )
    order_number = models.CharField(max_length=60, blank=True)
    terms = models.TextField(blank=True)
    payment_days = models.PositiveSmallIntegerField("paid within, days", null=True, blank=True)
    retainage_percent = models.DecimalField(
        "retainage, %", max_digits=4, decimal_places=2, default=0
    )
    prices = models.CharField(
        "priced by", max_length=5, choices=UnitPricesOf.choices, default=UnitPricesOf.OURS
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(prices__in=UnitPricesOf.values), name="payer_prices_known"
            ),
            models.CheckConstraint(
                condition=Q(prices=UnitPricesOf.OURS) | Q(payer__isnull=False),
                name="unit_prices_of_a_payer",
            ),
            models.CheckConstraint(
                condition=Q(retainage_percent__gte=0, retainage_percent__lte=20),
                name="retainage_sane",
            ),
            models.CheckConstraint(
                condition=Q(payment_days__isnull=True) | Q(payment_days__lte=365),
                name="payment_days_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"Payer of {self.job}"
