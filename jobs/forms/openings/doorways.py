"""The form of a doorway: where it is, what lies beyond, what the floor does in it."""

from __future__ import annotations

from decimal import Decimal
from typing import Unpack

from django import forms

from jobs.domain.lengths import length_words
from jobs.forms.base import Cleaned, Data, LengthField, VersionedForm, VersionedOptions, WholeField
from jobs.models import Doorway, FloorKind, OpeningKind, Room, Swing, Treatment
from jobs.readers.openings.openings import wall_lengths_mm, wall_name
from jobs.readers.openings.strips import usual_strips

_ZERO = Decimal(0)
_DEEPEST_MM = Decimal(1500)
_STEP_MM = Decimal(1000)
_PLAIN = (
    *("wall", "beyond", "beyond_floor", "kind", "beyond_kind", "swing", "metal_frame"),
    *("treatment", "casings", "doors_off"),
)
_LENGTHS = (
    *("width", "depth", "step", "beyond_high", "clearance"),
    *("strip_covers", "strip_down", "strip_up"),
)
_SWINGS = [
    (value, "No door, or not known" if value == Swing.NONE else label)
    for value, label in Swing.choices
]
_USUAL = "Common practice, no source; measure the one you have."
_CORNERS = [("first", "its first corner"), ("last", "its last corner")]


class DoorwayForm(VersionedForm):
    """An opening in a wall of ``room``."""

    kind = forms.ChoiceField(label="Kind of opening", choices=OpeningKind.choices)
    wall = forms.TypedChoiceField(label="In which wall", coerce=int)
    offset = LengthField(
        label="Distance from the corner",
        help_text="From that corner to the nearer side of the opening.",
        least_mm=_ZERO,
    )
    corner = forms.ChoiceField(
        label="Measured from",
        choices=_CORNERS,
        required=False,
        help_text="Corners in the direction the room was walked.",
    )
    width = LengthField(
        label="Width",
        help_text="Between the jambs; where they are undercut, to the back of the cut.",
    )
    depth = LengthField(
        label="Wall depth",
        help_text="Through the wall, from room to room.",
        least_mm=_ZERO,
        most_mm=_DEEPEST_MM,
    )
    beyond = forms.ModelChoiceField(
        label="Room beyond",
        queryset=Room.objects.none(),
        required=False,
        empty_label="No room of this job",
    )
    beyond_wall = WholeField(
        label="Its wall number there",
        required=False,
        least=1,
        most=200,
        help_text="With the distance, the rooms can be placed by this doorway.",
    )
    beyond_offset = LengthField(
        label="From that wall's first corner", required=False, least_mm=_ZERO
    )
    beyond_kind = forms.ChoiceField(
        label="Kind of floor beyond",
        choices=FloorKind.choices,
        required=False,
        help_text="Where it is not known, a room of this job counts as this floor going on.",
    )
    beyond_floor = forms.CharField(
        label="Floor beyond in words",
        required=False,
        max_length=80,
        help_text="Where it is no room of this job: tile in the bath, the porch.",
    )
    beyond_high = LengthField(
        label="Floor beyond, above the subfloor here",
        required=False,
        least_mm=None,
        most_mm=_STEP_MM,
        help_text="Measured at the opening; plank and pad are taken off it.",
    )
    step = LengthField(
        label="Or: the floor beyond stands higher by",
        required=False,
        least_mm=None,
        most_mm=_STEP_MM,
        help_text="Once this floor is laid. Empty where level; with a minus where it is lower.",
    )
    swing = forms.ChoiceField(label="The door moves", choices=_SWINGS, required=False)
    clearance = LengthField(
        label="Clearance under the door now",
        required=False,
        least_mm=_ZERO,
        most_mm=_STEP_MM,
        help_text="From the floor as it is; where that comes out, from the subfloor.",
    )
    metal_frame = forms.BooleanField(label="Metal frame", required=False)
    treatment = forms.ChoiceField(
        label="What the floor does",
        choices=[("", "As proposed"), *Treatment.choices],
        required=False,
    )
    strip_covers = LengthField(
        label="Strip as bought: width it covers",
        required=False,
        most_mm=_STEP_MM,
    )
    strip_down = LengthField(
        label="Its range: floor beyond lower by up to",
        required=False,
        least_mm=_ZERO,
        most_mm=_STEP_MM,
    )
    strip_up = LengthField(
        label="Its range: floor beyond higher by up to",
        required=False,
        least_mm=_ZERO,
        most_mm=_STEP_MM,
    )
    casings = WholeField(label="Casings to undercut", least=0, most=8)
    doors_off = WholeField(label="Doors to take off and rehang", least=0, most=4)

    def __init__(
        self, data: Data = None, *, room: Room, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, **options)
        self.room = room
        for name, words in usual_strips(self.units).items():
            self.fields[name].help_text = f"Empty: {words}. {_USUAL}"
        wall, beyond = self.fields["wall"], self.fields["beyond"]
        if isinstance(wall, forms.TypedChoiceField):
            wall.choices = wall_choices(room)
        if isinstance(beyond, forms.ModelChoiceField):
            beyond.queryset = room.job.rooms.exclude(pk=room.pk)

    def clean(self) -> Cleaned:
        """Refuse a place in the room beyond that is told by half, and a height told twice."""
        data = super().clean() or {}
        place = {name: data.get(name) for name in ("beyond_wall", "beyond_offset")}
        given = [name for name, value in place.items() if value is not None]
        for name in set(place) - set(given) - set(self.errors) if given else ():
            self.add_error(name, "Nothing was typed; accepted: wall number and distance together.")
        if given and not data.get("beyond"):
            self.add_error("beyond", "No room is named; accepted: the room that this wall is in.")
        step = data.get("step")
        if step and step.mm and data.get("beyond_high"):
            message = (
                f"“{step.text}” was typed, and a height above the subfloor too; accepted: one."
            )
            self.add_error("step", message)
        self._refuse_past_first_corner(data)
        return data

    def _refuse_past_first_corner(self, data: Cleaned) -> None:
        """Refuse a distance from the last corner that leaves no wall for the opening."""
        offset, width = data.get("offset"), data.get("width")
        if data.get("corner") != "last" or not offset or not width or data.get("wall") is None:
            return
        most = self._wall_mm(data) - width.mm
        if 0 <= most < offset.mm:
            accepted = length_words(most, self.units)
            message = f"“{offset.text}” passes the wall's first corner; accepted: up to {accepted}."
            self.add_error("offset", message)

    def _wall_mm(self, data: Cleaned) -> Decimal:
        return Decimal(wall_lengths_mm(self.room)[data["wall"]])

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the doorway's fields; refused ones are left out."""
        data = self.cleaned_data
        values = {name: data[name] for name in _PLAIN if name in data}
        for name in _LENGTHS:
            if name in data:
                values[f"{name}_mm"] = data[name].mm if data[name] else None
        values["step_mm"] = values.get("step_mm") or _ZERO
        values["swing"] = values.get("swing") or Swing.NONE
        if data.get("offset"):
            values["offset_mm"] = self._from_first_corner(data)
        if "beyond_wall" in data and "beyond_offset" in data:
            wall, offset = data["beyond_wall"], data["beyond_offset"]
            values["beyond_wall"] = None if wall is None else wall - 1
            values["beyond_offset_mm"] = offset.mm if offset else None
        return values

    def _from_first_corner(self, data: Cleaned) -> Decimal:
        """Return the distance from the wall's first corner, whichever one it was measured from."""
        offset = Decimal(data["offset"].mm)
        from_last = (
            data.get("corner") == "last" and data.get("width") and data.get("wall") is not None
        )
        return self._wall_mm(data) - Decimal(data["width"].mm) - offset if from_last else offset


def initial_of_doorway(doorway: Doorway) -> dict[str, object]:
    """Return what the form of a stored doorway shows first."""
    initial = {name: getattr(doorway, name) for name in _PLAIN}
    initial["treatment"] = doorway.treatment if doorway.chosen_by_hand else ""
    for name in ("offset", *_LENGTHS):
        value = getattr(doorway, f"{name}_mm")
        initial[name] = None if value is None else Decimal(value)
    if doorway.beyond_high_mm is not None:
        initial["step"] = None
    wall = doorway.beyond_wall
    initial["beyond_wall"] = None if wall is None else wall + 1
    initial["beyond_offset"] = doorway.beyond_offset_mm
    return initial


def wall_choices(room: Room) -> list[tuple[int, str]]:
    """Return the sides of a room as choices, named as in its drawing, each with its length."""
    return [
        (number, f"Wall {wall_name(room, number)}, {length_words(mm, room.job.units)}")
        for number, mm in enumerate(wall_lengths_mm(room))
        if number >= len(room.edges) or room.edges[number]["wall"] is not None
    ]
