"""Variants of a carton (prints, shades) over a floor: which plank takes which, and what is left.

Pieces that share an edge should differ. The cartons give so many planks of every variant, planks
begun before have theirs, and what lies already is a neighbor like any other; how they are spread
is told in ``layout.planks.spread``.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from layout.planks.pieces import Cutting
from layout.planks.sharing import clear
from layout.planks.spread import Pair, Puzzle, Spread, least_alike, spread
from layout.rows.contacts import line_stretches
from layout.rows.ground import Ground
from layout.rows.rows import Row
from layout.values.goods.piles import Supply
from layout.values.plan import RuleWarning
from layout.values.tolerances import TOUCHING_TOLERANCE

Shapes = dict[int, list[tuple[int, Polygon]]]  # by row: number of the part, shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Shades:
    """The cutting, the variant of each of its planks, and the touching pairs that are alike."""

    cutting: Cutting
    variants: tuple[str | None, ...]
    alike: int = 0
    least: int = 0


def shades_of(
    ground: Ground,
    cutting: Cutting,
    supplies: Mapping[float, Supply],
    rows: Sequence[Row],
    *,
    thorough: bool,
) -> Shades:
    """Return a cutting whose planks have variants within the supplies of new planks by width.

    Planks of a width without a supply have none. ``rows`` are those of the whole floor; laid
    pieces keep their variants. Unless ``thorough`` the spread is no more than a first one. Where
    the rack has no limit planks trade second parts if that leaves fewer alike.
    """
    puzzle = _puzzle(ground, cutting, supplies, rows)
    may_trade = ground.request.rules.max_rack is None

    def fits(first: int, second: int) -> bool:
        pair = frozenset((first, second))
        if pair not in known:
            one, two = parts[first], parts[second]
            whole = not (cutting.slots[first].split or cutting.slots[second].split)
            known[pair] = whole and clear(one, two, stock_of[first])
        return known[pair]

    known: dict[frozenset[int], bool] = {}
    parts = {part.order: part for plank in cutting.planks for part in plank.parts}
    stock_of = {part.order: plank.stock for plank in cutting.planks for part in plank.parts}
    best = spread(puzzle, thorough=thorough, fits=fits if may_trade else None)
    cutting, variants = _cut_again(cutting, best)
    least = 0
    if thorough and best.alike:
        least = least_alike(replace(puzzle, planks=best.planks))
    return Shades(cutting=cutting, variants=variants, alike=best.alike, least=least)


def _puzzle(
    ground: Ground, cutting: Cutting, supplies: Mapping[float, Supply], rows: Sequence[Row]
) -> Puzzle:
    """Return what touches: slots by their place in the order of laying, then pieces that lie."""
    laid = ground.request.laid
    shapes: Shapes = defaultdict(list)
    for order, slot in enumerate(cutting.slots):
        shapes[slot.row] += [(order, shape) for shape in slot.shapes]
    planks = [
        tuple(p.order for p in sorted(plank.parts, key=lambda p: p.left) if p.order >= 0)
        for plank in cutting.planks
    ]
    down = {piece.plank: piece.variant for piece in laid}
    widths = list(supplies)
    sizes = [_place(plank.stock.width, widths) for plank in cutting.planks]
    known = {
        index: down.get(plank.number or 0)
        for index, plank in enumerate(cutting.planks)
        if plank.label is not None or plank.number in down or sizes[index] < 0
    }
    for number, piece in enumerate(laid, start=len(cutting.slots)):
        shapes[piece.row].append((number, Polygon(ground.frame.inward(piece.outline))))
        known[len(planks)] = piece.variant
        planks.append((number,))
        sizes.append(-1)
    lines = {row.number: row.y0 for row in rows}
    met = touching(shapes, lines, 2 * ground.near)
    return Puzzle(
        touching={pair: n for pair, n in met.items() if min(pair) < len(cutting.slots)},
        planks=tuple(planks),
        supplies=tuple(supplies.values()),
        sizes=tuple(sizes),
        known=known,
    )


def _place(width: float, widths: Sequence[float]) -> int:
    """Return the place of a width among others, -1 where it is none of them."""
    near = (i for i, one in enumerate(widths) if abs(one - width) < TOUCHING_TOLERANCE)
    return next(near, -1)


def touching(shapes: Shapes, lines: Mapping[int, float], least: float) -> Counter[Pair]:
    """Return how many pairs of shapes touch over more than ``least``, by the pair of their parts.

    ``lines`` has the height of every row's low side.
    """
    pairs: Counter[Pair] = Counter()
    for number, pieces in shapes.items():
        for one, two in _end_to_end(pieces, least):
            pairs[min(one, two), max(one, two)] += 1
        above = shapes.get(number + 1)
        if above and number + 1 in lines:
            for one, two in _side_by_side(pieces, above, lines[number + 1], least):
                pairs[min(one, two), max(one, two)] += 1
    return pairs


def _end_to_end(pieces: Sequence[tuple[int, Polygon]], least: float) -> Iterator[Pair]:
    """Yield the parts of a row that meet at a joint."""
    for part, shape in pieces:
        for other, beside in pieces:
            if abs(shape.bounds[2] - beside.bounds[0]) < max(TOUCHING_TOLERANCE, least):
                low = max(shape.bounds[1], beside.bounds[1])
                if min(shape.bounds[3], beside.bounds[3]) - low > least:
                    yield part, other


def _side_by_side(
    lower: Sequence[tuple[int, Polygon]],
    upper: Sequence[tuple[int, Polygon]],
    line: float,
    least: float,
) -> Iterator[Pair]:
    """Yield the parts that meet along the line between two rows."""
    feet = [(part, u, v) for part, shape in upper for u, v in line_stretches(shape, line)]
    for part, shape in lower:
        for u, v in line_stretches(shape, line):
            for other, foot, end in feet:
                if min(v, end) - max(u, foot) > least:
                    yield part, other


def _cut_again(cutting: Cutting, spread: Spread) -> tuple[Cutting, tuple[str | None, ...]]:
    """Return the cutting with the parts of its planks as spread, and the planks' variants.

    Planks are numbered again in the order of first use.
    """
    count = len(cutting.planks)
    parts = {part.order: part for plank in cutting.planks for part in plank.parts}
    planks_cut = []
    for plank, orders, variant in zip(
        cutting.planks, spread.planks[:count], spread.variants[:count], strict=True
    ):
        gone = [part for part in plank.parts if part.order < 0]
        of_plank = [parts[order] for order in sorted(orders)]
        planks_cut.append((replace(plank, parts=(*gone, *of_plank)), variant, min(orders)))
    if all(plank == old for (plank, _, _), old in zip(planks_cut, cutting.planks, strict=True)):
        return cutting, spread.variants[:count]
    planks_cut.sort(key=lambda each: each[2])
    numbers = iter(sorted(p.number or 0 for p in cutting.planks if p.label is None))
    planks = [
        p if p.label is not None else replace(p, number=next(numbers)) for p, _, _ in planks_cut
    ]
    plank_of = list(cutting.plank_of)
    for index, plank in enumerate(planks):
        for part in plank.parts:
            if part.order >= 0:
                plank_of[part.order] = index
    again = replace(cutting, planks=tuple(planks), plank_of=tuple(plank_of))
    return again, tuple(variant for _, variant, _ in planks_cut)


def like_pieces(shades: Shades) -> tuple[RuleWarning, ...]:
    """Return the warning of touching pieces that are alike all the same, if any."""
    count, least = shades.alike, shades.least
    if not count:
        return ()
    are = "pair of touching pieces is" if count == 1 else "pairs of touching pieces are"
    if least == count:
        why = "no choice of variants for these planks leaves fewer"
    elif least:
        why = f"no choice of variants for these planks leaves fewer than {least}"
    else:
        why = "no better spread of what the cartons hold was found"
    return (
        RuleWarning(
            rule="variants",
            where="floor",
            value=count,
            limit=0,
            text=f"{count} {are} of one variant; {why}.",
        ),
    )
