"""The form of the piles of a floor: whole planks counted by width and shade."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.forms.boundfield import BoundField

from jobs.domain.floors.piles import CountedPile, Miscount, miscounts, piles_from
from jobs.domain.lengths import size_words
from jobs.forms.base import Cleaned, Data, VersionedForm, WholeField
from jobs.models import FloorZone
from jobs.readers.floors.piles import kinds_of

MOST_PLANKS = 20000


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthGroup:
    """The fields of the piles of one width, and how many boards of it a carton holds."""

    width: str
    per_carton: int
    fields: tuple[BoundField, ...]


class PilesForm(VersionedForm):
    """Whole planks in each pile. Left empty, a pile counts as none."""

    def __init__(self, data: Data = None, *, zone: FloorZone, units: str, version: int) -> None:
        self.kinds = kinds_of(zone.product)
        counted = {(pile.width_mm, pile.variant): pile.planks for pile in piles_from(zone.piles)}
        initial = {
            f"pile_{place}": counted.get((kind.width_mm, kind.variant))
            for place, kind in enumerate(self.kinds)
        }
        super().__init__(data, initial=initial, units=units, version=version)
        for place, kind in enumerate(self.kinds):
            self.fields[f"pile_{place}"] = WholeField(
                label=kind.variant or "All boards", least=0, most=MOST_PLANKS, required=False
            )
        self.fields["cartons"] = WholeField(
            label="Cartons opened",
            least=1,
            most=MOST_PLANKS,
            required=False,
            help_text="To hold the count against. Left empty where boards were cut or are missing.",
        )

    @property
    def groups(self) -> Iterator[WidthGroup]:
        """The fields of the piles by width."""
        for width in dict.fromkeys(kind.width_mm for kind in self.kinds):
            places = [i for i, kind in enumerate(self.kinds) if kind.width_mm == width]
            yield WidthGroup(
                width=size_words(width, self.units),
                per_carton=self.kinds[places[0]].per_carton,
                fields=tuple(self[f"pile_{place}"] for place in places),
            )

    @property
    def piles(self) -> tuple[CountedPile, ...]:
        """The piles as they were counted."""
        counts = [self.cleaned_data.get(f"pile_{place}") for place in range(len(self.kinds))]
        return tuple(
            CountedPile(width_mm=kind.width_mm, variant=kind.variant, planks=count or 0)
            for kind, count in zip(self.kinds, counts, strict=True)
        )

    def clean(self) -> Cleaned:
        """Refuse piles that are not those of the cartons that were opened."""
        data = super().clean() or {}
        cartons = data.get("cartons")
        if cartons and not self.errors:
            for miscount in miscounts(self.kinds, self.piles, cartons):
                self.add_error(self._first_of(miscount.width_mm), self._sentence(miscount, cartons))
        return data

    def _first_of(self, width_mm: Decimal) -> str:
        """Return the name of the first field of a width."""
        place = next(i for i, kind in enumerate(self.kinds) if kind.width_mm == width_mm)
        return f"pile_{place}"

    def _sentence(self, miscount: Miscount, cartons: int) -> str:
        width = size_words(miscount.width_mm, self.units)
        of_cartons = f"{cartons} carton{'' if cartons == 1 else 's'}"
        return (
            f"{miscount.counted} boards {width} wide were counted in {of_cartons}; accepted: "
            f"{miscount.held}, or no number of cartons."
        )
