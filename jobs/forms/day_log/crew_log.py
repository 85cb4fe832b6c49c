"""The form of a day's log for the whole crew: hours as a grid, rows through one, planks by reason.

Every field may be left empty, but not all. Fields of a task and a person are named
``hours-<task>-<person>``; what a floor has, ``through-<task>`` and ``spoiled-<task>-<reason>``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.numerals import whole_number
from jobs.domain.tasks import OTHER, Task
from jobs.forms.base import Cleaned, Data, Files, FormOptions, NumberField, OnceForm, WholeField
from jobs.forms.day_log.beside import BesideFields
from jobs.forms.log import field_names
from jobs.models import SpoilReason, User, WorkDay
from jobs.readers.day_log.page import LogPage
from jobs.services.day_log.telling import Telling
from jobs.services.log import DAY_HOURS, LogLine

MOST_SPOILED = 500
MARK = "crew"
"""The field by which a log of the whole crew is told from one of a person alone."""


class CrewLogForm(BesideFields, OnceForm):
    """What a crew did on a day, and what stood beside it."""

    crew = forms.CharField(widget=forms.HiddenInput, initial="yes", required=False)
    scope = forms.IntegerField(
        widget=forms.HiddenInput,
        error_messages={"required": "This form came without its scope; open the day again."},
    )

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        page: LogPage,
        as_planned: bool = False,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, files, **options)
        self.page, self.as_planned = page, as_planned
        self.fields["scope"].initial = page.day.scope_id
        self.names = field_names(page.scope)
        for task in page.tasks:
            self._add_hours(task)
            if task.key in page.rows:
                self._add_rows(task)
        for person in page.people:
            self.fields[f"other-{person.pk}"] = _hours(f"{person.name}, other work")
        self.add_beside(page)

    @property
    def day(self) -> WorkDay:
        """The day that is logged."""
        return self.page.day

    def _add_hours(self, task: Task) -> None:
        for person in self.page.people:
            field = _hours(f"{person.name}, {self.page.label(task)}")
            planned = self.page.hours.get((task.key, person.pk))
            if planned is not None and task.key not in self.page.held:
                field.widget.attrs["data-planned"] = f"{planned.normalize():f}"
                field.initial = planned.normalize() if self.as_planned else None
            self.fields[f"hours-{self.names[task.key]}-{person.pk}"] = field

    def _add_rows(self, task: Task) -> None:
        name, rows = self.names[task.key], self.page.rows[task.key]
        through = WholeField(
            label=f"Last whole row, {task.zone}",
            least=1,
            most=rows.of,
            of=f"a row of the plan of {task.zone},",
            required=False,
            help_text="All rows up to it are down.",
        )
        through.widget.attrs |= {"data-down": rows.down, "inputmode": "numeric"}
        if rows.stop > rows.down and task.key not in self.page.held:
            through.widget.attrs["data-planned"] = rows.stop
            through.initial = rows.stop if self.as_planned else None
        self.fields[f"through-{name}"] = through
        for reason in SpoilReason:
            self.fields[f"spoiled-{name}-{_slug(reason)}"] = WholeField(
                label=reason.label, least=0, most=MOST_SPOILED, required=False
            )

    def cells(self, task: Task) -> list[BoundField]:
        """Return the fields of a task's hours, a person each."""
        return [self[f"hours-{self.names[task.key]}-{person.pk}"] for person in self.page.people]

    def other_cells(self) -> list[BoundField]:
        """Return the fields of other work, a person each."""
        return [self[f"other-{person.pk}"] for person in self.page.people]

    def through(self, task: Task) -> BoundField:
        """Return the field of the last row that is down."""
        return self[f"through-{self.names[task.key]}"]

    def spoiled(self, task: Task) -> list[BoundField]:
        """Return the fields of planks spoiled, a reason each."""
        return [self[f"spoiled-{self.names[task.key]}-{_slug(each)}"] for each in SpoilReason]

    def clean(self) -> Cleaned:
        """Refuse an empty log, one of days laid out anew, other work that nothing tells of."""
        data = super().clean() or self.cleaned_data
        if data.get("scope") not in (None, self.day.scope_id):
            self.add_error(None, _LAID_OUT_ANEW)
        for name in self._unknown():
            message = f"{name} is of somebody who is not of this crew, or of no task of the day."
            self.add_error(None, f"{message} Open the day again and enter it there.")
        if not self.errors and not (self.lines or self.anything_beside):
            accepted = "hours of a task, rows laid, planks spoiled, a note or a photograph"
            self.add_error(None, f"Nothing was entered; accepted: {accepted}.")
        return data

    def _unknown(self) -> list[str]:
        """Return the names of hours and rows that were sent and that this form doesn't have."""
        known = ("hours-", "other-", "through-", "spoiled-")
        return [
            name
            for name in self.data
            if name.startswith(known) and self.data.get(name) and name not in self.fields
        ]

    @property
    def lines(self) -> list[tuple[User, LogLine]]:
        """Return what was entered by person; rows and planks stand with the first who laid."""
        lines = [line for task in self.page.tasks for line in self._lines(task)]
        for person in self.page.people:
            hours = self.cleaned_data.get(f"other-{person.pk}")
            if hours:
                lines.append((person, LogLine(task=OTHER, hours=hours)))
        return lines

    def _lines(self, task: Task) -> Iterator[tuple[User, LogLine]]:
        name, data = self.names[task.key], self.cleaned_data
        hours = {
            person: data.get(f"hours-{name}-{person.pk}") or Decimal(0)
            for person in self.page.people
        }
        worked = [person for person, each in hours.items() if each] or list(self.page.people)
        last = data.get(f"through-{name}")
        spoiled = [(why, data.get(f"spoiled-{name}-{_slug(why)}") or 0) for why in SpoilReason]
        lost = [(why, count) for why, count in spoiled if count]
        for person in self.page.people:
            first = person == worked[0]
            yield from _of_person(task, person, hours[person], last if first else None)
            if first:
                for why, count in lost:
                    line = LogLine(task=task.code, zone=task.zone, spoiled=count, reason=why)
                    yield person, line

    @property
    def telling(self) -> Telling:
        """Return all of it as plain values."""
        return self.beside(tuple(self.lines))


def _of_person(
    task: Task, person: User, hours: Decimal, last: int | None
) -> Iterator[tuple[User, LogLine]]:
    if hours or last:
        rows = (1, last) if last else None
        yield person, LogLine(task=task.code, zone=task.zone, hours=hours, rows=rows)


def people_named(sent: Data) -> set[int]:
    """Return the keys of the people whose hours were sent: one may have left the crew since."""
    names = [name for name in sent or {} if name.startswith(("hours-", "other-"))]
    ends = (whole_number(name.rpartition("-")[2]) for name in names)
    return {end for end in ends if end is not None}


def is_of_the_crew(sent: Data) -> bool:
    """Whether what was sent is a log of the whole crew."""
    return sent is not None and MARK in sent


def people_words(people: Sequence[User]) -> list[str]:
    """Return the first names of people, in full where two are alike."""
    short = [person.name.split(" ")[0] for person in people]
    return [
        word if short.count(word) == 1 else person.name
        for word, person in zip(short, people, strict=True)
    ]


def _slug(reason: str) -> str:
    return str(SpoilReason(reason).value).replace(" ", "-")


def _hours(label: str) -> NumberField:
    field = NumberField(label=label, least=Decimal(0), most=Decimal(DAY_HOURS), required=False)
    field.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "aria-label": label}
    return field


_LAID_OUT_ANEW = (
    "The work was laid onto days anew since this page was opened; open the day again and enter "
    "it there."
)
