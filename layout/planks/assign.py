"""Which piece comes from which plank: starters and enders matched, strips and the rest fitted."""

from __future__ import annotations

from collections.abc import Sequence

from layout.planks.matching import matched
from layout.planks.parts import Part, Stock
from layout.planks.sharing import clear, sawable
from layout.values.tolerances import TOUCHING_TOLERANCE


def assign(parts: Sequence[Part], stock: Stock) -> list[list[Part]]:
    """Return the parts plank by plank, as few planks as found, planks in order of first use.

    Starters and enders are matched as often as can be; other parts go where they fit. Parts that
    float are matched too, or dropped in afterwards, whichever takes fewer planks.
    """
    known: dict[tuple[int, int], bool] = {}
    planks = _assigned(parts, stock, known, float_first=True)
    if any(part.floats for part in parts):
        planks = min(planks, _assigned(parts, stock, known, float_first=False), key=len)
    if any(_is_ripped(part, stock) for part in parts):
        planks = min(planks, _ripped_first(parts, stock), key=len)
    for plank in planks:
        plank.sort(key=lambda p: p.order)
    return sorted(planks, key=lambda plank: plank[0].order)


def _assigned(
    parts: Sequence[Part], stock: Stock, known: dict[tuple[int, int], bool], *, float_first: bool
) -> list[list[Part]]:
    """Return the parts plank by plank, floating ones matched first or dropped in last.

    ``known``: which parts of the same orders can be sawn from one plank (``matched``).
    """
    fixed = [p for p in parts if float_first or not p.floats]
    starters = [p for p in fixed if _keeps_right_only(p, stock)]
    enders = [p for p in fixed if _keeps_left_only(p, stock)]
    mates = matched(starters, enders, stock, known)
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
        strip = next((s for s in strips if clear(leftover, s[1], stock)), None)
        if strip is not None:
            homes.append([leftover, strip[1]])
            left.remove(strip[0])
            gone.remove(leftover)
    return homes + _assigned([*gone, *left], stock, {}, float_first=True)


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


def _joined(planks: list[list[Part]], stock: Stock) -> list[list[Part]]:
    """Put strips on one plank where they lie clear of each other, widest first.

    Of a ripped leftover at hand what is gone counts as lying on its plank already.
    """
    narrow = [
        p for p in planks if _across(p) < stock.width - stock.kerf_across or _ripped_before(p)
    ]
    if len(narrow) < 2:
        return planks
    kept = [p for p in planks if p not in narrow]
    joined: list[list[Part]] = []
    narrow.sort(key=lambda p: (not _cut_before(p), -_across(p), p[0].order))
    for plank in narrow:
        homes = [h for h in joined if not (_cut_before(h) and _cut_before(plank))]
        home = next((h for h in homes if _fit(h, plank, stock)), None)
        if home is None:
            joined.append(list(plank))
        else:
            home.extend(plank)
    return kept + joined


def _fit(home: Sequence[Part], plank: Sequence[Part], stock: Stock) -> bool:
    """Whether the parts of two planks can be sawn from one."""
    if not all(clear(a, b, stock) for a in home for b in plank):
        return False
    return len(home) + len(plank) == 2 or sawable([*home, *plank], stock)


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
    least = part.length + part.slack - TOUCHING_TOLERANCE
    rooms = sorted(
        (room, i, left)
        for i, plank in enumerate(planks)
        for left, room in _rooms(part, plank, stock)
        if room >= least
    )
    for _, i, left in rooms:
        if sawable([*planks[i], part.shifted(left)], stock):
            planks[i].append(part.shifted(left))
            return
    planks.append([part.shifted(0.0)])


def _rooms(part: Part, plank: Sequence[Part], stock: Stock) -> list[tuple[float, float]]:
    """Return (left, length) of every free stretch of a plank at the part's height."""
    beside = sorted(
        (p.left - stock.kerf, p.right + p.slack + stock.kerf)
        for p in plank
        if p.low - part.high < stock.kerf_across + part.rise - TOUCHING_TOLERANCE
        and part.low - p.high < stock.kerf_across + p.rise - TOUCHING_TOLERANCE
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
