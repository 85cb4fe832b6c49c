"""What there is to lay with, and what pieces that are down have left of their planks.

A plank lies with its lower-left corner (direction frame) at 0, 0. An offcut is told as a box of
its plank; where an angle or a notch was cut beside it, what is left in the box is less.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon, box

from layout.values.errors import Described, InputError
from layout.values.fields import Fields, as_lists, check_number, refuse_doubled
from layout.values.material import Board, Flooring
from layout.values.outline import Region, to_frame
from layout.values.plan import Offcut, Piece
from layout.values.plan_form import OFFCUT_KEYS, offcut_to_json, read_offcut
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE, TOUCHING_TOLERANCE

Size = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pile:
    """Whole planks of one size and variant (None: all look alike), counted in open cartons."""

    length: float
    width: float
    variant: str | None
    planks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """What is left: whole planks (None: not limited), labeled offcuts, counted piles."""

    planks: int | None = None
    offcuts: tuple[Offcut, ...] = ()
    piles: tuple[Pile, ...] = ()

    def __post_init__(self) -> None:
        if self.planks is not None:
            check_number(self.planks, "on_hand.planks", most=100_000)
        refuse_doubled((offcut.id for offcut in self.offcuts), "on_hand.offcuts")

    @property
    def whole(self) -> int | None:
        """Whole planks: as told, or all piles together; None where there is no limit."""
        if self.planks is None and self.piles:
            return sum(pile.planks for pile in self.piles)
        return self.planks


def on_hand_to_json(on_hand: OnHand) -> dict[str, object]:
    """Return what is there in its JSON form; offcuts as in a plan."""
    planks = {} if on_hand.planks is None else {"planks": on_hand.planks}
    offcuts = [as_lists(offcut_to_json(offcut)) for offcut in on_hand.offcuts]
    piles = [_pile_to_json(pile) for pile in on_hand.piles]
    return {**planks, "offcuts": offcuts, **({"piles": piles} if piles else {})}


def read_on_hand(fields: Fields, product: Flooring) -> OnHand:
    """Return the material at hand. Raises InputError."""
    size = (product.board.length, product.board.width)
    on_hand = OnHand(
        planks=fields.count_or_none("planks"),
        offcuts=tuple(
            _read_at_hand(value, path, size) for path, value in fields.entries("offcuts")
        ),
        piles=tuple(_read_pile(value, path) for path, value in fields.entries("piles", most=500)),
    )
    fields.refuse_unknown()
    return on_hand


def _read_at_hand(data: object, where: str, board: tuple[float, float]) -> Offcut:
    """Return one offcut at hand; it is told as in a plan."""
    offcut = read_offcut(data, where, board)
    Fields(data, where).refuse_unknown(OFFCUT_KEYS)
    return offcut


def _read_pile(data: object, where: str) -> Pile:
    """Return one counted pile."""
    fields = Fields(data, where)
    pile = Pile(
        length=fields.number("length"),
        width=fields.number("width"),
        variant=fields.text_or_none("variant"),
        planks=fields.count("planks"),
    )
    check_number(pile.planks, fields.path("planks"), most=100_000)
    fields.refuse_unknown()
    return pile


def _pile_to_json(pile: Pile) -> dict[str, object]:
    """Return one counted pile in its JSON form."""
    variant = {} if pile.variant is None else {"variant": pile.variant}
    return {"length": pile.length, "width": pile.width, **variant, "planks": pile.planks}


def in_plank(piece: Piece, direction_deg: float) -> Polygon:
    """Return the shape of a piece in the coordinates of its plank."""
    ((x0, y0),) = to_frame([piece.origin], direction_deg)
    rings = [
        [(x - x0, y - y0) for x, y in to_frame(ring, direction_deg)]
        for ring in (piece.outline, *piece.holes)
    ]
    return Polygon(rings[0], rings[1:])


def box_of(offcut: Offcut) -> Polygon:
    """Return the box of its plank that an offcut is told as."""
    x, y = offcut.at
    return box(x, y, x + offcut.length, y + offcut.width)


def shape_of(offcut: Offcut) -> Polygon:
    """Return the true shape of an offcut in its plank, its box where none is told."""
    return Polygon(offcut.outline) if offcut.outline else box_of(offcut)


def cut_by_plank(laid: Sequence[Piece], direction_deg: float) -> dict[int, list[Polygon]]:
    """Return what pieces take of every plank, by its number."""
    planks: dict[int, list[Polygon]] = defaultdict(list)
    for piece in laid:
        planks[piece.plank].append(in_plank(piece, direction_deg))
    return dict(planks)


def left_in(offcut: Offcut, cut: Sequence[Polygon]) -> Region:
    """Return the largest part of an offcut that the pieces ``cut`` have left."""
    whole = shape_of(offcut)
    met = [shape for shape in cut if shape.intersects(whole)]
    if not met:
        return whole
    # Taken a trifle larger: rounding must not leave a rim that seems to be all of the offcut.
    taken = [shape.buffer(TOUCHING_TOLERANCE, join_style="mitre") for shape in met]
    rest = whole.difference(shapely.union_all(taken))
    parts = [p for p in getattr(rest, "geoms", [rest]) if isinstance(p, Polygon)]
    return max(parts, key=lambda part: float(part.area), default=Polygon())


def is_left(offcut: Offcut, cut: Sequence[Polygon], unit: str) -> bool:
    """Whether pieces have left all that an offcut is told to have.

    Of one told as a box a cut at an angle may take a corner; nothing may make it shorter or
    narrower.
    """
    whole, left = shape_of(offcut), left_in(offcut, cut)
    if left.is_empty or whole.area - left.area <= AREA_TOLERANCE[unit] or offcut.outline:
        return not left.is_empty and bool(whole.area - left.area <= AREA_TOLERANCE[unit])
    off = max(abs(a - b) for a, b in zip(whole.bounds, left.bounds, strict=True))
    return bool(off <= LENGTH_TOLERANCE[unit])


def plank_size(
    offcut: Offcut, laid: Sequence[Piece], boards: Sequence[Board], near: float
) -> Size | None:
    """Return the size of the plank that an offcut comes from, None where no board is as wide.

    That of a piece cut from the same plank, else of the narrowest board that the offcut's place
    and the sides it keeps allow.
    """
    known = next((piece.size for piece in laid if piece.plank == offcut.plank), None)
    if known is not None:
        return known
    top = offcut.at[1] + offcut.width
    exact = "high side" in offcut.keeps
    for board in sorted(boards, key=lambda board: board.width):
        over = board.width - top
        if over >= -near and (over <= near or not exact):
            return board.length, board.width
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHandCheck:
    """The pieces down and the offcuts at hand of one request, to be checked against each other."""

    unit: str
    direction_deg: float
    boards: tuple[Board, ...]
    laid: tuple[Piece, ...]
    offcuts: tuple[Offcut, ...]

    def check(self) -> None:
        """Refuse planks that gave more than they have.

        Raises InputError.
        """
        cut = self._checked_laid()
        claimed: dict[int, list[tuple[str, Region]]] = defaultdict(list)
        for i, offcut in enumerate(self.offcuts):
            where = f"on_hand.offcuts[{i}]"
            self._check_size(offcut, where)
            taken = cut.get(offcut.plank, [])
            for name, shape in taken:
                if not is_left(offcut, [shape], self.unit):
                    self._refuse(offcut, where, f"piece {name}")
            shapes = [shape for _, shape in taken]
            if not is_left(offcut, shapes, self.unit):
                self._refuse(offcut, where, f"pieces {taken[0][0]} to {taken[-1][0]}")
            left = left_in(offcut, shapes)
            for name, other in claimed[offcut.plank]:
                if left.intersection(other).area > AREA_TOLERANCE[self.unit]:
                    self._refuse(offcut, where, f"offcut {name}")
            claimed[offcut.plank].append((offcut.id, left))

    def _checked_laid(self) -> dict[int, list[tuple[str, Polygon]]]:
        """Return the name and shape of every piece by plank, in the plank's coordinates."""
        near, scrap = LENGTH_TOLERANCE[self.unit], AREA_TOLERANCE[self.unit]
        cut: dict[int, list[tuple[str, Polygon]]] = defaultdict(list)
        sizes: dict[int, tuple[str, Size]] = {}
        for i, piece in enumerate(self.laid):
            shape = in_plank(piece, self.direction_deg)
            board = box(-near, -near, piece.size[0] + near, piece.size[1] + near)
            if not board.contains(shape):
                value = Described(f"piece {piece.id} reaches past its plank")
                accepted = "the lower-left corner of the plank that the piece was cut from"
                raise InputError(f"laid[{i}].origin", value, accepted)
            name, size = sizes.setdefault(piece.plank, (piece.id, piece.size))
            if max(abs(a - b) for a, b in zip(size, piece.size, strict=True)) > near:
                value = Described(
                    f"pieces {name} and {piece.id} give plank {piece.plank} two sizes"
                )
                raise InputError(f"laid[{i}].plank", value, "planks of one size each")
            for other, taken in cut[piece.plank]:
                if shape.intersection(taken).area > scrap:
                    value = Described(
                        f"pieces {other} and {piece.id} are cut from one part of plank "
                        f"{piece.plank}"
                    )
                    accepted = "pieces that lie apart in their plank, or another plank's number"
                    raise InputError(f"laid[{i}].plank", value, accepted)
            cut[piece.plank].append((piece.id, shape))
        return cut

    def _check_size(self, offcut: Offcut, where: str) -> None:
        """Refuse an offcut that reaches past its board."""
        near = LENGTH_TOLERANCE[self.unit]
        length = self.boards[0].length
        check_number(offcut.length, f"{where}.length", above=0, most=length + near)
        widest = max(board.width for board in self.boards)
        check_number(offcut.width, f"{where}.width", above=0, most=widest + near)
        size = plank_size(offcut, self.laid, self.boards, near)
        if size is None:
            widths = " or ".join(f"{board.width:g}" for board in self.boards)
            value = Described(
                f"{offcut.id} reaches to {offcut.at[1] + offcut.width:g} across its plank"
            )
            raise InputError(f"{where}.at", value, f"a place within a board {widths} wide")
        whole = box(-near, -near, size[0] + near, size[1] + near)
        if not whole.contains(box_of(offcut)):
            value = Described(f"{offcut.id} reaches past its plank")
            accepted = f"a place within the {size[0]:g} x {size[1]:g} of plank {offcut.plank}"
            raise InputError(f"{where}.at", value, accepted)

    def _refuse(self, offcut: Offcut, where: str, name: str) -> None:
        """Refuse an offcut that claims what something else takes of its plank."""
        size = f"{offcut.length:g} x {offcut.width:g} at {offcut.at[0]:g}, {offcut.at[1]:g}"
        value = Described(f"{offcut.id} ({size}) overlaps {name} in plank {offcut.plank}")
        raise InputError(where, value, "no more offcuts than were cut from the plank")


def parts_left(size: Size, cut: Sequence[Polygon], kerf: float) -> tuple[Polygon, ...]:
    """Return the boxes of a plank that pieces ``cut`` from it have left: along it, then beside.

    Boxes do not overlap; each lies the ``kerf`` off every piece.
    """
    length, width = size
    bounds = sorted(shape.bounds for shape in cut)
    boxes = []
    at = 0.0
    for left, _, right, _ in bounds:
        if left - kerf > at:
            boxes.append(box(at, 0.0, left - kerf, width))
        at = max(at, right + kerf)
    if at < length:
        boxes.append(box(at, 0.0, length, width))
    if len(bounds) == 1:
        left, low, right, high = bounds[0]
        if low > kerf:
            boxes.append(box(left, 0.0, right, low - kerf))
        if high < width - kerf:
            boxes.append(box(left, high + kerf, right, width))
    return tuple(boxes)
