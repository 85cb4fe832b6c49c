"""Which starter goes with which ender: largest matchings in which leftovers wait little."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from layout.planks.parts import Part, Stock
from layout.planks.sharing import clear, is_sound
from layout.values.tolerances import TOUCHING_TOLERANCE

Bools = NDArray[np.bool_]
Wholes = NDArray[np.int64]

_SWAP_ROUNDS = 40


def matched(
    starters: Sequence[Part],
    enders: Sequence[Part],
    stock: Stock,
    known: dict[tuple[int, int], bool] | None = None,
) -> dict[int, int]:
    """Return a largest matching of starters to enders that fit on one plank, by index.

    ``known`` keeps whether two parts can be sawn from one plank, by their orders.

    Boxes alone are nested (a longer starter fits fewer enders), so the sorted greedy is best;
    augmenting paths then use what angled ends leave beyond that. Of the largest matchings it is
    one whose leftovers do not wait long.
    """
    rooms = [e.right + e.slack + stock.kerf - TOUCHING_TOLERANCE for e in enders]
    begins = [s.left for s in starters]
    mates = threshold_mates(begins, rooms)
    fits = np.array(rooms)[None, :] <= np.array(begins)[:, None]
    known = {} if known is None else known
    if any(p.shape is not None for p in (*starters, *enders)) or _ripped(starters, enders):
        firsts = np.array([is_sound(p, stock) for p in starters], dtype=bool)
        sound = np.outer(firsts, np.array([is_sound(p, stock) for p in enders], dtype=bool))
        for i, j in np.argwhere(~(fits & sound)).tolist():
            pair = starters[i].order, enders[j].order
            if pair not in known:
                known[pair] = clear(starters[i], enders[j], stock)
            fits[i, j] = known[pair]
        mates = {i: j for i, j in mates.items() if fits[i, j]}
        _augment(mates, fits)
    cut_before = np.outer([s.order < 0 for s in starters], [e.order < 0 for e in enders])
    if cut_before.any():
        # Two leftovers at hand never make one plank: what is gone of each is no piece to cut.
        fits &= ~cut_before
        mates = {i: j for i, j in mates.items() if fits[i, j]}
        _augment(mates, fits)
    return sooner(mates, fits, [s.order for s in starters], [e.order for e in enders])


def _ripped(starters: Sequence[Part], enders: Sequence[Part]) -> bool:
    """Whether parts could lie side by side across a plank."""
    if not starters or not enders:
        return False
    least = min(p.high - p.low for p in starters) + min(p.high - p.low for p in enders)
    return least < max(p.high for p in (*starters, *enders))


def threshold_mates(begins: Sequence[float], ends: Sequence[float]) -> dict[int, int]:
    """Return a largest matching of parts beginning at ``begins`` after parts ending at ``ends``.

    The latest possible end goes to each begin, the earliest begins (the longest starters) first.
    """
    by_end = sorted(range(len(ends)), key=lambda j: (ends[j], j))
    left = [ends[j] for j in by_end]
    mates = {}
    for i in sorted(range(len(begins)), key=lambda i: (begins[i], i)):
        k = bisect_right(left, begins[i]) - 1
        if k >= 0:
            mates[i] = by_end.pop(k)
            left.pop(k)
    return mates


def sooner(
    mates: dict[int, int], fits: Bools, starts: Sequence[int], ends: Sequence[int]
) -> dict[int, int]:
    """Return a matching as large in which leftovers wait less, by swaps of mates.

    ``fits`` tells which starter (row) fits which ender (column), ``starts`` and ``ends`` when
    they are laid.
    """
    mated = np.array(sorted(mates), dtype=int)
    mate = np.array([mates[int(i)] for i in mated], dtype=int)
    begun, ended = np.array(starts, dtype=int)[mated], np.array(ends, dtype=int)
    free = np.setdiff1d(np.arange(len(ended)), mate)
    for _ in range(_SWAP_ROUNDS):
        waits = np.abs(begun[:, None] - ended[mate][None, :])
        now = np.diagonal(waits)
        allowed = fits[np.ix_(mated, mate)]
        gains = (now[:, None] + now[None, :] - waits - waits.T) * (allowed & allowed.T)
        swaps = _disjoint(gains)
        for p, q in swaps:
            mate[p], mate[q] = mate[q], mate[p]
        now = np.abs(begun - ended[mate])
        gains = (now[:, None] - np.abs(begun[:, None] - ended[free])) * fits[np.ix_(mated, free)]
        moves = _disjoint(gains, apart=True)
        for p, k in moves:
            mate[p], free[k] = free[k], mate[p]
        if not (swaps or moves):
            break
    return dict(zip(mated.tolist(), mate.tolist(), strict=True))


def _disjoint(gains: Wholes, *, apart: bool = False) -> list[tuple[int, int]]:
    """Return entries of gain above 0 that share no row or column, the greatest first.

    Rows and columns count as the same things unless they are ``apart``.
    """
    if not gains.size:
        return []
    best = gains.argmax(axis=1)
    top = gains[np.arange(len(gains)), best]
    rows: set[int] = set()
    columns: set[int] = set() if apart else rows
    entries = []
    for p in np.argsort(-top, kind="stable").tolist():
        q = int(best[p])
        if top[p] <= 0:
            break
        if p not in rows and q not in columns:
            rows.add(p)
            columns.add(q)
            entries.append((p, q))
    return entries


def _augment(mates: dict[int, int], fits: Bools) -> None:
    """Enlarge a matching by augmenting paths (Kuhn, Naval Research Logistics Quarterly 2, 1955)."""
    ways = [np.flatnonzero(row).tolist() for row in fits]
    owner = {j: i for i, j in mates.items()}
    for root in range(len(ways)):
        if root in mates:
            continue
        came: dict[int, int] = {}
        reached = [root]
        for i in reached:
            fresh = [j for j in ways[i] if j not in came]
            came.update(dict.fromkeys(fresh, i))
            end = next((j for j in fresh if j not in owner), None)
            if end is not None:
                _turn(end, came, mates, owner)
                break
            reached += [owner[j] for j in fresh]


def _turn(end: int, came: dict[int, int], mates: dict[int, int], owner: dict[int, int]) -> None:
    """Turn an augmenting path that ends at a free ender."""
    j: int | None = end
    while j is not None:
        i = came[j]
        before = mates.get(i)
        mates[i], owner[j] = j, i
        j = before
