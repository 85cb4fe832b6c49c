"""A plan in words and tables, for people who can't or won't read the drawing. Pure.

Everything here is read from the stored request and plan, so a plan of last year reads as it did.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from shapely.geometry import Polygon

from jobs.words import core_area_words, core_length_words
from layout.outline import to_frame
from layout.plan import Cut, Piece, Plan
from layout.request import PlanRequest

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
class CutLine:
    """One piece that is cut, with every cut in words."""

    id: str
    plank: int
    cuts: tuple[str, ...]
    trapped: bool


def planks_by_custom(request: PlanRequest, plan: Plan) -> int:
    """Return how many planks the area and ten percent would have bought."""
    board = request.product.board
    return math.ceil(plan.totals.floor_area * CUSTOM / (board.length * board.width))


def proof_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return what the plan takes, what can't be undercut, and what custom would have bought."""
    planks, bound = plan.totals.planks, plan.totals.lower_bound
    custom = f"10 % more than the area would have bought {planks_by_custom(request, plan)}."
    if plan.status == "proven":
        return f"{planks} planks; no plan in this direction takes fewer. {custom}"
    return f"{planks} planks; fewer than {bound} can't do it. {custom}"


def buying_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return how the cartons come about."""
    per, spares = request.product.per_carton, request.spares
    extra = f" and {spares} spare" if spares else ""
    left = plan.totals.cartons * per - plan.totals.planks - spares
    rest = f"; {left} left in the last carton" if left > 0 else ""
    return f"{plan.totals.planks} planks{extra}, {per} to a carton{rest}"


def rows_of(plan: Plan) -> list[RowLine]:
    """Return the rows in the order of laying, pieces in the order of their places."""
    pieces = sorted(plan.pieces, key=lambda piece: (piece.row, piece.place))
    return [
        _row(number, tuple(row), plan) for number, row in groupby(pieces, key=lambda one: one.row)
    ]


def cut_lines(plan: Plan) -> list[CutLine]:
    """Return every piece that is cut."""
    return [
        CutLine(
            id=piece.id,
            plank=piece.plank,
            cuts=tuple(cut_words(cut, plan.unit) for cut in piece.cuts),
            trapped=piece.trapped,
        )
        for piece in plan.pieces
        if piece.cuts
    ]


def cut_words(cut: Cut, unit: str) -> str:
    """Return one cut in words: where it is measured from, and what is left open till then."""
    at = core_length_words(cut.at, unit)
    told = f"{cut.kind} {at} from the {cut.measure_from}, {cut.tool}"
    if cut.final == "exact":
        return told
    least, most = (core_length_words(value, unit) for value in cut.limits or (cut.at, cut.at))
    return f"{told}; measure on site, the plan holds from {least} to {most}"


def piece_area_words(pieces: Iterable[Piece], unit: str) -> str:
    """Return the area of pieces together."""
    return core_area_words(sum(Polygon(p.outline, p.holes).area for p in pieces), unit)


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
