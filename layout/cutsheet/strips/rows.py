"""The strips of a floor from its plan and sheet: one a row, in the order of laying."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from shapely.geometry import LinearRing, Polygon, box

from layout.cutsheet.cut_view import CutView
from layout.cutsheet.in_hand import PartCut, parts_cut
from layout.cutsheet.loads import loads_by_row
from layout.cutsheet.numbers import cut_numbers
from layout.cutsheet.rows import RowSheet, RowsOfSheet
from layout.cutsheet.seen_piece import SeenPiece
from layout.cutsheet.stick import FromStart, row_lines
from layout.cutsheet.strips.across import AcrossRow
from layout.cutsheet.strips.cuts import bare_words, strip_cut
from layout.cutsheet.strips.ends import EndsOfRow, width_box
from layout.cutsheet.strips.lines import line_places
from layout.cutsheet.strips.narrow import narrow_row
from layout.cutsheet.strips.order import with_rip_last
from layout.cutsheet.strips.shift import RowShifts
from layout.cutsheet.strips.tape import tape_across
from layout.cutsheet.strips.values import (
    FloorStrips,
    StripCut,
    StripPiece,
    StripRest,
    StripRow,
    WallPiece,
)
from layout.cutsheet.strips.walls import StopsOfFloor, WayOut, wall_piece
from layout.cutsheet.words import view_of
from layout.values.laid_pieces import LaidPiece
from layout.values.material import Side
from layout.values.outline import Point, Region, to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import BOX_TOLERANCE

_ALL, _BUT = 2, 2  # a rip of so many pieces is the row's, where no more than so many lack it


def floor_strips(request: PlanRequest, plan: Plan, sheet: CutSheet) -> FloorStrips:
    """Return the strips of a plan, rows that are down left out."""
    return _Strips(request, plan, sheet).floor()


def spares_of(request: PlanRequest, plan: Plan) -> dict[float, int]:
    """Return the whole planks that are left over, by their width."""
    carried: Counter[float] = Counter()
    for row in loads_by_row(request, plan):
        for load in row.loads:
            carried[load.width] += load.planks
    boards, hand = request.product.boards, request.on_hand
    there = {board.width: plan.totals.cartons * board.per_carton for board in boards}
    if hand is not None and hand.piles:
        there = {board.width: 0 for board in boards}
        for pile in hand.piles:
            there[pile.width] = there.get(pile.width, 0) + pile.planks
    elif hand is not None and hand.whole is not None and len(boards) == 1:
        there = {boards[0].width: hand.whole}
    return {width: max(0, count - carried[width]) for width, count in there.items()}


class _Strips:
    """A plan and its sheet, to be shown as strips."""

    def __init__(self, request: PlanRequest, plan: Plan, sheet: CutSheet) -> None:
        self.request, self.plan, self.sheet = request, plan, sheet
        self.words = RowsOfSheet(request, plan, sheet)
        self.stops = StopsOfFloor(request, plan.direction_deg)
        self.across = AcrossRow(request, self.words.pieces, plan.direction_deg, self.words.near)
        self.spares = spares_of(request, plan)
        low = min((piece.bounds[0] for piece in self.words.pieces), default=0.0)
        high = max((piece.bounds[2] for piece in self.words.pieces), default=0.0)
        self.ends = low, high

    def floor(self) -> FloorStrips:
        """Return all rows that are not down."""
        far = {line.row: line.far for line in row_lines(self.request, self.plan)}
        by_row: dict[int, list[LaidPiece]] = defaultdict(list)
        for piece in self.words.pieces:
            by_row[piece.row].append(piece)
        rows = tuple(
            self._row(sheet, by_row[sheet.row], far[sheet.row]) for sheet in self.words.rows()
        )
        rows = (*rows[:-1], self._with_width(rows[-1])) if rows else ()
        if tape := tape_across(self.request, self.plan, rows):
            rows = (replace(rows[0], tape=tape), *rows[1:])
        return FloorStrips(
            unit=self.plan.unit,
            rows=rows,
            reach=self.ends[1] - self.ends[0],
            width=max(board.width for board in self.request.product.boards),
            spares=sum(self.spares.values()),
            lines=tuple(dict.fromkeys(line_places(self.request))),
        )

    def _with_width(self, row: StripRow) -> StripRow:
        """Return the last row with a box for its width, where it is ripped to the far wall."""
        marks = {cut.far for piece in row.pieces for cut in piece.cuts if cut.kind == "rip"}
        mark = marks.pop() if len(marks) == 1 else None
        line = next(line for line in row_lines(self.request, self.plan) if line.row == row.row)
        if mark is None or mark.end != "near" or not mark.stays or line.near <= self.words.near:
            return row
        start = FromStart(self.request, self.plan)
        ring = to_frame(self.request.zone.outline, self.plan.direction_deg)
        gap = max(start.across(y) for _, y in ring) - line.far
        width = max(piece.size[1] for piece in row.pieces)
        limits = (self.request.rules.min_row_width, width)
        across = (line.far - line.near, gap)
        narrow = narrow_row(self.request, self.plan, self.sheet, row.row, self.spares)
        box_of = width_box(row.row, across, limits, self.plan.unit, narrow)
        return replace(row, walls=(*row.walls, box_of))

    @cached_property
    def _cuts(self) -> dict[str, list[CutView]]:
        """The cuts of every piece as the kneeling person sees them."""
        rows = {piece.id: piece.row for piece in self.plan.pieces}
        views: dict[str, list[CutView]] = defaultdict(list)
        for plank in self.sheet.planks:
            for made in parts_cut(plank, self.request):
                name = made.cut.then.in_hand
                view = view_of(made, size=plank.size, request=self.request, row=rows[name])
                views[name].append(view)
        return views

    @cached_property
    def _numbers(self) -> dict[tuple[str, int], int]:
        """The number of every cut that is not the only one of its plank in a row."""
        return cut_numbers(self.plan, self.sheet)

    def _row(self, sheet: RowSheet, pieces: Sequence[LaidPiece], far: float) -> StripRow:
        """Return one row, its pieces from left to right."""
        walls: list[WallPiece] = []
        strips = [self._piece(piece, walls) for piece in pieces]
        strips.sort(key=lambda piece: piece.span)
        turned = self.request.lay.behind(sheet.row) is Side.HIGH
        right = (sheet.begin == "left") != turned
        ends = EndsOfRow(pieces, self.stops, self.across, right=right, turned=turned)
        walls += ends.boxes(
            [wall.id for wall in walls], self.plan.unit, lambda piece: self._way(piece, right=right)
        )
        rip_all, but = _rip_of_all(strips)
        row = StripRow(
            row=sheet.row,
            far=bare_words(far, self.plan.unit),
            begin=sheet.begin,
            pieces=tuple(strips),
            walls=tuple(walls),
            rip_all=rip_all,
            but=but,
            notes=sheet.trapped,
        )
        return with_rip_last(row, {piece.piece.id: piece.piece.plank for piece in pieces})

    def _piece(self, piece: LaidPiece, walls: list[WallPiece]) -> StripPiece:
        """Return one piece; what is measured of it on site is added to ``walls``."""
        name = piece.piece.id
        views = self._cuts.get(name, [])
        turned = self.request.lay.behind(piece.row) is Side.HIGH
        length, width = piece.piece.size
        begins = piece.x0 - self.ends[0]
        if turned:
            begins = self.ends[1] - piece.x0 - length
        shape = _turned(piece.in_plank, piece.piece.size) if turned else piece.in_plank
        gone: Region = Polygon()
        if views:
            taken = SeenPiece(id=name, views=tuple(views)).taken
            x0, _, x1, _ = shape.bounds
            gone = taken.intersection(box(x0, 0, x1, width)).difference(shape)
        source, stack = self._source(piece)
        return StripPiece(
            id=name,
            begins=begins,
            size=(length, width),
            shape=shape,
            gone=gone,
            whole=piece.whole(self.words.near),
            down=piece.before,
            source=source,
            stack=stack,
            kind=self._kind(piece),
            cuts=tuple(self._piece_cuts(piece, views, walls)),
            rests=tuple(self._rests(views)),
        )

    def _piece_cuts(
        self, piece: LaidPiece, views: Sequence[CutView], walls: list[WallPiece]
    ) -> Iterator[StripCut]:
        """Yield the cuts of a piece in their order."""
        for view in views:
            cut = strip_cut(view, self._numbers.get((piece.piece.id, view.cut.n)))
            if cut.kind == "wall":
                right = (cut.side == "right") != view.turned
                wall = wall_piece(
                    view,
                    piece,
                    n=cut.n,
                    stop=self.stops.beyond(piece, right=right, near=self.words.near),
                    way=self._way(piece, right=right),
                )
                if wall is None:
                    cut = strip_cut(view, cut.n, exact=True)
                else:
                    walls.append(wall)
            yield cut

    def _way(self, piece: LaidPiece, *, right: bool) -> WayOut:
        """Return what is there where a last piece comes out too long or too short."""
        request, pieces, turn = self.request, self.words.pieces, self.plan.direction_deg
        shifts = RowShifts(request, piece, pieces, turn, right=right, near=self.words.near)
        long, short = shifts.long(), shifts.short()
        return WayOut(
            spares=self.spares.get(piece.piece.size[1], 0),
            length=piece.piece.size[0],
            new=self._source(piece)[0] == "new",
            long=long,
            short=short,
            least=request.rules.min_end_piece,
            apart=(
                None if long else shifts.long_apart(),
                None if short else shifts.short_apart(),
            ),
        )

    def _source(self, piece: LaidPiece) -> tuple[str, str | None]:
        """Return what a piece is cut from, and the stack where that waits."""
        name = piece.piece.id
        offcut = self.words.offcut_of.get(name)
        if offcut is not None:
            if offcut.stack:
                return "stack", offcut.stack
            return ("hand" if self.words.cut_with_of.get(offcut.id) else "here"), None
        begun = self.words.begun_by[piece.piece.plank] == name
        return ("new" if begun else "hand"), None

    def _kind(self, piece: LaidPiece) -> str:
        """Return the width and the shade of a plank where not all are alike."""
        wide = len(self.request.product.boards) > 1
        width = f"{bare_words(piece.piece.size[1], self.plan.unit)} wide" if wide else ""
        return " ".join(word for word in (width, piece.piece.variant or "") if word)

    def _rests(self, views: Sequence[CutView]) -> Iterator[StripRest]:
        """Yield where the parts go that the cuts of a piece take off."""
        for view in views:
            then = view.cut.then
            if then.aside:
                number = self._numbers.get((then.in_hand, view.cut.n))
                yield StripRest(
                    name=then.aside[0],
                    size=self._size(then.aside[0], view.made, view.size),
                    stack=then.stack,
                    n=number if len(views) > 1 else None,
                )

    def _size(self, name: str, made: PartCut, board: tuple[float, float]) -> str:
        """Return how large a part put aside is: its length, its width where that is not whole."""
        unit, offcut = self.plan.unit, self.words.offcut_of.get(name)
        x0, y0, x1, y1 = made.goes.bounds
        long, wide = (offcut.length, offcut.width) if offcut else (x1 - x0, y1 - y0)
        words = bare_words(long, unit)
        if abs(wide - board[1]) > self.words.near:
            words = f"{words} x {bare_words(wide, unit)}"
        lacks = long * wide - (Polygon(offcut.outline) if offcut else made.goes).area
        return f"{words} at most" if lacks > BOX_TOLERANCE else words


def _turned(shape: Polygon, size: tuple[float, float]) -> Polygon:
    """Return a shape of a plank as it lies turned half round."""
    length, width = size

    def turn(ring: LinearRing) -> list[Point]:
        return [(length - x, width - y) for x, y, *_ in ring.coords]

    return Polygon(turn(shape.exterior), [turn(ring) for ring in shape.interiors])


def _rip_of_all(pieces: Sequence[StripPiece]) -> tuple[StripCut | None, tuple[str, ...]]:
    """Return the rip that almost all pieces of a row have, and the pieces that don't."""
    rips = [(piece.id, cut) for piece in pieces for cut in piece.cuts if cut.kind == "rip"]
    counts = Counter(cut.far for _, cut in rips)
    if not counts:
        return None, ()
    (mark, count), *_ = counts.most_common(1)
    having = {name for name, cut in rips if cut.far == mark}
    but = tuple(piece.id for piece in pieces if piece.id not in having)
    if count < _ALL or len(but) > _BUT:
        return None, ()
    return next(cut for _, cut in rips if cut.far == mark), but
