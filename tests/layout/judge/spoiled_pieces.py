"""Plans spoiled in their pieces: where they lie, what plank they come from, what they are told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from layout.values.material import Side
from layout.values.outline import direction_vector
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from layout.values.units import INCH
from tests.layout.judge.spoiling import Make, spoilings, with_piece_at


def _piece(change: Callable[[Piece], Piece], at: int = 1) -> Make:
    """Return what changes the piece at a place."""
    return lambda _, plan: with_piece_at(plan, at, change(plan.pieces[at]))


def _moved(request: PlanRequest, plan: Plan) -> Plan:
    """Return the plan with a piece moved along its row by half an inch."""
    step = INCH[request.unit] / 2
    x, y = (step * part for part in direction_vector(plan.direction_deg))
    piece = plan.pieces[1]
    ring = tuple((u + x, v + y) for u, v in piece.outline)
    origin = (piece.origin[0] + x, piece.origin[1] + y)
    return with_piece_at(plan, 1, replace(piece, outline=ring, origin=origin))


def _from_elsewhere(request: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with a cut piece from half an inch beside where it comes from."""
    step = INCH[request.unit] / 2
    x, y = (step * part for part in direction_vector(plan.direction_deg))
    at = next((i for i, piece in enumerate(plan.pieces) if piece.cuts), None)
    if at is None:
        return None
    piece = plan.pieces[at]
    return with_piece_at(
        plan, at, replace(piece, origin=(piece.origin[0] + x, piece.origin[1] + y))
    )


def _left_out(_: PlanRequest, plan: Plan) -> Plan:
    return replace(plan, pieces=plan.pieces[:-1])


def _twice(_: PlanRequest, plan: Plan) -> Plan:
    return replace(plan, pieces=(*plan.pieces, replace(plan.pieces[-1], id="99-1")))


def _from_a_spent_plank(_: PlanRequest, plan: Plan) -> Plan | None:
    whole = [i for i, piece in enumerate(plan.pieces) if not piece.cuts]
    if len(whole) < 2:
        return None
    first, second = plan.pieces[whole[0]], plan.pieces[whole[1]]
    return with_piece_at(plan, whole[1], replace(second, plank=first.plank))


def _from_a_used_offcut(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with two pieces cut from one offcut."""
    used = [piece for piece in plan.pieces if piece.id in {o.used_by for o in plan.offcuts}]
    for one in used:
        for at, two in enumerate(plan.pieces):
            like = {cut.measure_from for cut in two.cuts} == {c.measure_from for c in one.cuts}
            if two.plank != one.plank and like and two.size == one.size:
                return with_piece_at(plan, at, replace(two, plank=one.plank))
    return None


def _split_everywhere(_: PlanRequest, plan: Plan) -> Plan:
    return replace(plan, pieces=tuple(replace(piece, split=True) for piece in plan.pieces))


def _two_split(_: PlanRequest, plan: Plan) -> Plan:
    one, two, *others = plan.pieces
    return replace(plan, pieces=(replace(one, split=True), replace(two, split=True), *others))


def _split_no_more(_: PlanRequest, plan: Plan) -> Plan | None:
    if not any(piece.split for piece in plan.pieces):
        return None
    return replace(plan, pieces=tuple(replace(piece, split=False) for piece in plan.pieces))


def _places_swapped(_: PlanRequest, plan: Plan) -> Plan:
    one, two, *others = plan.pieces
    swapped = (replace(one, place=two.place), replace(two, place=one.place), *others)
    return replace(plan, pieces=swapped)


def _order_swapped(_: PlanRequest, plan: Plan) -> Plan:
    one, two, *others = plan.pieces
    return replace(plan, pieces=(two, one, *others))


def _shaded(variant: str | None) -> Make:
    """Return what gives one plank another shade."""

    def make(request: PlanRequest, plan: Plan) -> Plan:
        plank = plan.pieces[1].plank
        names = list(request.product.variants)
        shade = variant if variant or not names else None
        return replace(
            plan,
            pieces=tuple(
                replace(piece, variant=shade) if piece.plank == plank else piece
                for piece in plan.pieces
            ),
        )

    return make


def _two_shades_in_a_plank(_: PlanRequest, plan: Plan) -> Plan | None:
    planks = [piece.plank for piece in plan.pieces]
    for at, piece in enumerate(plan.pieces):
        if planks.count(piece.plank) > 1:
            return with_piece_at(plan, at, replace(piece, variant=f"not {piece.variant}"))
    return None


def _shades_traded(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with the shade of every plank that of the first."""
    if plan.pieces[0].variant is None:
        return None
    shade = plan.pieces[0].variant
    return replace(plan, pieces=tuple(replace(piece, variant=shade) for piece in plan.pieces))


def _another_start(_: PlanRequest, plan: Plan) -> Plan:
    side = Side.HIGH if plan.lay.start is Side.LOW else Side.LOW
    return replace(plan, lay=replace(plan.lay, start=side))


def _another_direction(_: PlanRequest, plan: Plan) -> Plan:
    return replace(plan, direction_deg=plan.direction_deg + 1)


def _ids_alike(_: PlanRequest, plan: Plan) -> Plan:
    return with_piece_at(plan, 1, replace(plan.pieces[1], id=plan.pieces[0].id))


def _of_a_wider_board(piece: Piece) -> Piece:
    return replace(piece, size=(piece.size[0], piece.size[1] * 1.25))


def _turned_round(piece: Piece) -> Piece:
    return replace(piece, size=(piece.size[1], piece.size[0]))


def _crossed(piece: Piece) -> Piece:
    a, b, c, *others = piece.outline
    return replace(piece, outline=(a, c, b, *others))


PIECES = spoilings(
    ("a piece left out", "missing", _left_out),
    ("a piece twice", "overlap", _twice),
    ("a piece moved by half an inch", "missing, overlap", _moved),
    ("a piece from elsewhere in its plank", "cut edge, within plank", _from_elsewhere),
    ("a piece of a plank that is laid whole", "kerf", _from_a_spent_plank),
    ("a piece of an offcut that is used", "kerf", _from_a_used_offcut),
    (
        "a piece of a board a quarter wider",
        "size",
        _piece(lambda p: replace(p, size=(p.size[0], p.size[1] * 1.25))),
    ),
    (
        "a piece of a board turned round",
        "size",
        _piece(lambda p: replace(p, size=(p.size[1], p.size[0]))),
    ),
    ("all pieces declared split", "split", _split_everywhere),
    ("two pieces declared split", "split", _two_split),
    ("boards split at posts that are not declared so", "cut edge", _split_no_more),
    (
        "two pieces of one id",
        "id",
        lambda _, plan: with_piece_at(plan, 1, replace(plan.pieces[1], id=plan.pieces[0].id)),
    ),
    ("two places swapped", "place", _places_swapped),
    ("two pieces out of order", "order", _order_swapped),
    ("a piece marked trapped that is not", "trapped", _piece(lambda p: replace(p, trapped=True))),
    ("a shade that the product has not", "variants", _shaded("Z")),
    ("a plank of two shades", "variant", _two_shades_in_a_plank),
    ("all planks of one shade", "variants", _shades_traded),
    ("another start", "lay", _another_start),
    (
        "another direction",
        "direction",
        lambda _, plan: replace(plan, direction_deg=plan.direction_deg + 1),
    ),
    (
        "a crossed outline",
        "outline",
        _piece(
            lambda p: replace(p, outline=(p.outline[0], p.outline[2], p.outline[1], *p.outline[3:]))
        ),
    ),
)
