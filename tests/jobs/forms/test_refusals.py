"""A refused field names what would be accepted, in sentences of our own."""

from __future__ import annotations

import pytest
from django import forms

from jobs.forms.base import PlainForm


class _Form(PlainForm):
    name = forms.CharField(max_length=5)
    day = forms.DateField()
    year = forms.IntegerField(min_value=1600, max_value=2100)
    kind = forms.ChoiceField(choices=[("wood", "Wood")])
    lot = forms.CharField(error_messages={"required": "Type the lot number."})


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("name", "", "Nothing was typed; an entry is needed here."),
        ("name", "too long", "8 characters are too many; accepted: up to 5."),
        ("day", "31/31/2026", "This is no day of the calendar; accepted: a day written as 2026"),
        ("year", "12", "12 is too small; accepted: 1600 or more."),
        ("year", "9999", "9999 is too large; accepted: 2100 or less."),
        ("year", "abc", "This is no whole number; accepted: digits, such as 12."),
        ("kind", "", "Nothing was chosen; accepted: one of the list."),
        ("lot", "", "Type the lot number."),
    ],
)
def test_a_refused_field_says_what_would_be_accepted(field: str, typed: str, said: str) -> None:
    assert str(_Form({field: typed}).errors[field][0]).startswith(said)
