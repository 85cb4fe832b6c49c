"""Which option is taken, which product is planned beside the one that is priced."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms

from estimates.domain.options.work_split import Share
from estimates.forms.job_price import PlainlyRefused
from estimates.models import WorkSplit
from estimates.readers.options.work_split import codes_of
from estimates.services.options import TAKEN
from jobs.forms.base import Data, OnceForm, VersionedForm
from jobs.models import Job, Product


class OptionForm(PlainlyRefused, OnceForm):
    """Takes one option into the facts of the job."""

    way = forms.ChoiceField(
        choices=[(key, key) for key in TAKEN],
        widget=forms.HiddenInput,
        error_messages={
            "required": "No option is named; open the options again.",
            "invalid_choice": "“%(value)s” is no option that can be taken; open the options again.",
        },
    )


class OtherProductForm(PlainlyRefused):
    """A product in which the floors are planned beside their own."""

    product = forms.ModelChoiceField(
        label="Another product",
        queryset=Product.objects.none(),
        empty_label="Choose a product",
        error_messages={
            "required": "Nothing was chosen; accepted: one of your products.",
            "invalid_choice": "That product is not on offer; accepted: one of the list.",
        },
    )

    def __init__(self, data: Data = None, *, job: Job) -> None:
        super().__init__(data, units=job.units)
        product = self.fields["product"]
        if isinstance(product, forms.ModelChoiceField):
            offered = job.company.products.filter(retired_at__isnull=True)
            product.queryset = offered.exclude(pk__in=job.zones.values("product"))


class WorkSplitForm(PlainlyRefused, VersionedForm):
    """A tick for each piece of work that the homeowner can take on."""

    def __init__(self, data: Data = None, *, row: WorkSplit, shares: Sequence[Share]) -> None:
        super().__init__(data, version=row.version)
        self.works = [share.code for share in shares]
        ticked = codes_of(row)
        for share in shares:
            self.fields[share.code] = forms.BooleanField(
                label=share.label, required=False, initial=share.code in ticked
            )

    @property
    def codes(self) -> tuple[str, ...]:
        """What is ticked."""
        return tuple(code for code in self.works if self.cleaned_data[code])
