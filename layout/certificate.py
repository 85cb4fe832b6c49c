"""Certificates of lower bounds: what they say, and checking them by arithmetic alone.

``{"format": 1, "kind": "area", "value": 121}``
    Floor area over board area, rounded up.

``{"format": 1, "kind": "marks", "value": 48, "phase": 3.4, "marks": [[7.75, 25], ...],
"end_pieces": true, "offsets": true}``
    A board carries marks along its length, ``[distance from its left end, weight]``. Level lines
    one board width apart, at ``phase`` in the direction frame, cross the floor. All pieces on
    these lines lie at the same height in their planks, so two pieces of one plank never cover the
    same mark, nor one that the saw takes between them: a plank counts for at most the sum of all
    weights. Whatever way a line is cut into first piece, whole boards and last piece, its pieces
    cover marks of at least some weight. The sum of these least weights over all lines, divided
    by the weights of one plank and rounded up, is the bound, wherever the row lines fall.
    With ``end_pieces`` the plans meant keep ``min_end_piece``; with ``offsets`` they keep
    ``min_joint_offset``, and lines that touch are cut together (``layout.marking``).

The check measures the lines on the request's own outline and knows nothing of planner and solver.
Every length is taken shorter by more than rounding could change, in favour of the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, isfinite
from typing import Any

from layout.errors import LayoutError
from layout.linework import Line, chains_of, lines_at
from layout.marking import Marks, least_weight, least_weight_of_chain
from layout.outline import Region, region_to_frame, widest_region
from layout.request import PlanRequest

FORMAT = 1
SHORTER = 1e-6  # taken off each end of a line
FARTHEST = 1e7
MOST_MARKS = 2_000
MOST_WEIGHT = 10**9


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
        proven = proven_by_marks(request, direction_deg, proof)
    else:
        raise CertificateError(_refusal("kind", '"area" or "marks"'))
    value = proof.get("value")
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise CertificateError(_refusal("value", "a whole number of planks"))
    if value != proven:
        text = f"proof.value: says {value} planks, its arithmetic gives {proven}"
        raise CertificateError(text)
    return proven


def area_bound(request: PlanRequest) -> int:
    """Return floor area over board area, rounded up; what is there already is taken off."""
    region = widest_region(request.zone, request.rules.expansion_gap)
    board = max(size.length * size.width for size in request.product.boards)
    free = board * len({piece.plank for piece in request.laid})
    if request.on_hand is not None:
        free += sum(offcut.length * offcut.width for offcut in request.on_hand.offcuts)
    return max(0, ceil(float(region.area - free) / board - 1e-6))


def can_be_marked(request: PlanRequest) -> bool:
    """Tell whether lines one board width apart say anything: one width, nothing laid yet."""
    return len(request.product.boards) == 1 and not request.laid


def floor_to_cover(request: PlanRequest, direction_deg: float) -> Region:
    """Return what every plan must cover, in the direction frame."""
    return region_to_frame(widest_region(request.zone, request.rules.expansion_gap), direction_deg)


def floor_lines(
    request: PlanRequest, region: Region, phase: float, *, end_pieces: bool
) -> list[Line]:
    """Return what the level lines at ``phase`` cross of ``region`` (see ``floor_to_cover``)."""
    least = request.rules.min_end_piece if end_pieces else 0.0
    lines = lines_at(region, phase, request.product.board.width, least, hidden=_hidden(request))
    return [line.shorter(SHORTER) for line in lines]


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


def proven_by_marks(request: PlanRequest, direction_deg: float, proof: dict[str, Any]) -> int:
    """Return the bound of a proof by marks. Raises CertificateError."""
    if not can_be_marked(request):
        text = "proof.kind: marks prove nothing for several widths or a floor begun already"
        raise CertificateError(text)
    phase, end_pieces = proof.get("phase"), proof.get("end_pieces")
    if not isinstance(phase, int | float) or not _is_number(phase) or abs(phase) > FARTHEST:
        raise CertificateError(_refusal("phase", "a height near the floor"))
    if not isinstance(end_pieces, bool):
        raise CertificateError(_refusal("end_pieces", "true or false"))
    offsets = proof.get("offsets")
    if not isinstance(offsets, bool):
        raise CertificateError(_refusal("offsets", "true or false"))
    region = floor_to_cover(request, direction_deg)
    lines = floor_lines(request, region, float(phase), end_pieces=end_pieces)
    board = request.product.board
    if any(line.length > MOST_MARKS * board.length for line in lines):
        raise CertificateError(_refusal("phase", "lines of sensible length"))
    marks = _read_marks(proof.get("marks"), board.length, saw_takes(request, lines))
    weight = covered(request, region, lines, marks, offsets=offsets)
    return max(0, -(-weight // marks.total) - planks_free(request))


def covered(
    request: PlanRequest, region: Region, lines: Sequence[Line], marks: Marks, *, offsets: bool
) -> int:
    """Return the least weight that the pieces on all lines cover."""
    if not offsets:
        return sum(least_weight(marks, line) for line in lines)
    offset, board = request.rules.min_joint_offset, request.product.board
    chains = chains_of(region, lines, board.width, board.length + offset)
    return sum(least_weight_of_chain(marks, chain, offset) for chain in chains)


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
