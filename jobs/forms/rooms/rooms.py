"""The forms of a room: its name and treatment, its walls in walking order, what stands in it.

A room's page is one sheet: `RoomForm`, and rows of walls, diagonals, bow readings and of what
stands in it (`jobs.forms.rooms.rows`). Rows left empty are left out, so "Add a wall" may show as
many as anyone likes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.http import QueryDict

from jobs.domain.documents import canonical_json
from jobs.domain.rooms.outline import Drawn, MeasureError, draw_room
from jobs.domain.rooms.wall_walk import MOST_WALLS
from jobs.forms.base import LengthField, NameField, PlainForm, VersionedForm, WholeField
from jobs.forms.rooms.rows import ROWS, BowForm, DiagonalForm, HoleForm, WallForm
from jobs.models import BaseTreatment, Job, Moisture, Room
from jobs.models.room import Furniture
from jobs.services.records import StaleError, written_before

FIRST_WALLS = 4
MOST_ROWS = 2 * MOST_WALLS  # more than a room may have, so that too many are refused, not lost


class RoomForm(VersionedForm):
    """What a room is called and what is done in it; for a new one, a rectangle in two lengths."""

    name = NameField(label="Room", max_length=80)
    seen = forms.CharField(required=False, max_length=100_000, widget=forms.HiddenInput)
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
    appliance_clear = LengthField(
        label="Room above an appliance that stays",
        required=False,
        least_mm=Decimal(0),
        most_mm=Decimal(3000),
        help_text="The least of them, up to what is over it. Empty: not measured.",
    )
    leveller_bags = WholeField(label="Bags of leveler", least=0, most=200)

    def __init__(self, *args: Any, job: Job, room: Room | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.job, self.room = job, room

    @property
    def seen_before(self) -> dict[str, Any] | None:
        """What was typed in the room when this page was opened, None where that is not known."""
        try:
            seen = json.loads(self.cleaned_data.get("seen") or "null")
        except ValueError:
            return None
        return seen if isinstance(seen, dict) else None

    def _note_overtaken(self, stale: StaleError) -> None:
        """Let what stands now be what the next sending has seen."""
        super()._note_overtaken(stale)
        if isinstance(stale.current, Room) and isinstance(self.data, QueryDict):
            self.data["seen"] = canonical_json(stale.current.measured)

    def clean_name(self) -> str:
        """Refuse a name that another room of the job has."""
        name: str = self.cleaned_data["name"]
        made_pk = written_before(company=self.job.company, key=self.once_key)
        others = self.job.rooms.filter(name__iexact=name).exclude(pk=made_pk or 0)
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
        values = {name: self.cleaned_data[name] for name in (*names, *counts)}
        clear = self.cleaned_data["appliance_clear"]
        return values | {"appliance_clear_mm": clear.mm if clear else None}


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
        stored = {part: measured.get(f"{part}s", []) for part in ROWS} | {"hole": holes}
        self.form = self._form(RoomForm, data, "", _initial(room))
        self.rows: dict[str, list[Any]] = {
            part: self._rows(kind, data, part, stored[part], FIRST_WALLS if part == "wall" else 0)
            for part, kind in ROWS.items()
        }
        self.full = ""
        if more in ROWS:
            self._add_row(more)

    @property
    def walls(self) -> list[WallForm]:
        """A row for every wall."""
        return self.rows["wall"]

    @property
    def holes(self) -> list[HoleForm]:
        """A row for everything that stands in the room."""
        return self.rows["hole"]

    @property
    def offers_rectangle(self) -> bool:
        """Whether two lengths may stand for all walls: in a new room none of which is typed."""
        return self.room is None

    @property
    def blank_wall(self) -> WallForm:
        """An empty row that a page copies for each wall more."""
        return WallForm(None, units=self.job.units, prefix="wall-0")

    @property
    def blank_hole(self) -> HoleForm:
        """An empty row that a page copies for each obstacle more."""
        return HoleForm(None, units=self.job.units, prefix="hole-0")

    @property
    def blank_diagonal(self) -> DiagonalForm:
        """An empty row that a page copies for each diagonal more."""
        return DiagonalForm(None, units=self.job.units, prefix="diagonal-0")

    @property
    def blank_bow(self) -> BowForm:
        """An empty row that a page copies for each reading along a bowed wall more."""
        return BowForm(None, units=self.job.units, prefix="bow-0")

    @property
    def forms(self) -> tuple[PlainForm, ...]:
        """Every form of the page."""
        return (self.form, *self._row_forms)

    @property
    def _row_forms(self) -> tuple[PlainForm, ...]:
        return tuple(form for rows in self.rows.values() for form in rows)

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
        if not all(form.is_valid() for form in self._row_forms):
            return False
        try:
            self.drawn = draw_room(self.measured(), unit=self.job.unit)
        except MeasureError as fault:
            self._refuse(fault)
            return False
        return True

    def measured(self) -> dict[str, Any]:
        """Return what was typed, in the form in which a room keeps it."""
        walls = [form.typed for form in self.walls if form.typed]
        across, along = (self.form.cleaned_data.get(name) for name in ("across", "along"))
        if not walls and across and along:
            sides = [across, along, across, along]
            plain = {"turn": "left", "angle": "", "edge": "wall"}
            walls = [{"length": side.text, **plain} for side in sides]
        close = bool(self.form.cleaned_data.get("close_last"))
        others = {
            f"{part}s": [form.typed for form in rows if form.typed]
            for part, rows in self.rows.items()
            if part != "wall"
        }
        return {"walls": walls, "close_last": close, **others}

    def _refuse(self, fault: MeasureError) -> None:
        rows: list[Any] = self.rows.get(fault.part, [])
        filled = [form for form in rows if form.typed]
        if fault.row < len(filled):
            filled[fault.row].add_error(fault.field, fault.sentence)
        else:
            self.form.add_error(None, fault.sentence)

    def _add_row(self, part: str) -> None:
        """Show one empty row more, or say why there is none."""
        shown = self.rows[part]
        if len(shown) >= MOST_WALLS:
            self.full = f"{len(shown)} rows are shown; accepted: up to {MOST_WALLS} in one room."
            return
        shown.append(self._form(ROWS[part], None, f"{part}-{len(shown)}", {}))
        shown[-1].is_new = True

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
    clear = shown.appliance_clear_mm
    initial["appliance_clear"] = None if clear is None else Decimal(clear)
    seen = canonical_json(shown.measured) if room else ""
    return initial | {"close_last": bool(shown.measured.get("close_last")), "seen": seen}


def _sent_rows(data: QueryDict, prefix: str) -> int:
    """Return how many rows of a kind were sent."""
    try:
        return max(0, min(MOST_ROWS, int(data.get(f"{prefix}-rows", "0"))))
    except ValueError:
        return 0
