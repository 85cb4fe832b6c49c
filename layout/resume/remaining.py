"""From a plan and what was really laid of it to the request for what is left.

    ids = pieces_down(plan, rows=12, pieces=3)           row 13 is begun
    again = go_on(request, plan, laid_ids=ids, planks_left=41, offcuts_gone={"F7"})

The pieces stay where they are. Offcuts keep the labels of the plan that they were cut by.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from shapely.geometry import Polygon

from layout.values.errors import InputError
from layout.values.leftovers import OnHand, box_of, cut_by_plank, is_left, parts_left
from layout.values.plan import Offcut, Piece, Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE, TOUCHING_TOLERANCE


def pieces_down(plan: Plan, *, rows: int, pieces: int = 0) -> tuple[str, ...]:
    """Return the ids of the pieces of the first ``rows`` rows, and of so many of the next row.

    Rows and pieces count in the order of laying, which is that of the plan's pieces.
    Raises InputError where the plan has fewer rows or the row fewer pieces.
    """
    numbers = list(dict.fromkeys(piece.row for piece in plan.pieces))
    if not 0 <= rows <= len(numbers):
        raise InputError("rows", rows, f"0 to {len(numbers)} rows")
    begun = [p for p in plan.pieces if rows < len(numbers) and p.row == numbers[rows]]
    if not 0 <= pieces <= len(begun):
        raise InputError("pieces", pieces, f"0 to {len(begun)} pieces of the next row")
    whole = numbers[:rows]
    return (
        *(piece.id for piece in plan.pieces if piece.row in whole),
        *(piece.id for piece in begun[:pieces]),
    )


def planks_begun(request: PlanRequest, plan: Plan, laid_ids: Collection[str]) -> int:
    """Return how many planks were cut first, or laid whole, for pieces that are down now.

    What was down or at hand before the plan does not count.
    """
    before = {piece.plank for piece in request.laid} | {o.plank for o in _held(request)}
    return len({piece.plank for piece in plan.pieces if piece.id in laid_ids} - before)


def go_on(
    request: PlanRequest,
    plan: Plan,
    *,
    laid_ids: Collection[str],
    planks_left: int | None,
    offcuts_gone: Collection[str] = (),
) -> PlanRequest:
    """Return the request for what is left once the pieces ``laid_ids`` of a plan are down.

    Pieces that were down before the plan stay down. ``planks_left`` are the whole planks at hand
    (None: as many as it takes), ``offcuts_gone`` the labels of offcuts that are broken or lost.
    Offcuts at hand are what the pieces down have left of their planks, and those at hand before
    that no piece was cut from. Raises InputError for a piece or an offcut that the plan doesn't
    have.
    """
    known = {piece.id for piece in plan.pieces}
    for name in laid_ids:
        if name not in known:
            raise InputError("laid_ids", name, "ids of pieces of the plan")
    down = set(laid_ids) | {piece.id for piece in request.laid}
    laid = tuple(piece for piece in plan.pieces if piece.id in down)
    rules = replace(request.rules, direction_deg=plan.direction_deg)
    offcuts = offcuts_at_hand(request, plan, laid)
    labels = {offcut.id for offcut in (*plan.offcuts, *_held(request), *offcuts)}
    for label in offcuts_gone:
        if label not in labels:
            raise InputError("offcuts_gone", label, "labels of offcuts of the plan")
    left = tuple(offcut for offcut in offcuts if offcut.id not in offcuts_gone)
    on_hand = OnHand(planks=planks_left, offcuts=left)
    return replace(request, rules=rules, laid=laid, on_hand=on_hand)


def offcuts_at_hand(request: PlanRequest, plan: Plan, laid: Sequence[Piece]) -> tuple[Offcut, ...]:
    """Return what the pieces down have left of their planks, in the order of the plan.

    ``laid`` are the pieces of the plan that are down.
    """
    before = {piece.id for piece in request.laid}
    cut = cut_by_plank(laid, plan.direction_deg)
    fresh = cut_by_plank([p for p in laid if p.id not in before], plan.direction_deg)
    offcuts = [o for o in _held(request) if is_left(o, fresh.get(o.plank, []), request.unit)]
    done = {piece.id for piece in laid}
    for number in sorted(fresh):
        offcuts += _left_of_plank(request, plan, number, cut[number], done, tuple(offcuts))
    return tuple(offcuts)


def _left_of_plank(
    request: PlanRequest,
    plan: Plan,
    number: int,
    cut: Sequence[Polygon],
    done: Collection[str],
    known: Sequence[Offcut],
) -> Iterator[Offcut]:
    """Yield the offcuts of one plank that the plan lists, and what else its pieces have left.

    Of a plank that was cut before the plan nothing is known but what the plan lists.
    """
    labels = {offcut.id for offcut in known}
    taken = [box_of(offcut) for offcut in known if offcut.plank == number]
    listed = [o for o in plan.offcuts if o.plank == number and o.used_by not in done]
    for offcut in listed:
        free = is_left(offcut, cut, request.unit) and not _met(taken, box_of(offcut), request)
        if free and offcut.id not in labels:
            taken.append(box_of(offcut))
            labels.add(offcut.id)
            yield replace(offcut, used_by=None)
    before = {p.plank for p in request.laid} | {o.plank for o in _held(request)}
    if number in before:
        return
    size = next(piece.size for piece in plan.pieces if piece.plank == number)
    least = (request.rules.min_end_piece, request.rules.min_row_width)
    for i, room in enumerate(parts_left(size, cut, request.rules.saw_kerf), start=1):
        left, low, right, high = room.bounds
        if min(right - left - least[0], high - low - least[1]) < -TOUCHING_TOLERANCE:
            continue
        if not _met(taken, room, request):
            yield _offcut(f"P{number}-{i}", number, size, room, LENGTH_TOLERANCE[request.unit])


def _met(taken: Sequence[Polygon], room: Polygon, request: PlanRequest) -> bool:
    """Whether a box overlaps one of those taken."""
    return any(room.intersection(other).area > AREA_TOLERANCE[request.unit] for other in taken)


def _offcut(
    label: str, plank: int, size: tuple[float, float], room: Polygon, near: float
) -> Offcut:
    """Return the offcut that a box of a plank is."""
    left, low, right, high = room.bounds
    kept = {
        "left end": left < near,
        "right end": right > size[0] - near,
        "low side": low < near,
        "high side": high > size[1] - near,
    }
    return Offcut(
        id=label,
        plank=plank,
        length=right - left,
        width=high - low,
        keeps=tuple(name for name, keeps in kept.items() if keeps),
        at=(left, low),
    )


def _held(request: PlanRequest) -> tuple[Offcut, ...]:
    """Return the offcuts that were at hand before the plan."""
    return request.on_hand.offcuts if request.on_hand else ()
