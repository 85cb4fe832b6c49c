"""The words of the money forms: who is asked, and units as they are written."""

from __future__ import annotations

from estimates.forms.fields import MATERIALS
from estimates.forms.quotes import AcceptForm, RecordAcceptanceForm


def test_the_office_is_asked_who_accepted_and_the_homeowner_for_a_name() -> None:
    assert RecordAcceptanceForm().fields["name"].label == "Who accepted"
    assert AcceptForm().fields["name"].label == "Your name"


def test_materials_are_priced_each_or_per_unit_as_it_is_written() -> None:
    assert dict(MATERIALS)["disposal"].endswith("per ft²")
    assert not any(label.endswith("per each") or "ft2" in label for _, label in MATERIALS)
