"""What every part of the set-up shares: the rows it is kept in, and their versions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from django.http import QueryDict

from estimates.domain.setup.parts import plain
from estimates.models import PriceTerms, SalesTerms
from estimates.services.setup.company import RowChange
from jobs.forms.base import Data, OnceForm
from jobs.forms.versions import version_field
from jobs.models import Company
from jobs.models.base import Versioned
from jobs.services.records import StaleError

ROWS = ("company", "sales", "price")


@dataclass(frozen=True, kw_only=True, slots=True)
class SetupRows:
    """The rows that the set-up is kept in."""

    company: Company
    sales: SalesTerms
    price: PriceTerms

    def named(self, name: str) -> Versioned:
        """Return the row of this name, one of `ROWS`."""
        row: Versioned = getattr(self, name)
        return row

    def name_of(self, row: Versioned) -> str:
        """Return the name of the row that is of the same table as ``row``."""
        return next(name for name in ROWS if isinstance(row, type(self.named(name))))


def _as_typed(value: object) -> object:
    """Return a value as a person would have typed it: a number without needless zeros."""
    return plain(value) if isinstance(value, Decimal) else value


class SetupForm(OnceForm):
    """A part of the set-up. ``kept`` says which fields are kept in which row.

    Its fields are prefixed by the part, since all parts stand on one page. It carries the version
    of each row that it writes to, as the person saw it.
    """

    part: ClassVar[str]
    title: ClassVar[str]
    kept: ClassVar[Mapping[str, tuple[str, ...]]] = {}

    company_version = version_field()
    sales_version = version_field()
    price_version = version_field()

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        self.rows = rows
        initial = {
            field: _as_typed(getattr(rows.named(name), field))
            for name, fields in self.kept.items()
            for field in fields
        }
        super().__init__(data, initial=initial, prefix=self.part)
        for name in ROWS:
            if name in self.kept:
                self.fields[f"{name}_version"].initial = rows.named(name).version
            else:
                del self.fields[f"{name}_version"]

    @property
    def changes(self) -> tuple[RowChange, ...]:
        """What was typed, row by row."""
        return tuple(self.change_of(name) for name in self.kept)

    def change_of(self, name: str) -> RowChange:
        """Return what was typed for one row."""
        return RowChange(
            row=self.rows.named(name),
            expected=self.cleaned_data[f"{name}_version"],
            values={field: self.cleaned_data[field] for field in self.kept[name]},
        )

    def _note_overtaken(self, stale: StaleError) -> None:
        """Say what changed; the next sending is about the row that stands now."""
        super()._note_overtaken(stale)
        data = QueryDict(mutable=True)
        data.update(self.data)
        name = f"{self.rows.name_of(stale.current)}_version"
        data[self.add_prefix(name)] = str(stale.current.version)
        self.data = data
