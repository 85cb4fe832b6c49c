"""Flooring products and the rules that come with them."""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from jobs.domain.products.sizes import millimeters_typed, size_as_typed
from jobs.domain.products.weights import weight_as_typed
from jobs.models.base import MillimeterField, UnitSystem, Versioned
from jobs.models.company import Company
from jobs.models.document import StoredFile


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


class Tapping(models.TextChoices):
    """Whether boards of a product may be tapped together."""

    NOT_SAID = "", "Not said"
    NO = "no", "No tapping"
    BLOCK = "block", "With a tapping block only"
    YES = "yes", "Block and pull bar"


class Allowed(models.TextChoices):
    """What the maker's sheet says of a use."""

    NOT_SAID = "", "Not said"
    YES = "yes", "Allowed"
    NO = "no", "Not allowed"


class LaidOver(models.TextChoices):
    """What a floating floor may be laid over."""

    SLAB = "slab", "Concrete slab"
    WOOD_SUBFLOOR = "wood subfloor", "Wood subfloor"
    RESILIENT = "resilient", "Sheet or tile, resilient"
    TILE = "tile", "Ceramic or stone tile"
    WOOD_FLOOR = "wood floor", "Wood floor"
    LAMINATE = "laminate", "Floating plank"
    CARPET = "carpet", "Carpet"


class Product(Versioned):
    """A plank product. Lengths are laid cover, kept in mm and shown in ``units``.

    ``more_boards``: further widths of a mixed carton, ``[{"width_mm": "127", "per_carton": 3,
    "variants": {"A": 1, "B": 2}}]``, ``variants`` only where they are known; ``variants``: prints
    or shades of the first width and how many boards of each a carton holds; ``shades``: how many
    there are where no carton says how many boards it holds of each; ``laid_over``: what
    the maker allows under it (`LaidOver`; empty: not said); ``rule_sources``: where a single
    rule comes from, by the name of its field, where that is not ``rules_source``; ``step_sources``:
    where the rules of a step come from, ``{"laying": {"from": "sheet", "page": "3"}}``;
    ``rip_kerf_mm``: what a rip takes, None where it takes what the saw takes across.
    ``typed_sizes``: sizes and weight as they were typed, by the name of their field; a further
    width keeps its text in ``typed``. ``weight_assumed``: no carton said what it weighs.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="products")
    name = models.CharField(max_length=120)
    units = models.CharField(max_length=8, choices=UnitSystem.choices)
    core = models.CharField(max_length=8, choices=Core.choices, default=Core.RIGID)
    length_mm = MillimeterField()
    width_mm = MillimeterField()
    thickness_mm = MillimeterField()
    per_carton = models.PositiveSmallIntegerField("boards in a carton")
    carton_weight_kg = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    weight_assumed = models.BooleanField("carton weight is common practice", default=False)
    covers_ft2 = models.DecimalField(
        "coverage as printed on the carton, ft2",
        max_digits=9,
        decimal_places=4,
        null=True,
        blank=True,
    )
    typed_sizes = models.JSONField("sizes as typed", default=dict, blank=True)
    attached_pad = models.BooleanField(default=False)
    lock = models.CharField(max_length=11, choices=LockType.choices, default=LockType.ANGLE_ANGLE)
    gap_mm = MillimeterField("expansion gap")
    saw_kerf_mm = MillimeterField("saw kerf")
    rip_kerf_mm = MillimeterField("rip kerf", null=True, blank=True)
    min_end_mm = MillimeterField("minimum end piece")
    min_offset_mm = MillimeterField("minimum stagger")
    min_row_mm = MillimeterField("minimum row width")
    stagger = models.CharField(max_length=5, choices=StaggerRule.choices, default=StaggerRule.FREE)
    max_run_mm = MillimeterField("longest run without a break", null=True, blank=True)
    acclimate_hours = models.PositiveSmallIntegerField(default=0)
    moisture_limit = models.CharField(max_length=80, blank=True)
    flatness = models.CharField("flatness of the subfloor", max_length=80, blank=True)
    rules_source = models.CharField(
        "where the rules come from", max_length=160, default="Our default, common practice"
    )
    more_boards = models.JSONField(default=list, blank=True)
    variants = models.JSONField(default=dict, blank=True)
    shades = models.PositiveSmallIntegerField(
        "shades mixed in a carton, how many", null=True, blank=True
    )
    tongue = models.CharField(
        "tongue side",
        max_length=4,
        choices=[("low", "Toward the start wall"), ("high", "Toward the next row")],
        default="high",
    )
    first_end = models.CharField(
        "rows begin at",
        max_length=5,
        choices=[("left", "The left end"), ("right", "The right end")],
        default="left",
    )
    both_ways = models.BooleanField("rows may go both ways from a line", default=False)
    max_run_width_mm = MillimeterField("widest floor without a break", null=True, blank=True)
    laid_over = models.JSONField(default=list, blank=True)
    wettest = models.CharField(
        "wettest room it may lie in",
        max_length=4,
        choices=[("", "Not said"), ("dry", "Dry"), ("damp", "Damp at times"), ("wet", "Wet")],
        blank=True,
    )
    heated_floor = models.CharField(max_length=3, choices=Allowed.choices, blank=True)
    separate_pad = models.CharField(max_length=3, choices=Allowed.choices, blank=True)
    tilt_deg = models.DecimalField(
        "tilt angle of the lock", max_digits=4, decimal_places=1, null=True, blank=True
    )
    tapping = models.CharField(max_length=5, choices=Tapping.choices, blank=True)
    most_rh_pct = models.DecimalField(
        "relative humidity in the slab, at most",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
    )
    most_mver = models.DecimalField(
        "moisture emission, lb per 1000 ft2 in 24 h, at most",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
    )
    most_wood_mc_pct = models.DecimalField(
        "moisture content of a wood subfloor, at most",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
    )
    sheet = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    sheet_edition = models.CharField("edition of the maker's sheet", max_length=80, blank=True)
    rule_sources = models.JSONField(default=dict, blank=True)
    step_sources = models.JSONField(default=dict, blank=True)
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
                condition=Q(covers_ft2__isnull=True) | Q(covers_ft2__gt=0),
                name="product_carton_covers_something",
            ),
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
                condition=Q(rip_kerf_mm__isnull=True) | Q(rip_kerf_mm__gte=F("saw_kerf_mm")),
                name="product_rip_takes_no_less",
            ),
            models.CheckConstraint(
                condition=Q(min_end_mm__lt=F("length_mm"), min_row_mm__lt=F("width_mm")),
                name="product_rules_below_board",
            ),
            models.CheckConstraint(
                condition=Q(shades__isnull=True) | Q(shades__range=(2, 26)),
                name="product_shades_by_letter",
            ),
            models.CheckConstraint(
                condition=Q(tongue__in=["low", "high"], first_end__in=["left", "right"]),
                name="product_hands_known",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def sizes(self) -> tuple[tuple[Decimal, int], ...]:
        """Every width of a carton in mm, and how many boards of it."""
        more = [(Decimal(size["width_mm"]), int(size["per_carton"])) for size in self.more_boards]
        return ((self.width_mm, self.per_carton), *more)

    @property
    def size(self) -> str:
        """The laid cover of the board as its carton says it: width by length."""
        return f"{self.sized('width_mm')} × {self.sized('length_mm')}"

    @property
    def widths(self) -> tuple[str, ...]:
        """Every width of a carton as its maker says it, in the order of `sizes`."""
        more = [
            size_as_typed(str(size.get("typed", "")), Decimal(size["width_mm"]), self.units)
            for size in self.more_boards
        ]
        return (self.sized("width_mm"), *more)

    def sized(self, field: str) -> str:
        """Return the size in a field as it was typed."""
        text = str(self.typed_sizes.get(field, ""))
        return size_as_typed(text, Decimal(getattr(self, field)), self.units)

    def shown(self, field: str) -> str | Decimal:
        """Return what a form shows of a size: its text, in millimeters where it has none."""
        text, mm = str(self.typed_sizes.get(field, "")), Decimal(getattr(self, field))
        return text if millimeters_typed(text, self.units) == mm else mm

    @property
    def weight(self) -> str:
        """The carton's weight as it was typed; empty where nothing is known of it."""
        if self.carton_weight_kg is None:
            return ""
        text = str(self.typed_sizes.get("carton_weight_kg", ""))
        return weight_as_typed(text, self.carton_weight_kg, self.units)

    @property
    def mixes(self) -> tuple[dict[str, int], ...]:
        """The shades of every width and how many boards of each a carton holds, as `sizes`."""
        more = [dict(size.get("variants", {})) for size in self.more_boards]
        return (dict(self.variants), *more)

    @property
    def rip_mm(self) -> Decimal:
        """What a rip takes."""
        return Decimal(self.saw_kerf_mm if self.rip_kerf_mm is None else self.rip_kerf_mm)

    @property
    def carton_boards(self) -> int:
        """Boards in a carton, all widths together."""
        return sum(count for _, count in self.sizes)
