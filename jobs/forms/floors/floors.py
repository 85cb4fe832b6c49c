"""The forms of a floor: its rooms, product and laying, and where its rooms lie."""

from __future__ import annotations

from decimal import Decimal
from typing import Unpack

from django import forms
from django.db.models import Q

from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.floors.walls import MOST_WALL_ERROR_MM
from jobs.forms.base import (
    Cleaned,
    Data,
    FormOptions,
    LengthField,
    NameField,
    NumberField,
    OnceForm,
    PlainForm,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.forms.rows import RowsField
from jobs.models import Allowed, Doorway, FloorZone, Job, Product, Room
from jobs.readers.floors.facts import STARTS
from jobs.services.floors.names import fault_of_name
from jobs.services.records import written_before

_ZERO = Decimal(0)
_FAR_MM = Decimal(300000)
PREFER_CHOICES = list(FloorZone._meta.get_field("prefer").choices or ())  # noqa: SLF001  public


class ZoneForm(VersionedForm):
    """One continuous floor of one product."""

    name = NameField(label="Name of the floor", max_length=FloorZone.LONGEST_NAME)
    rooms = RowsField(
        label="Rooms",
        queryset=Room.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "No room is marked; accepted: one room or more."},
    )
    product = forms.ModelChoiceField(
        label="Product",
        queryset=Product.objects.none(),
        error_messages={"required": "No product is chosen; accepted: one of the list."},
    )
    direction = NumberField(
        label="Direction of the planks",
        required=False,
        least=Decimal(-360),
        most=Decimal(360),
        help_text="Degrees from the first wall of the first room, counter-clockwise: 0 along it, "
        "90 across. Left empty, the main wall directions are compared.",
    )
    start = forms.ChoiceField(
        label="Start wall",
        choices=list(STARTS.items()),
        help_text="Seen as the plan is drawn, with the planks lying left to right.",
    )
    control_row = WholeField(
        label="Row laid first",
        required=False,
        least=2,
        most=2000,
        help_text="Where rows go both ways from a snapped line: the row along it, counted from "
        "the start wall. Left empty, rows go from the start wall on.",
    )
    wall_error = LengthField(
        label="Walls may stand off by",
        least_mm=_ZERO,
        most_mm=MOST_WALL_ERROR_MM,
        help_text="The plan still keeps every rule if a wall stands off by this much: what stands "
        "here in a new floor is the company's figure, else what is usual "
        "(common practice, no source).",
    )
    spares = WholeField(label="Planks beyond the plan", least=0, most=500)
    attic_carton = forms.BooleanField(label="One carton for the attic", required=False)
    pad = forms.BooleanField(label="Lay a separate pad", required=False)
    barrier = forms.BooleanField(label="Lay a vapor barrier", required=False)
    prefer = forms.ChoiceField(label="Prefer", choices=PREFER_CHOICES)

    def __init__(
        self,
        data: Data = None,
        *,
        job: Job,
        zone: FloorZone | None = None,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, **options)
        self.job, self.zone = job, zone
        rooms, product = self.fields["rooms"], self.fields["product"]
        products = job.company.products.filter(retired_at__isnull=True)
        if zone is not None:
            products = products | job.company.products.filter(pk=zone.product_id)
        if isinstance(product, forms.ModelChoiceField):
            product.queryset = products
        if isinstance(rooms, forms.ModelMultipleChoiceField):
            rooms.queryset = job.rooms.filter(Q(zone__isnull=True) | Q(zone=self._zone_pk()))

    def _zone_pk(self) -> int:
        """Return the floor that is edited or was made by a first sending of this form, else 0."""
        if self.zone is not None:
            return int(self.zone.pk)
        made = written_before(company=self.job.company, key=self.once_key) if self.data else ""
        return int(made or 0)

    def clean_name(self) -> str:
        """Refuse a name that another floor of the job has."""
        name: str = self.cleaned_data["name"]
        fault = fault_of_name(self.job, name, but=self._zone_pk())
        if fault:
            raise forms.ValidationError(fault)
        return name

    def clean(self) -> Cleaned:
        """Refuse what the product does not allow: a separate pad, rows both ways."""
        data = super().clean() or {}
        product: Product | None = data.get("product")
        if product is None:
            return data
        if data.get("pad") and product.attached_pad:
            message = f"{product} has its pad attached; accepted: no separate pad under it."
            self.add_error("pad", message)
        elif data.get("pad") and product.separate_pad == Allowed.NO:
            source = rule_source(product, "separate_pad")
            message = f"{product} is laid without one; accepted: no separate pad ({source})."
            self.add_error("pad", message)
        row = data.get("control_row")
        if row is not None and not product.both_ways:
            source = rule_source(product, "both_ways")
            message = f"Row {row} laid first: rows of {product} go one way only; accepted: none"
            self.add_error("control_row", f"{message} ({source}).")
        self._refuse_both(data)
        return data

    def _refuse_both(self, data: Cleaned) -> None:
        """Refuse rows both ways from a line on walls that may stand off: that is not planned."""
        row, wall_error = data.get("control_row"), data.get("wall_error")
        if row is not None and wall_error and wall_error.mm > 0:
            fault = f"“{wall_error.text}” with row {row} laid first can't be planned yet"
            accepted = "0 where rows go both ways: measure the walls at the row ends first"
            self.add_error("wall_error", f"{fault}; accepted: {accepted}.")

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the zone's fields."""
        data = self.cleaned_data
        names = ("name", "product", "start", "control_row", "spares", "attic_carton", "pad")
        values = {name: data[name] for name in (*names, "barrier", "prefer")}
        return values | {
            "direction_deg": data["direction"],
            "wall_error_mm": data["wall_error"].mm,
        }


class RoomFloorForm(OnceForm):
    """Makes one room a floor of its own."""

    product = forms.ModelChoiceField(
        label="Product",
        queryset=Product.objects.none(),
        error_messages={"required": "No product is chosen; accepted: one of the list."},
    )

    def __init__(self, data: Data = None, *, job: Job, **options: Unpack[FormOptions]) -> None:
        super().__init__(data, **options)
        product = self.fields["product"]
        if isinstance(product, forms.ModelChoiceField):
            product.queryset = job.company.products.filter(retired_at__isnull=True)


class ArrangeForm(VersionedForm):
    """Where the rooms of a floor lie, all of them at once: key and version; see `PlaceForm`."""


class JoinForm(VersionedForm):
    """Places the rooms of a floor by their doorways: key and version."""


class PlaceForm(PlainForm):
    """Where the first corner of one room lies in its floor, and how far the room is turned."""

    x = LengthField(label="To the right", least_mm=None, most_mm=_FAR_MM)
    y = LengthField(label="Up", least_mm=None, most_mm=_FAR_MM)
    turn = NumberField(label="Turned by", least=Decimal(-360), most=Decimal(360), places=6)

    def __init__(self, data: Data = None, *, room: Room, prefix: str, units: str) -> None:
        turn = f"{room.place_turn_deg.normalize():f}"
        initial = {"x": room.place_x_mm, "y": room.place_y_mm, "turn": turn}
        super().__init__(data, initial=initial, prefix=prefix, units=units)
        self.room = room

    @property
    def values(self) -> dict[str, Decimal]:
        """The cleaned values under the names of the room's fields."""
        data = self.cleaned_data
        return {
            "place_x_mm": data["x"].mm,
            "place_y_mm": data["y"].mm,
            "place_turn_deg": data["turn"],
        }


class BesideForm(VersionedForm):
    """Places the room beyond a doorway against it: where the opening lies in that room."""

    wall = WholeField(label="Its wall number", least=1, most=200)
    offset = LengthField(label="From that wall's first corner", least_mm=_ZERO)

    def __init__(
        self,
        data: Data = None,
        *,
        doorway: Doorway,
        proposed: tuple[int, Decimal] | None = None,
        units: str,
        version: int,
    ) -> None:
        known = doorway.beyond_wall is not None
        stored = (doorway.beyond_wall, doorway.beyond_offset_mm)
        wall, offset = stored if known or proposed is None else proposed
        initial = {"wall": None if wall is None else wall + 1, "offset": offset}
        prefix = f"doorway-{doorway.pk}"
        super().__init__(data, initial=initial, prefix=prefix, units=units, version=version)
        self.doorway, self.known, self.proposed = doorway, known, proposed is not None
