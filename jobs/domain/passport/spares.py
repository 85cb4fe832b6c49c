"""Which of what is left of a floor takes the place of a damaged plank. Pure.

A whole plank of the same product and width always does: it is cut as the damaged one was. A
leftover does where it is long and wide enough and has every factory end and edge that the damaged
plank locks into its neighbors with.
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.plan import Offcut, Plan
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE


@dataclass(frozen=True, kw_only=True, slots=True)
class DamagedPlank:
    """A plank as it lies: its size, and the factory ends and edges that it still has.

    ``full``: nothing was cut off it. ``size``: length and width of the plank it was cut from.
    """

    name: str
    row: int
    place: int
    length: float
    width: float
    size: tuple[float, float]
    keeps: frozenset[str]
    full: bool
    variant: str | None = None


def damaged_plank(plan: Plan, name: str) -> DamagedPlank:
    """Return a piece as it is to be replaced. Raises KeyError where the plan has no such piece."""
    laid = next((one for one in laid_pieces(plan) if one.piece.id == name), None)
    if laid is None:
        raise KeyError(name)
    near = LENGTH_TOLERANCE[plan.unit]
    x0, y0, x1, y1 = laid.bounds
    return DamagedPlank(
        name=name,
        row=laid.row,
        place=laid.piece.place,
        length=x1 - x0,
        width=y1 - y0,
        size=laid.piece.size,
        keeps=_keeps(laid, near),
        full=laid.whole(near),
        variant=laid.piece.variant,
    )


def fitting_leftovers(plan: Plan, plank: DamagedPlank) -> tuple[Offcut, ...]:
    """Return the leftovers of a plan that take the place of a plank, the shortest first."""
    fit = (
        offcut for offcut in plan.offcuts if offcut.used_by is None and _fits(plan, offcut, plank)
    )
    return tuple(sorted(fit, key=lambda offcut: (offcut.length, offcut.id)))


def _keeps(laid: LaidPiece, near: float) -> frozenset[str]:
    """Return the factory ends and edges of a piece, by where it lies in its plank."""
    x0, y0, x1, y1 = laid.bounds
    length, width = laid.piece.size
    kept = {
        "left end": x0 - laid.x0 < near,
        "right end": laid.x0 + length - x1 < near,
        "low side": y0 - laid.y0 < near,
        "high side": laid.y0 + width - y1 < near,
    }
    return frozenset(name for name, there in kept.items() if there)


def _fits(plan: Plan, offcut: Offcut, plank: DamagedPlank) -> bool:
    near = LENGTH_TOLERANCE[plan.unit]
    source = next((piece for piece in plan.pieces if piece.plank == offcut.plank), None)
    if source is None or abs(source.size[1] - plank.size[1]) > near:
        return False
    if plank.variant is not None and source.variant != plank.variant:
        return False
    long = offcut.length > plank.length - near and offcut.width > plank.width - near
    return long and plank.keeps <= set(offcut.keeps) and _is_a_box(plan, offcut)


def _is_a_box(plan: Plan, offcut: Offcut) -> bool:
    """Whether nothing is missing from a leftover's length and width."""
    if not offcut.outline:
        return True
    ring = offcut.outline
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
    return offcut.length * offcut.width - abs(twice) / 2 < AREA_TOLERANCE[plan.unit]
