"""Writing a plan down: pieces, planks, offcuts and totals from the seams of every run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.geometry import Polygon, box

from layout.drafting.cartons import cartons_for, shortage_of, spread_rule, supplies_for
from layout.drafting.row_marks import row_marks_of
from layout.drafting.summary import (
    close_warnings,
    drift_warnings,
    look_of,
    narrow_warnings,
    once_a_place,
    split_warnings,
    warnings_of,
)
from layout.joints.choices import Site, Terms
from layout.planks.pieces import Cutting, Seams, Slot, cut_planks, pieces_of, slots_of
from layout.planks.rack import rack_of
from layout.planks.trapping import ways_in
from layout.planks.variants import Shades, like_pieces, shades_of
from layout.proof.certificate import FORMAT
from layout.proof.floor import area_bound
from layout.resume.laid_boards import Down, planks_at_hand
from layout.rows.ground import Ground
from layout.rows.rows import Floor
from layout.rows.widths import width_warnings
from layout.values.outline import zone_polygon
from layout.values.plan import Look, Piece, Plan, RuleWarning, Totals
from layout.values.request import PlanRequest
from layout.values.tolerances import SCRAP_TOLERANCE
from layout.values.units import INCH

_PIECES_IN_SCRAP = 50  # a piece is more than this part of the area that no one looks at


def draft_plan(
    ground: Ground,
    floor: Floor,
    sites: Sequence[Site],
    seams: Sequence[Seams],
    *,
    down: Down | None = None,
    given_way: Sequence[RuleWarning] = (),
    thorough: bool = True,
) -> Plan:
    """Return the plan that these joints make, its variants spread ``thorough`` or just taken.

    Its offcuts are not listed yet, and at most as many wait at once as its totals say.
    ``down`` is what lies already, where that is more than nothing; ``given_way`` is what is to be
    said where the balance rule gave way.
    """
    request, rules = ground.request, ground.request.rules
    slots = _slots(ground, floor, sites, seams)
    cutting = cut_planks(slots, request, planks_at_hand(ground), _numbered_before(request))
    whole = down.whole if down else floor
    shades = _shades(ground, cutting, whole, thorough=thorough)
    pieces = _pieces(ground, slots, shades)
    joints = [seam.joints for seam in seams]
    all_joints = down.with_new(sites, joints) if down else joints
    look = look_of(whole, all_joints, whole.board.length, INCH[request.unit])
    totals = _totals(ground, shades, pieces, look)
    terms = Terms.of(request)
    homes = sorted(set(down.homes)) if down else range(len(sites))
    return Plan(
        unit=request.unit,
        direction_deg=ground.frame.direction_deg,
        lay=request.lay,
        status="proven" if totals.planks == totals.lower_bound else "best_found",
        proof={"format": FORMAT, "kind": "area", "value": totals.lower_bound},
        pieces=(*request.laid, *pieces),
        offcuts=(),
        totals=totals,
        row_marks=row_marks_of(ground, whole),
        warnings=once_a_place(
            (
                *given_way,
                *narrow_warnings(request, [whole.runs[home] for home in homes]),
                *warnings_of(sites, joints, terms),
                *close_warnings(whole, all_joints, terms, down.joints if down else ()),
                *split_warnings(shades.cutting, terms),
                *drift_warnings(shades.cutting, rules),
                *width_warnings(whole.rows, request.sizes),
                *like_pieces(shades),
            )
        ),
        spread=spread_rule(request),
    )


def _slots(
    ground: Ground, floor: Floor, sites: Sequence[Site], seams: Sequence[Seams]
) -> list[Slot]:
    """Return the slots of all runs in the order of laying, without scraps."""
    scrap, wall_error = ground.scrap / _PIECES_IN_SCRAP, ground.request.rules.wall_error
    slots = [
        slot
        for index, (site, seam) in enumerate(zip(sites, seams, strict=True))
        for slot in slots_of(site, index, seam, floor.board.length, wall_error)
        if any(shape.area > scrap for shape in slot.shapes)
    ]
    return _in_order(ground, slots, scrap)


def _pieces(ground: Ground, slots: Sequence[Slot], shades: Shades) -> tuple[Piece, ...]:
    """Return the pieces with their ways in and variants."""
    pieces = pieces_of(ground, shades.cutting)
    pieces = tuple(
        replace(piece, trapped=way is not None, goes_in=way)
        for piece, way in zip(pieces, ways_in(ground, slots), strict=True)
    )
    if any(shades.variants):
        numbers = (plank.number for plank in shades.cutting.planks)
        shade = dict(zip(numbers, shades.variants, strict=True))
        pieces = tuple(replace(piece, variant=shade[piece.plank]) for piece in pieces)
    return pieces


def _in_order(ground: Ground, slots: Sequence[Slot], scrap: float) -> list[Slot]:
    """Return slots without scraps in the order of laying, places counted from where rows begin."""

    def at(shape: Polygon) -> tuple[float, float]:
        left, low, right, _ = shape.bounds
        return right if ground.frame.mirrored_x else left, low

    kept = []
    for slot in slots:
        shapes = sorted((p for p in slot.shapes if p.area > scrap), key=at)
        kept.append(replace(slot, shapes=tuple(shapes)))
    return sorted(kept, key=lambda slot: (ground.request.lay.turn(slot.row), at(slot.shapes[0])))


def _totals(ground: Ground, shades: Shades, pieces: Sequence[Piece], look: Look) -> Totals:
    """Return what the pieces come to; the lower bound is the floor's area."""
    request, cutting = ground.request, shades.cutting
    planks = [plank.stock for plank in cutting.planks if plank.label is None]
    new_area = sum(shape.area for slot in cutting.slots for shape in slot.shapes)
    laid = new_area + sum(Polygon(piece.outline, piece.holes).area for piece in request.laid)
    bought = sum(stock.length * stock.width for stock in planks)
    kinds = [cut.kind for piece in pieces for cut in piece.cuts]
    short = shortage_of(request, _kinds(shades))
    return Totals(
        planks=len(planks),
        fewest=len(planks),
        cartons=cartons_for(request.product, [stock.width for stock in planks], request.spares),
        lower_bound=area_bound(request),
        floor_area=zone_polygon(request.zone).area,
        laid_area=laid,
        rack_max=rack_of(cutting.planks),
        waste=bought / new_area - 1,
        crosscuts=kinds.count("crosscut"),
        rips=kinds.count("rip"),
        notches=kinds.count("notch"),
        full_pieces=sum(
            _whole(slot, origin, ground.near)
            for slot, origin in zip(cutting.slots, cutting.origins, strict=True)
        ),
        look=look,
        shortage_planks=short.planks,
        shortage_cartons=short.cartons,
        short_piles=short.piles,
    )


def _numbered_before(request: PlanRequest) -> int:
    """Return the highest number of a plank that was cut before."""
    offcuts = request.on_hand.offcuts if request.on_hand else ()
    return max([0, *(piece.plank for piece in request.laid), *(o.plank for o in offcuts)])


def _whole(slot: Slot, origin: tuple[float, float], near: float) -> bool:
    """Whether a slot holds a whole plank: nothing as wide as ``near`` is missing from it."""
    length, width = slot.size
    missing = length * width - max(shape.area for shape in slot.shapes)
    if missing <= SCRAP_TOLERANCE or missing > 2 * near * (length + width):
        return bool(missing <= SCRAP_TOLERANCE)
    x, y = origin
    waste = box(x, y, x + length, y + width).difference(shapely.union_all(slot.shapes))
    return bool(waste.buffer(-near / 2).is_empty)


def _shades(ground: Ground, cutting: Cutting, whole: Floor, *, thorough: bool) -> Shades:
    """Return the cutting with the variant of every plank, none where all boards look alike."""
    request, sizes = ground.request, ground.request.sizes
    if not any(size.shaded for size in sizes):
        begun = {piece.plank: piece.variant for piece in request.laid}
        variants = tuple(begun.get(plank.number or 0) for plank in cutting.planks)
        return Shades(cutting=cutting, variants=variants)
    widths = [plank.stock.width for plank in cutting.planks if plank.label is None]
    supplies = supplies_for(request, widths)
    return shades_of(ground, cutting, supplies, whole.rows, thorough=thorough)


def _kinds(shades: Shades) -> list[tuple[float, str | None]]:
    """Return the width and shade of every new plank."""
    planks = zip(shades.cutting.planks, shades.variants, strict=True)
    return [(plank.stock.width, name) for plank, name in planks if plank.label is None]
