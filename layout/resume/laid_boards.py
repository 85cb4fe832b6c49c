"""Going on from what is down: laid pieces and leftovers at hand, in the working frame.

Pieces that are down fix the row lines. What is left of a row begins where its last piece ends,
with a factory end; joints keep clear of those that are down.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import Polygon, box

from layout.joints.choices import AtHand, Site
from layout.planks.parts import Part, Plank, Stock
from layout.rows.ground import Ground
from layout.rows.rows import Floor
from layout.rows.runs import Run
from layout.rows.widths import Widths
from layout.saw.of_plan import true_shape
from layout.values.errors import Described, InputError, NoPlanError
from layout.values.leftovers import cut_by_plank, plank_size
from layout.values.outline import Region, polygons_of, to_frame
from layout.values.plan import Piece
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    LAID_JOINT_TOLERANCE,
    OVERLAP_TOLERANCE,
    SAME_JOINT_TOLERANCE,
    SCRAP_TOLERANCE,
    SEAM_WIDTH,
    TOUCHING_TOLERANCE,
)

_BEFORE = 1_000_000  # before any part of this plan


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidBoard:
    """A laid piece in the working frame: its shape, and its board's left, low, right and high."""

    piece: Piece
    shape: Polygon
    board: tuple[float, float, float, float]

    def joints(self, near: float) -> list[float]:
        """Return where its ends are factory ends."""
        left, _, right, _ = self.shape.bounds
        ends = []
        if abs(left - self.board[0]) <= near:
            ends.append(float(left))
        if abs(right - self.board[2]) <= near:
            ends.append(float(right))
        return ends


def boards_down(ground: Ground) -> list[LaidBoard]:
    """Return the laid pieces in the working frame."""
    frame, boards = ground.frame, []
    for piece in ground.request.laid:
        ((x, y),) = to_frame([piece.origin], frame.direction_deg)
        length, width = piece.size
        left = -(x + length) if frame.mirrored_x else x
        low = -(y + width) if frame.mirrored_y else y
        shape = Polygon(frame.inward(piece.outline), [frame.inward(r) for r in piece.holes])
        board = (left, low, left + length, low + width)
        boards.append(LaidBoard(piece=piece, shape=shape, board=board))
    return boards


def parts_in_order(
    ground: Ground, down: Sequence[LaidBoard]
) -> list[tuple[Polygon, list[LaidBoard]]]:
    """Return the parts of a region with the boards down in each, those begun first come first."""
    parts = []
    for part in polygons_of(ground.region):
        within = [
            board for board in down if board.shape.intersection(part).area > OVERLAP_TOLERANCE
        ]
        parts.append((min((board.piece.row for board in within), default=_BEFORE), part, within))
    parts.sort(key=lambda entry: entry[0])
    return [(part, within) for _, part, within in parts]


def rip_down(ground: Ground, down: Sequence[LaidBoard], part: Polygon) -> float:
    """Return the first rip that the boards down in a part of the region have fixed.

    Raises InputError where they do not share row lines.
    """
    near, width = ground.near, ground.request.product.board.width
    start = float(part.bounds[1])
    first = (down[0].board[3] - start) % width
    first = width if first < near else first
    for laid in down:
        row = (laid.board[3] - start - first) / width
        if (off := abs(row - round(row)) * width) > 2 * near:
            raise _off_lines(
                ground.request, laid, off, f"the row lines of piece {down[0].piece.id}"
            )
    return first


def _off_lines(request: PlanRequest, laid: LaidBoard, off: float, lines: str) -> InputError:
    """Return the refusal of a board that lies off the row lines."""
    value = Described(f"piece {laid.piece.id} lies {off:.3g} off the row lines")
    return InputError(
        f"laid[{request.laid.index(laid.piece)}].origin", value, f"a board on {lines}"
    )


def widths_down(ground: Ground, down: Sequence[LaidBoard], part: Polygon) -> Widths:
    """Return the widths of the rows from the start wall on that boards down have fixed.

    Raises InputError where they share no row lines or leave out a row.
    """
    near = 2 * ground.near
    line, widths = float(part.bounds[1]), []
    tops: list[float] = [line]
    for laid in sorted(down, key=lambda board: board.board[3]):
        _, low, _, high = laid.board
        if abs(low - line) <= near:
            widths.append(laid.piece.size[1])
            line += widths[-1]
            tops.append(line)
        elif abs(high - line) > near or abs(low - tops[-2 if len(tops) > 1 else -1]) > near:
            lines = "the row lines from the start wall on"
            raise _off_lines(ground.request, laid, abs(low - line), lines)
    return tuple(widths)


def check_rows(request: PlanRequest, floor: Floor, down: Sequence[LaidBoard]) -> None:
    """Refuse boards down that miscount rows. Raises InputError."""
    for laid in down:
        middle = (laid.board[1] + laid.board[3]) / 2
        rows = {
            run.row
            for run in floor.runs
            if run.y0 < middle < run.y1
            and laid.shape.intersection(run.shape).area > OVERLAP_TOLERANCE
        }
        if rows and laid.piece.row not in rows:
            where = f"laid[{request.laid.index(laid.piece)}].row"
            accepted = f"{min(rows)}, counted from the start wall"
            raise InputError(where, laid.piece.row, accepted)


@dataclass(frozen=True, slots=True, kw_only=True)
class Down:
    """The whole floor, which joints of it are down, and in which run of it each site lies."""

    whole: Floor
    joints: tuple[tuple[float, ...], ...]
    homes: tuple[int, ...]

    def with_new(
        self, sites: Sequence[Site], joints: Sequence[tuple[float, ...]]
    ) -> list[tuple[float, ...]]:
        """Return all joints of every run of the whole floor, down or new, left to right."""
        joints_of_run = [set(of_run) for of_run in self.joints]
        for home, site, of_run in zip(self.homes, sites, joints, strict=True):
            joints_of_run[home].update(of_run)
            joints_of_run[home].update(x for x, meets in _open_ends(site) if meets)
        return [_apart(sorted(of_run)) for of_run in joints_of_run]


def _open_ends(site: Site) -> tuple[tuple[float, bool], tuple[float, bool]]:
    """Return the ends of a run, and whether a laid piece is there."""
    return (site.run.x0, site.begun), (site.run.x1, site.ended)


def _apart(joints: Sequence[float]) -> tuple[float, ...]:
    """Return joints without repetitions."""
    kept: list[float] = []
    for x in joints:
        if not kept or x - kept[-1] > SAME_JOINT_TOLERANCE:
            kept.append(x)
    return tuple(kept)


def take_down(
    ground: Ground, whole: Floor, sites: Sequence[Site], down: Sequence[LaidBoard]
) -> tuple[Floor, tuple[Site, ...], Down]:
    """Return the floor that is left, its sites, and what is down.

    ``sites`` are those of the whole floor; joints keep their offset from those that are down.
    """
    near, offset = ground.near, ground.request.rules.min_joint_offset
    by_row: dict[int, list[LaidBoard]] = {}
    for laid in down:
        by_row.setdefault(laid.piece.row, []).append(laid)
    joints_down = {
        row: [x for b in boards for x in b.joints(near)] for row, boards in by_row.items()
    }
    reach = max(offset - LAID_JOINT_TOLERANCE, 0.0)
    left: list[Site] = []
    homes: list[int] = []
    for index, site in enumerate(sites):
        boards = by_row.get(site.run.row, [])
        beside = [b for row in (site.run.row - 1, site.run.row + 1) for b in by_row.get(row, [])]
        close = [
            x for b in beside if b.shape.distance(site.run.shape) < near for x in b.joints(near)
        ]
        for run in _runs_left(site.run, boards):
            begun = any(abs(b.shape.bounds[2] - run.x0) < 10 * SEAM_WIDTH for b in boards)
            ended = any(abs(b.shape.bounds[0] - run.x1) < 10 * SEAM_WIDTH for b in boards)
            kept_off = tuple((x - reach, x + reach) for x in close if run.x0 <= x <= run.x1)
            left.append(
                Site(
                    run=run,
                    barred=site.barred,
                    posts=run.posts,
                    kept_off=kept_off,
                    begun=begun,
                    ended=ended,
                )
            )
            homes.append(index)
    laid_joints = tuple(_of_run(site.run, joints_down.get(site.run.row, [])) for site in sites)
    if not left:
        text = "laid: the floor is laid; nothing is left to plan"
        raise NoPlanError(text)
    _refuse_gaps(left, whole.board.length, near)
    floor = whole.with_runs([site.run for site in left])
    placed = (replace(site, run=run) for site, run in zip(left, floor.runs, strict=True))
    return floor, tuple(placed), Down(whole=whole, joints=laid_joints, homes=tuple(homes))


def _refuse_gaps(sites: Sequence[Site], length: float, near: float) -> None:
    """Refuse a gap between laid pieces that whole boards do not fill."""
    for site in sites:
        over = site.run.length % length
        if site.begun and site.ended and near < over < length - near:
            text = (
                f"laid: between pieces of row {site.run.row} lie {site.run.length:.4g}, which "
                f"boards of {length:g} with both ends whole do not fill"
            )
            raise NoPlanError(text)


def _of_run(run: Run, joints: Sequence[float]) -> tuple[float, ...]:
    """Return the joints of a row that lie inside one of its runs."""
    least, most = run.x0 + SAME_JOINT_TOLERANCE, run.x1 - SAME_JOINT_TOLERANCE
    return _apart(sorted(x for x in joints if least < x < most))


def _runs_left(run: Run, boards: Sequence[LaidBoard]) -> list[Run]:
    """Return what laid pieces leave of a run."""
    over = [b.shape for b in boards if b.shape.intersects(run.shape)]
    if not over:
        return [run]
    taken = shapely.union_all(over).buffer(SEAM_WIDTH, join_style="mitre")
    rest = run.shape.difference(taken)
    return run.parts(getattr(rest, "geoms", [rest]))


def planks_at_hand(ground: Ground) -> list[Plank]:
    """Return the planks of the offcuts at hand, each with what is gone of it as first part.

    An offcut from the middle of a plank, both its ends cut, is left out.
    """
    request, frame, near = ground.request, ground.frame, ground.near
    rules = request.rules
    cut = cut_by_plank(request.laid, frame.direction_deg)
    planks = []
    for i, offcut in enumerate(request.on_hand.offcuts if request.on_hand else ()):
        size = plank_size(offcut, request.laid, request.product.boards, near)
        if size is None:
            continue
        left, right = offcut.at[0] < near, offcut.at[0] + offcut.length > size[0] - near
        left_over = true_shape(offcut, _grown(cut.get(offcut.plank, []), rules.saw_kerf))
        gone = _gone(left_over, size, (rules.saw_kerf, rules.kerf_across))
        if (left or right) and not gone.is_empty:
            part = _part(frame.plank_shape(gone, size), i - _BEFORE)
            part = replace(part, left_over=frame.plank_shape(left_over, size))
            stock = Stock.of(size, rules, request.unit)
            planks.append(Plank(stock=stock, parts=(part,), number=offcut.plank, label=offcut.id))
    return planks


def _grown(shapes: Sequence[Polygon], kerf: float) -> list[Polygon]:
    """Return pieces with the kerf that was taken beside them."""
    return [shape.buffer(kerf, join_style="mitre") for shape in shapes]


def _gone(left_over: Polygon, size: tuple[float, float], kerfs: tuple[float, float]) -> Region:
    """Return what is gone of a plank but for a leftover, the kerf at its cut edges left free.

    ``kerfs``: of a cut across and of a rip.
    """
    x0, y0, x1, y1 = left_over.bounds
    along, across = kerfs
    kept = box(x0 - along, y0 - across, x1 + along, y1 + across)
    plank = box(0.0, 0.0, *size)
    if box(x0, y0, x1, y1).area - left_over.area < SCRAP_TOLERANCE:
        return plank.difference(kept)
    slanted = left_over.buffer(along, join_style="mitre")
    return plank.difference(slanted.intersection(kept))


def _part(shape: Region, order: int) -> Part:
    """Return what is gone of a plank as a part of it."""
    left, low, right, high = shape.bounds
    boxed = shape.area > (right - left) * (high - low) - SCRAP_TOLERANCE
    return Part(
        order=order,
        left=left,
        right=right,
        low=low,
        high=high,
        shape=None if boxed else shape,
    )


def at_hand(planks: Sequence[Plank]) -> dict[float, AtHand]:
    """Return the starters and enders that planks cut before can give, by board width.

    Only offcuts of the full width are told.
    """
    by_width: dict[float, list[tuple[Stock, Part]]] = defaultdict(list)
    for plank in planks:
        gone = plank.parts[0]
        if gone.high - gone.low > plank.stock.width - TOUCHING_TOLERANCE:
            by_width[round(plank.stock.width, 6)].append((plank.stock, gone))
    return {
        width: AtHand(
            rooms=tuple(
                s.length - p.right - s.kerf
                for s, p in of_width
                if p.right < s.length - TOUCHING_TOLERANCE
            ),
            rests=tuple(p.left - s.kerf for s, p in of_width if p.left > TOUCHING_TOLERANCE),
        )
        for width, of_width in by_width.items()
    }
