"""Which piece comes from which plank, in the plank's own coordinates.

0                 L      a *starter* keeps the right end of its plank, an *ender* the left
| ender |k|starter|      end; what a saw takes between them is the kerf k
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from layout.values.tolerances import OVERLAP_TOLERANCE, TOUCHING_TOLERANCE

Bools = NDArray[np.bool_]
Wholes = NDArray[np.int64]

_SWAP_ROUNDS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece in its plank's coordinates: extents along and across, its true shape if not a box.

    ``order`` is its place in the order of laying. A part that ``floats`` needs no factory end and
    may be shifted along its plank from where it is proposed. ``slack`` is what the far wall may
    add to its right end, ``rise`` what the last wall may add to its high side.
    """

    order: int
    left: float
    right: float
    low: float
    high: float
    shape: Polygon | None = None
    floats: bool = False
    slack: float = 0.0
    rise: float = 0.0

    @property
    def length(self) -> float:
        """The extent along the plank."""
        return self.right - self.left

    def shifted(self, left: float) -> Part:
        """Return the part moved along its plank."""
        step = left - self.left
        shape = None if self.shape is None else translate(self.shape, step)
        return replace(self, left=left, right=self.right + step, shape=shape)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The planks that parts are cut from: length, width, and what a cut between two parts takes."""

    length: float
    width: float
    kerf: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plank:
    """A plank and the parts cut from it, in the order of laying.

    One that was cut before has its ``number`` and the ``label`` of its leftover; the first part,
    of an order below 0, is then what is gone of it.
    """

    stock: Stock
    parts: tuple[Part, ...]
    number: int | None = None
    label: str | None = None


def clear(a: Part, b: Part, kerf: float) -> bool:
    """Whether two parts of one plank lie a kerf apart, wherever the walls stand."""
    least = kerf - TOUCHING_TOLERANCE
    if b.left - a.right >= least + a.slack or a.left - b.right >= least + b.slack:
        return True
    if b.low - a.high >= least + a.rise or a.low - b.high >= least + b.rise:
        return True
    if a.shape is None and b.shape is None:
        return False
    one, two = (p.shape or box(p.left, p.low, p.right, p.high) for p in (a, b))
    gap = least + max(a.slack + b.slack, a.rise + b.rise)
    apart = float(one.distance(two))
    return apart >= gap and (apart > 0 or one.intersection(two).area < OVERLAP_TOLERANCE)


def assign(parts: Sequence[Part], stock: Stock) -> list[list[Part]]:
    """Return the parts plank by plank, as few planks as found, planks in order of first use.

    Starters and enders are matched as often as can be; other parts go where they fit. Parts that
    float are matched too, or dropped in afterwards, whichever takes fewer planks.
    """
    planks = _assigned(parts, stock, float_first=True)
    if any(part.floats for part in parts):
        planks = min(planks, _assigned(parts, stock, float_first=False), key=len)
    if any(_is_ripped(part, stock) for part in parts):
        planks = min(planks, _ripped_first(parts, stock), key=len)
    for plank in planks:
        plank.sort(key=lambda p: p.order)
    return sorted(planks, key=lambda plank: plank[0].order)


def _assigned(parts: Sequence[Part], stock: Stock, *, float_first: bool) -> list[list[Part]]:
    """Return the parts plank by plank, floating ones matched first or dropped in last."""
    fixed = [p for p in parts if float_first or not p.floats]
    starters = [p for p in fixed if _keeps_right_only(p, stock)]
    enders = [p for p in fixed if _keeps_left_only(p, stock)]
    mates = matched(starters, enders, stock.kerf)
    planks = [[enders[j], starters[i]] for i, j in sorted(mates.items())]
    taken = {p.order for plank in planks for p in plank}
    rest = [p for p in parts if p.order not in taken]
    planks = _joined(planks + [[p] for p in rest if not p.floats], stock)
    for part in sorted((p for p in rest if p.floats), key=lambda p: (-p.length, p.order)):
        _drop_in(part, planks, stock)
    return planks


def _is_ripped(part: Part, stock: Stock) -> bool:
    """Whether a part is what is gone of a plank whose leftover is no wider than a strip."""
    return part.order < 0 and (
        part.shape is not None or part.high - part.low < stock.width - TOUCHING_TOLERANCE
    )


def _ripped_first(parts: Sequence[Part], stock: Stock) -> list[list[Part]]:
    """Return the parts plank by plank, ripped leftovers at hand first given their longest strip."""
    homes: list[list[Part]] = []
    left = sorted((p for p in parts if p.order >= 0), key=lambda p: (-p.length, p.order))
    gone = [p for p in parts if p.order < 0]
    for leftover in [p for p in gone if _is_ripped(p, stock)]:
        strips = ((p, placed) for p in left for placed in _placed(p, stock))
        strip = next((s for s in strips if clear(leftover, s[1], stock.kerf)), None)
        if strip is not None:
            homes.append([leftover, strip[1]])
            left.remove(strip[0])
            gone.remove(leftover)
    return homes + _assigned([*gone, *left], stock, float_first=True)


def _placed(part: Part, stock: Stock) -> tuple[Part, ...]:
    """Return a part where it is proposed or, where it floats, at either end of its plank."""
    if not part.floats:
        return (part,)
    return part.shifted(0.0), part.shifted(stock.length - part.length - part.slack)


def _keeps_right_only(part: Part, stock: Stock) -> bool:
    return (
        part.right + part.slack > stock.length - TOUCHING_TOLERANCE
        and part.left > TOUCHING_TOLERANCE
    )


def _keeps_left_only(part: Part, stock: Stock) -> bool:
    return (
        part.left < TOUCHING_TOLERANCE
        and part.right + part.slack < stock.length - TOUCHING_TOLERANCE
    )


def matched(starters: Sequence[Part], enders: Sequence[Part], kerf: float) -> dict[int, int]:
    """Return a largest matching of starters to enders that fit on one plank, by index.

    Boxes alone are nested (a longer starter fits fewer enders), so the sorted greedy is best;
    augmenting paths then use what angled ends leave beyond that. Of the largest matchings it is
    one whose leftovers do not wait long.
    """
    rooms = [e.right + e.slack + kerf - TOUCHING_TOLERANCE for e in enders]
    begins = [s.left for s in starters]
    mates = threshold_mates(begins, rooms)
    fits = np.array(rooms)[None, :] <= np.array(begins)[:, None]
    if any(p.shape is not None for p in (*starters, *enders)) or _ripped(starters, enders):
        for i, j in np.argwhere(~fits).tolist():
            fits[i, j] = clear(starters[i], enders[j], kerf)
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


def _joined(planks: list[list[Part]], stock: Stock) -> list[list[Part]]:
    """Put strips on one plank where they lie clear of each other, widest first.

    Of a ripped leftover at hand what is gone counts as lying on its plank already.
    """
    narrow = [p for p in planks if _across(p) < stock.width - stock.kerf or _ripped_before(p)]
    if len(narrow) < 2:
        return planks
    kept = [p for p in planks if p not in narrow]
    joined: list[list[Part]] = []
    narrow.sort(key=lambda p: (not _cut_before(p), -_across(p), p[0].order))
    for plank in narrow:
        homes = [h for h in joined if not (_cut_before(h) and _cut_before(plank))]
        home = next(
            (h for h in homes if all(clear(a, b, stock.kerf) for a in h for b in plank)), None
        )
        if home is None:
            joined.append(list(plank))
        else:
            home.extend(plank)
    return kept + joined


def _across(plank: Sequence[Part]) -> float:
    """Return the width of the widest part of a plank."""
    return max(part.high - part.low for part in plank)


def _cut_before(plank: Sequence[Part]) -> bool:
    """Whether a plank was cut before this plan."""
    return any(part.order < 0 for part in plank)


def _ripped_before(plank: Sequence[Part]) -> bool:
    """Whether a plank is a leftover at hand that was ripped and cut to length."""
    return len(plank) == 1 and plank[0].order < 0 and plank[0].shape is not None


def _drop_in(part: Part, planks: list[list[Part]], stock: Stock) -> None:
    """Cut a floating part from the smallest room that holds it, else from a new plank."""
    best: tuple[float, int, float] | None = None
    for i, plank in enumerate(planks):
        for left, room in _rooms(part, plank, stock):
            if room >= part.length + part.slack - TOUCHING_TOLERANCE and (
                best is None or room < best[0]
            ):
                best = (room, i, left)
    if best is None:
        planks.append([part.shifted(0.0)])
    else:
        _, i, left = best
        planks[i].append(part.shifted(left))


def _rooms(part: Part, plank: Sequence[Part], stock: Stock) -> list[tuple[float, float]]:
    """Return (left, length) of every free stretch of a plank at the part's height."""
    beside = sorted(
        (p.left - stock.kerf, p.right + p.slack + stock.kerf)
        for p in plank
        if p.low - part.high < stock.kerf + part.rise - TOUCHING_TOLERANCE
        and part.low - p.high < stock.kerf + p.rise - TOUCHING_TOLERANCE
    )
    rooms = []
    at = 0.0
    for left, right in beside:
        if left > at:
            rooms.append((at, left - at))
        at = max(at, right)
    if stock.length > at:
        rooms.append((at, stock.length - at))
    return rooms
