"""What spoils a plan in one way, and how single pieces, cuts and offcuts of it are changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from layout.values.plan import Cut, Offcut, Piece, Plan
from layout.values.request import PlanRequest

Make = Callable[[PlanRequest, Plan], Plan | None]  # None where a plan can't be spoiled so


@dataclass(frozen=True, kw_only=True)
class Spoiling:
    """One way to spoil a plan, and the rule, or one of the rules, that then refuses it."""

    name: str
    rules: frozenset[str]
    make: Make


def spoilings(*entries: tuple[str, str, Make]) -> tuple[Spoiling, ...]:
    """Return spoilings of (name, rules with spaces between them, how it is made)."""
    return tuple(
        Spoiling(name=name, rules=frozenset(rules.split(", ")), make=make)
        for name, rules, make in entries
    )


def with_cut(
    plan: Plan,
    wanted: Callable[[Piece, Cut], bool],
    change: Callable[[Piece, Cut], Iterable[Cut]],
) -> Plan | None:
    """Return the plan with the first wanted cut changed into others; None where there is none."""
    for at, piece in enumerate(plan.pieces):
        for number, cut in enumerate(piece.cuts):
            if wanted(piece, cut):
                cuts = (*piece.cuts[:number], *change(piece, cut), *piece.cuts[number + 1 :])
                return with_piece_at(plan, at, replace(piece, cuts=cuts))
    return None


def with_piece_at(plan: Plan, at: int, *pieces: Piece) -> Plan:
    """Return the plan with other pieces for the one at a place."""
    return replace(plan, pieces=(*plan.pieces[:at], *pieces, *plan.pieces[at + 1 :]))


def with_offcut(
    plan: Plan,
    wanted: Callable[[Offcut], bool],
    change: Callable[[Offcut], Iterable[Offcut]],
) -> Plan | None:
    """Return the plan with the first wanted offcut changed into others; None without one."""
    for at, offcut in enumerate(plan.offcuts):
        if wanted(offcut):
            changed = (*plan.offcuts[:at], *change(offcut), *plan.offcuts[at + 1 :])
            return replace(plan, offcuts=changed)
    return None


def with_totals(**changes: Any) -> Make:
    """Return what changes totals, each by a function of what stands there."""

    def make(_: PlanRequest, plan: Plan) -> Plan:
        values = {name: change(getattr(plan.totals, name)) for name, change in changes.items()}
        return replace(plan, totals=replace(plan.totals, **values))

    return make
