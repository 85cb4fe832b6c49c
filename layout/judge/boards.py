"""Judging boards: widths running row by row, variants within the cartons, like pieces apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from layout.judge.planks import by_plank
from layout.judge.rows import rows_by_part
from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import meeting


def wrong_widths(view: View) -> Iterator[Fault]:
    """Yield widths that come more than twice running without the plan's own count of them.

    Where widths are not mixed there is none; rows that were down before count as the others do.
    """
    count = thrice_running(view) if len(view.request.product.boards) > 1 else 0
    yield from _wrong_warning(view, "widths", (count, count), "rows of one width too many")


def thrice_running(view: View) -> int:
    """Return how many rows have the width of both rows before them in their part of the region."""
    count = 0
    for rows in rows_by_part(view):
        widths = [pieces[0].piece.size[1] for pieces in rows.values()]
        same = [abs(a - b) <= view.near for a, b in pairwise(widths)]
        count += sum(one and two for one, two in pairwise(same))
    return count


def wrong_variants(view: View) -> Iterator[Fault]:
    """Yield planks of no variant of the product, and more of one than the cartons hold."""
    variants, on_hand = view.request.product.variants, view.request.on_hand
    begun = {offcut.plank for offcut in on_hand.offcuts} if on_hand is not None else set()
    used: Counter[str | None] = Counter()
    for number, pieces in by_plank(view).items():
        name = pieces[0].piece.variant
        if any(piece.before for piece in pieces) or number in begun:
            continue
        if (name not in variants) if variants else name is not None:
            accepted = ", ".join(variants) or "none"
            text = f"its variant is {name or 'not told'}; the product has: {accepted}"
            yield Fault(rule="variants", where=f"plank {number}", value=0, limit=0, text=text)
        used[name] += 1
    cartons = view.plan.totals.cartons
    for name, held in variants.items():
        if used[name] > cartons * held:
            text = f"{used[name]} planks of {name}; {cartons} cartons hold {cartons * held}"
            limit = cartons * held
            yield Fault(
                rule="variants", where=f"variant {name}", value=used[name], limit=limit, text=text
            )


def like_pieces(view: View) -> Iterator[Fault]:
    """Yield a count of touching pieces of one variant that differs from the plan's warning."""
    counts = (0, 0)
    if any(piece.piece.variant is not None for piece in view.new):
        # A touch hardly longer than lengths are told apart may count or not.
        counts = (alike(view, 3 * view.near), alike(view, view.near))
    yield from _wrong_warning(view, "variants", counts, "pairs of touching pieces alike")


def alike(view: View, least: float) -> int:
    """Return how many pairs of pieces touch over ``least`` or more and are of one variant.

    Pairs that were both down before are left out.
    """
    pieces = view.pieces
    grown = [piece.shape.buffer(view.near, join_style="mitre") for piece in pieces]
    return sum(
        pieces[i].piece.variant is not None
        and pieces[i].piece.variant == pieces[j].piece.variant
        and not (pieces[i].before and pieces[j].before)
        and _touch(pieces[i], pieces[j], view.near) >= least
        for i, j in meeting(grown)
    )


def _touch(one: LaidPiece, two: LaidPiece, near: float) -> float:
    """Return over which length two pieces lie side by side or end to end."""
    beside = one.shape.buffer(near, join_style="mitre").intersection(two.shape)
    return float(beside.area) / near - near  # a corner that is met has near x near in common


def _wrong_warning(view: View, rule: str, counts: tuple[int, int], what: str) -> Iterator[Fault]:
    """Yield the plan's word on a count that is not between the two counts of the judge."""
    warnings = [warning for warning in view.plan.warnings if warning.rule == rule]
    value = sum(warning.value for warning in warnings)
    if not counts[0] <= value <= counts[1] or len(warnings) > 1 or (warnings and value == 0):
        text = f"the plan warns of {value:g} {what}; there are {counts[0]}"
        yield Fault(rule=rule, where="floor", value=value, limit=counts[0], text=text)
