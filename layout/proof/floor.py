"""The floor of a proof: what every plan must cover, its lines, and what marks on them prove.

Heights are those of the direction frame, turned over where laying starts at the high side. Every
length is taken shorter by more than rounding could change, in favor of the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from shapely import union_all
from shapely.affinity import scale
from shapely.geometry import Polygon

from layout.proof.balance import LEAST_RUN, Span, first_rips
from layout.proof.lines import Band, Line, Linked, bands_of, lines_at, linked
from layout.proof.marks import Marks, least_weight_of_all
from layout.values.material import Side
from layout.values.outline import polygons_of, region_to_frame
from layout.values.regions import widest_region
from layout.values.request import PlanRequest
from layout.values.tolerances import BOUND_TOLERANCE, LENGTH_TOLERANCE, LINE_SHORTENING


def area_bound(request: PlanRequest) -> int:
    """Return floor area over board area, rounded up; what is there already is taken off.

    Where the request says what is at hand, pieces that are down give nothing but their own cover;
    otherwise the rest of their planks may be used too.
    """
    region = widest_region(request.zone, request.rules.expansion_gap)
    board = max(size.length * size.width for size in request.product.boards)
    if request.on_hand is None:
        bare = region.area - board * len({piece.plank for piece in request.laid})
    else:
        slack = 4 * LENGTH_TOLERANCE[request.unit]
        offcuts = request.on_hand.offcuts
        down = [Polygon(piece.outline, piece.holes) for piece in request.laid]
        bare = region.difference(union_all(down)).area if down else region.area
        bare -= sum((o.length + slack) * (o.width + slack) for o in offcuts)
    return max(0, ceil(float(bare) / board - BOUND_TOLERANCE))


def can_be_marked(request: PlanRequest) -> bool:
    """Whether lines one board width apart say anything: one width, nothing laid yet."""
    return len(request.product.boards) == 1 and not request.laid


def floor_to_cover(request: PlanRequest, direction_deg: float) -> Polygon:
    """Return what every plan must cover, in the direction frame, the start side low.

    Of parts that hang together nowhere, which may have row lines of their own, the largest; an
    empty polygon where nothing is left.
    """
    region = widest_region(request.zone, request.rules.expansion_gap)
    parts = polygons_of(region_to_frame(region, direction_deg))
    if not parts:
        return Polygon()
    largest = max(parts, key=lambda part: float(part.area))
    return _turned_over(largest) if request.lay.start is Side.HIGH else largest


def _turned_over(polygon: Polygon) -> Polygon:
    """Return the polygon with low and high sides changed."""
    turned: Polygon = scale(polygon, yfact=-1.0, origin=(0, 0))
    return turned


def rips_of_balance(request: PlanRequest, floor: Polygon) -> tuple[Span, ...] | None:
    """Return the first rips that the balance rule leaves, None where it leaves them open.

    ``floor`` as ``floor_to_cover`` returns it. Where a ``max_gap`` may move stopping lines, where
    the rule is off or the floor falls apart, nothing is said.
    """
    rules = request.rules
    if not rules.balance or any(e.max_gap is not None for e in request.zone.edges.values()):
        return None
    return first_rips(floor, request.product.board.width, LEAST_RUN[request.unit]) or None


def floor_lines(
    request: PlanRequest,
    floor: Polygon,
    phase: float,
    *,
    end_pieces: bool,
    rips: Span | None = None,
) -> list[Line]:
    """Return what the level lines at ``phase`` cross of ``floor`` (see ``floor_to_cover``).

    ``rips`` are the first rips that are meant, all where None.
    """
    if floor.is_empty:
        return []
    low = float(floor.bounds[1])
    lines = lines_at(
        floor,
        phase,
        request.product.board.width,
        request.rules.min_end_piece if end_pieces else 0.0,
        hidden=_hidden(request),
        rows_at=None if rips is None else (low + rips[0], low + rips[1]),
    )
    return [line.shorter(LINE_SHORTENING) for line in lines]


def _hidden(request: PlanRequest) -> float:
    """Return how far a floor may stand out past what must be covered."""
    rules = request.rules
    gaps = [
        edge.max_gap - (rules.expansion_gap if edge.gap is None else edge.gap)
        for edge in request.zone.edges.values()
        if edge.max_gap is not None
    ]
    return 3.0 * max(gaps, default=0.0)


def planks_free(request: PlanRequest) -> int:
    """Return how many planks are cut already and may give pieces without being counted."""
    offcuts = request.on_hand.offcuts if request.on_hand is not None else ()
    return len({(offcut.plank, offcut.id) for offcut in offcuts})


def can_be_mixed(request: PlanRequest) -> bool:
    """Whether rows of several widths say anything: more than one width, nothing begun."""
    return len(request.product.boards) > 1 and not request.laid and not planks_free(request)


def floor_bands(request: PlanRequest, floor: Polygon, *, end_pieces: bool) -> list[Band]:
    """Return the bands of ``floor`` (see ``floor_to_cover``), lines shortened."""
    widest = max(board.width for board in request.product.boards)
    least_end = request.rules.min_end_piece if end_pieces else 0.0
    return [
        replace(band, lines=tuple(line.shorter(LINE_SHORTENING) for line in band.lines))
        for band in bands_of(floor, widest, least_end, _hidden(request))
    ]


def bound_of(request: PlanRequest, lines: Linked, marks: Marks) -> int:
    """Return the planks that marks prove necessary for lines tied by ``tied``."""
    weight = least_weight_of_all(marks, lines, request.rules.min_joint_offset)
    return max(0, -(-weight // marks.total) - planks_free(request))


def tied(request: PlanRequest, floor: Polygon, lines: Sequence[Line], *, offsets: bool) -> Linked:
    """Return lines tied to those they touch; none is without ``offsets``."""
    if not offsets:
        return [(line, None) for line in lines]
    board = request.product.board
    return linked(floor, lines, board.width, board.length + request.rules.min_joint_offset)


def saw_takes(request: PlanRequest, lines: Sequence[Line]) -> float:
    """Return the kerf, or the narrowest gap between two lines of a row where that is less.

    One piece may lie across such a gap, uncut.
    """
    return min([request.rules.saw_kerf, *(line.gap_before for line in lines)])
