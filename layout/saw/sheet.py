"""The sheet of a plan: every cut of every plank, in the order in which they are made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from shapely.geometry import Polygon, box

from layout.saw.leftovers import is_usable
from layout.saw.measures import tool_of
from layout.saw.of_plan import SawnPart, sawn_parts
from layout.saw.order import Sawing
from layout.values.errors import Described, InputError
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.outline import zone_polygon
from layout.values.plan import Cut, Plan
from layout.values.request import PlanRequest
from layout.values.sheet import AfterCut, CutSheet, PlankCuts, SawCut
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import length_words


def sheet_of(request: PlanRequest, plan: Plan) -> CutSheet:
    """Return the cuts of a plan, whoever made it, in the order in which they are made.

    Raises InputError where the plan is another request's, and where no order of cuts makes the
    pieces of a plank.
    """
    pieces = laid_pieces(plan, request.laid)
    refuse_other(request, plan, pieces)
    cuts: dict[int, list[SawCut]] = {}
    sizes: dict[int, tuple[float, float]] = {}
    for part in sawn_parts(request, pieces, plan.lay):
        sizes[part.plank] = (part.bench.length, part.bench.width)
        of_plank = cuts.setdefault(part.plank, [])
        of_plank += _cuts(request, plan, part, len(of_plank))
    planks = (
        PlankCuts(plank=number, size=sizes[number], cuts=tuple(of_plank))
        for number, of_plank in cuts.items()
    )
    return CutSheet(unit=plan.unit, planks=tuple(planks))


def refuse_other(request: PlanRequest, plan: Plan, pieces: tuple[LaidPiece, ...]) -> None:
    """Refuse a plan that was made for another request. Raises InputError."""
    if plan.unit != request.unit:
        raise InputError("unit", Described(f"the plan is in {plan.unit}"), request.unit)
    near = LENGTH_TOLERANCE[request.unit]
    known = {piece.id for piece in plan.pieces}
    for piece in request.laid:
        if piece.id not in known:
            raise InputError("pieces", Described(f"none is {piece.id}"), "all pieces of laid")
    sizes = [(board.length, board.width) for board in request.product.boards]
    for i, laid in enumerate(pieces):
        length, width = laid.piece.size
        if all(max(abs(length - a), abs(width - b)) > near for a, b in sizes):
            boards = " or ".join(f"{a:g} x {b:g}" for a, b in sizes)
            value = Described(f"{length:g} x {width:g}")
            raise InputError(f"pieces[{i}].size", value, f"a board of the request: {boards}")
        if not box(-near, -near, length + near, width + near).covers(laid.in_plank):
            value = Described(f"piece {laid.piece.id} reaches past its plank")
            board = f"a piece within its board of {length:g} x {width:g}"
            raise InputError(f"pieces[{i}].outline", value, board)
    _refuse_outside(request, plan, near)


def _refuse_outside(request: PlanRequest, plan: Plan, near: float) -> None:
    """Refuse pieces of another floor than the request's. Raises InputError."""
    zone, scrap = zone_polygon(request.zone), AREA_TOLERANCE[request.unit]
    around = zone.buffer(near, join_style="mitre")
    for i, piece in enumerate(plan.pieces):
        if Polygon(piece.outline).difference(around).area > scrap:
            value = Described(f"piece {piece.id} lies outside the zone")
            raise InputError(f"pieces[{i}].outline", value, "a plan of this request")
    if abs(plan.totals.floor_area - zone.area) > max(scrap, near * zone.length):
        area = f"{zone.area:g}, the area of the zone"
        raise InputError("totals.floor_area", plan.totals.floor_area, area)


def _cuts(request: PlanRequest, plan: Plan, part: SawnPart, done: int) -> Iterator[SawCut]:
    """Yield the cuts of a plank or of a leftover, numbered on. Raises InputError."""
    if part.order is None:
        names = " and ".join(piece.piece.id for piece in part.pieces)
        value = Described(f"no order of cuts makes {names} of plank {part.plank}")
        raise InputError("pieces", value, "pieces that can be sawn from their plank")
    stacks = {o.used_by: o.stack for o in plan.offcuts if o.used_by and o.plank == part.plank}
    pieces = {piece.piece.id: piece for piece in part.pieces}
    kerfs = (part.bench.kerf, part.bench.rip)
    for n, sawing in enumerate(part.order.sawings, start=done + 1):
        final, limits = _on_site(part, sawing, pieces)
        cut = SawCut(
            n=n,
            kind=sawing.kind,
            measure_from=sawing.measure_from,
            at=sawing.at,
            path=sawing.path,
            goes=sawing.goes,
            tool=tool_of(sawing.kind, kerfs),
            then=_then(request, sawing, stacks),
            final=final,
            limits=limits,
        )
        yield replace(cut, text=plain_words(cut, plan.unit))


def _then(request: PlanRequest, sawing: Sawing, stacks: Mapping[str, str | None]) -> AfterCut:
    """Return what becomes of both parts."""
    kept = sawing.away is not None and is_usable(sawing.away, request.rules)
    return AfterCut(
        in_hand=sawing.piece,
        aside=sawing.aside,
        stack=stacks.get(sawing.aside[0]) if sawing.aside else None,
        waste=not sawing.aside and not kept,
    )


def _on_site(
    part: SawnPart, sawing: Sawing, pieces: Mapping[str, LaidPiece]
) -> tuple[str, tuple[float, float] | None]:
    """Return whether a cut is measured on site, and its limits from where it is measured."""
    piece = pieces[sawing.piece]
    for cut in piece.piece.cuts:
        if cut.final != "exact" and sawing.line is not None and _same(part, sawing, cut):
            if cut.limits is None or cut.measure_from == sawing.measure_from:
                return cut.final, cut.limits
            size = _across(part, cut)
            return cut.final, (size - cut.limits[1], size - cut.limits[0])
    return "exact", None


def _same(part: SawnPart, sawing: Sawing, cut: Cut) -> bool:
    """Whether a cut of a piece is the one that is sawn."""
    sides = {"left end": "right", "right end": "left", "low side": "high", "high side": "low"}
    if cut.kind != sawing.kind or sides.get(cut.measure_from) != sawing.goes:
        return False
    at = cut.at if cut.measure_from == sawing.measure_from else _across(part, cut) - cut.at
    return abs(at - sawing.at) <= part.bench.near


def _across(part: SawnPart, cut: Cut) -> float:
    """Return the plank's size the way that a cut is measured."""
    return part.bench.length if "end" in cut.measure_from else part.bench.width


def plain_words(cut: SawCut, unit: str) -> str:
    """Return what a cut is in one plain sentence."""
    figure = length_words(cut.at, unit, on_tape=True)
    return f"{cut.kind.capitalize()} {figure} from the {cut.measure_from}; {cut.goes} of it goes."
