"""Forms of what is asked about a log."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django import forms

from jobs.forms.base import Data, NameField, OnceForm, text_field
from jobs.services.day_log.answering import ANSWERS


class HoursAnswerForm(OnceForm):
    """Which hours of a person's day count."""

    answer = forms.ChoiceField(
        label="What counts", choices=list(ANSWERS.items()), widget=forms.RadioSelect
    )


class LetGoForm(OnceForm):
    """The task that goes on under a hold, who says so, and why."""

    task = forms.ChoiceField(label="Task")
    by = NameField(label="On whose word", max_length=120)
    reason = text_field("Reason", 300, rows=3, required=True)

    def __init__(
        self,
        data: Data = None,
        *,
        tasks: Sequence[tuple[str, str]],
        initial: Mapping[str, object] | None = None,
    ) -> None:
        super().__init__(data, initial=initial)
        field = self.fields["task"]
        if isinstance(field, forms.ChoiceField):
            field.choices = tasks
