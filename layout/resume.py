"""Going on from what is down: laid pieces and leftovers at hand, in the working frame.

Pieces that are down fix the row lines. What is left of a row begins where its last piece ends,
with a factory end; joints keep clear of those that are down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import Polygon

from layout.choices import AtHand, Site
from layout.errors import Found, InputError, NoPlanError
from layout.offcuts import Part, Plank, Stock
from layout.outline import LENGTH_TOLERANCE, Region, to_frame
from layout.plan import Offcut, Piece
from layout.request import PlanRequest
from layout.rows import Floor, Frame, Run

_BEFORE = 1_000_000  # before any part of this plan
_SEAM = 2e-6  # cut away beside a laid piece, so that rounding leaves no crumbs


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


def boards_down(request: PlanRequest, frame: Frame) -> list[LaidBoard]:
    """Return the laid pieces in the working frame."""
    found = []
    for piece in request.laid:
        ((x, y),) = to_frame([piece.origin], frame.direction_deg)
        length, width = piece.size
        left = -(x + length) if frame.mirrored_x else x
        low = -(y + width) if frame.mirrored_y else y
        shape = Polygon(frame.inward(piece.outline), [frame.inward(r) for r in piece.holes])
        board = (left, low, left + length, low + width)
        found.append(LaidBoard(piece=piece, shape=shape, board=board))
    return found


def rip_down(request: PlanRequest, down: Sequence[LaidBoard], region: Region) -> float:
    """Return the first rip that the laid pieces have fixed.

    Raises InputError where they do not share row lines or miscount rows.
    """
    near, width = LENGTH_TOLERANCE[request.unit], request.product.board.width
    start = float(region.bounds[1])
    first = (down[0].board[3] - start) % width
    first = width if first < near else first
    for i, laid in enumerate(down):
        row = (laid.board[3] - start - first) / width + 1
        if abs(row - round(row)) * width > 2 * near:
            found = Found(f"piece {laid.piece.id} lies {(row % 1) * width:.3g} off the row lines")
            raise InputError(f"laid[{i}].origin", found, "a board on the row lines of laid[0]")
        if round(row) != laid.piece.row:
            accepted = f"{round(row)}, counted from the start wall"
            raise InputError(f"laid[{i}].row", laid.piece.row, accepted)
    return first


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
        found = [set(own) for own in self.joints]
        for home, site, own in zip(self.homes, sites, joints, strict=True):
            found[home].update(own)
            found[home].update(x for x, meets in _open_ends(site) if meets)
        return [_apart(sorted(own)) for own in found]


def _open_ends(site: Site) -> tuple[tuple[float, bool], tuple[float, bool]]:
    """Return the ends of a run, and whether a laid piece is there."""
    return (site.run.x0, site.begun), (site.run.x1, site.ended)


def _apart(joints: Sequence[float]) -> tuple[float, ...]:
    """Return joints without repetitions."""
    kept: list[float] = []
    for x in joints:
        if not kept or x - kept[-1] > 0.01:
            kept.append(x)
    return tuple(kept)


def take_down(
    whole: Floor, sites: Sequence[Site], down: Sequence[LaidBoard], offset: float, near: float
) -> tuple[Floor, tuple[Site, ...], Down]:
    """Return the floor that is left, its sites, and what is down.

    ``sites`` are those of the whole floor; joints keep ``offset`` from those that are down.
    """
    by_row: dict[int, list[LaidBoard]] = {}
    for laid in down:
        by_row.setdefault(laid.piece.row, []).append(laid)
    joints_down = {
        row: [x for b in boards for x in b.joints(near)] for row, boards in by_row.items()
    }
    hair = max(offset - 1e-3, 0.0)
    left: list[Site] = []
    homes: list[int] = []
    for index, site in enumerate(sites):
        boards = by_row.get(site.run.row, [])
        close = [
            x for row in (site.run.row - 1, site.run.row + 1) for x in joints_down.get(row, [])
        ]
        for run in _runs_left(site.run, boards):
            begun = any(abs(b.shape.bounds[2] - run.x0) < 10 * _SEAM for b in boards)
            ended = any(abs(b.shape.bounds[0] - run.x1) < 10 * _SEAM for b in boards)
            kept_off = tuple((x - hair, x + hair) for x in close if run.x0 <= x <= run.x1)
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
    own = tuple(_of_run(site.run, joints_down.get(site.run.row, [])) for site in sites)
    if not left:
        text = "laid: the floor is laid; nothing is left to plan"
        raise NoPlanError(text)
    _refuse_gaps(left, whole.board.length, near)
    floor = whole.with_runs([site.run for site in left])
    placed = (replace(site, run=run) for site, run in zip(left, floor.runs, strict=True))
    return floor, tuple(placed), Down(whole=whole, joints=own, homes=tuple(homes))


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
    return _apart(sorted(x for x in joints if run.x0 + 0.01 < x < run.x1 - 0.01))


def _runs_left(run: Run, boards: Sequence[LaidBoard]) -> list[Run]:
    """Return what laid pieces leave of a run."""
    over = [b.shape for b in boards if b.shape.intersects(run.shape)]
    if not over:
        return [run]
    taken = shapely.union_all(over).buffer(_SEAM, join_style="mitre")
    rest = run.shape.difference(taken)
    return run.parts(getattr(rest, "geoms", [rest]))


def planks_at_hand(request: PlanRequest, frame: Frame) -> list[Plank]:
    """Return the planks of the offcuts at hand, each with what is gone of it as first part.

    Only offcuts as wide as the board count, and of these only those that keep one end whole.
    """
    board, kerf = request.product.board, request.rules.saw_kerf
    stock = Stock(length=board.length, width=board.width, kerf=kerf)
    planks = []
    for i, offcut in enumerate(request.on_hand.offcuts if request.on_hand else ()):
        span = _gone(offcut, request, frame)
        if span is not None:
            gone = Part(order=i - _BEFORE, left=span[0], right=span[1], low=0.0, high=board.width)
            planks.append(Plank(stock=stock, parts=(gone,), number=offcut.plank, label=offcut.id))
    return planks


def _gone(offcut: Offcut, request: PlanRequest, frame: Frame) -> tuple[float, float] | None:
    """Return the part of a plank that is gone, the kerf at the offcut left free."""
    board, near = request.product.board, LENGTH_TOLERANCE[request.unit]
    kerf, length = request.rules.saw_kerf, request.product.board.length
    left, right = offcut.at[0] < near, offcut.at[0] + offcut.length > length - near
    if offcut.width < board.width - near or left == right:
        return None
    if right != frame.mirrored_x:
        return 0.0, max(length - offcut.length - kerf, near)
    return min(offcut.length + kerf, length - near), length


def at_hand(planks: Sequence[Plank]) -> AtHand:
    """Return the starters and enders that planks cut before can give."""
    gone = [(plank.stock, plank.parts[0]) for plank in planks]
    return AtHand(
        rooms=tuple(s.length - p.right - s.kerf for s, p in gone if p.right < s.length),
        rests=tuple(p.left - s.kerf for s, p in gone if p.right >= s.length),
    )
