"""Rooms as measured, and the openings in their walls."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import MillimeterField, Versioned
from jobs.models.floor import FloorZone
from jobs.models.job import Job
from jobs.models.old_floors.old_floor import RoomBefore


class Moisture(models.TextChoices):
    """How wet a room gets; decides trim and pad."""

    DRY = "dry", "Dry"
    DAMP = "damp", "Damp at times"
    WET = "wet", "Wet"


class BaseTreatment(models.TextChoices):
    """What happens to the base of a room."""

    KEEP = "keep", "Keep in place"
    REINSTALL = "reinstall", "Take off and reinstall"
    REPLACE = "replace", "Replace"
    NONE = "none", "No base"


class Furniture(models.TextChoices):
    """How much stands in a room that has to be moved."""

    EMPTY = "empty", "Empty"
    SOME = "some", "Some"
    FULL = "full", "Full"


class Room(RoomBefore, Versioned):
    """One room. ``measured`` is what was typed; ``outline`` and ``holes`` are computed from it.

    ``measured``: ``{"walls": [{"length": "12' 4 1/2\\"", "turn": "left", "angle": ""}, ...],
    "holes": [{"kind": "post", "name": "column", "x": "...", "y": "...", "width": "...",
    "depth": "..."}], "diagonals": [{"start": "1", "end": "3", "length": "..."}],
    "bows": [{"wall": "1", "along": "...", "into": "..."}]}``; an ``angle`` stands where a corner is
    not square, an ``edge`` where a wall is something else, no ``depth`` where a thing is round.
    ``outline``: ``[[x, y], ...]`` and ``holes``: ``[{"kind": ..., "ring": [[x, y], ...]}]`` in the
    job's unit, from the room's first corner, the first wall along +x; ``edges``: what each side of
    the outline is, ``[{"wall": 0, "kind": "toe kick"}, ...]``, ``wall`` None for what stands on the
    floor, the whole list empty for plain walls. ``place_x_mm``,
    ``place_y_mm``: where that corner lies in the room's zone; ``place_turn_deg``: how far the room
    is turned there, counter-clockwise. ``depths``: readings of the depth survey as typed,
    ``[{"x": "...", "y": "...", "depth": "..."}, ...]``, how far the subfloor lies low there.
    ``holes`` has lost names and what stands against a wall: count things by what was measured.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="rooms")
    name = models.CharField(max_length=80)
    order = models.PositiveSmallIntegerField(default=0)
    measured = models.JSONField(default=dict)
    outline = models.JSONField(default=list)
    holes = models.JSONField(default=list, blank=True)
    edges = models.JSONField(default=list, blank=True)
    misclosure_mm = MillimeterField(default=0)
    moisture = models.CharField(max_length=4, choices=Moisture.choices, default=Moisture.DRY)
    base = models.CharField(
        max_length=9, choices=BaseTreatment.choices, default=BaseTreatment.REINSTALL
    )
    shoe = models.BooleanField("add shoe or quarter round", default=False)
    furniture = models.CharField(max_length=5, choices=Furniture.choices, default=Furniture.EMPTY)
    toilets = models.PositiveSmallIntegerField("toilets to lift", default=0)
    appliances = models.PositiveSmallIntegerField("appliances to move", default=0)
    leveler_bags = models.PositiveSmallIntegerField("bags of leveler", default=0)
    depths = models.JSONField("depth survey", default=list, blank=True)
    appliance_clear_mm = MillimeterField(
        "least room above an appliance that stays", null=True, blank=True
    )
    zone = models.ForeignKey(
        FloorZone, null=True, blank=True, on_delete=models.SET_NULL, related_name="rooms"
    )
    place_x_mm = MillimeterField(default=0)
    place_y_mm = MillimeterField(default=0)
    place_turn_deg = models.DecimalField(max_digits=9, decimal_places=6, default=0)

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            *RoomBefore.Meta.constraints,
            models.CheckConstraint(condition=~Q(name=""), name="room_has_a_name"),
            models.UniqueConstraint(fields=["job", "name"], name="room_name_once_a_job"),
        ]

    def __str__(self) -> str:
        return self.name


class Treatment(models.TextChoices):
    """What is done where the floor meets an opening."""

    CARRY = "carry through", "Planks run through"
    T_MOLDING = "T-molding", "T-molding"
    REDUCER = "reducer", "Reducer"
    END_CAP = "end cap", "End cap"
    THRESHOLD = "threshold", "Threshold"
    STAIR_NOSE = "stair nose", "Stair nose"


class OpeningKind(models.TextChoices):
    """What kind of opening it is; decides where the joint of two floors may lie."""

    DOOR = "door", "Door"
    CASED = "cased", "Opening without a door"
    EXTERIOR = "exterior", "Outside door"
    SLIDER = "slider", "Sliding door"
    CLOSET = "closet", "Closet door"
    STAIRS = "stairs", "Top of a stair"


class FloorKind(models.TextChoices):
    """What lies beyond an opening."""

    UNKNOWN = "", "Not known yet"
    SAME = "same", "This floor"
    PLANK = "plank", "Another floating floor"
    CARPET = "carpet", "Carpet"
    TILE = "tile", "Ceramic or stone tile"
    WOOD = "wood", "Nailed or glued wood"
    RESILIENT = "resilient", "Sheet or tile, resilient"
    SLAB = "slab", "Bare slab"
    STAIRS = "stairs", "A stair going down"
    OUTSIDE = "outside", "Outside sill"


class Swing(models.TextChoices):
    """Which way a door moves."""

    NONE = "none", "No door"
    IN = "in", "Into this room"
    OUT = "out", "Out of this room"
    SLIDES = "slides", "Slides or folds"


class Doorway(Versioned):
    """An opening in one wall of a room, measured from the wall's first corner.

    One opening is one row, on the side it was measured from; ``beyond_wall`` and
    ``beyond_offset_mm`` say where it lies in the room beyond, once that is known. The step between
    the floors is ``step_mm``, or follows from ``beyond_high_mm`` where that was measured.
    """

    room = models.ForeignKey(Room, on_delete=models.CASCADE, related_name="doorways")
    wall = models.PositiveSmallIntegerField(help_text="wall number, from 0")
    offset_mm = MillimeterField("from the wall's first corner")
    width_mm = MillimeterField("clear width")
    depth_mm = MillimeterField("wall depth")
    beyond = models.ForeignKey(
        Room, null=True, blank=True, on_delete=models.SET_NULL, related_name="doorways_from_beyond"
    )
    beyond_wall = models.PositiveSmallIntegerField(
        "its wall in the room beyond", null=True, blank=True, help_text="wall number, from 0"
    )
    beyond_offset_mm = MillimeterField("from that wall's first corner", null=True, blank=True)
    beyond_floor = models.CharField("floor beyond", max_length=80, blank=True)
    step_mm = MillimeterField("how much higher the floor beyond stands", default=0)
    beyond_high_mm = MillimeterField(
        "height of the floor beyond above the subfloor here", null=True, blank=True
    )
    kind = models.CharField(max_length=8, choices=OpeningKind.choices, default=OpeningKind.DOOR)
    beyond_kind = models.CharField(max_length=9, choices=FloorKind.choices, blank=True)
    swing = models.CharField(max_length=6, choices=Swing.choices, default=Swing.NONE)
    clearance_mm = MillimeterField(
        "from the floor as it is now to the bottom of the door", null=True, blank=True
    )
    metal_frame = models.BooleanField("frame that can't be undercut", default=False)
    treatment = models.CharField(max_length=13, choices=Treatment.choices, default=Treatment.CARRY)
    chosen_by_hand = models.BooleanField("treatment chosen by hand", default=False)
    strip_covers_mm = MillimeterField("what the strip as bought covers", null=True, blank=True)
    strip_down_mm = MillimeterField(
        "how much lower the floor beyond may stand for it", null=True, blank=True
    )
    strip_up_mm = MillimeterField(
        "how much higher the floor beyond may stand for it", null=True, blank=True
    )
    casings = models.PositiveSmallIntegerField("casings to undercut", default=2)
    doors_off = models.PositiveSmallIntegerField("doors to take off and rehang", default=0)

    class Meta:
        ordering = ["room", "wall", "offset_mm"]
        constraints = [
            models.CheckConstraint(
                condition=Q(offset_mm__gte=0, width_mm__gt=0, depth_mm__gte=0),
                name="doorway_sizes_sane",
            ),
            models.CheckConstraint(
                condition=Q(beyond_wall__isnull=True, beyond_offset_mm__isnull=True)
                | Q(beyond_wall__isnull=False, beyond_offset_mm__gte=0),
                name="doorway_beyond_complete",
            ),
            models.CheckConstraint(
                condition=Q(treatment__in=Treatment.values), name="doorway_treatment_known"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=OpeningKind.values, swing__in=Swing.values),
                name="doorway_kind_known",
            ),
            models.CheckConstraint(
                condition=(Q(strip_covers_mm__isnull=True) | Q(strip_covers_mm__gt=0))
                & (Q(strip_down_mm__isnull=True) | Q(strip_down_mm__gte=0))
                & (Q(strip_up_mm__isnull=True) | Q(strip_up_mm__gte=0)),
                name="doorway_strip_sizes_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"Doorway in wall {self.wall + 1} of {self.room}"


class Transition(Versioned):
    """A profile where two floors meet."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="transitions")
    doorway = models.OneToOneField(
        Doorway, null=True, blank=True, on_delete=models.CASCADE, related_name="transition"
    )
    profile = models.CharField(max_length=13, choices=Treatment.choices)
    length_mm = MillimeterField()
    fixing = models.CharField(max_length=40, blank=True)
    edited = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(length_mm__gt=0), name="transition_length_positive"),
            models.CheckConstraint(
                condition=~Q(profile=Treatment.CARRY), name="transition_has_a_profile"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_profile_display()}"


class TrimKind(models.TextChoices):
    """Kinds of trim along walls."""

    BASE = "base", "Base"
    SHOE = "shoe", "Shoe or quarter round"


class TrimRun(Versioned):
    """Trim along one wall of a room, less its openings.

    ``place`` counts the runs of one wall and kind from its first corner. What a person changed
    (``edited``) or left out stays when the runs are derived anew. A run that a person added follows
    no wall: its ``wall`` is a number from `ADDED_FROM` on, ``beside`` says what it runs along.
    """

    ADDED_FROM = 1000
    LONGEST_BESIDE = 60

    room = models.ForeignKey(Room, on_delete=models.CASCADE, related_name="trim_runs")
    wall = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=4, choices=TrimKind.choices)
    length_mm = MillimeterField()
    start_end = models.CharField(max_length=7, default="inside")
    finish_end = models.CharField(max_length=7, default="inside")
    place = models.PositiveSmallIntegerField(default=0)
    action = models.CharField(max_length=9, choices=BaseTreatment.choices, blank=True)
    profile = models.CharField(max_length=80, blank=True)
    edited = models.BooleanField(default=False)
    left_out = models.BooleanField(default=False)
    beside = models.CharField("what it runs along", max_length=LONGEST_BESIDE, blank=True)

    class Meta:
        ordering = ["room", "kind", "wall"]
        constraints = [
            models.CheckConstraint(
                condition=Q(beside="", wall__lt=1000) | Q(~Q(beside=""), wall__gte=1000),
                name="trim_run_beside_where_added",
            ),
            models.CheckConstraint(condition=Q(length_mm__gt=0), name="trim_run_length_positive"),
            models.CheckConstraint(
                condition=Q(
                    start_end__in=["inside", "outside", "butt", "cope"],
                    finish_end__in=["inside", "outside", "butt", "cope"],
                ),
                name="trim_run_ends_known",
            ),
        ]

    def __str__(self) -> str:
        place = self.beside or f"wall {self.wall + 1}"
        return f"{self.get_kind_display()}, {place} of {self.room}"

    @property
    def is_added(self) -> bool:
        """Whether a person added it where there is no wall."""
        return self.wall >= self.ADDED_FROM


class StairFlight(Versioned):
    """A flight of stairs that gets the floor: treads, risers and nosings counted.

    ``risers``: the risers as measured now, from the bottom, as typed; empty: not measured.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="stairs")
    name = models.CharField(max_length=80)
    product = models.ForeignKey(
        "jobs.Product", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    treads = models.PositiveSmallIntegerField(default=0)
    riser_boards = models.PositiveSmallIntegerField("risers to cover", default=0)
    nosings = models.PositiveSmallIntegerField(default=0)
    width_mm = MillimeterField("width of the stair")
    tread_mm = MillimeterField("depth of a tread", null=True, blank=True)
    risers = models.JSONField("risers as they are now", default=list, blank=True)
    treads_raised_mm = MillimeterField("treads come up by", default=0)
    below_raised_mm = MillimeterField("floor below comes up by", default=0)
    above_raised_mm = MillimeterField("floor above comes up by", default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="stair_has_a_name"),
            models.UniqueConstraint(fields=["job", "name"], name="stair_name_once_a_job"),
            models.CheckConstraint(condition=Q(width_mm__gt=0), name="stair_width_positive"),
        ]

    def __str__(self) -> str:
        return self.name
