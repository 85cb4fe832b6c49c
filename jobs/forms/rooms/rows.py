"""The rows of a room's page: walls, diagonals, bow readings, what stands in the room.

Each row says what was typed in it as a value, or None where it was left empty.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import ClassVar, Unpack

from django import forms

from jobs.domain.rooms.typed import (
    EDGE_KINDS,
    HOLE_KINDS,
    ROUND,
    TURNS,
    TYPED_KINDS,
    BowReading,
    TypedDiagonal,
    TypedThing,
    TypedWall,
)
from jobs.domain.rooms.wall_walk import MOST_WALLS
from jobs.forms.base import (
    Cleaned,
    Data,
    FormOptions,
    LengthField,
    NumberField,
    PlainForm,
    WholeField,
)

_MISSING = "Nothing was typed; accepted: a {what}, or the row left empty."


class RowForm(PlainForm):
    """One row of a room's page. ``part`` names its kind in the fields that are sent."""

    part: ClassVar[str]
    is_new = False


def _whole_row(form: RowForm, names: Iterable[str]) -> Cleaned:
    """Return what a row says. Each of ``names`` that is missing beside others is refused."""
    data: Cleaned = form.cleaned_data
    fields = list(names)
    given = [name for name in fields if data.get(name) is not None]
    if given:
        for name in set(fields) - set(given) - set(form.errors):
            what = "length" if isinstance(form.fields[name], LengthField) else "number"
            form.add_error(name, _MISSING.format(what=what))
    return data


class WallForm(RowForm):
    """One wall: how long it is, and the corner at its far end."""

    part = "wall"
    length = LengthField(label="Length", required=False)
    turn = forms.ChoiceField(label="Then turn", choices=list(TURNS.items()), required=False)
    angle = NumberField(
        label="Angle",
        required=False,
        least=Decimal(1),
        most=Decimal(179),
        places=4,
    )

    edge = forms.ChoiceField(
        label="What stands there",
        choices=[(kind, EDGE_KINDS[kind]) for kind in TYPED_KINDS],
        required=False,
    )

    def __init__(self, data: Data = None, **options: Unpack[FormOptions]) -> None:
        super().__init__(data, **options)
        # Walls are numbered from 1, as on the drawing.
        self.fields["length"].label = f"Wall {int(str(self.prefix).rsplit('-', 1)[-1]) + 1}"

    @property
    def typed(self) -> TypedWall | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        length, angle = data.get("length"), data.get("angle")
        if length is None:
            return None
        return TypedWall(
            length=length.text,
            turn=data.get("turn") or "left",
            angle="" if angle is None else f"{angle:g}",
            edge=data.get("edge") or "wall",
        )

    @property
    def says_more(self) -> bool:
        """Whether the row says an angle or what stands at the wall, or has an error there."""
        more = (self["angle"].value(), self["angle"].errors, self["edge"].errors)
        return any(more) or (self["edge"].value() or "wall") != "wall"


class HoleForm(RowForm):
    """Something the floor goes round, measured from the first corner."""

    part = "hole"
    kind = forms.ChoiceField(
        label="What it is", choices=[(name, label) for name, (label, _) in HOLE_KINDS.items()]
    )
    x = LengthField(label="Along the first wall", required=False, least_mm=None)
    y = LengthField(label="Square to it", required=False, least_mm=None)
    width = LengthField(label="Width", required=False)
    depth = LengthField(label="Depth", required=False)

    def clean(self) -> Cleaned:
        """Refuse a row that is filled in only in part; a round thing has no depth."""
        names = ["x", "y", "width", "depth"]
        if (self.cleaned_data.get("kind") or "") in ROUND:
            names.remove("depth")
        return _whole_row(self, names)

    @property
    def typed(self) -> TypedThing | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("x") is None:
            return None
        sizes = {name: data[name].text for name in ("x", "y", "width", "depth") if data[name]}
        return TypedThing(name=data["kind"], **sizes)


class DiagonalForm(RowForm):
    """A length across the room, from corner to corner."""

    part = "diagonal"
    start = WholeField(label="From corner", least=1, most=MOST_WALLS + 1, required=False)
    end = WholeField(label="To corner", least=1, most=MOST_WALLS + 1, required=False)
    length = LengthField(label="Reads", required=False)

    def clean(self) -> Cleaned:
        """Refuse a row that is filled in only in part."""
        return _whole_row(self, ("start", "end", "length"))

    @property
    def typed(self) -> TypedDiagonal | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("length") is None:
            return None
        return TypedDiagonal(start=data["start"], end=data["end"], length=data["length"].text)


class BowForm(RowForm):
    """A reading along a bowed wall: where, and how far the wall is off the straight line there."""

    part = "bow"
    wall = WholeField(label="Wall", least=1, most=MOST_WALLS + 1, required=False)
    along = LengthField(label="From its first corner", required=False)
    into = LengthField(label="Into the room", required=False, least_mm=None)

    def clean(self) -> Cleaned:
        """Refuse a row that is filled in only in part."""
        return _whole_row(self, ("wall", "along", "into"))

    @property
    def typed(self) -> BowReading | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("along") is None:
            return None
        return BowReading(wall=data["wall"], along=data["along"].text, into=data["into"].text)


RoomRow = WallForm | HoleForm | DiagonalForm | BowForm
"""A row of a room's page; its ``typed`` is what it says, None where it is empty."""
