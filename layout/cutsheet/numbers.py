"""The numbers of cuts: in the order in which they are sawn, of each plank in each row."""

from __future__ import annotations

from collections import defaultdict

from layout.values.plan import Plan
from layout.values.sheet import CutSheet


def cut_numbers(plan: Plan, sheet: CutSheet) -> dict[tuple[str, int], int]:
    """Return the number of every cut that is not the only one of its plank in a row.

    Keys are the piece in hand and the cut's own number on the sheet.
    """
    rows = {piece.id: piece.row for piece in plan.pieces}
    numbers: dict[tuple[str, int], int] = {}
    for plank in sheet.planks:
        of_row: dict[int, list[tuple[str, int]]] = defaultdict(list)
        for cut in plank.cuts:
            of_row[rows[cut.then.in_hand]].append((cut.then.in_hand, cut.n))
        for keys in of_row.values():
            if len(keys) > 1:
                numbers |= {key: n for n, key in enumerate(keys, start=1)}
    return numbers
