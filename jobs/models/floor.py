"""Floor zones, their plans, and the scope made from them."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import MillimeterField, Versioned
from jobs.models.company import Company
from jobs.models.document import Document
from jobs.models.job import Job
from jobs.models.product import Product


class FloorZone(Versioned):
    """One continuous floor of one product: one room, or several joined.

    ``own_rules``: rules that differ from the product's, by the name of the product's field, in mm
    as text. ``going_on``: where laying has begun, ``{"plan": 7, "laid": ["1-1", ...],
    "planks": 41, "gone": ["F3", ...]}``: the plan that was followed, its pieces that are down, the
    planks left, its offcuts that are not there any more. ``piles``: whole planks counted in open
    cartons, ``[{"width_mm": "177.8", "variant": "A", "planks": 14}]``, no variant where boards of
    a width look alike; empty: not counted. ``stock_planks``: planks of its `LeftoverStock`,
    together, which are not bought.
    """

    LONGEST_NAME = 80

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="zones")
    name = models.CharField(max_length=LONGEST_NAME)
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="zones")
    direction_deg = models.DecimalField(
        "direction of the planks",
        max_digits=6,
        decimal_places=2,
        null=True,
        blank=True,
        help_text="degrees from the first wall; empty: compare the main wall directions",
    )
    start = models.CharField(
        "start wall",
        max_length=4,
        choices=[("low", "Low side"), ("high", "High side")],
        default="low",
    )
    control_row = models.PositiveSmallIntegerField(
        "row laid first, where rows go both ways", null=True, blank=True
    )
    own_rules = models.JSONField("rules of this floor only", default=dict, blank=True)
    going_on = models.JSONField("what is down and at hand", default=dict, blank=True)
    piles = models.JSONField("counted piles", default=list, blank=True)
    stock_planks = models.PositiveSmallIntegerField("planks of ours from other jobs", default=0)
    wall_error_mm = MillimeterField("walls may stand off by", default=0)
    pad = models.BooleanField("lay a separate pad", default=False)
    barrier = models.BooleanField("lay a vapor barrier", default=False)
    spares = models.PositiveSmallIntegerField("planks beyond the plan", default=3)
    attic_carton = models.BooleanField("one carton for the attic", default=False)
    prefer = models.CharField(
        max_length=7,
        choices=[
            ("planks", "Fewest planks"),
            ("cartons", "Looks, then fewer cuts, with what the last carton leaves"),
        ],
        default="planks",
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="zone_has_a_name"),
            models.UniqueConstraint(fields=["job", "name"], name="zone_name_once_a_job"),
            models.CheckConstraint(condition=Q(start__in=["low", "high"]), name="zone_start_known"),
            models.CheckConstraint(condition=Q(wall_error_mm__gte=0), name="zone_wall_error_sane"),
        ]

    def __str__(self) -> str:
        return self.name


class FloorPlan(models.Model):
    """A judged plan of a zone. Stored whole, never edited; a newer one supersedes it."""

    zone = models.ForeignKey(FloorZone, on_delete=models.CASCADE, related_name="plans")
    number = models.PositiveIntegerField()
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="plan")
    request = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="plan_asked")
    planks = models.PositiveIntegerField()
    cartons = models.PositiveIntegerField()
    lower_bound = models.PositiveIntegerField()
    proven = models.BooleanField()
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-number"]
        get_latest_by = "number"
        constraints = [
            models.UniqueConstraint(fields=["zone", "number"], name="plan_number_once_a_zone"),
            models.CheckConstraint(
                condition=Q(planks__gte=models.F("lower_bound"), lower_bound__gte=1),
                name="plan_not_below_its_bound",
            ),
        ]

    def __str__(self) -> str:
        return f"Plan {self.number} of {self.zone}"


class AlternativePlan(models.Model):
    """A judged plan of a zone in another product: what a quote offers, and an acceptance takes.

    Made beside a comparison and stored whole. Of a product the newest counts.
    """

    zone = models.ForeignKey(FloorZone, on_delete=models.CASCADE, related_name="alternatives")
    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="alternatives")
    direction_deg = models.DecimalField(max_digits=6, decimal_places=2)
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="alternative")
    request = models.OneToOneField(
        Document, on_delete=models.PROTECT, related_name="alternative_asked"
    )
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(direction_deg__gte=0, direction_deg__lt=180),
                name="alternative_direction_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.product} planned for {self.zone}"


class LeftoverStock(Versioned):
    """Planks of one product and lot that a job left over and that are ours, in our shop.

    ``zone``: the floor that they are kept for, None while anybody may take them.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="leftovers")
    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="leftovers")
    lot = models.CharField(max_length=60, blank=True)
    planks = models.PositiveSmallIntegerField()
    source = models.ForeignKey(Job, null=True, on_delete=models.SET_NULL, related_name="leftovers")
    kept_on = models.DateField()
    zone = models.ForeignKey(
        FloorZone, null=True, blank=True, on_delete=models.SET_NULL, related_name="stock"
    )

    class Meta:
        ordering = ["kept_on", "pk"]
        verbose_name_plural = "leftover stock"
        constraints = [
            models.CheckConstraint(condition=Q(planks__gte=1), name="leftover_has_planks"),
        ]

    def __str__(self) -> str:
        lot = f", lot {self.lot}" if self.lot else ""
        return f"{self.planks} planks of {self.product.name}{lot}"
