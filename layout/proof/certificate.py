"""Certificates of lower bounds: what they say, and checking them by arithmetic alone.

``{"format": 1, "kind": "area", "value": 121}``
    Floor area over board area, rounded up.

``{"format": 1, "kind": "marks", "value": 48, "end_pieces": true, "offsets": true,
"cases": [{"phase": 3.4, "marks": [[7.75, 25], ...]}]}``
    A board carries marks along its length, ``[distance from its left end, weight]``. Level lines
    one board width apart, at ``phase``, cross the floor. All pieces on these lines lie at the same
    height in their planks, so two pieces of one plank never cover the same mark, nor one that the
    saw takes between them: a plank counts for at most the sum of all weights. Whatever way a line
    is cut into first piece, whole boards and last piece, its pieces cover marks of at least some
    weight. The sum of these least weights over all lines, divided by the weights of one plank and
    rounded up, is the bound, wherever the row lines fall.
    With ``end_pieces`` the plans meant keep ``min_end_piece``; with ``offsets`` they keep
    ``min_joint_offset``, and lines that touch are cut together (``layout.proof.marks``).
    A case with ``"rips": [low, high]`` speaks of first rips between these only, and so knows which
    rows its lines lie in; the cases cover all first rips of the balance rule, the least counts.

``{"format": 1, "kind": "widths", "value": 111, "cartons": 12, "fewest_cartons": 12,
"end_pieces": true, "marks": [[7.75, 25], ...]}``
    Boards of several widths, one width a row. No plan that takes ``cartons`` or fewer takes fewer
    planks than ``value``, and none at all goes below ``fewest_cartons``; by the same marks, for
    rows in any order (``layout.proof.widths``). Of plans that take more cartons it says nothing.

Heights are those of the direction frame, turned over where laying starts at the high side.
The check measures the lines on the request's own outline and knows nothing of planner and solver.
Every length is taken shorter by more than rounding could change, in favor of the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import ceil, isfinite
from typing import NamedTuple

from shapely import union_all
from shapely.affinity import scale
from shapely.geometry import Polygon

from layout.proof.balance import LEAST_RUN, Span, first_rips
from layout.proof.lines import Band, Line, Linked, bands_of, lines_at, linked
from layout.proof.marks import Marks, least_weight_of_all
from layout.proof.widths import Demand, demand_of, fewest_cartons, fewest_planks
from layout.values.errors import LayoutError
from layout.values.material import Side
from layout.values.outline import polygons_of, region_to_frame, widest_region
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    BOUND_TOLERANCE,
    LENGTH_TOLERANCE,
    LINE_SHORTENING,
    TOUCHING_TOLERANCE,
)

FORMAT = 1
FARTHEST = 1e7
MOST_CASES = 40
MOST_MARKS = 2_000
MOST_WEIGHT = 10**9
MOST_CARTONS = 100_000


class CertificateError(LayoutError):
    """A certificate that does not prove what it says, or can't be read."""


def check(request: PlanRequest, direction_deg: float, proof: object) -> int:
    """Return the number of planks that ``proof`` proves necessary.

    Raises CertificateError where the proof can't be read, or proves another number than it says.
    """
    if not isinstance(proof, dict) or proof.get("format") != FORMAT:
        raise CertificateError(_refusal("format", 'a certificate with "format": 1'))
    kind = proof.get("kind")
    if kind == "area":
        proven = area_bound(request)
    elif kind == "marks":
        proven = _proven_by_marks(request, direction_deg, proof)
    elif kind == "widths":
        proven = _proven_by_widths(request, direction_deg, proof)
    else:
        raise CertificateError(_refusal("kind", '"area", "marks" or "widths"'))
    value = proof.get("value")
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise CertificateError(_refusal("value", "a whole number of planks"))
    if value != proven:
        text = f"proof.value: says {value} planks, its arithmetic gives {proven}"
        raise CertificateError(text)
    return proven


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


class _Claims(NamedTuple):
    """Which rules the plans keep that a proof by marks speaks of."""

    end_pieces: bool
    offsets: bool


def _read_claim(proof: Mapping[str, object], name: str) -> bool:
    """Whether a proof speaks of plans that keep a rule. Raises CertificateError."""
    claim = proof.get(name)
    if not isinstance(claim, bool):
        raise CertificateError(_refusal(name, "true or false"))
    return claim


def _proven_by_marks(
    request: PlanRequest, direction_deg: float, proof: Mapping[str, object]
) -> int:
    """Return the bound of a proof by marks. Raises CertificateError."""
    if not can_be_marked(request):
        text = "proof.kind: marks prove nothing for several widths or a floor begun already"
        raise CertificateError(text)
    claims = _Claims(*(_read_claim(proof, name) for name in _Claims._fields))
    cases = proof.get("cases")
    if not isinstance(cases, list) or not 1 <= len(cases) <= MOST_CASES:
        raise CertificateError(_refusal("cases", f"1 to {MOST_CASES} cases"))
    floor = floor_to_cover(request, direction_deg)
    rips = [_read_rips(case) for case in cases]
    if None not in rips:
        _check_all_rips(rips_of_balance(request, floor), [span for span in rips if span])
    elif len(cases) > 1:
        raise CertificateError(_refusal("cases", "first rips in every case of several"))
    return min(
        _case_bound(request, floor, case, span, claims)
        for case, span in zip(cases, rips, strict=True)
    )


def _read_rips(case: object) -> Span | None:
    """Return the first rips that a case speaks of, None for all. Raises CertificateError."""
    if not isinstance(case, dict):
        raise CertificateError(_refusal("cases", "objects { ... }"))
    rips = case.get("rips")
    if rips is None:
        return None
    if not (isinstance(rips, list) and len(rips) == 2 and all(map(_is_number, rips))):
        raise CertificateError(_refusal("cases.rips", "two widths [low, high]"))
    if not 0 <= rips[0] <= rips[1] <= FARTHEST:
        raise CertificateError(_refusal("cases.rips", "two widths, the lesser first"))
    return float(rips[0]), float(rips[1])


def _check_all_rips(allowed: Sequence[Span] | None, spoken_of: Sequence[Span]) -> None:
    """Refuse cases that leave out a first rip of the balance rule."""
    if allowed is None:
        raise CertificateError(_refusal("cases", "a case for all first rips"))
    for low, high in allowed:
        left = low
        met = False
        for start, end in sorted(spoken_of):
            if start <= left + TOUCHING_TOLERANCE and end >= left - TOUCHING_TOLERANCE:
                left, met = max(left, end), True
        if not met or left < high - TOUCHING_TOLERANCE:
            text = f"proof.cases: first rips from {left:g} to {high:g} are left out"
            raise CertificateError(text)


def _case_bound(
    request: PlanRequest,
    floor: Polygon,
    case: Mapping[str, object],
    rips: Span | None,
    claims: _Claims,
) -> int:
    """Return the bound of one case. Raises CertificateError."""
    phase = case.get("phase")
    if not isinstance(phase, int | float) or not _is_number(phase) or abs(phase) > FARTHEST:
        raise CertificateError(_refusal("phase", "a height near the floor"))
    lines = floor_lines(request, floor, float(phase), end_pieces=claims.end_pieces, rips=rips)
    board = request.product.board
    if any(line.length > MOST_MARKS * board.length for line in lines):
        raise CertificateError(_refusal("phase", "lines of sensible length"))
    marks = _read_marks(case.get("marks"), board.length, saw_takes(request, lines))
    return bound_of(request, tied(request, floor, lines, offsets=claims.offsets), marks)


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


def _proven_by_widths(
    request: PlanRequest, direction_deg: float, proof: Mapping[str, object]
) -> int:
    """Return the bound of a proof for several widths. Raises CertificateError."""
    if not can_be_mixed(request):
        text = "proof.kind: widths prove nothing for one width or a floor begun already"
        raise CertificateError(text)
    cartons, claimed = (_read_cartons(proof, name) for name in ("cartons", "fewest_cartons"))
    end_pieces = _read_claim(proof, "end_pieces")
    floor = floor_to_cover(request, direction_deg)
    bands = floor_bands(request, floor, end_pieces=end_pieces)
    demand = demand_in(request, bands, proof.get("marks"))
    fewest = fewest_cartons(demand, request.product.boards, MOST_CARTONS)
    if claimed != fewest:
        text = f"proof.fewest_cartons: says {claimed} cartons, its arithmetic gives {fewest}"
        raise CertificateError(text)
    planks = fewest_planks(demand, request.product.boards, cartons)
    if planks is None:
        raise CertificateError(_refusal("cartons", f"{fewest} cartons or more"))
    return planks


def _read_cartons(proof: Mapping[str, object], name: str) -> int:
    """Return a count of cartons that a proof names. Raises CertificateError."""
    count = proof.get(name)
    if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= MOST_CARTONS:
        raise CertificateError(_refusal(name, f"a whole number up to {MOST_CARTONS}"))
    return count


def demand_in(request: PlanRequest, bands: Sequence[Band], marks: object) -> Demand:
    """Return what a floor asks for in marks, pairs [place, weight]. Raises CertificateError."""
    length, lines = request.product.board.length, [line for band in bands for line in band.lines]
    if any(line.length > MOST_MARKS * length for line in lines):
        raise CertificateError(_refusal("marks", "lines of sensible length"))
    return demand_of(bands, _read_marks(marks, length, saw_takes(request, lines)))


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


def _read_marks(data: object, length: float, kerf: float) -> Marks:
    """Return the marks of a proof, places rising. Raises CertificateError."""
    if not isinstance(data, list) or not 1 <= len(data) <= MOST_MARKS:
        raise CertificateError(_refusal("marks", f"1 to {MOST_MARKS} marks"))
    pairs: list[tuple[float, int]] = []
    for entry in data:
        if not (isinstance(entry, list | tuple) and len(entry) == 2):
            raise CertificateError(_refusal("marks", "pairs [place, weight]"))
        place, weight = entry
        whole = isinstance(weight, int) and not isinstance(weight, bool)
        if not (_is_number(place) and whole and 0 < weight <= MOST_WEIGHT):
            raise CertificateError(_refusal("marks", "places, and whole weights above 0"))
        if not 0 <= place < length:
            raise CertificateError(_refusal("marks", f"places from 0 to below {length:g}"))
        pairs.append((float(place), weight))
    pairs.sort()
    return Marks(
        length=length,
        kerf=kerf,
        places=tuple(place for place, _ in pairs),
        weights=tuple(weight for _, weight in pairs),
    )


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)


def _refusal(field: str, accepted: str) -> str:
    return f"proof.{field}: can't be used; accepted: {accepted}"
