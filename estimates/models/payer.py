"""Unit prices that a payer agreed to. Rows."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from estimates.domain.price_book import SOLD
from jobs.models import Client, Company, Versioned


class PayerPrice(Versioned):
    """What a store or a builder pays for one unit of work, from a day on.

    ``code`` and ``item`` are those of a rate card's row.
    """

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="unit_prices")
    code = models.SlugField(max_length=60)
    item = models.CharField(max_length=120, blank=True)
    amount = models.DecimalField("unit price", max_digits=12, decimal_places=4)
    taxable = models.BooleanField("taxed as material", default=False)
    effective_from = models.DateField("in force from")

    class Meta:
        ordering = ["code", "item", "-effective_from"]
        constraints = [
            models.UniqueConstraint(
                fields=["client", "code", "item", "effective_from"],
                name="payer_price_once_a_date",
            ),
            models.CheckConstraint(condition=Q(amount__gte=0), name="payer_price_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.item}".strip()

    @property
    def unit(self) -> str:
        """The unit that it is paid by."""
        return SOLD[self.code].unit

    @property
    def company(self) -> Company:
        """Whose payer it is."""
        return self.client.company
