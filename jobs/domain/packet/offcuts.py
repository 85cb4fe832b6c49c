"""The offcuts of a floor in stacks as a packet keeps them, and what to do when one breaks. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from jobs.domain.formats import Fields
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.strips.offcuts import WaitingOffcut, offcuts_of_floor


def offcuts_content(rows: RowsOfSheet, *, spares: int) -> Fields:
    """Return the stacks of a floor, what stays in hand, what is there before, what is spare."""
    offcuts = offcuts_of_floor(rows)
    stacked = [one for one in offcuts.waiting if one.stack]
    return {
        "stacks": [
            {
                "letter": letter,
                "rows": _rows(entries),
                "entries": [_entry(one, spares) for one in entries],
            }
            for letter, group in groupby(stacked, key=lambda one: one.stack)
            if (entries := list(group))
        ],
        "in_hand": [one.name for one in offcuts.waiting if not one.stack and one.cut_with],
        "before": [
            {"name": one.name, "size": one.size, "stack": one.stack or ""}
            for one in offcuts.waiting
            if not one.cut_with
        ],
        "spare": [{"size": size, "count": count} for size, count in offcuts.spare],
        "most": offcuts.most,
        "spares": spares,
    }


def _rows(entries: Sequence[WaitingOffcut]) -> str:
    """Return the rows that a stack is for."""
    rows = [one.row for one in entries]
    low, high = min(rows), max(rows)
    return f"row {low}" if low == high else f"rows {low} to {high}"


def _entry(one: WaitingOffcut, spares: int) -> Fields:
    """Return one offcut of a stack."""
    return {
        "name": one.name,
        "size": one.size,
        "cut_with": one.cut_with,
        "breaks": _when_broken(one, spares),
    }


def _when_broken(one: WaitingOffcut, spares: int) -> str:
    """Return what may take the place of an offcut that breaks, and what comes of that too."""
    ways = [
        f"the spare {size} of {giver}" if giver else f"the spare {size}"
        for size, giver in one.instead[:2]
    ]
    if spares > 0:
        ways.append("a new plank")
    if not ways:
        return "stop, no spare is left"
    also = f"; {' and '.join(one.also)} then from it too" if one.also else ""
    return f"{' or '.join(ways)}{also}"
