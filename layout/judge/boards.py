"""Judging boards: widths running row by row, variants within the cartons, like pieces apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise

from layout.judge.planks import by_plank
from layout.judge.rows import rows_by_part
from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.material import Board
from layout.values.outline import meeting
from layout.values.plan import Piece

Kind = tuple[Board | None, str | None]  # size and variant of a plank


def wrong_widths(view: View) -> Iterator[Fault]:
    """Yield widths that come more than twice running without the plan's own count of them.

    Where widths are not mixed there is none; rows that were down before count as the others do.
    """
    count = thrice_running(view) if len(view.request.product.boards) > 1 else 0
    yield from _wrong_warning(view, "widths", (count, count), "rows of one width too many")


def thrice_running(view: View) -> int:
    """Return how many rows have the width of both rows before them in their part of the region."""
    count = 0
    for rows in rows_by_part(view):
        widths = [pieces[0].piece.size[1] for pieces in rows.values()]
        same = [abs(a - b) <= view.near for a, b in pairwise(widths)]
        count += sum(one and two for one, two in pairwise(same))
    return count


def wrong_variants(view: View) -> Iterator[Fault]:
    """Yield planks of no variant of the product, and more of one than the cartons hold."""
    used: Counter[Kind] = Counter()
    for number, piece in new_planks(view).items():
        board, name = view.board_of(piece), piece.variant
        known = _variants_of(view, board) if board else {}
        if (name not in known) if known else name is not None:
            accepted = ", ".join(filter(None, known)) or "none"
            text = f"its variant is {name or 'not told'}; the product has: {accepted}"
            yield Fault(rule="variants", where=f"plank {number}", value=0, limit=0, text=text)
        used[board, name] += 1
    if not has_piles(view):
        yield from _beyond_cartons(view, used)


def _beyond_cartons(view: View, used: Mapping[Kind, int]) -> Iterator[Fault]:
    """Yield more planks of a width and variant than the cartons hold."""
    cartons, boards = view.plan.totals.cartons, view.request.product.boards
    for board in boards:
        for name, held in view.request.product.mix_of(board).items():
            count, limit = used.get((board, name), 0), cartons * held
            if count > limit:
                where = f"variant {name}" + (f", width {board.width:g}" if len(boards) > 1 else "")
                text = f"{count} planks of {name}; {cartons} cartons hold {limit}"
                yield Fault(rule="variants", where=where, value=count, limit=limit, text=text)


def new_planks(view: View) -> dict[int, Piece]:
    """Return a piece of every plank that was not begun before, by the plank's number."""
    on_hand = view.request.on_hand
    begun = {offcut.plank for offcut in on_hand.offcuts} if on_hand is not None else set()
    return {
        number: pieces[0].piece
        for number, pieces in by_plank(view).items()
        if number not in begun and not any(piece.before for piece in pieces)
    }


def has_piles(view: View) -> bool:
    """Whether piles of whole planks were counted."""
    return view.request.on_hand is not None and bool(view.request.on_hand.piles)


def piles_of(view: View) -> Counter[Kind]:
    """Return the whole planks that were counted, by size and variant."""
    piles: Counter[Kind] = Counter()
    on_hand = view.request.on_hand
    for pile in on_hand.piles if on_hand is not None else ():
        for board in view.request.product.boards:
            off = max(abs(pile.length - board.length), abs(pile.width - board.width))
            if off <= view.near:
                piles[board, pile.variant] += pile.planks
    return piles


def _variants_of(view: View, board: Board) -> set[str | None]:
    """Return what the planks of a size may be: shades of a carton, or of the piles.

    Where a carton's mix isn't known, what is missing has no shade that anybody knows.
    """
    product = view.request.product
    if product.shades is None:
        return set(product.mix_of(board))
    return {name for size, name in piles_of(view) if size == board} | {None}


def wrong_spread(view: View) -> Iterator[Fault]:
    """Yield a rule of spreading shades by eye that is missing, needless or of another number."""
    shades, spread = view.request.product.shades, view.plan.spread
    named = any(piece.piece.variant is not None for piece in view.new)
    wanted = shades if not named else None
    shown = None if spread is None else spread.shades
    if shown != wanted:
        text = f"the plan spreads {shown or 'no'} shades by eye; there are {wanted or 'none'}"
        yield Fault(rule="variants", where="spread", value=shown or 0, limit=wanted or 0, text=text)


def like_pieces(view: View) -> Iterator[Fault]:
    """Yield a count of touching pieces of one variant that differs from the plan's warning."""
    counts = (0, 0)
    if any(piece.piece.variant is not None for piece in view.new):
        # A touch hardly longer than lengths are told apart may count or not.
        counts = (alike(view, 3 * view.near), alike(view, view.near))
    yield from _wrong_warning(view, "variants", counts, "pairs of touching pieces alike")


def alike(view: View, least: float) -> int:
    """Return how many pairs of pieces touch over ``least`` or more and are of one variant.

    Pairs that were both down before are left out.
    """
    pieces = view.pieces
    grown = [piece.shape.buffer(view.near, join_style="mitre") for piece in pieces]
    return sum(
        pieces[i].piece.variant is not None
        and pieces[i].piece.variant == pieces[j].piece.variant
        and not (pieces[i].before and pieces[j].before)
        and _touch(pieces[i], pieces[j], view.near) >= least
        for i, j in meeting(grown)
    )


def _touch(one: LaidPiece, two: LaidPiece, near: float) -> float:
    """Return over which length two pieces lie side by side or end to end."""
    beside = one.shape.buffer(near, join_style="mitre").intersection(two.shape)
    return float(beside.area) / near - near  # a corner that is met has near x near in common


def _wrong_warning(view: View, rule: str, counts: tuple[int, int], what: str) -> Iterator[Fault]:
    """Yield the plan's word on a count that is not between the two counts of the judge."""
    warnings = [warning for warning in view.plan.warnings if warning.rule == rule]
    value = sum(warning.value for warning in warnings)
    if not counts[0] <= value <= counts[1] or len(warnings) > 1 or (warnings and value == 0):
        text = f"the plan warns of {value:g} {what}; there are {counts[0]}"
        yield Fault(rule=rule, where="floor", value=value, limit=counts[0], text=text)
