"""The planner's front door: a request in, a plan out, improved until told to stop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import atan2, ceil, degrees, hypot
from random import Random

from shapely.geometry import Polygon

from layout.assembly import Seams, Slot, cut_planks, offcuts_of, pieces_of, slots_of
from layout.errors import NoPlanError, NotYetError
from layout.joints import CRUMB, Choices, Search, Site, Terms, joints_at
from layout.material import Stagger
from layout.offcuts import Stock
from layout.outline import (
    HoleKind,
    Region,
    Zone,
    edges_of,
    laying_region,
    polygons_of,
    zone_polygon,
)
from layout.plan import DirectionCost, Plan, Totals
from layout.request import INCH, PlanRequest
from layout.rows import Floor, Frame, floor_of, joined
from layout.solver import Stop
from layout.strips import LEAST_RUN, allowed_first_rips, narrowest_strip
from layout.summary import cartons_for, look_of, row_marks_of, warnings_of

_SWEEPS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the planner is: the best plan's planks, the proven bound, the work done so far."""

    planks: int
    lower_bound: int
    iterations: int


def plan_floor(
    request: PlanRequest,
    *,
    stop: Stop | None = None,
    progress: Callable[[Progress], None] | None = None,
) -> Plan:
    """Return the best plan found for ``request``.

    ``stop`` is asked often; once it says True the best plan so far is returned. Raises
    StoppedError where none stands yet, NoPlanError where nothing is left to lay, NotYetError for
    what this version can't plan.
    """
    _refuse_not_yet(request)
    plans = [
        _plan_direction(request, direction, stop, progress) for direction in _directions(request)
    ]
    best = min(plans, key=_rank)
    if request.rules.direction_deg is None:
        best = replace(best, directions=tuple(_cost(plan) for plan in plans if plan is not best))
    return best


def _refuse_not_yet(request: PlanRequest) -> None:
    """Refuse what can be read but not planned."""
    if len(request.product.boards) > 1:
        widths = [board.width for board in request.product.boards]
        raise NotYetError("product.boards", widths, "one board size for now")
    if request.product.variants:
        raise NotYetError("product.variants", dict(request.product.variants), "none for now")
    if request.laid:
        raise NotYetError("laid", f"{len(request.laid)} pieces", "none for now")
    if request.on_hand and request.on_hand.offcuts:
        raise NotYetError("on_hand.offcuts", len(request.on_hand.offcuts), "none for now")
    if request.rules.stagger is not Stagger.FREE:
        raise NotYetError("rules.stagger", request.rules.stagger.value, '"free" for now')


def _directions(request: PlanRequest) -> list[float]:
    """Return the directions to plan: the one asked for, or the main wall directions."""
    if request.rules.direction_deg is not None:
        return [request.rules.direction_deg]
    lengths: dict[float, float] = defaultdict(float)
    for (ax, ay), (bx, by) in edges_of(request.zone.outline):
        angle = round(degrees(atan2(by - ay, bx - ax)) % 180, 1) % 180
        lengths[angle] += hypot(bx - ax, by - ay)
    total = sum(lengths.values())
    main = sorted(lengths, key=lambda angle: (-lengths[angle], angle))
    return [angle for angle in main if lengths[angle] > 0.15 * total][:4] or main[:1]


def _plan_direction(
    request: PlanRequest,
    direction: float,
    stop: Stop | None,
    progress: Callable[[Progress], None] | None,
) -> Plan:
    """Return the best plan found along one direction."""
    frame = Frame(direction_deg=direction, lay=request.lay)
    region = frame.region(laying_region(request.zone, request.rules.expansion_gap))
    if region.is_empty:
        text = "zone: the gaps at its edges leave no floor to lay"
        raise NoPlanError(text)
    board = request.product.board
    registers = _registers(request.zone, frame)
    floor = joined(
        [
            floor_of(part, board, _first_rip(request, part), registers=registers)
            for part in polygons_of(region)
        ]
    )
    sites = _sites(floor, request, frame)
    terms = Terms.of(board.length, request.rules)
    search = Search(floor, sites, terms, Random(request.seed), _grid(board.length))
    _, _, chosen = search.improve(stop or (lambda: False), _SWEEPS)
    seams = [
        _seams(site, choices, i, board.length)
        for site, choices, i in zip(sites, search.choices, chosen, strict=True)
    ]
    plan = _assembled(request, frame, floor, sites, seams, terms)
    if progress is not None:
        progress(
            Progress(
                planks=plan.totals.planks, lower_bound=plan.totals.lower_bound, iterations=_SWEEPS
            )
        )
    return plan


def _seams(site: Site, choices: Choices, i: int, length: float) -> Seams:
    """Return the seams that a choice makes of a run."""
    starter = float(choices.starter[i])
    if choices.pieces[i] == 1:
        return Seams(joints=(), right_end=starter < site.run.length + 1)
    return Seams(joints=tuple(joints_at(site.run, starter, length)))


def _grid(length: float) -> list[float]:
    """Return phases to begin with, evenly spread."""
    return [length * i / 48 for i in range(48)]


def _first_rip(request: PlanRequest, region: Region) -> float:
    """Return the first rip with the widest narrowest strip among those the rules allow."""
    width, least = request.product.board.width, LEAST_RUN[request.unit]
    rules = request.rules
    spans = allowed_first_rips(
        region, width, least, balance=rules.balance, min_width=rules.min_row_width
    )
    marks = sorted({x for low, high in spans for x in (low, (low + high) / 2, high) if x > 0.01})
    return max(marks, key=lambda x: (round(narrowest_strip(region, width, least, x), 6), x))


def _registers(zone: Zone, frame: Frame) -> list[Polygon]:
    """Return the registers of a zone in the working frame: a piece may enclose them."""
    return [
        Polygon(frame.inward(hole.ring)) for hole in zone.holes if hole.kind is HoleKind.REGISTER
    ]


def _sites(floor: Floor, request: PlanRequest, frame: Frame) -> list[Site]:
    """Return the runs with the stretches where no joint may fall."""
    doorways = [Polygon(frame.inward(ring)) for ring in request.zone.no_joints]
    sites = []
    for run in floor.runs:
        barred = []
        for doorway in doorways:
            if doorway.intersects(run.shape):
                shared = doorway.intersection(run.shape)
                if shared.area > CRUMB:
                    barred.append((shared.bounds[0], shared.bounds[2]))
        sites.append(Site(run=run, barred=tuple(barred), posts=run.posts))
    return sites


def _assembled(
    request: PlanRequest,
    frame: Frame,
    floor: Floor,
    sites: Sequence[Site],
    seams: Sequence[Seams],
    terms: Terms,
) -> Plan:
    """Return the plan that these joints make."""
    rules, board = request.rules, request.product.board
    joints = [seam.joints for seam in seams]
    stock = Stock(length=board.length, width=board.width, kerf=rules.saw_kerf)
    slots: list[Slot] = [
        slot
        for index, (site, seam) in enumerate(zip(sites, seams, strict=True))
        for slot in slots_of(site, index, seam, board.length)
    ]
    cutting = cut_planks(slots, stock, rules.wall_error)
    pieces, firsts = pieces_of(cutting, frame, stock, rules.min_end_piece)
    least = (max(rules.min_end_piece, CRUMB), max(rules.min_row_width, CRUMB))
    offcuts, rack = offcuts_of(cutting, firsts, frame, stock, least)
    planks = len(cutting.planks)
    laid = floor.region.area
    bound = ceil(laid / (board.length * board.width) - 1e-9)
    kinds = [cut.kind for piece in pieces for cut in piece.cuts]
    cartons = cartons_for(planks + request.spares, request.product.per_carton)
    short = _shortage(request, planks)
    totals = Totals(
        planks=planks,
        cartons=cartons,
        lower_bound=bound,
        floor_area=zone_polygon(request.zone).area,
        laid_area=laid,
        rack_max=rack,
        waste=planks * board.length * board.width / laid - 1,
        crosscuts=kinds.count("crosscut"),
        rips=kinds.count("rip"),
        notches=kinds.count("notch"),
        full_pieces=sum(not piece.cuts for piece in pieces),
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
        warnings=warnings_of(request, sites, floor, joints, terms),
    )


def _shortage(request: PlanRequest, planks: int) -> int:
    """Return how many planks are missing from what is on hand."""
    if request.on_hand is None or request.on_hand.planks is None:
        return 0
    return max(0, planks + request.spares - request.on_hand.planks)


def _rank(plan: Plan) -> tuple[float, ...]:
    """Return what plans are compared by: rules, planks, looks, rack, crosscuts, rips."""
    totals = plan.totals
    return (
        len(plan.warnings),
        totals.planks,
        totals.look.h_joints + totals.look.staircases,
        totals.rack_max,
        totals.crosscuts,
        totals.rips,
    )


def _cost(plan: Plan) -> DirectionCost:
    """Return what a plan in its direction costs."""
    return DirectionCost(
        direction_deg=plan.direction_deg,
        planks=plan.totals.planks,
        cartons=plan.totals.cartons,
        crosscuts=plan.totals.crosscuts,
        rips=plan.totals.rips,
        trapped=sum(piece.trapped for piece in plan.pieces),
    )
