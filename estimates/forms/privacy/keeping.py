"""How long photographs and clients are kept."""

from __future__ import annotations

from django import forms

from jobs.domain.keeping import CLIENTS_MONTHS, PHOTOGRAPHS_MONTHS, months_words
from jobs.forms.base import VersionedForm


def _choices(months: tuple[int, ...]) -> list[tuple[str, str]]:
    return [("", months_words(None)), *((str(one), months_words(one)) for one in months)]


def _months(value: str) -> int | None:
    return int(value) if value else None


class KeepingForm(VersionedForm):
    """The owner's choice; both are reckoned from the day on which a job is closed."""

    photographs_months = forms.TypedChoiceField(
        label="Photographs of a job, after it is closed",
        choices=_choices(PHOTOGRAPHS_MONTHS),
        coerce=_months,
        empty_value=None,
        required=False,
    )
    clients_months = forms.TypedChoiceField(
        label="Clients, after their last job is closed",
        choices=_choices(CLIENTS_MONTHS),
        coerce=_months,
        empty_value=None,
        required=False,
    )
