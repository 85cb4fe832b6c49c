"""Plans spoiled in the offcuts that they tell: shapes, factory edges, users, stacks."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from layout.values.plan import SIDES, Offcut, Plan
from layout.values.request import PlanRequest
from layout.values.units import INCH
from tests.layout.judge.spoiling import Make, spoilings, with_offcut

Change = Callable[[Offcut, float], Iterable[Offcut]]


def _used(change: Change) -> Make:
    """Return what changes the first offcut that is used."""
    return _first(lambda offcut: offcut.used_by is not None, change)


def _left_over(change: Change) -> Make:
    """Return what changes the first offcut that is left over."""
    return _first(lambda offcut: offcut.used_by is None, change)


def _first(wanted: Callable[[Offcut], bool], change: Change) -> Make:
    """Return what changes the first wanted offcut, lengths in inches."""
    return lambda request, plan: with_offcut(
        plan, wanted, lambda offcut: change(offcut, INCH[request.unit])
    )


def _waits(offcut: Offcut) -> bool:
    return offcut.stack is not None


def _with(**changes: Any) -> Change:
    """Return what changes fields of an offcut."""
    return lambda offcut, _: [replace(offcut, **changes)]


def _none(_offcut: Offcut, _inch: float) -> Iterable[Offcut]:
    return []


def _doubled(offcut: Offcut, _inch: float) -> Iterable[Offcut]:
    return [offcut, replace(offcut, id="F999")]


def _keeps_all(offcut: Offcut, _inch: float) -> Iterable[Offcut]:
    return [replace(offcut, keeps=SIDES)]


def _keeps_less(offcut: Offcut, _inch: float) -> Iterable[Offcut]:
    return [replace(offcut, keeps=offcut.keeps[1:])]


def _longer(offcut: Offcut, inch: float) -> Iterable[Offcut]:
    """Return an offcut that begins half an inch too early, or ends so much too late."""
    x, y = offcut.at
    step = -inch / 2 if x > inch else inch / 2
    ring = tuple((_end_moved(u, offcut, step), v) for u, v in offcut.outline)
    at = (x + min(step, 0.0), y)
    return [replace(offcut, outline=ring, length=offcut.length + inch / 2, at=at)]


def _end_moved(x: float, offcut: Offcut, step: float) -> float:
    """Return where a corner lies once the end at which an offcut was cut is moved."""
    left = offcut.at[0]
    end = left if step < 0 else left + offcut.length
    return x + step if abs(x - end) < abs(step) else x


def _narrower(offcut: Offcut, inch: float) -> Iterable[Offcut]:
    top = max(y for _, y in offcut.outline)
    ring = tuple((x, y - inch / 2 if y > top - inch / 4 else y) for x, y in offcut.outline)
    return [replace(offcut, outline=ring, width=offcut.width - inch / 2)]


def _with_a_corner_off(offcut: Offcut, inch: float) -> Iterable[Offcut]:
    (x, y), *others = offcut.outline
    (u, v), (p, q) = others[0], others[-1]
    near = ((x + _step(u - x, inch), y + _step(v - y, inch)), (x + _step(p - x, inch), y))
    ring = (near[0], *others, (near[1][0], y + _step(q - y, inch)))
    return [replace(offcut, outline=ring)]


def _step(way: float, inch: float) -> float:
    """Return an inch that way."""
    return max(-inch, min(inch, way))


def _another_length(offcut: Offcut, inch: float) -> Iterable[Offcut]:
    return [replace(offcut, length=offcut.length + inch / 2)]


def _another_place(offcut: Offcut, inch: float) -> Iterable[Offcut]:
    return [replace(offcut, at=(offcut.at[0] + inch / 2, offcut.at[1]))]


def _long_leftover_left_out(request: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan without a leftover that is plainly longer and wider than the least."""
    rules, inch = request.rules, INCH[request.unit]

    def plain(offcut: Offcut) -> bool:
        wide = offcut.width > rules.min_row_width + inch
        return offcut.used_by is None and wide and offcut.length > rules.min_end_piece + inch

    return with_offcut(plan, plain, lambda _: [])


def _another_user(_: PlanRequest, plan: Plan) -> Plan | None:
    users = [offcut.used_by for offcut in plan.offcuts if offcut.used_by]
    if len(users) < 2:
        return None
    return with_offcut(
        plan,
        lambda offcut: offcut.used_by == users[0],
        lambda offcut: [replace(offcut, used_by=users[1])],
    )


def _user_in_hand(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with an offcut used by the piece that it was cut off from."""
    first = {piece.plank: piece.id for piece in reversed(plan.pieces)}
    return with_offcut(
        plan,
        lambda offcut: offcut.used_by is not None,
        lambda offcut: [replace(offcut, used_by=first[offcut.plank])],
    )


def _another_plank(_: PlanRequest, plan: Plan) -> Plan | None:
    whole = [piece.plank for piece in plan.pieces if not piece.cuts]
    if not whole:
        return None
    return with_offcut(
        plan,
        lambda offcut: offcut.used_by is None,
        lambda offcut: [replace(offcut, plank=whole[0])],
    )


def _invented(_: PlanRequest, plan: Plan) -> Plan | None:
    whole = [piece for piece in plan.pieces if not piece.cuts]
    if not whole:
        return None
    length, width = whole[0].size
    offcut = Offcut(
        id="F999",
        plank=whole[0].plank,
        length=length,
        width=width,
        keeps=SIDES,
        outline=((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)),
    )
    return replace(plan, offcuts=(*plan.offcuts, offcut))


def _one_stack(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with all that waits on one stack, where more than ten wait at once."""
    if plan.totals.rack_max <= 10 or len({o.stack for o in plan.offcuts} - {None}) < 2:
        return None
    offcuts = (replace(o, stack="A") if o.stack else o for o in plan.offcuts)
    return replace(plan, offcuts=tuple(offcuts))


def _labels_alike(_: PlanRequest, plan: Plan) -> Plan | None:
    return with_offcut(
        plan, lambda offcut: offcut.id != "F1", lambda offcut: [replace(offcut, id="F1")]
    )


OFFCUTS = spoilings(
    ("a used offcut that keeps nothing", "offcut", _used(_with(keeps=()))),
    ("a leftover that keeps nothing", "offcut", _left_over(_with(keeps=()))),
    ("an offcut that keeps an end that was cut off", "offcut", _used(_keeps_all)),
    ("an offcut that keeps an edge less than it does", "offcut", _used(_keeps_less)),
    ("a used offcut left out", "offcut", _used(_none)),
    ("a leftover left out", "offcut", _long_leftover_left_out),
    ("a used offcut half an inch too long", "offcut", _used(_longer)),
    ("a leftover half an inch too long", "offcut", _left_over(_longer)),
    ("an offcut half an inch too narrow", "offcut", _used(_narrower)),
    ("an offcut without a corner", "offcut", _left_over(_with_a_corner_off)),
    ("an offcut whose length is not its outline's", "offcut", _used(_another_length)),
    ("an offcut whose place is not its outline's", "offcut", _used(_another_place)),
    ("an offcut without an outline", "offcut", _used(_with(outline=()))),
    ("an offcut told twice", "offcut", _used(_doubled)),
    ("two offcuts of one label", "offcut", _labels_alike),
    ("an offcut used by a piece of another plank", "offcut", _another_user),
    ("an offcut used by the piece it is cut from", "offcut", _user_in_hand),
    ("an offcut used by nobody", "offcut", _used(_with(used_by=None, stack=None))),
    ("an offcut used by a piece that is none", "offcut", _used(_with(used_by="99-99"))),
    ("a leftover of a plank that is laid whole", "offcut", _another_plank),
    ("an offcut invented", "offcut", _invented),
    (
        "an offcut that waits on no stack",
        "stack",
        _first(_waits, _with(stack=None)),
    ),
    ("a leftover on a stack", "stack", _left_over(_with(stack="A"))),
    ("a stack that is no letter", "stack", _first(_waits, _with(stack="7"))),
    ("more than ten on one stack", "stack", _one_stack),
)
