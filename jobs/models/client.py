"""The people the work is for."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.company import Company


class ClientKind(models.TextChoices):
    """Who a client is: who lives there, or who sends us there and pays."""

    HOMEOWNER = "homeowner", "Homeowner"
    STORE = "store", "Store"
    BUILDER = "builder", "Builder"


class Client(Versioned):
    """A homeowner, store or builder."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="clients")
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=9, choices=ClientKind.choices, default=ClientKind.HOMEOWNER)
    email = models.EmailField("e-mail", blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    note = models.TextField(blank=True)
    erased_at = models.DateTimeField("personal data erased", null=True, blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="client_has_a_name"),
            models.CheckConstraint(
                condition=Q(kind__in=ClientKind.values), name="client_kind_known"
            ),
        ]

    def __str__(self) -> str:
        return self.name
