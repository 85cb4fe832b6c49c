"""What a field says when it refuses: the value where it is known, and what would be accepted.

The framework's own sentences ("This field is required.") name neither. A message that a form gave
its field, or that a field of ours carries, is left as it is.
"""

from __future__ import annotations

from django import forms

_BY_KIND: tuple[tuple[type[forms.Field], dict[str, str]], ...] = (
    (forms.ChoiceField, {"required": "Nothing was chosen; accepted: one of the list."}),
    (forms.ModelChoiceField, {"required": "Nothing was chosen; accepted: one of the list."}),
    (
        forms.DateField,
        {
            "required": "No day was given; accepted: a day written as 2026-11-25.",
            "invalid": "This is no day of the calendar; accepted: a day written as 2026-11-25.",
        },
    ),
    (
        forms.EmailField,
        {"invalid": "“%(value)s” is no address; accepted: such as name@example.com."},
    ),
    (
        forms.DecimalField,
        {"invalid": "This is no number; accepted: digits and a decimal point, such as 12.5."},
    ),
    (forms.IntegerField, {"invalid": "This is no whole number; accepted: digits, such as 12."}),
    (forms.Field, {"required": "Nothing was typed; an entry is needed here."}),
)
_BY_CHECK = {
    "min_value": "%(show_value)s is too small; accepted: %(limit_value)s or more.",
    "max_value": "%(show_value)s is too large; accepted: %(limit_value)s or less.",
    "max_length": "%(show_value)d characters are too many; accepted: up to %(limit_value)d.",
    "max_digits": "%(value)s is too long; accepted: up to %(max)s digits in all.",
    "max_decimal_places": "%(value)s is too fine; accepted: up to %(max)s decimal places.",
    "max_whole_digits": "%(value)s is too large; accepted: up to %(max)s digits before the point.",
}


def say_plainly(field: forms.Field) -> None:
    """Give ``field`` sentences of ours wherever it still has the framework's own."""
    for code, sentence in _BY_CHECK.items():
        field.error_messages.setdefault(code, sentence)
    said = set[str]()
    for kind, sentences in _BY_KIND:
        if isinstance(field, kind):
            for code in sentences.keys() - said:
                _replace(field, code, sentences[code])
            said |= sentences.keys()


def _replace(field: forms.Field, code: str, sentence: str) -> None:
    if field.error_messages.get(code, "") == (_framework(field, code) or ""):
        field.error_messages[code] = sentence


def _framework(field: forms.Field, code: str) -> str | None:
    """Return the sentence the field was born with, None where a class of ours gave it one."""
    for kind in type(field).__mro__:
        messages = vars(kind).get("default_error_messages", {})
        if code in messages:
            return messages[code] if kind.__module__.startswith("django.") else None
    return None
