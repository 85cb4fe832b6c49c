"""Which crew would come, and from when on, before a quote is accepted."""

from __future__ import annotations

from datetime import date
from typing import Unpack

from jobs.forms.base import Data, FormOptions
from jobs.forms.days import DaysForm
from jobs.forms.versions import version_field
from jobs.models import Company


class PencilForm(DaysForm):
    """A crew and a first day; the version of the row that was seen goes along."""

    version = version_field()

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        today: date,
        version: int = 1,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, company=company, today=today, **options)
        del self.fields["afresh"]
        self.fields["version"].initial = version
