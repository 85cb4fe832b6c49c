"""The hidden field by which a form knows whether somebody else saved its row since."""

from __future__ import annotations

from django import forms

HIGHEST_VERSION = 2**31 - 2
"""The column of a version is of 32 bits, and the version after it must be kept too."""


def version_field(*, required: bool = True) -> forms.IntegerField:
    """Return the version of a row that a person saw, no higher than one that can be kept."""
    return forms.IntegerField(
        min_value=1, max_value=HIGHEST_VERSION, required=required, widget=forms.HiddenInput
    )
