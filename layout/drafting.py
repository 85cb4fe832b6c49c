"""Writing a plan down: pieces, planks, offcuts and totals from the seams of every run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from layout.assembly import Cutting, Seams, Slot, cut_planks, pieces_of, slots_of
from layout.choices import CRUMB, Site, Terms
from layout.offcuts import Stock
from layout.outline import LENGTH_TOLERANCE, zone_polygon
from layout.plan import Plan, Totals
from layout.rack import offcuts_of, rack_of
from layout.request import INCH, PlanRequest
from layout.rows import Floor, Frame
from layout.summary import cartons_for, drift_warnings, look_of, row_marks_of, warnings_of
from layout.variants import Spread, like_pieces, spread, touching_planks

_WHOLE = 1e-3  # a piece that lacks less of its plank's area is a whole one


def draft_plan(
    request: PlanRequest,
    frame: Frame,
    floor: Floor,
    sites: Sequence[Site],
    seams: Sequence[Seams],
    terms: Terms,
    *,
    thorough: bool = True,
) -> Plan:
    """Return the plan that these joints make, its variants spread ``thorough`` or just taken."""
    rules, board = request.rules, request.product.board
    joints = [seam.joints for seam in seams]
    stock = Stock(length=board.length, width=board.width, kerf=rules.saw_kerf)
    slots: list[Slot] = [
        slot
        for index, (site, seam) in enumerate(zip(sites, seams, strict=True))
        for slot in slots_of(site, index, seam, board.length, rules.wall_error)
    ]
    cutting = cut_planks(slots, stock, rules.wall_error, rules.max_rack)
    pieces, firsts = pieces_of(
        cutting, frame, stock, rules.min_end_piece, LENGTH_TOLERANCE[request.unit]
    )
    shades = _shades(request, cutting, thorough=thorough)
    if shades.variants:
        pieces = tuple(replace(p, variant=shades.variants[p.plank - 1]) for p in pieces)
    least = (max(rules.min_end_piece, CRUMB), max(rules.min_row_width, CRUMB))
    offcuts = offcuts_of(cutting.planks, firsts, frame, stock, least)
    planks = len(cutting.planks)
    laid = floor.region.area
    bound = ceil(laid / (board.length * board.width) - 1e-9)
    areas = [shape.area for slot in slots for shape in slot.shapes]
    kinds = [cut.kind for piece in pieces for cut in piece.cuts]
    cartons = cartons_for(planks + request.spares, request.product.per_carton)
    short = _shortage(request, planks)
    totals = Totals(
        planks=planks,
        cartons=cartons,
        lower_bound=bound,
        floor_area=zone_polygon(request.zone).area,
        laid_area=laid,
        rack_max=rack_of(cutting.planks, stock),
        waste=planks * board.length * board.width / laid - 1,
        crosscuts=kinds.count("crosscut"),
        rips=kinds.count("rip"),
        notches=kinds.count("notch"),
        full_pieces=sum(area > board.length * board.width - _WHOLE for area in areas),
        look=look_of(floor, joints, board.length, INCH[request.unit]),
        shortage_planks=short,
        shortage_cartons=cartons_for(short, request.product.per_carton),
    )
    return Plan(
        unit=request.unit,
        direction_deg=frame.direction_deg,
        lay=request.lay,
        status="proven" if planks == bound else "best_found",
        proof={},
        pieces=pieces,
        offcuts=offcuts,
        totals=totals,
        row_marks=row_marks_of(request.zone, floor, frame),
        warnings=(
            *warnings_of(request, sites, floor, joints, terms),
            *drift_warnings(cutting, stock, rules),
            *like_pieces(shades),
        ),
    )


def _shortage(request: PlanRequest, planks: int) -> int:
    """Return how many planks are missing from what is on hand."""
    if request.on_hand is None or request.on_hand.planks is None:
        return 0
    return max(0, planks + request.spares - request.on_hand.planks)


def _shades(request: PlanRequest, cutting: Cutting, *, thorough: bool) -> Spread:
    """Return the variant of every plank, none where all boards look alike."""
    product, planks = request.product, len(cutting.planks)
    if not product.variants:
        return Spread(variants=(), alike=0)
    cartons = cartons_for(planks + request.spares, product.per_carton)
    supply = {name: cartons * count for name, count in product.variants.items()}
    return spread(touching_planks(cutting), planks, supply, thorough=thorough)
