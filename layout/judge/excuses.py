"""Judging warnings: a broken rule needs its own, and none may stand where the rules hold."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil

from layout.judge.even_floors import clean_floor_stands
from layout.judge.view import Fault, View
from layout.values.outline import polygons_of
from layout.values.plan import RuleWarning
from layout.values.tolerances import COUNT_TOLERANCE

# Rules that the shape of a floor can make impossible: a warning excuses them, nothing else.
_EXCUSABLE = frozenset(
    {
        *("balance", "min_end_piece", "min_joint_offset", "min_row_width", "no_joints"),
        *("stagger", "wall_error"),
    }
)
_UNMEASURED = frozenset({"no_joints", "stagger"})  # their values are not compared
# Rules that where the row lines lie may break: plain to avoid where another floor is found.
_BY_STRIPS = frozenset({"balance", "min_row_width", "wall_error"})
_POST = "post"
# Counted elsewhere, or no word on a rule at all.
_OTHERS = frozenset({"start", "variants", "widths"})


def unexcused(view: View, faults: Sequence[Fault]) -> Iterator[Fault]:
    """Yield faults but for those that the shape makes unavoidable and a warning owns up to."""
    owned = [fault for fault in faults if _owned(view, fault)]
    strips = any(fault.rule in _BY_STRIPS for fault in owned) and clean_floor_stands(view)
    for fault in faults:
        avoidable = strips if fault.rule in _BY_STRIPS else _avoidable(view, fault)
        if fault not in owned or avoidable:
            yield fault


def _owned(view: View, fault: Fault) -> bool:
    """Whether a warning owns up to a fault, or to a worse one of the same place."""
    return fault.rule in _EXCUSABLE and any(
        _speaks_of(view, warning, fault)
        and (_as_bad(view, warning, fault) or _worse_there(warning, fault))
        for warning in view.plan.warnings
    )


def _worse_there(warning: RuleWarning, fault: Fault) -> bool:
    """Whether a warning tells of something worse in the very rows of a fault."""
    return _rows_named(warning) >= set(fault.rows) and warning.value < fault.value


def _speaks_of(view: View, warning: RuleWarning, fault: Fault) -> bool:
    """Whether a warning names the rule, a row and the limit of a fault."""
    return (
        warning.rule == fault.rule
        and bool(_rows_named(warning) & set(fault.rows))
        and abs(warning.limit - fault.limit) <= 2 * view.near
    )


def _as_bad(view: View, warning: RuleWarning, fault: Fault) -> bool:
    """Whether a warning tells of just the value that was found."""
    return fault.rule in _UNMEASURED or abs(warning.value - fault.value) <= 2 * view.near


def false_warnings(view: View, faults: Sequence[Fault]) -> Iterator[Fault]:
    """Yield warnings of rules that hold there, that stand twice, and of no rule at all.

    One warning speaks for a rule and a place, of the worst that is found there.
    """
    yield from _post_warnings(view)
    said: Counter[tuple[str, str, float]] = Counter()
    for warning in view.plan.warnings:
        if warning.rule in _OTHERS or warning.rule == _POST:
            continue
        spoken = [
            fault
            for fault in faults
            if _speaks_of(view, warning, fault) and _as_bad(view, warning, fault)
        ]
        same = (warning.rule, warning.where, round(warning.limit / view.near / 2))
        said[same] += 1
        if warning.rule not in _EXCUSABLE:
            yield _false(warning, f'"{warning.rule}" is no rule to warn of')
        elif not spoken:
            text = f"it warns of {warning.rule} at {warning.value:g}; the pieces do not show that"
            yield _false(warning, text)
        elif said[same] > 1:
            yield _false(warning, f"it warns of {warning.rule} {said[same]} times over")


def _post_warnings(view: View) -> Iterator[Fault]:
    """Yield posts that boards are split at and no warning tells of, and warnings of no such post.

    Each post has its own.
    """
    split: Counter[int] = Counter()
    for seam in view.splits:
        split[seam.row] += view.posts_at(seam)
    for warning in view.plan.warnings:
        if warning.rule == _POST:
            row = next((row for row in _rows_named(warning) if split[row] > 0), None)
            if row is None:
                yield _false(warning, "it warns of a post that splits a board; there is none")
            else:
                split[row] -= 1
    for row in sorted(row for row, count in split.items() if count > 0):
        text = "a board is split at a post, and no warning says so"
        yield Fault(rule=_POST, where=f"row {row}", value=1, limit=0, text=text, rows=(row,))


def _false(warning: RuleWarning, text: str) -> Fault:
    """Return the fault of a warning."""
    return Fault(
        rule="warning", where=warning.where, value=warning.value, limit=warning.limit, text=text
    )


def _rows_named(warning: RuleWarning) -> set[int]:
    """Return the rows that a warning speaks of: "row 3", "rows 3 and 4", "piece 3-2"."""
    return {int(row) for row in re.findall(r"(?<![\d-])(\d{1,6})(?:-\d+)?", warning.where)}


def _avoidable(view: View, fault: Fault) -> bool:
    """Whether a short end or close joint could have been avoided, where that is plain to see.

    It is plain on a rectangle without holes, doorways or pieces down: if two starters keep every
    rule in turns, rows of those two do.
    """
    request = view.request
    bare = not (request.zone.holes or request.zone.no_joints or request.laid)
    if fault.rule not in {"min_end_piece", "min_joint_offset"} or not bare:
        return False
    if request.rules.stagger != "free":
        return False
    parts = polygons_of(view.region)
    left, low, right, high = view.region.bounds
    if len(parts) != 1 or parts[0].area < (right - left) * (high - low) - view.scrap:
        return False
    return _two_starters(view, right - left)


def _two_starters(view: View, across: float) -> bool:
    """Whether some two starters keep ends and offsets in a run of length ``across``."""
    rules, length = view.request.rules, view.request.product.board.length
    end, off, slack = rules.min_end_piece, rules.min_joint_offset, rules.wall_error
    if across + slack <= length:
        return True
    rest = across % length
    marks = {end, length, rest - end - slack, rest + length - end - slack, rest - slack}
    marks |= {mark + way * off for mark in tuple(marks) for way in (-2, -1, 1, 2)}
    marks |= {mark + slack for mark in tuple(marks)}
    starters = [s for s in sorted(marks) if end <= s <= length]
    rows = [joints for s in starters if (joints := _row_joints(s, across, length, end, slack))]
    return any(
        all(abs(a - b) >= off for a in first for b in second) for first in rows for second in rows
    )


def _row_joints(
    starter: float, across: float, length: float, end: float, slack: float
) -> list[float]:
    """Return the joints of a row begun with ``starter``; none where its last piece is wrong."""
    count = ceil((across - starter + slack) / length - COUNT_TOLERANCE)
    joints = [starter + i * length for i in range(count)]
    return joints if joints and across - joints[-1] - slack >= end else []
