"""What many rows share: a version that is checked on save, and lengths kept exactly."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import models

Values = Mapping[str, Any]
"""Values of a row by the names of its fields. Any: each field has a type of its own, which Django
checks when the row is saved."""


class Versioned(models.Model):
    """A row that people edit; ``version`` grows by one with every save of theirs."""

    version = models.PositiveIntegerField(default=1, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        abstract = True


class MillimeterField(models.DecimalField):  # type: ignore[type-arg]
    """A length in millimeters to six places: 1/64 in is 0.396875 mm, so both systems are exact."""

    # Any: whatever a field of Django takes by name.
    def __init__(self, verbose_name: str | None = None, **kwargs: Any) -> None:
        kwargs.setdefault("max_digits", 14)
        kwargs.setdefault("decimal_places", 6)
        super().__init__(verbose_name, **kwargs)


class UnitSystem(models.TextChoices):
    """The units a job is measured and printed in."""

    IMPERIAL = "imperial", "Feet and inches"
    METRIC = "metric", "Metric"
