"""The form of a doorway: where it is, what lies beyond, what the floor does in it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from jobs.forms.base import LengthField, VersionedForm, WholeField
from jobs.models import Room, Treatment
from jobs.openings import wall_lengths_mm
from jobs.words import length_words

_ZERO = Decimal(0)
_DEEPEST_MM = Decimal(1500)
_STEP_MM = Decimal(1000)


class DoorwayForm(VersionedForm):
    """An opening in a wall of ``room``."""

    wall = forms.TypedChoiceField(label="In which wall", coerce=int)
    offset = LengthField(
        label="From the wall's first corner",
        help_text="To the nearer side of the opening, in the direction the room was walked.",
        least_mm=_ZERO,
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
    beyond_floor = forms.CharField(
        label="Floor beyond",
        required=False,
        max_length=80,
        help_text="Where it is no room of this job: tile in the bath, the porch.",
    )
    step = LengthField(
        label="The floor beyond stands higher by",
        help_text="0 where level; with a minus where it stands lower.",
        least_mm=None,
        most_mm=_STEP_MM,
    )
    treatment = forms.ChoiceField(label="What the floor does", choices=Treatment.choices)
    casings = WholeField(label="Casings to undercut", least=0, most=8)
    doors_off = WholeField(label="Doors to take off and rehang", least=0, most=4)

    def __init__(self, *args: Any, room: Room, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.room = room
        wall, beyond = self.fields["wall"], self.fields["beyond"]
        if isinstance(wall, forms.TypedChoiceField):
            wall.choices = wall_choices(room)
        if isinstance(beyond, forms.ModelChoiceField):
            beyond.queryset = room.job.rooms.exclude(pk=room.pk)

    def clean(self) -> dict[str, Any]:
        """Refuse a place in the room beyond that is told by half, or without the room."""
        data = super().clean() or {}
        place = {name: data.get(name) for name in ("beyond_wall", "beyond_offset")}
        given = [name for name, value in place.items() if value is not None]
        for name in set(place) - set(given) - set(self.errors) if given else ():
            self.add_error(name, "Nothing was typed; accepted: wall number and distance together.")
        if given and not data.get("beyond"):
            self.add_error("beyond", "No room is named; accepted: the room that this wall is in.")
        return data

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the doorway's fields."""
        data = self.cleaned_data
        names = ("wall", "beyond", "beyond_floor", "treatment", "casings", "doors_off")
        values = {name: data[name] for name in names}
        values |= {f"{name}_mm": data[name].mm for name in ("offset", "width", "depth", "step")}
        wall, offset = data["beyond_wall"], data["beyond_offset"]
        values["beyond_wall"] = None if wall is None else wall - 1
        values["beyond_offset_mm"] = offset.mm if offset else None
        return values


def wall_choices(room: Room) -> list[tuple[int, str]]:
    """Return the walls of a room as choices: number and length."""
    return [
        (number, f"Wall {number + 1}, {length_words(mm, room.job.units)}")
        for number, mm in enumerate(wall_lengths_mm(room))
    ]
