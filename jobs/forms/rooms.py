"""The forms of a room: its name and treatment, its walls in walking order, what stands in it.

A room's page is one sheet of three: `RoomForm`, a row per wall, a row per hole. Rows left empty
are left out, so "Add a wall" may show as many as anyone likes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.http import QueryDict

from jobs.forms.base import (
    LengthField,
    NameField,
    NumberField,
    PlainForm,
    VersionedForm,
    WholeField,
)
from jobs.measuring import HOLE_KINDS, TURNS, Drawn, MeasureError, draw_room
from jobs.models import BaseTreatment, Job, Moisture, Room
from jobs.models.room import Furniture
from jobs.services.told import written_before

FIRST_WALLS = 4
MOST_ROWS = 200


class RoomForm(VersionedForm):
    """What a room is called and what is done in it; for a new one, a rectangle in two lengths."""

    name = NameField(label="Room", max_length=80)
    across = LengthField(label="Length", required=False)
    along = LengthField(label="Width", required=False)
    close_last = forms.BooleanField(
        label="Close the outline with one more wall",
        required=False,
        help_text="When the last wall was not measured: it runs straight back to the first corner.",
    )
    moisture = forms.ChoiceField(label="How wet it gets", choices=Moisture.choices)
    base = forms.ChoiceField(label="Base", choices=BaseTreatment.choices)
    shoe = forms.BooleanField(label="Add shoe or quarter round", required=False)
    furniture = forms.ChoiceField(label="Furniture to move", choices=Furniture.choices)
    toilets = WholeField(label="Toilets to lift", least=0, most=20)
    appliances = WholeField(label="Appliances to move", least=0, most=20)
    leveller_bags = WholeField(label="Bags of leveler", least=0, most=200)

    def __init__(self, *args: Any, job: Job, room: Room | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.job, self.room = job, room

    def clean_name(self) -> str:
        """Refuse a name that another room of the job has."""
        name: str = self.cleaned_data["name"]
        own = written_before(company=self.job.company, key=self.once_key)
        others = self.job.rooms.filter(name__iexact=name).exclude(pk=own or 0)
        if self.room is not None:
            others = others.exclude(pk=self.room.pk)
        if others.exists():
            message = f"Another room of this job is called “{name}”; accepted: a name of its own."
            raise forms.ValidationError(message)
        return name

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the room's fields."""
        names = ("name", "moisture", "base", "shoe", "furniture")
        counts = ("toilets", "appliances", "leveller_bags")
        return {name: self.cleaned_data[name] for name in (*names, *counts)}


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

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # Walls are numbered from 1, as on the drawing.
        self.fields["length"].label = f"Wall {int(str(self.prefix).rsplit('-', 1)[-1]) + 1}"

    @property
    def told(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        length = self.cleaned_data.get("length")
        if length is None:
            return None
        angle = self.cleaned_data.get("angle")
        turn = self.cleaned_data.get("turn") or "left"
        return {"length": length.text, "turn": turn, "angle": "" if angle is None else f"{angle:g}"}


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
        """Refuse a row that is filled in only in part."""
        data = super().clean() or {}
        names = ("x", "y", "width", "depth")
        given = [name for name in names if data.get(name) is not None]
        if given:
            for name in set(names) - set(given) - set(self.errors):
                self.add_error(
                    name, "Nothing was typed; accepted: a length, or the row left empty."
                )
        return data

    @property
    def told(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty row."""
        data = self.cleaned_data
        if data.get("x") is None:
            return None
        sizes = {name: data[name].text for name in ("x", "y", "width", "depth")}
        return {"kind": HOLE_KINDS[data["kind"]][1], "name": data["kind"], **sizes}


class RoomSheet:
    """The whole page of a room, as sent or as stored; see the module.

    ``checked`` False shows what was sent without judging it, for a page that only gets a row more.
    """

    def __init__(
        self,
        data: QueryDict | None,
        *,
        job: Job,
        room: Room | None = None,
        checked: bool = True,
        more: str = "",
    ) -> None:
        self.job, self.room, self.checked = job, room, checked
        self.drawn: Drawn | None = None
        measured = room.measured if room else {}
        holes = [{**hole, "kind": hole.get("name", "column")} for hole in measured.get("holes", [])]
        self.form = self._form(RoomForm, data, "", _initial(room))
        self.walls = self._rows(WallForm, data, "wall", measured.get("walls", []), FIRST_WALLS)
        self.holes = self._rows(HoleForm, data, "hole", holes, 0)
        rows = {"wall": (WallForm, self.walls), "hole": (HoleForm, self.holes)}
        if more in rows and len(rows[more][1]) < MOST_ROWS:
            kind, shown = rows[more]
            shown.append(self._form(kind, None, f"{more}-{len(shown)}", {}))
            shown[-1].is_new = True

    @property
    def offers_rectangle(self) -> bool:
        """Whether two lengths may stand for all walls: in a new room none of which is typed."""
        return self.room is None

    @property
    def blank_wall(self) -> WallForm:
        """An empty row that a sketch copies for each wall more."""
        return WallForm(None, units=self.job.units, prefix="wall-0")

    @property
    def blank_hole(self) -> HoleForm:
        """An empty row that a sketch copies for each obstacle more."""
        return HoleForm(None, units=self.job.units, prefix="hole-0")

    @property
    def forms(self) -> tuple[PlainForm, ...]:
        """Every form of the page."""
        return (self.form, *self.walls, *self.holes)

    @property
    def status(self) -> int:
        """The status of the page: 200 fresh, 409 overtaken, 422 refused."""
        return 409 if self.form.overtaken else max(form.status for form in self.forms)

    def is_valid(self) -> bool:
        """Tell whether every field and the outline are accepted; the room is drawn on the way."""
        fits = self.form.is_valid()
        return self.draws() and fits

    def draws(self) -> bool:
        """Tell whether the walls make an outline; a fault becomes an error at its row."""
        self.form.is_valid()
        if not all(form.is_valid() for form in (*self.walls, *self.holes)):
            return False
        try:
            self.drawn = draw_room(self.measured(), unit=self.job.unit)
        except MeasureError as fault:
            self._refuse(fault)
            return False
        return True

    def measured(self) -> dict[str, Any]:
        """Return what was typed, in the form in which a room keeps it."""
        walls = [form.told for form in self.walls if form.told]
        across, along = (self.form.cleaned_data.get(name) for name in ("across", "along"))
        if not walls and across and along:
            sides = [across, along, across, along]
            walls = [{"length": side.text, "turn": "left", "angle": ""} for side in sides]
        close = bool(self.form.cleaned_data.get("close_last"))
        holes = [form.told for form in self.holes if form.told]
        return {"walls": walls, "holes": holes, "close_last": close}

    def _refuse(self, fault: MeasureError) -> None:
        rows: list[Any] = {"wall": self.walls, "hole": self.holes}.get(fault.part, [])
        filled = [form for form in rows if form.told]
        if fault.row < len(filled):
            filled[fault.row].add_error(fault.field, fault.sentence)
        else:
            self.form.add_error(None, fault.sentence)

    def _form(
        self, kind: type[Any], data: QueryDict | None, prefix: str, initial: Mapping[str, Any]
    ) -> Any:
        """Return a form of the page, bound where it is to be judged."""
        kept: dict[str, Any] = {"units": self.job.units, "prefix": prefix or None}
        if kind is RoomForm:
            version = self.room.version if self.room else 1
            kept |= {"job": self.job, "room": self.room, "version": version}
        if data is None or self.checked:
            return kind(data, initial=initial, **kept)
        fields = kind.base_fields
        sent = {name: data.get(f"{prefix}-{name}" if prefix else name) for name in fields}
        return kind(None, initial=sent, **kept)

    def _rows(
        self,
        kind: type[Any],
        data: QueryDict | None,
        prefix: str,
        stored: Sequence[Mapping[str, Any]],
        least: int,
    ) -> list[Any]:
        """Return the rows of the page: those sent, else those stored and ``least`` at any rate."""
        if data is not None:
            count = _sent_rows(data, prefix)
            return [self._form(kind, data, f"{prefix}-{i}", {}) for i in range(count)]
        shown: list[Mapping[str, Any]] = [*stored, *({} for _ in range(least - len(stored)))]
        return [self._form(kind, None, f"{prefix}-{i}", row) for i, row in enumerate(shown)]


def _initial(room: Room | None) -> dict[str, Any]:
    """Return what the form of a room shows first."""
    shown = room or Room()
    names = ("name", "moisture", "base", "shoe", "furniture", "toilets", "appliances")
    initial = {name: getattr(shown, name) for name in (*names, "leveller_bags")}
    return initial | {"close_last": bool(shown.measured.get("close_last"))}


def _sent_rows(data: QueryDict, prefix: str) -> int:
    """Return how many rows of a kind were sent."""
    try:
        return max(0, min(MOST_ROWS, int(data.get(f"{prefix}-rows", "0"))))
    except ValueError:
        return 0
