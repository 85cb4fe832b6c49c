"""What stands beside the hours of a day's log: photographs, readings, holds, punch list, extras."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime
from decimal import Decimal

from django import forms
from django.utils.dateparse import parse_datetime

from jobs.domain.numerals import whole_number
from jobs.domain.site.moisture import METHODS, MOST_VALUE, Reading, methods_on, out_of_range
from jobs.forms.base import Cleaned, NumberField, OnceForm, WholeField, text_field
from jobs.forms.extras.extra import MOST_HOURS
from jobs.forms.notes import PICTURES, PhotosField, PhotosInput, photo_of
from jobs.models import JobExtra, PunchItem, User
from jobs.readers.day_log.page import LogPage
from jobs.services.day_log.telling import ExtraWanted, GateCleared, Pictures, Telling
from jobs.services.log import LogLine, Photo

IN_THE_WAY = ("waited for client", "floor not flat", "wall out", "short of planks")
MOST_CARTONS = 2000
MOST_PUNCH = 20


class KnownLater(forms.TypedMultipleChoiceField):
    """Rows picked on a page that may be days old: those that are gone since are no fault."""

    def valid_value(self, value: object) -> bool:
        """Whether this is the key of a row at all; the service looks whether it is still there."""
        return whole_number(str(value)) is not None


class OneKnownLater(forms.TypedChoiceField):
    """One row picked on a page that may be days old."""

    def valid_value(self, value: object) -> bool:
        """Whether this is the key of a row at all."""
        return whole_number(str(value)) is not None


def _photos(label: str, **attrs: str) -> PhotosField:
    widget = PhotosInput(attrs={**PICTURES, **attrs})
    return PhotosField(label=label, required=False, widget=widget)


class BesideFields(OnceForm):
    """The fields that no task has."""

    phone = forms.CharField(widget=forms.HiddenInput, required=False, max_length=64)
    phone_at = forms.CharField(widget=forms.HiddenInput, required=False, max_length=40)
    photos = _photos("Photographs of the day")
    before = _photos("Before")
    after = _photos("After, from the same spot")
    after_of = OneKnownLater(label="The same spot as", required=False, coerce=int, empty_value=None)
    cartons = WholeField(label="Cartons opened today", least=0, most=MOST_CARTONS, required=False)
    lot = text_field("Lot", 80)
    last_width = text_field("Width the last row comes out at, where a tape says otherwise", 40)
    broken = WholeField(label="Offcuts broken", least=0, most=MOST_CARTONS, required=False)
    reading_method = forms.ChoiceField(
        label="Read with", required=False, choices=[(code, m.label) for code, m in METHODS.items()]
    )
    reading_value = NumberField(label="Reading", least=Decimal(0), most=MOST_VALUE, required=False)
    reading_where = text_field("Where it was read", 60)
    in_the_way = forms.MultipleChoiceField(
        label="In the way",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=[(each, each.capitalize()) for each in IN_THE_WAY],
    )
    note = text_field("Own words", 2000, rows=3)
    punch = text_field("Still to be put right, one a line", MOST_PUNCH * PunchItem.LONGEST, rows=3)
    punch_done = KnownLater(
        label="Put right today",
        required=False,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
    )
    signed_by = text_field("Homeowner, name", 120)
    signature = forms.FileField(
        label="Signature, as a picture", required=False, widget=forms.FileInput(attrs={**PICTURES})
    )
    extra_text = text_field("What is wanted, or what was found", JobExtra.LONGEST, rows=3)
    extra_by = text_field("Who wants it", 120)
    extra_hours = NumberField(
        label="About how many hours", least=Decimal("0.25"), most=MOST_HOURS, required=False
    )
    extra_photo = forms.FileField(
        label="Photograph of it", required=False, widget=forms.FileInput(attrs={**PICTURES})
    )

    def add_beside(self, page: LogPage) -> None:
        """Add the fields that hang on the job: earlier photographs, punch list, open holds."""
        spots = [("", "Those from before in this log"), *page.spots]
        self._choices("after_of", spots)
        self._choices("reading_method", _methods(page.subfloors))
        self.usual_method = methods_on(page.subfloors)[0][0]
        self._choices("punch_done", [(item.pk, item.text) for item in page.punch])
        self.read_on = page.day.date
        self.gate_codes = [hold.code for hold in page.gates]
        for hold in page.gates:
            name = f"gate-{hold.code}"
            self.fields[f"{name}-by"] = text_field(f"{hold.title}: cleared by", 120)
            self.fields[f"{name}-note"] = text_field("Paper or reading that says so", 300)
        self.fields["lot"].widget.attrs["data-planned"] = page.lot
        self.fields["lot"].initial = page.lot

    def _choices(self, name: str, choices: Sequence[tuple[object, object]]) -> None:
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = choices

    def clean(self) -> Cleaned:
        """Refuse extra work that says nothing of itself, and a punch list without an end."""
        data = super().clean() or self.cleaned_data
        if (data.get("extra_hours") or data.get("extra_photo") or data.get("extra_by")) and not (
            data.get("extra_text") or ""
        ).strip():
            self.add_error("extra_text", "Nothing was typed; accepted: what is wanted, in words.")
        method, value = data.get("reading_method"), data.get("reading_value")
        if method and value is not None and (said := out_of_range(method, value)):
            self.add_error("reading_value", said)
        if len(self._punch) > MOST_PUNCH:
            message = f"{len(self._punch)} lines are too many; accepted: up to {MOST_PUNCH}."
            self.add_error("punch", message)
        long = [line for line in self._punch if len(line) > PunchItem.LONGEST]
        if long:
            most = f"accepted: up to {PunchItem.LONGEST} characters a line."
            self.add_error("punch", f"“{long[0][:40]}…” is too long; {most}")
        return data

    @property
    def anything_beside(self) -> bool:
        """Whether anything was entered that is no task's."""
        names = ["note", "photos", "before", "after", "in_the_way", "cartons", "reading_value"]
        names += ["punch", "punch_done", "signed_by", "signature", "extra_text", "last_width"]
        gates = [f"gate-{code}-by" for code in self.gate_codes]
        return any(self.cleaned_data.get(name) for name in [*names, *gates])

    def beside(self, lines: tuple[tuple[User, LogLine], ...]) -> Telling:
        """Return the lines with all that stands beside them."""
        data = self.cleaned_data
        return Telling(
            lines=lines,
            note=data["note"],
            in_the_way=tuple(data["in_the_way"]),
            cartons=data["cartons"],
            lot=data["lot"] if data["cartons"] else "",
            last_width=data["last_width"],
            broken=data["broken"] or 0,
            pictures=Pictures(
                before=tuple(data["before"] or ()),
                after=tuple(data["after"] or ()),
                beside=tuple(data["photos"] or ()),
                after_of=data["after_of"],
            ),
            readings=self._readings,
            gates=self._gates,
            punch=tuple(self._punch),
            punch_done=tuple(data["punch_done"] or ()),
            signed_by=data["signed_by"],
            signature=self._photo("signature"),
            extra=self._extra,
            phone=data["phone"],
            phone_at=_moment(data["phone_at"]),
        )

    def _photo(self, name: str) -> Photo | None:
        upload = self.cleaned_data.get(name)
        return photo_of(upload) if upload else None

    @property
    def _punch(self) -> list[str]:
        lines = (self.cleaned_data.get("punch") or "").splitlines()
        return [line.strip() for line in lines if line.strip()]

    @property
    def _readings(self) -> tuple[Reading, ...]:
        data = self.cleaned_data
        if data["reading_value"] is None:
            return ()
        method = data["reading_method"] or self.usual_method
        where = data["reading_where"]
        value, on = data["reading_value"], self.read_on
        return (Reading(method=method, value=value, where=where, on=on),)

    @property
    def _gates(self) -> dict[str, GateCleared]:
        gates = {}
        for code in self.gate_codes:
            by = (self.cleaned_data.get(f"gate-{code}-by") or "").strip()
            if by:
                note = self.cleaned_data.get(f"gate-{code}-note") or ""
                gates[code] = GateCleared(by=by, note=note)
        return gates

    @property
    def _extra(self) -> ExtraWanted | None:
        data = self.cleaned_data
        text = data["extra_text"].strip()
        if not text:
            return None
        photo = self._photo("extra_photo")
        hours = data["extra_hours"]
        return ExtraWanted(text=text, asked_by=data["extra_by"], hours=hours, photo=photo)


def _methods(subfloors: Collection[str]) -> list[tuple[object, object]]:
    """Return the choices of a reading's method: those for these floors, the others below them."""
    fit, others = (
        [(code, METHODS[code].label) for code in codes] for codes in methods_on(subfloors)
    )
    return [*fit, ("Not for this floor", others)] if others else [*fit]


def _moment(text: str) -> datetime | None:
    """Return what a phone's clock said; None where it said nothing that can be read."""
    try:
        moment = parse_datetime(text)
    except ValueError:
        return None
    return moment if moment is not None and moment.tzinfo is not None else None
