"""Leftovers: labeled, waiting on the rack, or left over at the end.

An offcut waits from the moment a plank is first cut until the last piece is cut from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count

import shapely
from shapely.geometry import Polygon, box

from layout.planks.parts import Part, Plank, Stock
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.plan import Offcut
from layout.values.tolerances import TOUCHING_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leftover:
    """What stays of a plank: the box, the slot that left it and the one cut from it later."""

    plank: int
    room: Part
    since: int
    user: int | None
    label: str | None = None


def offcuts_of(ground: Ground, planks: Sequence[Plank], users: Sequence[str]) -> tuple[Offcut, ...]:
    """Return the leftovers in the order they appear, labeled F1, F2, ... past labels at hand.

    ``users`` names the piece of every part. Leftovers wait for a piece to come, or are left over
    at the end; of these only those are listed that the rules allow as an end piece and a row.
    """
    rules, on_hand = ground.request.rules, ground.request.on_hand
    least = (
        max(rules.min_end_piece, TOUCHING_TOLERANCE),
        max(rules.min_row_width, TOUCHING_TOLERANCE),
    )
    known = {offcut.id for offcut in on_hand.offcuts} if on_hand else set()
    frame = ground.frame
    leftovers = [
        (leftover, plank.stock) for plank in planks for leftover in _leftovers(plank, least)
    ]
    leftovers.sort(key=lambda f: (f[0].since, f[0].plank, f[0].room.left, f[0].room.low))
    fresh = (label for i in count(1) if (label := f"F{i}") not in known)
    return tuple(
        Offcut(
            id=f.label or next(fresh),
            plank=f.plank,
            length=f.room.length,
            width=f.room.high - f.room.low,
            keeps=_kept(f.room, frame, stock),
            at=frame.plank_corner(
                f.room.left,
                f.room.low,
                f.room.length,
                f.room.high - f.room.low,
                (stock.length, stock.width),
            ),
            used_by=None if f.user is None else users[f.user],
        )
        for f, stock in leftovers
    )


def _leftovers(plank: Plank, least: tuple[float, float]) -> Iterator[_Leftover]:
    """Yield the leftovers of one plank."""
    number, label = plank.number or 0, plank.label
    for i in range(1, len(plank.parts)):
        room, since = _cut_from(plank.parts, i, plank.stock)
        user = plank.parts[i].order
        yield _Leftover(plank=number, room=room, since=since, user=user, label=label)
        label = None
    for room in _left_over(plank.parts, plank.stock):
        if (
            room.length >= least[0] - TOUCHING_TOLERANCE
            and room.high - room.low >= least[1] - TOUCHING_TOLERANCE
        ):
            yield _Leftover(plank=number, room=room, since=plank.parts[-1].order, user=None)


def rack_of(planks: Sequence[Plank]) -> int:
    """Return the most leftovers that wait for a piece at any moment of laying."""
    waiting = most = 0
    for _, change in sorted(_rack_changes(planks)):
        waiting += change
        most = max(most, waiting)
    return most


def _rack_changes(planks: Sequence[Plank]) -> list[tuple[int, int]]:
    """Return (place in the order of laying, change of what waits) of every cut."""
    changes = []
    for plank in planks:
        before = 0
        for i, part in enumerate(plank.parts):
            waiting = _waiting(plank, i + 1)
            changes.append((part.order, waiting - before))
            before = waiting
    return changes


def within_rack(planks: Sequence[Plank], limit: int) -> list[Plank]:
    """Return the planks with leftovers thrown away so that no more than ``limit`` wait at once.

    Where too many wait, the one that would wait longest goes: that loses fewest planks.
    """
    kept = list(planks)
    while rack_of(kept) > limit:
        over = _moment_over(kept, limit)
        plank = max(
            (p for p in kept if p.parts[0].order <= over < p.parts[-1].order),
            key=lambda p: (p.parts[-1].order, p.parts[0].order),
        )
        kept.remove(plank)
        kept += [
            replace(plank, parts=plank.parts[:-1]),
            Plank(stock=plank.stock, parts=plank.parts[-1:]),
        ]
        kept = [plank for plank in kept if plank.parts[-1].order >= 0]
    return sorted(kept, key=lambda plank: plank.parts[0].order)


def _moment_over(planks: Sequence[Plank], limit: int) -> int:
    """Return the first place in the order of laying after which more than ``limit`` wait."""
    changes = sorted(_rack_changes(planks))
    waiting = 0
    for order, change in changes:
        waiting += change
        if waiting > limit:
            return order
    return changes[-1][0]


def _waiting(plank: Plank, cut: int) -> int:
    """Return over how many leftovers the parts still to be cut are spread after ``cut`` cuts."""
    todo = plank.parts[cut:]
    if len(todo) < 2:
        return len(todo)
    taken = shapely.union_all(
        [_outline(part).buffer(TOUCHING_TOLERANCE) for part in plank.parts[:cut]]
    )
    left = box(0.0, 0.0, plank.stock.length, plank.stock.width).difference(taken)
    rooms = getattr(left, "geoms", [left])
    return sum(any(room.intersects(_outline(part)) for part in todo) for room in rooms)


def _outline(part: Part) -> Polygon:
    """Return the outline of a part in its plank."""
    return part.shape or box(part.left, part.low, part.right, part.high)


def _cut_from(plank: Sequence[Part], i: int, stock: Stock) -> tuple[Part, int]:
    """Return the leftover that part ``i`` of a plank is cut from, and the slot that left it."""
    part, kerf = plank[i], stock.kerf
    before = [p for p in plank[:i] if p.right <= part.left + TOUCHING_TOLERANCE]
    after = [p for p in plank[:i] if p.left >= part.right - TOUCHING_TOLERANCE]
    across = [p for p in plank[:i] if p not in before and p not in after]
    left_of = max(before, key=lambda p: p.right, default=None)
    right_of = min(after, key=lambda p: p.left, default=None)
    beside = [p for p in (left_of, right_of, *across) if p is not None]
    low = max(
        (p.high + kerf for p in across if p.high <= part.low + TOUCHING_TOLERANCE), default=0.0
    )
    high = min(
        (p.low - kerf for p in across if p.low >= part.high - TOUCHING_TOLERANCE),
        default=stock.width,
    )
    room = Part(
        order=part.order,
        left=min(left_of.right + kerf if left_of else 0.0, part.left),
        right=max(right_of.left - kerf if right_of else stock.length, part.right),
        low=min(low, part.low),
        high=max(high, part.high),
    )
    return _tightened(room, part, plank[:i], kerf), max(p.order for p in beside)


def _tightened(room: Part, part: Part, cut: Sequence[Part], kerf: float) -> Part:
    """Return the box of what parts ``cut`` at an angle have left of a room, round ``part``."""
    slanted = [p.shape for p in cut if p.shape is not None]
    whole = box(room.left, room.low, room.right, room.high)
    if not any(shape.distance(whole) < kerf + TOUCHING_TOLERANCE for shape in slanted):
        return room
    taken = shapely.union_all([shape.buffer(kerf) for shape in slanted])
    rest = whole.difference(taken)
    outline = _outline(part)
    left = max(getattr(rest, "geoms", [rest]), key=lambda p: p.intersection(outline).area)
    x0, y0, x1, y1 = left.bounds if not left.is_empty else outline.bounds
    return replace(
        room,
        left=min(x0, part.left),
        low=min(y0, part.low),
        right=max(x1, part.right),
        high=max(y1, part.high),
    )


def _left_over(plank: Sequence[Part], stock: Stock) -> Iterator[Part]:
    """Yield the boxes that no part of a plank touches: along it, then beside its parts."""
    order = plank[-1].order
    at = 0.0
    for part in sorted(plank, key=lambda p: p.left):
        if part.left - stock.kerf > at:
            yield Part(
                order=order, left=at, right=part.left - stock.kerf, low=0.0, high=stock.width
            )
        at = max(at, part.right + stock.kerf)
    if at < stock.length:
        yield Part(order=order, left=at, right=stock.length, low=0.0, high=stock.width)
    if len(plank) == 1:
        part = plank[0]
        if part.low > stock.kerf:
            yield Part(
                order=order, left=part.left, right=part.right, low=0.0, high=part.low - stock.kerf
            )
        if part.high < stock.width - stock.kerf:
            yield Part(
                order=order,
                left=part.left,
                right=part.right,
                low=part.high + stock.kerf,
                high=stock.width,
            )


def _kept(room: Part, frame: Frame, stock: Stock) -> tuple[str, ...]:
    """Return the factory edges that a leftover keeps, in the direction frame."""
    ends = ("right end", "left end") if frame.mirrored_x else ("left end", "right end")
    sides = ("high side", "low side") if frame.mirrored_y else ("low side", "high side")
    kept = {
        ends[0]: room.left < TOUCHING_TOLERANCE,
        ends[1]: room.right > stock.length - TOUCHING_TOLERANCE,
        sides[0]: room.low < TOUCHING_TOLERANCE,
        sides[1]: room.high > stock.width - TOUCHING_TOLERANCE,
    }
    return tuple(name for name in ("left end", "right end", "low side", "high side") if kept[name])
