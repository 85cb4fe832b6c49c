"""A choice of several rows, whatever was sent as their numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Model

from jobs.domain.numerals import whole_number

if TYPE_CHECKING:
    _Rows = forms.ModelMultipleChoiceField[Model]
else:
    _Rows = forms.ModelMultipleChoiceField


class RowsField(_Rows):
    """Several rows by their numbers; one that no database holds is refused like one not offered."""

    def clean(self, value: Any) -> Any:  # Any: what a browser sent, and the rows chosen by it
        """Return the rows. Raises ValidationError for a number that is none."""
        for number in value or ():
            if whole_number(str(number)) is None:
                sentence = self.error_messages["invalid_choice"]
                raise ValidationError(sentence, code="invalid_choice", params={"value": number})
        return super().clean(value)
