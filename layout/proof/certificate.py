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
    Where piles are counted, ``cartons`` are those bought beside them.

Heights are those of the direction frame, turned over where laying starts at the high side.
The check measures the lines on the request's own outline and knows nothing of planner and solver.
Every length is taken shorter by more than rounding could change, in favor of the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import NamedTuple

from shapely.geometry import Polygon

from layout.proof.balance import Span
from layout.proof.floor import (
    area_bound,
    bound_of,
    can_be_marked,
    can_be_mixed,
    floor_bands,
    floor_lines,
    floor_to_cover,
    rips_of_balance,
    saw_takes,
    tied,
)
from layout.proof.lines import Band
from layout.proof.marks import Marks
from layout.proof.widths import Demand, demand_of, fewest_cartons, fewest_planks
from layout.values.errors import LayoutError
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE

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
    fewest = fewest_cartons(demand, request.sizes, MOST_CARTONS)
    if claimed != fewest:
        text = f"proof.fewest_cartons: says {claimed} cartons, its arithmetic gives {fewest}"
        raise CertificateError(text)
    planks = fewest_planks(demand, request.sizes, cartons)
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
