"""The people the work is for."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.company import Company


class Client(Versioned):
    """A homeowner, store or builder."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="clients")
    name = models.CharField(max_length=120)
    email = models.EmailField("e-mail", blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [models.CheckConstraint(condition=~Q(name=""), name="client_has_a_name")]

    def __str__(self) -> str:
        return self.name
