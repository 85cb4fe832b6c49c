"""Judging totals: everything that a plan says about itself, counted again from its pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from layout.judge.planks import by_plank
from layout.judge.rows import touching_joints
from layout.judge.view import Fault, View
from layout.values.outline import zone_polygon
from layout.values.plan import Look
from layout.values.tolerances import FLOOR_AREA_TOLERANCE, WASTE_TOLERANCE


def wrong_totals(view: View) -> Iterator[Fault]:
    """Yield every total that does not follow from the pieces."""
    totals = view.plan.totals
    planks = planks_bought(view)
    area = sum(piece.shape.area for piece in view.pieces)
    yield from _counts(view, planks)
    yield from _differs(
        "floor_area", totals.floor_area, zone_polygon(view.request.zone).area, FLOOR_AREA_TOLERANCE
    )
    yield from _differs("laid_area", totals.laid_area, area, 2 * view.scrap)
    new_area, fresh = sum(piece.shape.area for piece in view.new), _planks_new(view)
    if new_area > 0:
        sizes = {p.piece.plank: p.piece.size for p in view.new if p.piece.plank in fresh}
        bought = sum(length * width for length, width in sizes.values())
        yield from _differs("waste", totals.waste, bought / new_area - 1, WASTE_TOLERANCE)
    yield from _wrong_look(view)
    yield from _wrong_shortage(view, planks)


def planks_bought(view: View) -> int:
    """Return how many planks the plan takes that are not on the floor or the rack already."""
    return len(_planks_new(view))


def _planks_new(view: View) -> set[int]:
    """Return the numbers of planks that are cut first by this plan."""
    known = {piece.piece.plank for piece in view.pieces if piece.before}
    if view.request.on_hand is not None:
        known |= {offcut.plank for offcut in view.request.on_hand.offcuts}
    return {piece.piece.plank for piece in view.new} - known


def _counts(view: View, planks: int) -> Iterator[Fault]:
    """Yield whole-number totals that differ from the count."""
    totals = view.plan.totals
    kinds = Counter(cut.kind for piece in view.new for cut in piece.piece.cuts)
    counted = {
        "planks": planks,
        "cartons": _cartons(view, planks),
        "crosscuts": kinds["crosscut"],
        "rips": kinds["rip"],
        "notches": kinds["notch"],
        "full_pieces": sum(piece.whole(view.near) for piece in view.new),
    }
    for name, count in counted.items():
        if getattr(totals, name) != count:
            text = f"the plan says {getattr(totals, name)}, its pieces make {count}"
            yield _fault(name, getattr(totals, name), count, text)


def _cartons(view: View, planks: int) -> int:
    """Return the cartons that hold the planks and spares, by size and by variant."""
    product = view.request.product
    new = _planks_new(view)
    first = {number: pieces[0] for number, pieces in by_plank(view).items() if number in new}
    cartons = ceil((planks + view.request.spares) / product.per_carton)
    if len(product.boards) > 1:
        boards = Counter(view.board_of(piece.piece) for piece in first.values())
        for board in product.boards:
            cartons = max(cartons, ceil(boards[board] / board.per_carton))
    variants = Counter(piece.piece.variant for piece in first.values())
    for name, per_carton in product.variants.items():
        cartons = max(cartons, ceil(variants[name] / per_carton))
    return cartons


def _wrong_shortage(view: View, planks: int) -> Iterator[Fault]:
    """Yield a shortage that does not follow from what is on hand."""
    totals, on_hand = view.plan.totals, view.request.on_hand
    least = most = 0
    if on_hand is not None and on_hand.planks is not None:
        least = max(0, planks - on_hand.planks)
        most = max(0, planks + view.request.spares - on_hand.planks)
    if not least <= totals.shortage_planks <= most:
        text = f"the plan says {totals.shortage_planks} planks short, the count is {least}"
        yield _fault("shortage.planks", totals.shortage_planks, least, text)
    cartons = ceil(totals.shortage_planks / view.request.product.per_carton)
    if totals.shortage_cartons < cartons:
        text = f"the plan says {totals.shortage_cartons} cartons short, the count is {cartons}"
        yield _fault("shortage.cartons", totals.shortage_cartons, cartons, text)


def _wrong_look(view: View) -> Iterator[Fault]:
    """Yield figures of the look that differ from the count.

    A count may lie between those for a shade less and a shade more than an inch.
    """
    look = view.plan.totals.look
    least, most = look_of(view, view.inch - view.near), look_of(view, view.inch + view.near)
    for name in ("h_joints", "staircases"):
        count, low, high = getattr(look, name), getattr(least, name), getattr(most, name)
        if not low <= count <= high:
            yield _fault(
                f"look.{name}", count, low, f"the plan says {count}, its joints make {low}"
            )
    one, two = look.smallest_offset, least.smallest_offset
    if (one is None) != (two is None) or abs((one or 0) - (two or 0)) > 2 * view.near:
        text = f"the plan says {one}, its joints make {two}"
        yield _fault("look.smallest_offset", one or 0, two or 0, text)


def look_of(view: View, within: float) -> Look:
    """Return what the eye sees in the joints; two that stand ``within`` are lined up.

    H-joints: joints of a row that are lined up with one of the next row but one. Staircases:
    pairs of joints of neighboring rows whose step to one side, no longer than half a board,
    comes again from row to row twice more. Smallest offset: between end joints of touching rows.
    """
    rows: dict[int, set[float]] = {number: set() for number in view.rows}
    for joint in view.joints:
        rows[joint.row].add(joint.x)
    half = view.request.product.board.length / 2 + view.near
    return Look(
        h_joints=sum(
            _near(x, rows.get(number + 2, set()), within)
            for number, joints in rows.items()
            for x in joints
        ),
        staircases=sum(
            within < abs(second - first) <= half
            and _near(2 * second - first, rows.get(number + 2, set()), within)
            and _near(3 * second - 2 * first, rows.get(number + 3, set()), within)
            for number, joints in rows.items()
            for first in joints
            for second in rows.get(number + 1, set())
        ),
        smallest_offset=min((abs(b.x - a.x) for a, b in touching_joints(view)), default=None),
    )


def _near(x: float, joints: set[float], within: float) -> bool:
    """Whether a joint stands within reach of ``x``."""
    return any(abs(x - other) <= within for other in joints)


def _differs(name: str, said: float, counted: float, slack: float) -> Iterator[Fault]:
    """Yield a figure that is off by more than ``slack``."""
    if abs(said - counted) > slack:
        yield _fault(
            name, said, counted, f"the plan says {said:.4g}, its pieces make {counted:.4g}"
        )


def _fault(name: str, said: float, counted: float, text: str) -> Fault:
    """Return the fault of one total."""
    return Fault(rule="totals", where=name, value=said, limit=counted, text=text)
