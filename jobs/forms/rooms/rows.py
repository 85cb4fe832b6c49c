"""The rows of a room's page: walls, diagonals, bow readings, what stands in the room.

Each row tells what it says as it was typed, or None where it was left empty.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms

from jobs.domain.rooms.obstacles import ROUND
from jobs.domain.rooms.outline import HOLE_KINDS, TURNS
from jobs.domain.rooms.sides import EDGE_KINDS, TYPED_KINDS
from jobs.domain.rooms.wall_walk import MOST_WALLS
from jobs.forms.base import LengthField, NumberField, PlainForm, WholeField

_MISSING = "Nothing was typed; accepted: a {what}, or the row left empty."


def _whole_row(form: PlainForm, names: Iterable[str]) -> dict[str, Any]:
    """Return what a row says. Each of ``names`` that is missing beside others is refused."""
    data: dict[str, Any] = form.cleaned_data
    fields = list(names)
    given = [name for name in fields if data.get(name) is not None]
    if given:
        for name in set(fields) - set(given) - set(form.errors):
            what = "length" if isinstance(form.fields[name], LengthField) else "number"
            form.add_error(name, _MISSING.format(what=what))
    return data


class WallForm(PlainForm):
    """One wall: how long it is, and the corner at its far end."""

    is_new = False
    length = LengthField(label="Length", required=False)
    turn = forms.ChoiceField(label="Then turn", choices=TURNS, required=False)
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

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # Walls are numbered from 1, as on the drawing.
        self.fields["length"].label = f"Wall {int(str(self.prefix).rsplit('-', 1)[-1]) + 1}"

    @property
    def typed(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        length = self.cleaned_data.get("length")
        if length is None:
            return None
        angle = self.cleaned_data.get("angle")
        turn = self.cleaned_data.get("turn") or "left"
        return {
            "length": length.text,
            "turn": turn,
            "angle": "" if angle is None else f"{angle:g}",
            "edge": self.cleaned_data.get("edge") or "wall",
        }

    @property
    def says_more(self) -> bool:
        """Whether the row says an angle or what stands at the wall, or has an error there."""
        more = (self["angle"].value(), self["angle"].errors, self["edge"].errors)
        return any(more) or (self["edge"].value() or "wall") != "wall"


class HoleForm(PlainForm):
    """Something the floor goes round, measured from the first corner."""

    is_new = False
    kind = forms.ChoiceField(
        label="What it is", choices=[(name, label) for name, (label, _) in HOLE_KINDS.items()]
    )
    x = LengthField(label="Along the first wall", required=False, least_mm=None)
    y = LengthField(label="Square to it", required=False, least_mm=None)
    width = LengthField(label="Width", required=False)
    depth = LengthField(label="Depth", required=False)

    def clean(self) -> dict[str, Any]:
        """Refuse a row that is filled in only in part; a round thing has no depth."""
        names = ["x", "y", "width", "depth"]
        if (self.cleaned_data.get("kind") or "") in ROUND:
            names.remove("depth")
        return _whole_row(self, names)

    @property
    def typed(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("x") is None:
            return None
        sizes = {name: data[name].text for name in ("x", "y", "width", "depth") if data[name]}
        return {"kind": HOLE_KINDS[data["kind"]][1], "name": data["kind"], **sizes}


class DiagonalForm(PlainForm):
    """A length across the room, from corner to corner."""

    is_new = False
    start = WholeField(label="From corner", least=1, most=MOST_WALLS + 1, required=False)
    end = WholeField(label="To corner", least=1, most=MOST_WALLS + 1, required=False)
    length = LengthField(label="Reads", required=False)

    def clean(self) -> dict[str, Any]:
        """Refuse a row that is filled in only in part."""
        return _whole_row(self, ("start", "end", "length"))

    @property
    def typed(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("length") is None:
            return None
        ends = {name: str(data[name]) for name in ("start", "end")}
        return {**ends, "length": data["length"].text}


class BowForm(PlainForm):
    """A reading along a bowed wall: where, and how far the wall is off the straight line there."""

    is_new = False
    wall = WholeField(label="Wall", least=1, most=MOST_WALLS + 1, required=False)
    along = LengthField(label="From its first corner", required=False)
    into = LengthField(label="Into the room", required=False, least_mm=None)

    def clean(self) -> dict[str, Any]:
        """Refuse a row that is filled in only in part."""
        return _whole_row(self, ("wall", "along", "into"))

    @property
    def typed(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("along") is None:
            return None
        places = {name: data[name].text for name in ("along", "into")}
        return {"wall": str(data["wall"]), **places}


ROWS: dict[str, type[Any]] = {
    "wall": WallForm,
    "diagonal": DiagonalForm,
    "bow": BowForm,
    "hole": HoleForm,
}
