"""Which plank is damaged: its row, and its place in the row."""

from __future__ import annotations

from collections.abc import Mapping

from django import forms

from jobs.forms.base import Cleaned, Data, PlainForm, WholeField


class PickForm(PlainForm):
    """A plank by its row and its place, as the map counts them; ``planks``: by row, how many.

    ``edition``: the number of the one that it stays in, 0 for that of the hand-over.
    """

    def __init__(
        self, data: Data = None, *, floor: int, planks: Mapping[int, int], edition: int = 0
    ) -> None:
        super().__init__(data)
        self.auto_id = f"floor-{floor}-%s"
        self.planks = planks
        self.fields["floor"] = forms.IntegerField(widget=forms.HiddenInput, initial=floor)
        if edition:
            self.fields["edition"] = forms.IntegerField(widget=forms.HiddenInput, initial=edition)
        self.fields["row"] = WholeField(
            label="Row", least=min(planks), most=max(planks), of="a number in a ring"
        )
        self.fields["plank"] = WholeField(
            label="Plank", least=1, most=max(planks.values()), of="a plank, counted from the ring,"
        )

    def clean(self) -> Cleaned:
        """Refuse a place that this row does not have."""
        data = super().clean() or self.cleaned_data
        row, plank = data.get("row"), data.get("plank")
        most = self.planks.get(row or 0)
        if row is not None and most is None:
            self.add_error("row", f"{row} can't be used; accepted: a number in a ring on the map.")
        elif plank is not None and most is not None and plank > most:
            self.add_error("plank", f"{plank} can't be used; accepted: 1 to {most} in row {row}.")
        return data
