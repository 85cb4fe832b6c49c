"""Which cartons are opened for the rows of a day, counted on from those that are open."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

from jobs.domain.packet.row_edges import row_edges
from jobs.readers.current_plan.floors import CurrentFloor
from jobs.readers.current_plan.sheets import rows_of
from layout.cutsheet.rows import RowsOfSheet

TOGETHER = 4
"""Cartons that are open at a time, so that shades mix and the room stays free: common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaidFloor:
    """A floor as the days of a packet use it: its rows with their cuts, where each row ends."""

    floor: CurrentFloor
    sheet: RowsOfSheet
    edges: Mapping[int, str] = field(default_factory=dict)

    @classmethod
    def of(cls, floor: CurrentFloor) -> LaidFloor | None:
        """Return a floor for the days; None where it is laid by a plan of older rules."""
        sheet = rows_of(floor)
        if sheet is None:
            return None
        return cls(floor=floor, sheet=sheet, edges=row_edges(sheet.request, sheet.plan))

    def planks_by(self, row: int) -> int:
        """Return how many new planks are begun up to and with this row, those down included."""
        first: dict[int, int] = {}
        for piece in self.sheet.plan.pieces:
            first[piece.plank] = min(piece.row, first.get(piece.plank, piece.row))
        return sum(begun <= row for begun in first.values())


class OpenedCartons:
    """The cartons of a job as they are opened from day to day, those of one product together.

    Planks are taken in turn from cartons that are open together: common practice, no source.
    """

    def __init__(self) -> None:
        self._taken: dict[str, int] = defaultdict(int)
        self._begun: set[str] = set()

    def words(self, laid: LaidFloor, rows: tuple[int, int], boards: int) -> str:
        """Return which cartons are opened for these rows, how many new planks they take."""
        product, name = laid.floor.product, laid.floor.name
        if name not in self._begun:  # what is down of it came out of cartons too
            self._begun.add(name)
            self._taken[product] += laid.planks_by(rows[0] - 1)
        before = self._taken[product]
        planks = laid.planks_by(rows[1]) - laid.planks_by(rows[0] - 1)
        after = self._taken[product] = before + planks
        if not planks or not boards:
            return ""
        first = int(before / boards) + 1
        last = int((Decimal(after) / boards).to_integral_value(ROUND_CEILING))
        which = f"Carton {last}" if first >= last else f"Cartons {first} to {last}"
        if before % boards:
            which += f" ({first} begun)"
        open_ = f", {TOGETHER} open at a time" if last - first >= TOGETHER else ""
        plural = "s" * (planks != 1)
        return f"{which}{open_}, from each in turn: {planks} new plank{plural}."
