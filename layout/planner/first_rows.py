"""Where rows may begin: the first rips worth a trial, or the orders of widths of a mixed carton.

Balance is the weakest rule: where all first rips that it leaves break another rule by where their
row lines lie, others that break less come before them.
"""

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
from layout.rows.giving_way import balance_holds_sway, balance_warning, broken_strips
from layout.rows.ground import Ground
from layout.rows.rows import floor_of
from layout.rows.strips import Span, allowed_first_rips, narrowest_strip, stopping_lines
from layout.rows.widths import Widths, width_orders
from layout.values.goods.piles import SizePiles
from layout.values.outline import polygons_of
from layout.values.tolerances import LEAST_RIP_SHARE, RATIO_TOLERANCE, TOUCHING_TOLERANCE

MOST_TRIALS = 12
_MOST_UNEVEN = 24  # first rips beyond the balance rule that are looked at
_UNEVEN_TRIED = 6  # of which so many are tried

Rip = float | Widths


def row_choices(ground: Ground) -> list[Sequence[Rip]]:
    """Return for every part of the region the first rips worth a trial, or the orders of widths.

    Boards down have fixed the first rip of their part, and the widths of their rows.
    """
    parts = parts_in_order(ground, boards_down(ground))
    if len(ground.request.product.boards) > 1:
        return [_orders(ground, part, down) for part, down in parts]
    choices: list[Sequence[Rip]] = []
    for number, (part, down) in enumerate(parts, start=1):
        even = rip_choices(ground, part, down)
        uneven = [] if down else better_uneven(ground, part, even, last=number == len(parts))
        choices.append([*uneven, *even])
    return choices


def better_uneven(
    ground: Ground, part: Polygon, even: Sequence[float], *, last: bool
) -> list[float]:
    """Return first rips that break fewer rules than all ``even`` ones, whatever balance says.

    Those that break fewest first, then the widest narrowest strip; ``last`` tells whether the
    floor's last row lies in the part.
    """
    broken = _fewest_broken(ground, part, even, last=last)
    if not broken:
        return []
    better = [
        (count, place, rip)
        for place, rip in enumerate(uneven_rips(ground, part))
        if (count := _broken(ground, part, rip, last=last)) < broken
    ]
    return [rip for _, _, rip in sorted(better)[:_UNEVEN_TRIED]]


def uneven_choices(ground: Ground) -> list[Sequence[Rip]]:
    """Return for every part a few first rips beyond the balance rule, for the joints' sake.

    Nothing where the rule leaves no choice to give way with. None of them breaks more by where its
    row lines lie than those that keep the rule.
    """
    if not balance_holds_sway(ground.request):
        return []
    choices: list[Sequence[Rip]] = []
    parts = polygons_of(ground.region)
    for number, part in enumerate(parts, start=1):
        last = number == len(parts)
        even = rip_choices(ground, part)
        most = _fewest_broken(ground, part, even, last=last)
        uneven = [
            rip
            for rip in uneven_rips(ground, part)
            if balance_warning(ground, part, rip) and _broken(ground, part, rip, last=last) <= most
        ]
        choices.append(uneven[:_UNEVEN_TRIED] or even[:1])
    return choices


def _fewest_broken(ground: Ground, part: Polygon, rips: Sequence[float], *, last: bool) -> int:
    """Return how many rules the best of some first rips breaks by where its row lines lie."""
    fewest = _broken(ground, part, rips[0], last=last)
    for rip in rips[1:]:
        if not fewest:
            break
        fewest = min(fewest, _broken(ground, part, rip, last=last))
    return fewest


def _broken(ground: Ground, part: Polygon, rip: float, *, last: bool) -> int:
    """Return how many rules a first rip breaks by where its row lines lie."""
    floor = floor_of(part, ground.request.product.board, rip, registers=ground.registers)
    return broken_strips(ground, floor.rows, last=last)


def uneven_rips(ground: Ground, part: Polygon) -> list[float]:
    """Return first rips that stand for all, whatever balance says; the widest strips first.

    Among them those that leave the last row just room for ``wall_error``, and those that part a
    remainder evenly between two stopping lines.
    """
    rules, least = ground.request.rules, ground.least_run
    width = ground.request.product.board.width
    _, low, _, high = part.bounds
    off, narrow = rules.wall_error, rules.min_row_width
    lines = stopping_lines(part, width, least)
    marks = [high + off, high - narrow - off, *(y for line in lines for y in (line.low, line.high))]
    marks += [
        (foot.high + head.low) / 2 + half
        for foot in lines
        if foot.above
        for head in lines
        if not head.above
        for half in (0.0, width / 2)
    ]
    spans = allowed_first_rips(part, width, least, balance=False, min_width=narrow)
    inside = [mark - low for mark in marks]
    rips = sorted({round(x, 6) for span in spans for x in _marks(span, inside, width)})
    rips.sort(key=lambda x: (-round(narrowest_strip(part, width, least, x), 6), -x))
    return rips[:_MOST_UNEVEN]


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
