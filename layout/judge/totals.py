"""Judging totals: everything that a plan says about itself, counted again from its pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from math import ceil

from layout.judge.boards import Kind, has_piles, new_planks, piles_of
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
    """Return the cartons that hold the planks and spares, by size and by variant.

    Piles once counted need not lie in the proportions of a carton: then by size alone.
    """
    product = view.request.product
    cartons = ceil((planks + view.request.spares) / product.per_carton)
    sizes: Counter[Kind] = Counter(
        (view.board_of(piece), None) for piece in new_planks(view).values()
    )
    kinds: Counter[Kind] = Counter() if has_piles(view) else kinds_of(view)
    return max(cartons, _holding(view, sizes), _holding(view, kinds))


def _holding(view: View, kinds: Mapping[Kind, int]) -> int:
    """Return the cartons that hold planks of these sizes and variants (None: of any)."""
    cartons = 0
    for (board, name), count in kinds.items():
        if board is not None:
            held = (
                board.per_carton if name is None else view.request.product.mix_of(board).get(name)
            )
            cartons = max(cartons, ceil(count / held) if held else 0)
    return cartons


def _wrong_shortage(view: View, planks: int) -> Iterator[Fault]:
    """Yield a shortage that does not follow from what is on hand."""
    totals, on_hand = view.plan.totals, view.request.on_hand
    short = missing(view)
    least = most = sum(short.values())
    if on_hand is not None and on_hand.whole is not None:
        least = max(least, planks - on_hand.whole)
        most = max(least, planks + view.request.spares - on_hand.whole)
    if not least <= totals.shortage_planks <= most:
        text = f"the plan says {totals.shortage_planks} planks short, the count is {least}"
        yield _fault("shortage.planks", totals.shortage_planks, least, text)
    cartons = ceil(totals.shortage_planks / view.request.product.per_carton)
    by_size: Counter[Kind] = Counter()
    for (board, _), count in short.items():
        by_size[board, None] += count
    cartons = max(cartons, _holding(view, short), _holding(view, by_size))
    if totals.shortage_cartons != cartons:
        text = f"the plan says {totals.shortage_cartons} cartons short, the count is {cartons}"
        yield _fault("shortage.cartons", totals.shortage_cartons, cartons, text)
    yield from _wrong_piles(view, short)


def missing(view: View) -> Counter[Kind]:
    """Return the planks that are in no pile, by size and variant; none without piles."""
    return kinds_of(view) - piles_of(view) if has_piles(view) else Counter()


def _wrong_piles(view: View, short: Mapping[Kind, int]) -> Iterator[Fault]:
    """Yield what is told missing of a pile and is not, and what is bought though it lies there."""
    listed: Counter[Kind] = Counter()
    for pile in view.plan.totals.short_piles:
        board = next(
            (b for b in view.request.product.boards if abs(b.width - pile.width) <= view.near), None
        )
        listed[board, pile.variant] += pile.planks
    for board, name in dict.fromkeys([*listed, *short]):
        said, count = listed[board, name], short.get((board, name), 0)
        if said != count:
            text = f"the plan says {said} {name or 'planks'} are missing, the piles lack {count}"
            width = "no width" if board is None else f"width {board.width:g}"
            yield _fault(f"shortage.piles, {width}", said, count, text)
    for board in view.request.product.boards:
        bought = sum(count for (size, _), count in short.items() if size == board)
        left = sum(n for (size, _), n in (piles_of(view) - kinds_of(view)).items() if size == board)
        if bought and left:
            text = f"{bought} planks are to be bought though {left} of that width lie there unused"
            yield _fault(f"shortage.piles, width {board.width:g}", bought, bought - left, text)


def kinds_of(view: View) -> Counter[Kind]:
    """Return how many planks that were not begun before are of every size and variant."""
    return Counter((view.board_of(piece), piece.variant) for piece in new_planks(view).values())


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
