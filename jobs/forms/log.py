"""The form of one person's day: hours for every task, rows and spoiled planks for every floor.

Phones that were without signal still send it; pages of today show that of the whole crew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.scope.crews_words import in_crews_words
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import OTHER, Task
from jobs.forms.base import Cleaned, Data, Files, FormOptions, NumberField, OnceForm, WholeField
from jobs.models import SpoilReason, User, WorkDay
from jobs.services.log import DAY_HOURS, LogLine, Photo

MOST_SPOILED = 500
_REASONS = [("", "No reason chosen"), *SpoilReason.choices]


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskFields:
    """The fields of one task, for the page; those of rows and planks only where boards are laid."""

    task: Task
    hint: str
    hours: BoundField
    row_from: BoundField | None = None
    row_to: BoundField | None = None
    spoiled: BoundField | None = None
    reason: BoundField | None = None


class LogForm(OnceForm):
    """What one person did on a day of a job. Every field may be left empty, but not all."""

    scope = forms.IntegerField(
        widget=forms.HiddenInput,
        error_messages={"required": "This form came without its scope; open the day again."},
    )
    who = forms.ModelChoiceField(label="Whose hours", queryset=User.objects.none())
    other_hours = NumberField(
        label="Other work, man-hours",
        least=Decimal(0),
        most=Decimal(DAY_HOURS),
        required=False,
        help_text="Work that is not in the scope; say in the note what it was.",
    )
    note = forms.CharField(
        label="Note",
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Lot numbers, readings, what stood in the way.",
    )
    photo = forms.FileField(
        label="Photograph",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        help_text="JPEG, PNG or WebP. Place and time of the picture are removed from it.",
    )

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        day: WorkDay,
        scope_of_day: FrozenScope,
        user: User,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, files, **options)
        self.day, self.scope_value = day, scope_of_day
        self.fields["scope"].initial = day.scope_id
        crew = User.objects.filter(pk__in=[user.pk, *day.crew.members.values_list("pk", flat=True)])
        people = self.fields["who"]
        if isinstance(people, forms.ModelChoiceField):
            people.queryset = crew
            people.empty_label = None
        self.fields["who"].initial = user.pk
        self.names = field_names(scope_of_day)
        for task in in_crews_words(scope_of_day.tasks, scope_of_day.quantities):
            self._add_fields(task)

    def _add_fields(self, task: Task) -> None:
        name = self.names[task.key]
        self.fields[f"hours-{name}"] = _hours(task)
        if not task.rows:
            return
        for start, label in (("from", "First row laid"), ("to", "Last row laid")):
            self.fields[f"{start}-{name}"] = WholeField(
                label=f"{label}, {task.zone}",
                least=task.rows[0],
                most=task.rows[1],
                of=f"a row of the plan of {task.zone},",
                required=False,
            )
        self.fields[f"spoiled-{name}"] = WholeField(
            label=f"Planks spoiled, {task.zone}", least=0, most=MOST_SPOILED, required=False
        )
        self.fields[f"reason-{name}"] = forms.ChoiceField(
            label=f"Why spoiled, {task.zone}", choices=_REASONS, required=False
        )

    def groups(self, held: Mapping[str, str]) -> tuple[list[TaskFields], list[TaskFields]]:
        """Return the fields of today's tasks, and those of the crew's other tasks.

        ``held`` gives the title of the hold that a task stands behind, by its key.
        """
        planned = {entry["key"]: entry["hours"] for entry in self.day.entries}
        order = list(planned)
        left = self.scope_value.left
        tasks = [task for task in self.scope_value.tasks if task.hours and task.code not in left]
        todays = sorted(
            (task for task in tasks if task.key in planned), key=lambda task: order.index(task.key)
        )
        others = [task for task in tasks if task.key not in planned]
        return (
            [self._task_fields(task, _hint(task, held, planned[task.key])) for task in todays],
            [self._task_fields(task, _hint(task, held, "")) for task in others],
        )

    def _task_fields(self, task: Task, hint: str) -> TaskFields:
        name = self.names[task.key]
        more = {
            field: self[f"{start}-{name}"]
            for field, start in _ROW_FIELDS.items()
            if f"{start}-{name}" in self.fields
        }
        return TaskFields(task=task, hint=hint, hours=self[f"hours-{name}"], **more)

    def clean(self) -> Cleaned:
        """Refuse an empty log, rows in the wrong order, spoiled planks without a reason."""
        data = super().clean() or self.cleaned_data
        if data.get("scope") not in (None, self.day.scope_id):
            self.add_error(None, _LAID_OUT_ANEW)
        for task in self.scope_value.tasks:
            if task.rows:
                self._clean_rows(self.names[task.key])
        if not self.errors and not (self.lines or data.get("note") or data.get("photo")):
            accepted = "hours of a task, rows laid, planks spoiled, a note or a photograph"
            self.add_error(None, f"Nothing was entered; accepted: {accepted}.")
        return data

    def _clean_rows(self, name: str) -> None:
        data = self.cleaned_data
        first, last = data.get(f"from-{name}"), data.get(f"to-{name}")
        if first is not None and last is not None and first > last:
            accepted = f"accepted: {first} or more"
            self.add_error(f"to-{name}", f"{last} comes before row {first}; {accepted}.")
        if data.get(f"spoiled-{name}") and not data.get(f"reason-{name}"):
            self.add_error(f"reason-{name}", "Planks were spoiled; choose why.")

    @property
    def lines(self) -> list[LogLine]:
        """Return what was entered, a line for every task of which something was."""
        lines = [self._line(task) for task in self.scope_value.tasks]
        other = self.cleaned_data.get("other_hours")
        if other:
            lines.append(LogLine(task=OTHER, hours=other))
        return [line for line in lines if line.hours or line.rows or line.spoiled]

    def _line(self, task: Task) -> LogLine:
        name, data = self.names[task.key], self.cleaned_data
        # The last row alone is all up to it; the first row alone is that row.
        last = data.get(f"to-{name}") or data.get(f"from-{name}")
        first = data.get(f"from-{name}") or (1 if last else None)
        spoiled = data.get(f"spoiled-{name}") or 0
        return LogLine(
            task=task.code,
            zone=task.zone,
            hours=data.get(f"hours-{name}") or Decimal(0),
            rows=(int(first), int(last)) if first and last else None,
            spoiled=spoiled,
            reason=data.get(f"reason-{name}", "") if spoiled else "",
        )

    @property
    def picture(self) -> Photo | None:
        """Return the photograph that was sent, None without one."""
        upload = self.cleaned_data.get("photo")
        return Photo(upload=upload.file, size=upload.size, name=upload.name) if upload else None


_ROW_FIELDS = {"row_from": "from", "row_to": "to", "spoiled": "spoiled", "reason": "reason"}
_LAID_OUT_ANEW = (
    "The work was laid onto days anew since this page was opened; open the day again and enter "
    "it there."
)


def _hint(task: Task, held: Mapping[str, str], planned: str) -> str:
    if task.key in held:
        return f"On hold: {held[task.key]}"
    return f"{Decimal(planned).normalize():f} h planned" if planned else ""


def _hours(task: Task) -> NumberField:
    label = f"{task.label} ({task.zone})" if task.zone else task.label
    return NumberField(label=label, least=Decimal(0), most=Decimal(DAY_HOURS), required=False)


def field_names(scope: FrozenScope) -> dict[str, str]:
    """Return the part of a field's name that stands for each task: its code, its floor's place."""
    places = {zone.name: place for place, zone in enumerate(scope.zones, start=1)}
    return {task.key: f"{task.code}-{places.get(task.zone, 0)}" for task in scope.tasks}
