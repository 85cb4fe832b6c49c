"""A plan request: the zone, the product, the rules, and how hard to try. Frozen values and JSON form."""

from __future__ import annotations

from dataclasses import dataclass

from layout.material import Lay, LayingRules, Prefer, Product
from layout.outline import Zone
from layout.plan import Offcut, Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """What is left to lay with: whole planks (None: not limited) and labelled offcuts."""

    planks: int | None = None
    offcuts: tuple[Offcut, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRequest:
    """Everything the planner needs. Exactly one of ``effort_s`` and ``effort_iterations`` counts:
    iterations where given (repeatable), else seconds.
    """

    unit: str
    zone: Zone
    product: Product
    rules: LayingRules
    lay: Lay = Lay()
    laid: tuple[Piece, ...] = ()
    on_hand: OnHand | None = None
    spares: int = 0
    prefer: Prefer = Prefer.PLANKS
    effort_s: float = 5.0
    effort_iterations: int | None = None
    seed: int = 0
