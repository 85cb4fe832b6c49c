"""The forms of an invoice: issued, marked void."""

from __future__ import annotations

from datetime import date
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.invoices.stages import InvoiceDue
from jobs.domain.figures import money
from jobs.forms.base import NameField, OnceForm, text_field


class IssueInvoiceForm(OnceForm):
    """The invoice that is issued now: which, by when it is to be paid, and a note on it."""

    seen = forms.ChoiceField(
        label="What to bill",
        widget=forms.RadioSelect,
        error_messages={
            "required": "Nothing was chosen; accepted: one of these.",
            "invalid_choice": "Another invoice is due by now; look at it and choose again.",
        },
    )
    due_on = forms.DateField(label="Pay by", widget=forms.DateInput(attrs={"type": "date"}))
    note = text_field("Note on the invoice", 600, rows=2)

    # Any: Django's own arguments, handed on as they came.
    def __init__(
        self,
        *args: Any,
        dues: tuple[InvoiceDue, ...],
        currency: str,
        today: date,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        seen = cast(forms.ChoiceField, self.fields["seen"])
        seen.choices = [(due.mark, _words(due, currency)) for due in dues]
        if len(dues) == 1:
            seen.initial = dues[0].mark

    def clean_due_on(self) -> date:
        """Refuse a day that has passed."""
        day: date = self.cleaned_data["due_on"]
        if day < self.today:
            accepted = f"accepted: {self.today.isoformat()}, today, or later"
            raise ValidationError(f"{day.isoformat()} has passed; {accepted}.")
        return day


class ReasonForm(OnceForm):
    """Why something that stays in the book counts no more."""

    reason = NameField(label="Reason", max_length=200)


def _words(due: InvoiceDue, currency: str) -> str:
    parts = [f"{line.label} {money(line.amount, currency)}" for line in due.lines]
    if due.held:
        parts.append(f"retainage held back {money(-due.held, currency)}")
    if due.released:
        parts.append(f"retainage {money(due.released, currency)}")
    if len(parts) == 1:
        return parts[0]
    return f"{due.name}, {money(due.payable, currency)}: {'; '.join(parts)}"
