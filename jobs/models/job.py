"""A job and what is known of its site."""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.db.models import Q

from jobs.models.base import UnitSystem, Versioned
from jobs.models.client import Client
from jobs.models.company import Company


class Job(Versioned):
    """One piece of work for one client at one address. Where it stands is read from what exists.

    ``trim_stock``: stock lengths of base and shoe in mm as text; empty: the usual ones.
    ``left_to_homeowner``: codes of tasks that its crew leaves to the homeowner. An archived job
    stands in no list any more; it is found by searching.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="jobs")
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="jobs")
    number = models.PositiveIntegerField()
    title = models.CharField(max_length=120)
    address = models.TextField("site address")
    units = models.CharField(max_length=8, choices=UnitSystem.choices)
    agreed_scope = models.ForeignKey(
        "jobs.Scope", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    trim_stock = models.JSONField("lengths that trim is bought in", default=list, blank=True)
    left_to_homeowner = models.JSONField("work that the homeowner does", default=list, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["company", "number"], name="job_number_once"),
            models.CheckConstraint(condition=~Q(title=""), name="job_has_a_title"),
            models.CheckConstraint(
                condition=Q(units__in=UnitSystem.values), name="job_units_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Job {self.number}, {self.title}"

    @property
    def unit(self) -> str:
        """The layout core's length unit for this job: ``in`` or ``mm``."""
        return "mm" if self.units == UnitSystem.METRIC else "in"


class Subfloor(models.TextChoices):
    """What the floor lies on."""

    UNKNOWN = "unknown", "Not known yet"
    WOOD = "wood", "Wood"
    SLAB = "slab", "Concrete slab"


class ExistingFloor(models.TextChoices):
    """What is down now."""

    UNKNOWN = "unknown", "Not known yet"
    NONE = "none", "Nothing"
    CARPET = "carpet", "Carpet"
    RESILIENT = "resilient", "Sheet or tile, resilient"
    TILE = "tile", "Ceramic or stone tile"
    WOOD = "wood", "Wood"
    LAMINATE = "laminate", "Floating plank"


class OtherBath(models.TextChoices):
    """Whether another bathroom can be used while one is open."""

    UNKNOWN = "unknown", "Not known yet"
    YES = "yes", "Yes, all the time"
    NO = "no", "No, it is the only one"


class SiteFacts(Versioned):
    """What the visit found. Empty means not known yet, never no.

    ``readings``: moisture readings, ``[{"method": "rh", "value": "78", "where": "...",
    "on": "2026-11-25"}, ...]``. ``aquarium``, ``piano``, ``electronics`` are what the homeowner
    clears, in words. ``access`` is what nobody else should read, a door code or where the key
    lies; ``parking``, ``saw_spot``, ``power``, ``disposal_place`` may stand on paper.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="site")
    year_built = models.PositiveSmallIntegerField(null=True, blank=True)
    existing_floor = models.CharField(
        max_length=9, choices=ExistingFloor.choices, default=ExistingFloor.UNKNOWN
    )
    floor_year = models.PositiveSmallIntegerField(
        "year that floor was put in", null=True, blank=True
    )
    tear_out = models.BooleanField("take the old floor out", default=False)
    subfloor = models.CharField(max_length=7, choices=Subfloor.choices, default=Subfloor.UNKNOWN)
    readings = models.JSONField("moisture readings", default=list, blank=True)
    accessible_route = models.BooleanField("an accessible route passes here", default=False)
    bag_fills_ft3 = models.DecimalField(
        "a bag of leveler fills, ft3", max_digits=4, decimal_places=2, default=Decimal("0.45")
    )
    heated_floor = models.BooleanField(default=False)
    other_bath = models.CharField(
        "another bathroom can be used",
        max_length=7,
        choices=OtherBath.choices,
        default=OtherBath.UNKNOWN,
    )
    painted_ft2_per_room = models.DecimalField(
        "painted surface disturbed in a room, ft2", max_digits=7, decimal_places=2, default=0
    )
    flights = models.PositiveSmallIntegerField("flights of stairs to carry", default=0)
    fire_door = models.BooleanField("a fire-rated or self-closing door is affected", default=False)
    gas_appliance = models.BooleanField("a gas appliance stands on the floor", default=False)
    grinding = models.BooleanField("concrete or tile will be cut or ground", default=False)
    access = models.TextField("door code, keys", blank=True)
    aquarium = models.CharField("aquarium: which and where", max_length=120, blank=True)
    piano = models.CharField("piano: which and where", max_length=120, blank=True)
    electronics = models.CharField("electronics: which and where", max_length=200, blank=True)
    pets = models.CharField("pets: which and where kept", max_length=200, blank=True)
    parking = models.CharField(max_length=200, blank=True)
    saw_spot = models.CharField("where the saw stands", max_length=200, blank=True)
    power = models.CharField("power for the saw", max_length=200, blank=True)
    disposal_place = models.CharField("where waste goes", max_length=200, blank=True)

    class Meta:
        verbose_name_plural = "site facts"
        constraints = [
            models.CheckConstraint(
                condition=Q(year_built__isnull=True) | Q(year_built__gte=1600),
                name="site_year_built_sane",
            ),
            models.CheckConstraint(
                condition=Q(other_bath__in=OtherBath.values), name="site_other_bath_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Site of job {self.job_id}"


class HoldClearance(models.Model):
    """A hold point that a named person has cleared, with the reason. Never edited.

    ``log``: the day's log that said so, which takes it back where it is undone.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="clearances")
    code = models.SlugField(max_length=40)
    by = models.CharField("cleared by", max_length=120)
    note = models.TextField("what was found, certificate or test number")
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    log = models.ForeignKey(
        "jobs.DayLog", null=True, blank=True, on_delete=models.SET_NULL, related_name="clearances"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["job", "code"], name="hold_cleared_once"),
            models.CheckConstraint(condition=~Q(by=""), name="hold_cleared_by_name"),
        ]

    def __str__(self) -> str:
        return f"{self.code} cleared by {self.by}"
