"""What rows of several widths take at least, whatever their order: the arithmetic of a proof.

Rows of one width share planks, rows of two widths never do. Marks along a board
(``layout.proof.marks``) tell what the pieces on a level line cover at least; a plank covers no more
than their sum.

*Rows*: a floor H across has rows of width w, m of them, whose widths come to H or more, the first
and the last row counted as one where both are ripped from boards of one width and are no wider
together: their strips lie side by side in a plank. At some height of the planks a line crosses
all m rows, so they take m times the least weight of any line of the floor, rounded up to planks.

*Heights*: on average over the heights of a plank, the lines of all rows of width w cover
``1 / w`` times what the lines of the floor within these rows come to, height by height. So the
widths of all planks together come to the whole sum over the demand.

Either way no more planks of a width are there than the cartons hold, and the piles where these
are counted: cartons are then what is bought beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from layout.proof.lines import Band
from layout.proof.marks import Marks, least_weight_of_all
from layout.values.goods.piles import SizePiles
from layout.values.tolerances import ACROSS_TOLERANCE, RATIO_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What a floor asks of rows of any width, in weights of marks.

    ``across`` is its extent across the rows, ``row`` the least weight of any level line,
    ``heights`` the weights of all level lines summed up over their heights, ``plank`` what one
    plank covers at most.
    """

    across: float
    row: int
    heights: float
    plank: int


def demand_of(bands: Sequence[Band], marks: Marks) -> Demand:
    """Return what the bands of a floor ask for, lines cut alone."""
    weights = [least_weight_of_all(marks, [(line, None) for line in b.lines], 0.0) for b in bands]
    return Demand(
        across=sum(band.rise for band in bands),
        row=min(weights, default=0),
        heights=sum(w * band.rise for w, band in zip(weights, bands, strict=True)),
        plank=marks.total,
    )


def fewest_planks(demand: Demand, sizes: Sequence[SizePiles], cartons: int) -> int | None:
    """Return the planks that no plan of so many cartons goes below, None where none goes."""
    rows = _by_rows(demand, sizes, cartons)
    heights = _by_heights(demand, sizes, cartons)
    return None if rows is None or heights is None else max(rows, heights)


def fewest_cartons(demand: Demand, sizes: Sequence[SizePiles], most: int) -> int:
    """Return the cartons that no plan goes below, at most ``most``."""
    low, high = 0, most
    while low < high:
        middle = (low + high) // 2
        if fewest_planks(demand, sizes, middle) is None:
            low = middle + 1
        else:
            high = middle
    return low


def _by_rows(demand: Demand, sizes: Sequence[SizePiles], cartons: int) -> int | None:
    """Return the fewest planks of rows that come to the floor across."""
    reach = np.zeros(1)  # how far rows reach at most, by the planks that they take
    for size in sizes:
        rows = _rows_of(demand, size, cartons)
        longer = np.full(len(reach) + rows[-1], -np.inf)
        for count, taken in enumerate(rows):
            part = longer[taken : taken + len(reach)]
            np.maximum(part, reach + count * size.board.width, out=part)
        reach = longer
    enough = np.flatnonzero(reach >= demand.across - ACROSS_TOLERANCE)
    return int(enough[0]) if len(enough) else None


def _rows_of(demand: Demand, size: SizePiles, cartons: int) -> list[int]:
    """Return the planks that 0, 1, 2, ... rows of a width take, as far as what is there goes."""
    held, most = size.held(cartons), ceil(demand.across / size.board.width)
    planks = [-(-count * demand.row // demand.plank) for count in range(most + 1)]
    return [taken for taken in planks if taken <= held]


def _by_heights(demand: Demand, sizes: Sequence[SizePiles], cartons: int) -> int | None:
    """Return the fewest planks, the widest first, whose widths come to the floor's heights."""
    left = demand.heights / demand.plank * (1 - RATIO_TOLERANCE) - ACROSS_TOLERANCE
    planks = 0
    for size in sorted(sizes, key=lambda size: -size.board.width):
        width = size.board.width
        taken = min(size.held(cartons), max(0, ceil(left / width)))
        planks, left = planks + taken, left - taken * width
    return planks if left <= 0 else None
