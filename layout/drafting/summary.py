"""What a plan comes to: looks, totals, and the rules that its shape breaks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import inf

from layout.joints.choices import Site, Terms
from layout.planks.pieces import Cutting, Slot
from layout.rows.contacts import Contact
from layout.rows.rows import Floor
from layout.rows.runs import Run
from layout.rows.slivers import slivers
from layout.rows.strips import LEAST_RUN
from layout.values.material import LayingRules
from layout.values.plan import Look, RuleWarning
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    JOINT_TOLERANCE,
    SAME_JOINT_TOLERANCE,
    TOUCHING_TOLERANCE,
    WARNING_TOLERANCE,
)

Joints = tuple[float, ...]


def close_pairs(
    joints: Sequence[Joints], contacts: Sequence[Contact], within: float
) -> Iterator[tuple[Contact, float, float]]:
    """Yield (contact, low joint, high joint) of joints of touching runs closer than ``within``."""
    for contact in contacts:
        for u, v in contact.stretches:
            low = [
                x
                for x in joints[contact.low]
                if u - TOUCHING_TOLERANCE <= x <= v + TOUCHING_TOLERANCE
            ]
            high = [
                x
                for x in joints[contact.high]
                if u - TOUCHING_TOLERANCE <= x <= v + TOUCHING_TOLERANCE
            ]
            for a in low:
                for b in high:
                    if abs(a - b) < within:
                        yield contact, a, b


def look_of(floor: Floor, joints: Sequence[Joints], length: float, inch: float) -> Look:
    """Return the looks of a floor: H-joints, staircases, smallest offset of touching rows."""
    offsets = [abs(a - b) for _, a, b in close_pairs(joints, floor.contacts, inf)]
    rows = [
        sorted({x for k, run in enumerate(floor.runs) if run.row == row.number for x in joints[k]})
        for row in floor.rows
    ]
    h_joints = sum(_lined_up(a, b, inch) for a, b in zip(rows, rows[2:], strict=False))
    stairs = sum(
        _stairs(four, length, inch)
        for four in zip(rows, rows[1:], rows[2:], rows[3:], strict=False)
    )
    return Look(
        h_joints=h_joints, staircases=stairs, smallest_offset=min(offsets) if offsets else None
    )


def _lined_up(first: Sequence[float], second: Sequence[float], within: float) -> int:
    """Return how many joints of one row stand within reach of one of another."""
    return sum(any(abs(a - b) <= within for b in second) for a in first)


def _stairs(rows: Sequence[Sequence[float]], length: float, within: float) -> int:
    """Return how many joints of the first row begin three equal steps one way."""
    count = 0
    for a in rows[0]:
        for b in rows[1]:
            step = b - a
            if within < abs(step) <= length / 2 + within / 100 and all(
                any(abs(x - (a + k * step)) <= within for x in rows[k]) for k in (2, 3)
            ):
                count += 1
    return count


def warnings_of(
    sites: Sequence[Site],
    joints: Sequence[Joints],
    terms: Terms,
) -> tuple[RuleWarning, ...]:
    """Return the rules that joints break: short ends, doorways, posts."""
    warnings = [
        *_short_ends(sites, joints, terms),
        *_in_doorways(sites, joints),
        *_posts(sites, joints),
    ]
    return tuple(warnings)


def once_a_place(warnings: Iterable[RuleWarning]) -> tuple[RuleWarning, ...]:
    """Return the worst warning of each rule and place, in the order of their places.

    Every post that splits a board keeps its own.
    """
    worst: dict[tuple[object, ...], RuleWarning] = {}
    for number, warning in enumerate(warnings):
        apart = number if warning.rule == "post" else None
        place = (warning.rule, warning.where, warning.limit, apart)
        known = worst.get(place)
        if known is None or _lacks(warning) > _lacks(known):
            worst[place] = warning
    return tuple(worst.values())


def _lacks(warning: RuleWarning) -> float:
    """Return how far what a warning tells of is off its limit."""
    return abs(warning.limit - warning.value)


def narrow_warnings(request: PlanRequest, runs: Sequence[Run]) -> Iterator[RuleWarning]:
    """Yield the strips of some runs that are narrower than the rule."""
    limit, least = request.rules.min_row_width, LEAST_RUN[request.unit]
    for run in runs:
        for strip in slivers(run.shape, limit, least):
            yield RuleWarning(
                rule="min_row_width",
                where=f"row {run.row}",
                value=round(strip.width, 4),
                limit=limit,
                text=f"Row {run.row} is only {strip.width:.4g} {request.unit} wide at its "
                f"narrowest; the rule asks for {limit:g} {request.unit}.",
            )


def _short_ends(
    sites: Sequence[Site], joints: Sequence[Joints], terms: Terms
) -> Iterator[RuleWarning]:
    for site, stops in zip(sites, joints, strict=True):
        if not stops and not site.tied:
            continue
        run = site.run
        begun = [] if site.begun else [(stops[0] if stops else run.x1) - run.x0]
        ended = [] if site.ended else [run.x1 - (stops[-1] if stops else run.x0)]
        for value in (*begun, *ended):
            if value < terms.least_end - WARNING_TOLERANCE:
                yield _short_end(run.row, value, terms.least_end)


def close_warnings(
    floor: Floor, joints: Sequence[Joints], terms: Terms, down: Sequence[Joints]
) -> tuple[RuleWarning, ...]:
    """Return the end joints of touching rows that stand too close, unless both are ``down``."""
    warnings = []
    for contact, a, b in close_pairs(joints, floor.contacts, terms.least_offset - JOINT_TOLERANCE):
        if down and _among(a, down[contact.low]) and _among(b, down[contact.high]):
            continue
        row = floor.runs[contact.low].row
        warnings.append(
            RuleWarning(
                rule="min_joint_offset",
                where=f"rows {row} and {row + 1}",
                value=round(abs(a - b), 4),
                limit=terms.least_offset,
                text=f"End joints of rows {row} and {row + 1} are only {abs(a - b):.4g} apart; "
                f"the rule asks for {terms.least_offset:g}.",
            )
        )
    return tuple(warnings)


def _among(x: float, joints: Joints) -> bool:
    """Whether a joint stands at ``x``."""
    return any(abs(x - other) < SAME_JOINT_TOLERANCE for other in joints)


def _in_doorways(sites: Sequence[Site], joints: Sequence[Joints]) -> Iterator[RuleWarning]:
    for site, stops in zip(sites, joints, strict=True):
        for u, v in site.barred:
            for x in stops:
                if u + JOINT_TOLERANCE < x < v - JOINT_TOLERANCE:
                    inside = min(x - u, v - x)
                    yield RuleWarning(
                        rule="no_joints",
                        where=f"row {site.run.row}",
                        value=round(inside, 4),
                        limit=0.0,
                        text=f"Row {site.run.row} has an end joint {inside:.4g} inside a place "
                        "where none may fall.",
                    )


def _posts(sites: Sequence[Site], joints: Sequence[Joints]) -> Iterator[RuleWarning]:
    for site, stops in zip(sites, joints, strict=True):
        for u, v in site.posts:
            if not any(u <= x <= v for x in stops):
                yield RuleWarning(
                    rule="post",
                    where=f"row {site.run.row}",
                    value=1.0,
                    limit=0.0,
                    text=f"No end joint of row {site.run.row} can pass through a post; "
                    "the board there is sawn through and glued.",
                )


def split_warnings(cutting: Cutting, terms: Terms) -> tuple[RuleWarning, ...]:
    """Return the end pieces that sawing through a board at a post leaves too short."""
    runs: dict[int, list[Slot]] = {}
    for slot in cutting.slots:
        runs.setdefault(slot.site, []).append(slot)
    warnings = []
    for slots in runs.values():
        ends = [slots[0]] if slots[0].split and slots[0].first else []
        ends += [slots[-1]] if slots[-1].split and slots[-1].last else []
        for slot in ends:
            bounds = [shape.bounds for shape in slot.shapes]
            value = max(b[2] for b in bounds) - min(b[0] for b in bounds)
            if value < terms.least_end - WARNING_TOLERANCE:
                warnings.append(_short_end(slot.row, value, terms.least_end))
    return tuple(warnings)


def _short_end(row: int, value: float, limit: float) -> RuleWarning:
    """Return the warning of an end piece that is too short."""
    return RuleWarning(
        rule="min_end_piece",
        where=f"row {row}",
        value=round(value, 4),
        limit=limit,
        text=f"An end piece of row {row} is only {value:.4g} long; the rule asks for {limit:g}.",
    )


def drift_warnings(cutting: Cutting, rules: LayingRules) -> tuple[RuleWarning, ...]:
    """Return where a wall standing off by ``wall_error`` would break a rule or a plank's size."""
    off = rules.wall_error
    if off <= 0:
        return ()
    drifts: dict[tuple[int, float, float], None] = {}
    rows = [slot.row for slot in cutting.slots]
    for slot, origin in zip(cutting.slots, cutting.origins, strict=True):
        x, y = origin
        for left, low, right, high in (shape.bounds for shape in slot.shapes):
            if slot.last:
                ends = not slot.first
                spare = (right - left - off, x + slot.size[0] - right)
                drifts.update(_drifts(slot.row, spare, (rules.min_end_piece, off), ends))
            if slot.row == max(rows):
                ends = max(rows) > min(rows)
                spare = (high - low - off, y + slot.size[1] - high)
                drifts.update(_drifts(slot.row, spare, (rules.min_row_width, off), ends))
    return tuple(
        RuleWarning(
            rule="wall_error",
            where=f"row {row}",
            value=value,
            limit=limit,
            text=f"Row {row} keeps only {value:.4g} where {limit:g} is asked for "
            f"if the wall stands off by {off:g}.",
        )
        for row, value, limit in drifts
    )


def _drifts(
    row: int, kept: tuple[float, float], limits: tuple[float, float], ends: bool
) -> dict[tuple[int, float, float], None]:
    """Return what a last piece keeps too little of: its least size (at ends), its plank's rest."""
    counted = zip(kept, limits, (ends, True), strict=True)
    return {
        (row, round(value, 4), limit): None
        for value, limit, counts in counted
        if counts and value < limit - WARNING_TOLERANCE
    }
