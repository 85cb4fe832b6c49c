"""How a piece goes in that can't be tilted in, in words."""

from __future__ import annotations

from layout.values.material import GoesIn, Lock
from layout.values.plan import Piece
from layout.values.request import PlanRequest

_CUT = (GoesIn.SHAVE, GoesIn.LOWER)
_TRIED = (GoesIn.SLIDE, *_CUT)
"""The ways of a piece that is tried dry, as it is, before anything is cut off it."""


def how_in(request: PlanRequest, piece: Piece) -> str | None:
    """Return how a piece, cut or whole, goes in where it is trapped, None where it is not."""
    if not piece.trapped:
        return None
    way = piece.goes_in or GoesIn.MAKER
    words = how_in_words(way, request.product.lock, piece.row)
    off = way in _TRIED and tried_off_wall(request, piece.row)
    if off:
        return f"try it dry while rows 1 and 2 are off the wall; else, {words}"
    return f"try it dry; else, {words}" if way in _CUT else words


def tried_off_wall(request: PlanRequest, row: int) -> bool:
    """Whether a row is joined off its wall, so that its pieces may be tilted in after all.

    Rows 1 and 2 are joined off the wall and slid back: common practice, no source. A floor laid
    from a line in its middle or gone on with has no such rows.
    """
    return row <= 2 and request.lay.control_row is None and not request.laid


def how_in_words(way: GoesIn, lock: Lock | None, row: int) -> str:
    """Return in a sentence, without its full stop, how a trapped piece goes in."""
    match way:
        case GoesIn.ROW:
            return f"join all of row {row} off its place first, then tilt it in as one"
        case GoesIn.SLIDE if lock is Lock.GLUE:
            return "spread the glue, lay it flat, slide it under and pull it home at once"
        case GoesIn.SLIDE:
            return "lay it flat, slide it under and pull it home with a pull bar"
        case GoesIn.SHAVE:
            return "if the maker allows glue, shave the lip, glue it and slide it in flat"
        case GoesIn.LOWER:
            return "if the maker allows glue, cut off the lips, glue it and let it down flat"
        case GoesIn.MAKER:
            return "there is no room to tilt or drop it; ask the maker how this lock goes in"
