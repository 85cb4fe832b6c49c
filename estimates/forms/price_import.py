"""The forms of an import: the file, and the word to import what was looked at."""

from __future__ import annotations

from django import forms

from estimates.domain.book.cells import ACCEPTED, MOST_BYTES
from jobs.forms.base import OnceForm


class PriceFileForm(OnceForm):
    """A file of prices; what is wrong with it as a whole is said at once."""

    file = forms.FileField(
        label="CSV file",
        max_length=120,
        help_text="CSV in UTF-8, of up to 5,000 rows.",
        widget=forms.FileInput(attrs={"accept": ".csv,text/csv"}),
        error_messages={
            "required": f"Nothing was chosen; accepted: {ACCEPTED}.",
            "empty": f"The file is empty; accepted: {ACCEPTED}.",
        },
    )

    def clean_file(self) -> object:
        """Refuse a file that is too large before it is read."""
        sent = self.cleaned_data["file"]
        if sent.size > MOST_BYTES:
            size = f"{sent.size / 1_000_000:.1f} MB"
            raise forms.ValidationError(f"“{sent.name}” has {size}; accepted: {ACCEPTED}.")
        return sent


class ImportForm(OnceForm):
    """The word to import: the book as it was when somebody looked at the preview."""

    mark = forms.CharField(max_length=60, widget=forms.HiddenInput)
