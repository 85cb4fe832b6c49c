"""The form of what is down of a floor and what is left to lay with."""

from __future__ import annotations

from django import forms

from jobs.domain.lengths import core_length_words, mm_in, system_of
from jobs.domain.numerals import whole_number
from jobs.forms.base import Cleaned, Data, LengthField, VersionedForm, WholeField
from jobs.models import FloorPlan
from jobs.readers.floors.resume import (
    Begun,
    last_width,
    leftovers,
    pieces_of_rows,
    wider_before,
    width_logged,
)
from layout.values.errors import InputError
from layout.values.plan import Offcut


class GoingOnForm(VersionedForm):
    """Rows and pieces that are down, whole planks at hand, leftovers that are gone."""

    def __init__(self, data: Data = None, *, plan: FloorPlan, begun: Begun, version: int) -> None:
        stored = plan.zone.going_on
        going = stored if stored.get("plan") == plan.pk else {}
        planks = going.get("planks", begun.planks)
        initial = {"rows": begun.rows, "pieces": 0, "planks": planks, "gone": going.get("gone")}
        initial["last_width"] = width_logged(plan.zone, plan)
        super().__init__(data, initial=initial, version=version)
        self.plan, self.begun = plan, begun
        unit = plan.zone.job.unit
        self.fields["last_width"] = LengthField(
            label="Width the last row comes out at",
            system=system_of(unit),
            required=False,
            help_text=(
                f"By the plan {core_length_words(last_width(plan), unit)}. Only where a tape says "
                "otherwise: the far wall is taken to be there."
            ),
        )
        self.fields["rows"] = WholeField(
            label="Rows that are down",
            least=0,
            most=begun.of_rows,
            of="whole rows from the start wall,",
            help_text="From the log; the plan keeps them as they lie.",
        )
        self.fields["pieces"] = WholeField(
            label="Pieces of the next row", least=0, most=500, help_text="From its first end."
        )
        self.fields["planks"] = WholeField(
            label="Whole planks at hand",
            least=0,
            most=20000,
            help_text="Counted in the room: what was bought less what was cut, laid or spoiled.",
        )
        self.fields["gone"] = forms.MultipleChoiceField(
            label="Offcuts that are gone",
            required=False,
            widget=forms.CheckboxSelectMultiple,
            choices=[(each.id, self._offcut_words(each)) for each in self.at_hand()],
            help_text="Broken, used elsewhere, thrown away. The others are taken to be there.",
        )
        self.order_fields(["key", "version", "rows", "pieces", "planks", "last_width", "gone"])

    def at_hand(self) -> tuple[Offcut, ...]:
        """Return the leftovers that lie at the rack with the rows of the form down."""
        rows, pieces = (self._number(name) for name in ("rows", "pieces"))
        try:
            return leftovers(self.plan, pieces_of_rows(self.plan, rows=rows, pieces=pieces))
        except InputError:
            return leftovers(self.plan, pieces_of_rows(self.plan, rows=self.begun.rows, pieces=0))

    def _number(self, name: str) -> int:
        typed = str(self.data.get(name, "")) if self.is_bound else ""
        number = whole_number(typed)
        return int(self.initial[name]) if number is None else number

    def _offcut_words(self, offcut: Offcut) -> str:
        unit = self.plan.zone.job.unit
        length, width = (core_length_words(each, unit) for each in (offcut.length, offcut.width))
        return f"{offcut.id}, {length} by {width}, of plank {offcut.plank}"

    @property
    def wider(self) -> float:
        """How much further off the far wall is than the rooms have it."""
        typed = self.cleaned_data.get("last_width")
        before = wider_before(self.plan.zone, self.plan)
        if typed is None:
            return before
        return before + mm_in(typed.mm, self.plan.zone.job.unit) - last_width(self.plan)

    def clean(self) -> Cleaned:
        """Refuse more pieces than the next row of the plan has."""
        data = super().clean() or {}
        if data.get("rows") is None or data.get("pieces") is None:
            return data
        try:
            data["laid"] = pieces_of_rows(self.plan, rows=data["rows"], pieces=data["pieces"])
        except InputError as bad:
            self.add_error(bad.field if bad.field in self.fields else None, str(bad))
        return data
