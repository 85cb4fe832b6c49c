"""Where rows may begin: the first rips worth a trial, or the orders of widths of a mixed carton."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil
from random import Random

import numpy as np
from shapely.geometry import Polygon, box

from layout.bounds.find import planks_a_row
from layout.resume.laid_boards import LaidBoard, boards_down, parts_in_order, rip_down, widths_down
from layout.rows.ground import Ground
from layout.rows.strips import Span, allowed_first_rips, narrowest_strip
from layout.rows.widths import Widths, width_orders
from layout.values.goods.piles import SizePiles
from layout.values.tolerances import LEAST_RIP_SHARE, RATIO_TOLERANCE, TOUCHING_TOLERANCE

MOST_TRIALS = 12

Rip = float | Widths


def row_choices(ground: Ground) -> list[Sequence[Rip]]:
    """Return for every part of the region the first rips worth a trial, or the orders of widths.

    Boards down have fixed the first rip of their part, and the widths of their rows.
    """
    mixed = len(ground.request.product.boards) > 1
    return [
        _orders(ground, part, down) if mixed else rip_choices(ground, part, down)
        for part, down in parts_in_order(ground, boards_down(ground))
    ]


def _orders(ground: Ground, part: Polygon, down: Sequence[LaidBoard]) -> list[Widths]:
    """Return the orders of widths worth a trial, those of the rows that are down first in each."""
    request, least = ground.request, ground.least_run
    sizes, narrow = _sizes_for(ground, part), request.rules.min_row_width
    chance, taken = Random(request.seed), planks_a_row(request, part)
    if not down:
        return width_orders(part, sizes, least, narrow, chance, taken)
    begun = widths_down(ground, down, part)
    left, low, right, high = part.bounds
    line = low + sum(begun)
    if line > high - TOUCHING_TOLERANCE:
        return [begun]
    rest = part.intersection(box(left - 1, line, right + 1, high + 1))
    narrowest = min(size.board.width for size in sizes)
    orders = width_orders(rest, sizes, least, narrow, chance) or [
        (narrowest,) * ceil((high - line) / narrowest)
    ]
    return [(*begun, *order) for order in orders]


def _sizes_for(ground: Ground, part: Polygon) -> tuple[SizePiles, ...]:
    """Return what there is of every size for one part: its share of the piles, by area."""
    sizes, share = ground.request.sizes, float(part.area / ground.region.area)
    if share > 1 - RATIO_TOLERANCE:
        return sizes
    return tuple(
        replace(size, piles=tuple((shade, int(n * share)) for shade, n in size.piles))
        for size in sizes
    )


def rip_choices(ground: Ground, part: Polygon, down: Sequence[LaidBoard] = ()) -> list[float]:
    """Return the first rips worth a trial, the widest narrowest strip first.

    Rows change their structure only where a row line passes a corner: the rips at these places,
    between them and at the ends of what the balance rule allows stand for all others. Where
    boards are ``down`` they have fixed it.
    """
    if down:
        return [rip_down(ground, down, part)]
    rules, least = ground.request.rules, ground.least_run
    width = ground.request.product.board.width
    spans = allowed_first_rips(
        part, width, least, balance=rules.balance, min_width=rules.min_row_width
    )
    corners = [y - part.bounds[1] for r in (part.exterior, *part.interiors) for _, y in r.coords]
    marks = sorted({x for span in spans for x in _marks(span, corners, width)})
    marks.sort(key=lambda x: (-round(narrowest_strip(part, width, least, x), 6), -x))
    if len(marks) > MOST_TRIALS:
        kept = np.linspace(0, len(marks) - 1, MOST_TRIALS).round().astype(int)
        marks = [marks[i] for i in kept]
    return marks


def _marks(span: Span, corners: Sequence[float], width: float) -> list[float]:
    """Return the rips of a span that stand for it."""
    low, high = max(span[0], width * LEAST_RIP_SHARE), span[1]
    if high < low:
        return [width]
    if high - low < TOUCHING_TOLERANCE:
        return [high]
    inside = {round(y % width, 6) for y in corners}
    within = (y for y in inside if low + TOUCHING_TOLERANCE < y < high - TOUCHING_TOLERANCE)
    stops = [low, *sorted(within), high]
    between = [(a + b) / 2 for a, b in pairwise(stops)]
    return [*stops, *between]
