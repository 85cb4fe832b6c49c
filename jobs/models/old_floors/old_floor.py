"""What the visit found in one room: its floor, what lies below, its painted base."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import MillimeterField
from jobs.models.job import ExistingFloor, Subfloor

BEFORE_FIELDS = (
    *("old_floor", "old_floor_year", "layer_below", "old_adhesive", "lies_on"),
    *("painted_base", "base_height_mm"),
)
AS_THE_HOUSE = ("", "As in the site facts")


class LayerBelow(models.TextChoices):
    """What lies under the floor that is down now."""

    UNKNOWN = "unknown", "Not known yet"
    NONE = "none", "Nothing"
    RESILIENT = "resilient", "Sheet or tile, resilient"
    TILE = "tile", "Ceramic or stone tile"
    OTHER = "other", "Something else"


class OldAdhesive(models.TextChoices):
    """What the old floor is glued with."""

    UNKNOWN = "unknown", "Not known yet"
    NONE = "none", "It is not glued"
    BLACK = "black", "Black adhesive"
    OTHER = "other", "Another adhesive"


class PaintedBase(models.TextChoices):
    """Whether the base of a room is painted, and whether somebody counted that already."""

    UNKNOWN = "unknown", "Not known yet"
    YES = "yes", "Yes"
    NO = "no", "No, or there is none"
    COUNTED = "counted", "Yes, counted in the site facts"


class RoomBefore(models.Model):
    """What was in a room. An empty floor or subfloor is that of the house; not known is never no.

    ``base_height_mm`` empty: nobody measured it, and it is taken for a high one.
    """

    old_floor = models.CharField(
        "floor that is down now",
        max_length=9,
        choices=[AS_THE_HOUSE, *ExistingFloor.choices],
        blank=True,
        default="",
    )
    old_floor_year = models.PositiveSmallIntegerField(
        "year that floor was put in", null=True, blank=True
    )
    layer_below = models.CharField(
        max_length=9, choices=LayerBelow.choices, default=LayerBelow.UNKNOWN
    )
    old_adhesive = models.CharField(
        max_length=7, choices=OldAdhesive.choices, default=OldAdhesive.UNKNOWN
    )
    lies_on = models.CharField(
        "subfloor",
        max_length=7,
        choices=[AS_THE_HOUSE, *Subfloor.choices],
        blank=True,
        default="",
    )
    painted_base = models.CharField(
        max_length=7, choices=PaintedBase.choices, default=PaintedBase.UNKNOWN
    )
    base_height_mm = MillimeterField("height of the base", null=True, blank=True)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                condition=Q(old_floor_year__isnull=True) | Q(old_floor_year__gte=1600),
                name="%(class)s_old_floor_year_sane",
            ),
            models.CheckConstraint(
                condition=Q(base_height_mm__isnull=True) | Q(base_height_mm__gt=0),
                name="%(class)s_base_height_positive",
            ),
            models.CheckConstraint(
                condition=Q(painted_base__in=PaintedBase.values)
                & Q(layer_below__in=LayerBelow.values)
                & Q(old_adhesive__in=OldAdhesive.values),
                name="%(class)s_old_floor_known",
            ),
        ]
