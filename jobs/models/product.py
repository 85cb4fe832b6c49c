"""Flooring products and the rules that come with them."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from jobs.models.base import MillimeterField, UnitSystem, Versioned
from jobs.models.company import Company


class LockType(models.TextChoices):
    """How boards join."""

    ANGLE_ANGLE = "angle-angle", "Angle both sides"
    ANGLE_DROP = "angle-drop", "Angle, then drop"
    TAP = "tap", "Tap"
    GLUE = "glue", "Glue"


class Core(models.TextChoices):
    """What the board is made of."""

    RIGID = "rigid", "Rigid vinyl core"
    LAMINATE = "laminate", "Laminate"
    WOOD = "wood", "Engineered wood"


class StaggerRule(models.TextChoices):
    """The step of end joints the product asks for."""

    FREE = "free", "Free"
    HALF = "half", "Half a board"
    THIRD = "third", "A third of a board"


class Product(Versioned):
    """A plank product. Lengths are laid cover, kept in mm and shown in ``units``."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="products")
    name = models.CharField(max_length=120)
    units = models.CharField(max_length=8, choices=UnitSystem.choices)
    core = models.CharField(max_length=8, choices=Core.choices, default=Core.RIGID)
    length_mm = MillimeterField()
    width_mm = MillimeterField()
    thickness_mm = MillimeterField()
    per_carton = models.PositiveSmallIntegerField("boards in a carton")
    carton_weight_kg = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    attached_pad = models.BooleanField(default=False)
    lock = models.CharField(max_length=11, choices=LockType.choices, default=LockType.ANGLE_ANGLE)
    gap_mm = MillimeterField("gap at walls")
    saw_kerf_mm = MillimeterField("saw kerf")
    min_end_mm = MillimeterField("shortest end piece")
    min_offset_mm = MillimeterField("least offset of end joints")
    min_row_mm = MillimeterField("narrowest row")
    stagger = models.CharField(max_length=5, choices=StaggerRule.choices, default=StaggerRule.FREE)
    max_run_mm = MillimeterField("longest run without a break", null=True, blank=True)
    acclimatise_hours = models.PositiveSmallIntegerField(default=0)
    moisture_limit = models.CharField(max_length=80, blank=True)
    rules_source = models.CharField(
        "where the rules come from", max_length=160, default="Our default, common practice"
    )
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="product_has_a_name"),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0, width_mm__gt=0, thickness_mm__gt=0),
                name="product_sizes_positive",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gte=F("width_mm")), name="product_longer_than_wide"
            ),
            models.CheckConstraint(condition=Q(per_carton__gte=1), name="product_carton_content"),
            models.CheckConstraint(
                condition=Q(
                    gap_mm__gte=0,
                    saw_kerf_mm__gte=0,
                    min_end_mm__gte=0,
                    min_offset_mm__gte=0,
                    min_row_mm__gte=0,
                ),
                name="product_rules_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(min_end_mm__lt=F("length_mm"), min_row_mm__lt=F("width_mm")),
                name="product_rules_below_board",
            ),
        ]

    def __str__(self) -> str:
        return self.name
