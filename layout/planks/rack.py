"""The rack: how many leftovers wait for a piece at once, and what a full one throws away.

An offcut waits from the moment a plank is first cut until the last piece is cut from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from layout.planks.parts import Plank


def rack_of(planks: Sequence[Plank]) -> int:
    """Return the most leftovers that wait for a piece at any moment of laying, at most.

    Each part still to be cut counts as one; where two lie in one leftover fewer wait.
    """
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
            waiting = len(plank.parts) - i - 1
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
