"""A plan in words and tables, for people who can't or won't read the drawing. Pure.

Everything here is read from the stored request and plan, so a plan of last year reads as it did.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby

from jobs.domain.lengths import core_length_words
from jobs.domain.numerals import whole_number
from jobs.domain.plans.sorting import sorting_of
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.trapped import how_in
from layout.values.outline import edges_of, to_frame
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.units import length_words as tape_words

CUSTOM = 1.10  # what the trade buys without a plan: the area and ten percent; common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One piece of a row: its name, its plank, how long it lies, whether it is a whole board."""

    id: str
    plank: int
    length: str
    whole: bool
    trapped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLine:
    """One row from its first end to its last."""

    number: int
    width: str
    pieces: tuple[PieceLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkLine:
    """The marks of a story stick held against one edge of the floor.

    ``scribe``: where the edge is not straight, how far it stands off, in words by place.
    """

    source: str
    marks: tuple[str, ...]
    scribe: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StartLine:
    """One place where laying may start, how many pieces it leaves trapped, whether it is taken."""

    words: str
    trapped: int
    taken: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RowNow:
    """One row as it is laid: its pieces in a line, where it begins, the rows before and after.

    ``new``: the new planks that are brought to it, by pile; empty where all boards are alike.
    """

    number: int
    line: str
    begin: str
    before: int | None
    after: int | None
    place: str
    new: str = ""


def planks_by_custom(request: PlanRequest, plan: Plan) -> int:
    """Return how many planks the area and ten percent would have bought."""
    board = request.product.board
    return math.ceil(plan.totals.floor_area * CUSTOM / (board.length * board.width))


def cartons_by_custom(request: PlanRequest, plan: Plan) -> int:
    """Return the cartons that the area and ten percent would have bought, with the same spares."""
    return math.ceil(
        (planks_by_custom(request, plan) + request.spares) / request.product.per_carton
    )


def carton_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return this plan's cartons held against those of custom, spares on both sides."""
    custom, cartons = cartons_by_custom(request, plan), plan.totals.cartons
    spares = f", {request.spares} spare on both sides" if request.spares else ""
    than = "as many" if custom == cartons else f"{custom}"
    return (
        f"This plan buys {cartons}; 10\u00a0% more than the area would have bought {than}{spares}."
    )


def proof_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return what the plan takes, what can't be undercut, and what custom would have bought."""
    planks, bound = plan.totals.planks, plan.totals.lower_bound
    custom = f"10\u00a0% more than the area would have bought {planks_by_custom(request, plan)}."
    fewest = plan.totals.fewest
    if fewest < planks:
        spent = f"{planks} planks, {planks - fewest} of them spent on looks and fewer cuts"
        if plan.status == "proven":
            return f"{spent}; no plan in this direction takes fewer than {fewest}. {custom}"
        return f"{spent}; fewer than {bound} can't do it. {custom}"
    if plan.status == "proven":
        return f"{planks} planks; no plan in this direction takes fewer. {custom}"
    return f"{planks} planks; fewer than {bound} can't do it. {custom}"


def buying_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return how the cartons come about."""
    per, spares = request.product.per_carton, request.spares
    extra = f" and {spares} spare" if spares else ""
    if request.on_hand is not None:
        return f"{plan.totals.planks} planks{extra}, {request.on_hand.whole} whole ones at hand"
    left = plan.totals.cartons * per - plan.totals.planks - spares
    rest = f"; {left} left in the last carton" if left > 0 else ""
    return f"{plan.totals.planks} planks{extra}, {per} to a carton{rest}"


def rows_of(plan: Plan) -> list[RowLine]:
    """Return the rows in the order of laying, pieces in the order of their places."""
    pieces = sorted(plan.pieces, key=lambda piece: (piece.row, piece.place))
    return [
        _row(number, tuple(row), plan) for number, row in groupby(pieces, key=lambda one: one.row)
    ]


def trapped_of(request: PlanRequest, plan: Plan) -> list[tuple[str, str]]:
    """Return the pieces that can't be tilted in, in the order of laying, each with how it goes."""
    down = {piece.id for piece in request.laid}
    ways = ((one.id, how_in(request, one)) for one in plan.pieces if one.id not in down)
    return [(name, way) for name, way in ways if way]


def marks_of(request: PlanRequest, plan: Plan) -> list[MarkLine]:
    """Return the row lines of the story stick, one line of marks for each edge they are from."""

    def tape(length: float) -> str:
        return tape_words(length, plan.unit, on_tape=True)

    return [
        MarkLine(
            source=_edge_words(request, row.source, first=number == 0),
            marks=tuple(tape(mark) for mark in row.marks),
            scribe=tuple(f"{tape(off)} at {tape(along)}" for along, off in row.scribe),
        )
        for number, row in enumerate(plan.row_marks)
    ]


def _edge_words(request: PlanRequest, source: str, *, first: bool) -> str:
    """Return the edge that marks are held against in words a person on the floor can find."""
    if first:
        return "The start wall"
    word, _, number = source.partition(" ")
    edges = list(edges_of(request.zone.outline))
    if word != "edge" or not number.isdecimal() or int(number) >= len(edges):
        return source.capitalize()
    edge = request.zone.edges.get(int(number))
    kind = str(edge.kind) if edge else "wall"
    length = core_length_words(math.dist(*edges[int(number)]), request.unit)
    return f"The {kind} of {length}"


def starts_of(request: PlanRequest, plan: Plan) -> list[StartLine]:
    """Return the places where laying may start, fewest trapped pieces first."""
    lay = request.lay
    lines = [
        StartLine(
            words=one.words[:1].upper() + one.words[1:],
            trapped=one.trapped,
            taken=one.control_row == lay.control_row
            and (one.control_row is not None or one.start is lay.start),
        )
        for one in plan.starts
    ]
    return sorted(lines, key=lambda line: (line.trapped, not line.taken))


def row_now(request: PlanRequest, plan: Plan, sheet: CutSheet, typed: str) -> RowNow | None:
    """Return the row that is stepped to, None where none is; what is no number is row 1."""
    if not typed:
        return None
    down = {piece.id for piece in request.laid}
    order = list(dict.fromkeys(piece.row for piece in plan.pieces if piece.id not in down))
    if not order:
        return None
    wanted = whole_number(typed)
    number = order[0] if wanted is None else min(order, key=lambda row: abs(row - wanted))
    (row,) = RowsOfSheet(request, plan, sheet).rows(row=number)
    at = order.index(number)
    sorting = sorting_of(request, plan)
    return RowNow(
        number=number,
        line=row.line,
        begin=row.begin,
        before=order[at - 1] if at else None,
        after=order[at + 1] if at + 1 < len(order) else None,
        place=f"{at + 1} of {len(order)}",
        new=sorting.of_row(number) if sorting else "",
    )


def _row(number: int, pieces: tuple[Piece, ...], plan: Plan) -> RowLine:
    spans = [_extent(piece, plan.direction_deg) for piece in pieces]
    return RowLine(
        number=number,
        width=core_length_words(max(span[1] for span in spans), plan.unit),
        pieces=tuple(
            PieceLine(
                id=piece.id,
                plank=piece.plank,
                length=core_length_words(span[0], plan.unit),
                whole=not piece.cuts,
                trapped=piece.trapped,
            )
            for piece, span in zip(pieces, spans, strict=True)
        ),
    )


def _extent(piece: Piece, direction_deg: float) -> tuple[float, float]:
    """Return how far a piece reaches along the row and across it."""
    xs, ys = zip(*to_frame(piece.outline, direction_deg), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)
