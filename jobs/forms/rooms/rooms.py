"""The forms of a room: its name and treatment, its walls in walking order, what stands in it.

A room's page is one sheet: `RoomForm`, and rows of walls, diagonals, bow readings and of what
stands in it (`jobs.forms.rooms.rows`). Rows left empty are left out, so "Add a wall" may show as
many as anyone likes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from decimal import Decimal
from typing import TypeVar, Unpack

from django import forms
from django.http import QueryDict

from jobs.domain.documents import canonical_json
from jobs.domain.rooms.outline import Drawn, draw_room
from jobs.domain.rooms.stored import typed_room
from jobs.domain.rooms.typed import RoomTreatment, TypedRoom, TypedThing, TypedWall
from jobs.domain.rooms.typed_lengths import MeasureError
from jobs.domain.rooms.wall_walk import MOST_WALLS
from jobs.forms.base import (
    Data,
    LengthField,
    NameField,
    PlainForm,
    TypedLength,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.forms.rooms.rows import BowForm, DiagonalForm, HoleForm, RoomRow, RowForm, WallForm
from jobs.models import BaseTreatment, Job, Moisture, Room
from jobs.models.room import Furniture
from jobs.readers.rooms import measured_of, treatment_of
from jobs.services.records import StaleError, written_before

AnyRow = TypeVar("AnyRow", bound=RowForm)
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
    sure_last = forms.BooleanField(
        label="The last wall is sure",
        required=False,
        help_text="Known well, such as between two fixed doorways: what is off goes to the others.",
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
    leveler_bags = WholeField(label="Bags of leveler", least=0, most=200)

    def __init__(
        self,
        data: Data = None,
        *,
        job: Job,
        room: Room | None = None,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, **options)
        self.job, self.room = job, room

    @property
    def seen_before(self) -> TypedRoom | None:
        """What was typed in the room when this page was opened, None where that is not known."""
        try:
            return typed_room(json.loads(self.cleaned_data.get("seen") or "null"))
        except (ValueError, RecursionError):  # a BadValueError is a ValueError
            return None

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
    def treatment(self) -> RoomTreatment:
        """What the room is called and what is done in it."""
        data = self.cleaned_data
        clear: TypedLength | None = data["appliance_clear"]
        return RoomTreatment(
            name=data["name"],
            moisture=data["moisture"],
            base=data["base"],
            shoe=data["shoe"],
            furniture=data["furniture"],
            toilets=data["toilets"],
            appliances=data["appliances"],
            leveler_bags=data["leveler_bags"],
            appliance_clear_mm=clear.mm if clear else None,
        )


class RoomSheet:
    """The whole page of a room, as sent or as stored; see the module.

    ``checked`` False shows what was sent without judging it, for a page that only gets a row more:
    ``more`` names the kind of that row.
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
        self.job, self.room, self.checked, self.more = job, room, checked, more
        self.drawn: Drawn | None = None
        self.full = ""
        self.form = self._room_form(data)
        stored = measured_of(room) if room else TypedRoom()
        self.walls = self._rows(WallForm, data, map(asdict, stored.walls), least=FIRST_WALLS)
        self.diagonals = self._rows(DiagonalForm, data, map(asdict, stored.diagonals))
        self.bows = self._rows(BowForm, data, map(asdict, stored.bows))
        self.holes = self._rows(HoleForm, data, map(_initial_of_thing, stored.holes))

    @property
    def rows(self) -> Mapping[str, Sequence[RoomRow]]:
        """The rows of every kind, by the kind's name."""
        kinds: tuple[Sequence[RoomRow], ...] = (self.walls, self.diagonals, self.bows, self.holes)
        return dict(zip(("wall", "diagonal", "bow", "hole"), kinds, strict=True))

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
    def _row_forms(self) -> tuple[RoomRow, ...]:
        return tuple(form for rows in self.rows.values() for form in rows)

    @property
    def status(self) -> int:
        """The status of the page: 200 fresh, 409 overtaken, 422 refused."""
        return 409 if self.form.overtaken else max(form.status for form in self.forms)

    def is_valid(self) -> bool:
        """Whether every field and the outline are accepted; the room is drawn on the way."""
        fits = self.form.is_valid()
        return self.draws() and fits

    def draws(self) -> bool:
        """Whether the walls make an outline; a fault becomes an error at its row."""
        self.form.is_valid()
        if not all(form.is_valid() for form in self._row_forms):
            return False
        try:
            self.drawn = draw_room(self.measured(), unit=self.job.unit)
        except MeasureError as fault:
            self._refuse(fault)
            return False
        return True

    def measured(self) -> TypedRoom:
        """Return what was typed in the room; call it once every row is valid."""
        return TypedRoom(
            walls=tuple(form.typed for form in self.walls if form.typed) or self._rectangle(),
            close_last=bool(self.form.cleaned_data.get("close_last")),
            sure_last=bool(self.form.cleaned_data.get("sure_last")),
            diagonals=tuple(form.typed for form in self.diagonals if form.typed),
            bows=tuple(form.typed for form in self.bows if form.typed),
            holes=tuple(form.typed for form in self.holes if form.typed),
        )

    def _rectangle(self) -> tuple[TypedWall, ...]:
        """Return the walls of a rectangle of two lengths, none where they were not typed."""
        across, along = (self.form.cleaned_data.get(name) for name in ("across", "along"))
        if not across or not along:
            return ()
        return tuple(TypedWall(length=side.text) for side in (across, along, across, along))

    def _refuse(self, fault: MeasureError) -> None:
        filled = [form for form in self.rows.get(fault.part, ()) if form.typed]
        if fault.row < len(filled):
            filled[fault.row].add_error(fault.field, fault.sentence)
        else:
            self.form.add_error(None, fault.sentence)

    def _room_form(self, data: QueryDict | None) -> RoomForm:
        """Return the form beside the rows, bound where it is to be judged."""
        initial = _initial(self.room)
        if data is not None and not self.checked:
            initial, data = _sent(data, RoomForm, ""), None
        return RoomForm(
            data,
            job=self.job,
            room=self.room,
            initial=initial,
            units=self.job.units,
            version=self.room.version if self.room else 1,
        )

    def _rows(
        self,
        kind: type[AnyRow],
        data: QueryDict | None,
        stored: Iterable[Mapping[str, object]],
        *,
        least: int = 0,
    ) -> list[AnyRow]:
        """Return the rows of one kind: those sent, else those stored and ``least`` at any rate."""
        if data is None:
            shown = list(stored)
            shown += [{}] * (least - len(shown))
        else:
            shown = [{}] * _sent_rows(data, kind.part)
        rows = [self._row(kind, data, number, initial) for number, initial in enumerate(shown)]
        if self.more == kind.part:
            self._add_row(kind, rows)
        return rows

    def _row(
        self, kind: type[AnyRow], data: QueryDict | None, number: int, initial: Mapping[str, object]
    ) -> AnyRow:
        """Return a row of the page, bound where it is to be judged."""
        prefix = f"{kind.part}-{number}"
        if data is not None and not self.checked:
            initial, data = _sent(data, kind, f"{prefix}-"), None
        return kind(data, initial=initial, prefix=prefix, units=self.job.units)

    def _add_row(self, kind: type[AnyRow], rows: list[AnyRow]) -> None:
        """Show one empty row more, or say why there is none."""
        if len(rows) >= MOST_WALLS:
            self.full = f"{len(rows)} rows are shown; accepted: up to {MOST_WALLS} in one room."
            return
        rows.append(self._row(kind, None, len(rows), {}))
        rows[-1].is_new = True


def _sent(data: QueryDict, kind: type[PlainForm], prefix: str) -> dict[str, object]:
    """Return what was sent for a form of the page, as it stands."""
    return {name: data.get(f"{prefix}{name}") for name in kind.base_fields}


def _initial_of_thing(thing: TypedThing) -> dict[str, object]:
    """Return what the row of a stored thing shows first."""
    return asdict(thing) | {"kind": thing.name}


def _initial(room: Room | None) -> dict[str, object]:
    """Return what the form of a room shows first."""
    shown = room or Room()
    treatment = treatment_of(shown)
    return asdict(treatment) | {
        "appliance_clear": treatment.appliance_clear_mm,
        "close_last": bool(shown.measured.get("close_last")),
        "sure_last": bool(shown.measured.get("sure_last")),
        "seen": canonical_json(shown.measured) if room else "",
    }


def _sent_rows(data: QueryDict, part: str) -> int:
    """Return how many rows of a kind were sent."""
    try:
        return max(0, min(MOST_ROWS, int(data.get(f"{part}-rows", "0"))))
    except ValueError:
        return 0
