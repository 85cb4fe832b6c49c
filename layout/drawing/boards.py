"""The boards of a floor on paper: cut pieces dotted, joints, rows, numbers, trapped pieces."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from shapely.geometry import Point as ShapelyPoint

from layout.drawing.lettering import lettering_width, spots_around
from layout.drawing.paper import JOINT, ROW, SMALL, DrawingPaper
from layout.values.laid_pieces import LaidPiece, in_rows
from layout.values.material import End, Side
from layout.values.outline import Point, Region, from_frame, polygons_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    DRAWN_GAP_TOLERANCE,
    LENGTH_TOLERANCE,
    LEVEL_TOLERANCE,
    RUN_GAP_TOLERANCE,
)

_DENSE = 16.0  # rows narrower than this on the paper get thinner lines
_THINNEST = 0.45
_RUN = 70.0  # a run this long on the paper is worth a number of its own

Span = tuple[float, float]


def draw_boards(paper: DrawingPaper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Draw cut pieces dotted, then joints and row lines, each line once; hatched is cut off."""
    pitch = row_pitch(paper, pieces)
    near = LENGTH_TOLERANCE[paper.unit]
    named = ((p.piece.id, not p.whole(near), (p.piece.outline, *p.piece.holes)) for p in pieces)
    paper.pieces(named, fill=paper.dots("cut", 7 if pitch > _DENSE / 2 else 4.5))
    draw_lines(paper, pieces, turn)


def draw_lines(paper: DrawingPaper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Draw joints and row lines, each line once."""
    levels: dict[float, list[Span]] = defaultdict(list)
    uprights: dict[float, list[Span]] = defaultdict(list)
    slants = []
    for piece in pieces:
        for ax, ay, bx, by in piece.edges:
            if abs(ay - by) < LEVEL_TOLERANCE:
                levels[round((ay + by) / 2, 2)].append((min(ax, bx), max(ax, bx)))
            elif abs(ax - bx) < LEVEL_TOLERANCE:
                uprights[round((ax + bx) / 2, 2)].append((min(ay, by), max(ay, by)))
            else:
                slants.append(((ax, ay), (bx, by)))
    joints = [((x, a), (x, b)) for x, spans in uprights.items() for a, b in _joined(spans)]
    lines = [((a, y), (b, y)) for y, spans in levels.items() for a, b in _joined(spans)]
    thin = min(1.0, max(_THINNEST, row_pitch(paper, pieces) / _DENSE))
    for name, weight, drawn in (("joint", JOINT, joints), ("row", ROW, [*lines, *slants])):
        paths = [from_frame(pair, turn) for pair in drawn]
        paper.lines(paths, name=name, weight=weight * thin)


def row_pitch(paper: DrawingPaper, pieces: Sequence[LaidPiece]) -> float:
    """Return the width of the narrowest board on the paper."""
    return min((piece.piece.size[1] for piece in pieces), default=0.0) * paper.scale


def _joined(spans: Sequence[Span]) -> Iterator[Span]:
    """Yield spans with those that touch made one."""
    begun: Span | None = None
    for low, high in sorted(spans):
        if begun is None or low > begun[1] + DRAWN_GAP_TOLERANCE:
            if begun is not None:
                yield begun
            begun = (low, high)
        else:
            begun = (begun[0], max(begun[1], high))
    if begun is not None:
        yield begun


def draw_numbers(
    paper: DrawingPaper, pieces: Sequence[LaidPiece], request: PlanRequest, turn: float
) -> None:
    """Draw row numbers in rings where runs begin; every fifth where rows are thin."""
    left = request.lay.first_end is End.LEFT
    radius, step = min(13.0, row_pitch(paper, pieces) * 0.46), 1
    if radius < 8.5:
        radius, step = 10.0, 5
    rows = in_rows(pieces)
    ends = {min(rows, default=0), max(rows, default=0)}
    for number, row in rows.items():
        if step > 1 and number % step and number not in ends:
            continue
        runs = [run for run in _runs(row) if _reach(run) * paper.scale > _RUN]
        for run in runs or [row]:
            first = run[0] if left else run[-1]
            _draw_ring(paper, first, turn, (radius, str(number)), left=left)


def _runs(row: Sequence[LaidPiece]) -> list[list[LaidPiece]]:
    """Return the connected stretches of a row, its pieces from left to right."""
    runs: list[list[LaidPiece]] = []
    right = 0.0
    for piece in row:
        if runs and piece.bounds[0] - right < RUN_GAP_TOLERANCE:
            runs[-1].append(piece)
        else:
            runs.append([piece])
        right = max(right, piece.bounds[2]) if len(runs[-1]) > 1 else piece.bounds[2]
    return runs


def _reach(run: Sequence[LaidPiece]) -> float:
    """Return the length of a run."""
    return max(piece.bounds[2] for piece in run) - run[0].bounds[0]


def _draw_ring(
    paper: DrawingPaper, piece: LaidPiece, turn: float, ring: tuple[float, str], *, left: bool
) -> None:
    """Draw a number in a ring on a piece, a little further along where another ring stands."""
    radius, text = ring
    x, y = _ring_place(piece, (radius + 3) / paper.scale, left=left)
    way = 1 if left else -1
    for step in range(4):
        moved = x + way * step * radius * 0.75 / paper.scale
        px, py = paper.at(from_frame([(moved, y)], turn)[0])
        if paper.taken.free((px, py), radius * 0.85):
            paper.ring((px, py), radius, text)
            return
    paper.ring(paper.at(from_frame([(x, y)], turn)[0]), radius, text)


def _ring_place(piece: LaidPiece, room: float, *, left: bool) -> Point:
    """Return where a ring needs the least way along the row to stand inside a piece."""
    x0, y0, x1, y1 = piece.bounds
    for share in (1.0, 0.7, 0.4, 0.1):
        free = piece.shape.buffer(-min(room, (y1 - y0) / 2) * share)
        if not free.is_empty:
            end = free.bounds[0] if left else free.bounds[2]
            ys = [y for x, y in _corners(free) if abs(x - end) < room * 0.05]
            off = room * (1 - share) * (1 if left else -1)
            return end + off, (min(ys) + max(ys)) / 2
    return (x0 + x1) / 2, (y0 + y1) / 2


def _corners(shape: Region) -> list[Point]:
    """Return the outer corners of a region."""
    return [point for polygon in polygons_of(shape) for point in polygon.exterior.coords]


def draw_shades(paper: DrawingPaper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Write the shade of every piece that has room for it, clear of the row numbers."""
    size = round(min(SMALL, row_pitch(paper, pieces) * 0.7), 1)
    paper.marks(
        [
            (place, piece.piece.variant)
            for piece in pieces
            if piece.piece.variant is not None
            and (place := _shade_place(paper, piece, turn, size)) is not None
        ],
        size=size,
        name="shades",
    )


def _shade_place(paper: DrawingPaper, piece: LaidPiece, turn: float, size: float) -> Point | None:
    """Return where the shade of a piece stands on the paper, None where it has no room."""
    reach = max(size, lettering_width(piece.piece.variant or "", size)) / 2
    room = piece.shape.buffer(-reach / paper.scale)
    if room.is_empty:
        return None
    x0, y0, x1, y1 = room.bounds
    for share in (0.5, 0.3, 0.7, 0.1, 0.9):
        point = (x0 + (x1 - x0) * share, (y0 + y1) / 2)
        place = paper.at(from_frame([point], turn)[0])
        if room.intersects(ShapelyPoint(point)) and paper.taken.free(place, reach):
            return place
    return None


def draw_trapped(
    paper: DrawingPaper,
    pieces: Sequence[LaidPiece],
    request: PlanRequest,
    plan: Plan,
    *,
    called: str = "trapped",
) -> None:
    """Mark trapped pieces by a dot each, and those that lie together by a word at a leader line.

    The leader goes the way the rows go, if there is room.
    """
    way = 90 if request.lay.start is Side.LOW else -90
    for block in _trapped_blocks(pieces):
        places = [paper.at(from_frame([_inside(p)], plan.direction_deg)[0]) for p in block]
        for place in places:
            paper.dot(place, name="trapped-piece")
        rows = sorted({piece.row for piece in block})
        word = called if len(block) == 1 else f"{called}, {len(block)}"
        if len(rows) > 1:
            word = f"{called}, rows {rows[0]} to {rows[-1]}"
        middle = places[len(places) // 2]
        spots = list(spots_around(middle, first=-(plan.direction_deg + way) + 45))
        if not paper.word(word, spots, name="trapped"):
            at = (middle[0], middle[1] - 12)
            paper.letter(at, word, size=SMALL, name="trapped", backed=True)


def _inside(piece: LaidPiece) -> Point:
    """Return the middle of a piece, or a point that lies in it."""
    x0, y0, x1, y1 = piece.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if piece.shape.contains(ShapelyPoint(middle)):
        return middle
    inside = piece.shape.representative_point()
    return inside.x, inside.y


def _trapped_blocks(pieces: Sequence[LaidPiece]) -> list[list[LaidPiece]]:
    """Return trapped pieces, those together that touch end to end or row to row."""
    blocks: list[list[LaidPiece]] = []
    for piece in sorted((p for p in pieces if p.piece.trapped), key=lambda p: (p.row, p.bounds)):
        met = [block for block in blocks if any(_touch(piece, other) for other in block)]
        blocks = [block for block in blocks if block not in met]
        blocks.append([*(other for block in met for other in block), piece])
    return blocks


def _touch(piece: LaidPiece, other: LaidPiece) -> bool:
    """Whether two pieces lie end to end in a row, or over each other in rows that follow."""
    shared = min(piece.bounds[2], other.bounds[2]) - max(piece.bounds[0], other.bounds[0])
    near = shared > -RUN_GAP_TOLERANCE if piece.row == other.row else shared > 0
    return abs(piece.row - other.row) <= 1 and near
