"""Judging the order of laying and the trapped marks, from the outlines of the pieces alone.

What overhangs a piece is found edge against edge, what is down when its turn comes by going
through the pieces in the order of the plan.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.material import GoesIn, Lock
from layout.values.outline import EdgeKind, edges_of, ring_area, to_frame

_LEAST = 0.5  # inches under something that count
_FACES = ("low", "high", "left", "right")

Edge = tuple[float, float, float, float]
_Overhang = tuple[Edge, float, bool]


def wrong_order(view: View) -> Iterator[Fault]:
    """Yield pieces that stand in the plan before their turn, and a control row that is none."""
    control, rows = view.plan.lay.control_row, len(view.rows)
    if control is not None and control > max(view.rows):
        text = f"row {control} is to be laid first; there are {rows} rows"
        yield Fault(rule="lay", where="plan", value=control, limit=max(view.rows), text=text)
    for before, piece in pairwise(piece.piece for piece in view.new):
        turns = [(view.turn(one.row), one.place) for one in (before, piece)]
        if turns[1] < turns[0]:
            text = f"it stands after piece {before.id} and is laid before it"
            yield Fault(
                rule="order",
                where=f"piece {piece.id}",
                value=piece.row,
                limit=before.row,
                text=text,
                rows=(piece.row,),
            )


def wrong_trapped(view: View) -> Iterator[Fault]:
    """Yield pieces whose mark, or whose way in, is not that of their lock and their place."""
    edges = tuple(_overhanging(view))
    down = _down(view) if edges or len(view.new) < len(view.pieces) else None
    off = 3 * view.near
    right = [_ways(view, edges, down, _LEAST * view.inch + more) for more in (-off, off)]
    for piece in view.new:
        marked, right_ways = piece.piece, {ways[piece] for ways in right}
        if all(marked.trapped != (way is not None) for way in right_ways):
            text = (
                "it is marked trapped and is not" if marked.trapped else "trapped, and not marked"
            )
        elif marked.goes_in is not None and marked.goes_in not in right_ways:
            way = next(iter(right_ways))
            text = f'its way in is "{marked.goes_in}"; right is "{way}"'
        else:
            continue
        yield Fault(
            rule="trapped",
            where=piece.name,
            value=marked.trapped,
            limit=not marked.trapped,
            text=text,
        )


def wrong_starts(view: View) -> Iterator[Fault]:
    """Yield a count of trapped pieces, told of the plan's own start, that is not its marks'."""
    lay, trapped = view.plan.lay, sum(piece.piece.trapped for piece in view.new)
    for choice in view.plan.starts:
        same_start = (
            choice.start is lay.start
            if lay.control_row is None
            else choice.control_row == lay.control_row
        )
        if same_start and choice.trapped != trapped:
            text = f"it tells of {choice.trapped} trapped pieces from {choice.words}"
            yield Fault(rule="starts", where="plan", value=choice.trapped, limit=trapped, text=text)
    yield from _wrong_proposal(view)


def _wrong_proposal(view: View) -> Iterator[Fault]:
    """Yield a word on a better start that the counts of the starts do not bear out, or that lacks.

    The first start is the plan's own.
    """
    counts = [choice.trapped for choice in view.plan.starts]
    better = len(counts) > 1 and min(counts) < counts[0]
    warned = [warning for warning in view.plan.warnings if warning.rule == "start"]
    right = [(counts[0], min(counts))] if better else []
    if [(warning.value, warning.limit) for warning in warned] != right:
        text = "the plan does not say that another start traps fewer pieces, or says it wrongly"
        value, limit = right[0] if right else (0, 0)
        yield Fault(rule="starts", where="plan", value=value, limit=limit, text=text)


@dataclass(slots=True)
class _Seen:
    """What is over a piece or run, what of that is a casing, and where pieces are down."""

    over: set[str] = field(default_factory=set)
    cased: set[str] = field(default_factory=set)
    down: set[str] = field(default_factory=set)


def _ways(
    view: View, edges: Sequence[_Overhang], down: dict[LaidPiece, set[str]] | None, least: float
) -> dict[LaidPiece, GoesIn | None]:
    """Return how every new piece goes in; overhangs count where longer than ``least``.

    ``down`` tells at which faces a piece meets what is down; None where nothing is in any way.
    """
    if down is None:
        return dict.fromkeys(view.new)
    lock, ways = view.request.product.lock, {}
    for run in _new_runs(view):
        seen = [_seen(view, edges, piece, least) for piece in run]
        whole = _Seen()
        for piece, of_piece in zip(run, seen, strict=True):
            of_piece.down |= down[piece]
            whole.over |= of_piece.over
            whole.cased |= of_piece.cased
            whole.down |= of_piece.down
        ways.update(
            {p: _way(lock, of_piece, whole, view) for p, of_piece in zip(run, seen, strict=True)}
        )
    return ways


def _way(lock: Lock | None, it: _Seen, run: _Seen, view: View) -> GoesIn | None:
    """Return how a piece goes in if it is trapped."""
    if lock is None:
        return GoesIn.MAKER if _way(Lock.ANGLE_DROP, it, run, view) else None
    between = {"low", "high"} <= it.down or {"left", "right"} <= it.down
    if between:
        return GoesIn.LOWER
    sides = run.down & {"low", "high"}
    if not sides:
        return GoesIn.SLIDE if {"low", "high"} <= it.over else None
    behind, ahead = _behind_and_ahead(view, it.down & {"low", "high"} or sides)
    ends = it.over & {"left", "right"}
    if lock in (Lock.TAP, Lock.GLUE):
        return GoesIn.SLIDE if ahead in it.over or len(ends) == 2 else None
    stuck_end = len(ends) == 1 and bool(it.down & {"left", "right"})
    if not (stuck_end or len(ends) == 2 or ahead in it.over or behind in it.over):
        return None
    by_itself = lock is Lock.ANGLE_DROP or len(ends) == 2 or behind in run.over
    if by_itself or ahead in run.cased:
        return GoesIn.SHAVE
    run_ends = len(run.over & {"left", "right"})
    return (
        GoesIn.ROW if run_ends == 0 or (run_ends == 1 and ahead not in run.over) else GoesIn.SHAVE
    )


def _behind_and_ahead(view: View, joined: set[str]) -> tuple[str, str]:
    """Return the side at which a piece is joined, and the other one."""
    near, far = ("low", "high") if view.from_low else ("high", "low")
    return (far, near) if joined == {far} else (near, far)


def _seen(view: View, edges: Sequence[_Overhang], piece: LaidPiece, least: float) -> _Seen:
    """Return what overhangs a piece."""
    seen = _Seen()
    x0, y0, x1, y1 = piece.bounds
    for edge, reach, cased in edges:
        ax, ay, bx, by = edge
        if (
            min(ax, bx) - reach > x1
            or max(ax, bx) + reach < x0
            or min(ay, by) - reach > y1
            or max(ay, by) + reach < y0
        ):
            continue
        if sum(_beside(edge, side, reach, view.near) for side in piece.edges) > least:
            face = _face(edge)
            seen.over.add(face)
            if cased:
                seen.cased.add(face)
    return seen


def _overhanging(view: View) -> Iterator[_Overhang]:
    """Yield the edges of the zone that the floor runs under, the floor on their left.

    With each: how far off the floor may end, and whether it is a casing.
    """
    zone = view.request.zone
    ring = to_frame(zone.outline, view.plan.direction_deg)
    forward = ring_area(ring) > 0
    for i, (a, b) in enumerate(edges_of(ring)):
        zone_edge = zone.edges.get(i)
        if zone_edge is None or zone_edge.kind not in (
            EdgeKind.CASING,
            EdgeKind.TOE_KICK,
            EdgeKind.RADIATOR,
        ):
            continue
        gap = view.request.rules.expansion_gap if zone_edge.gap is None else zone_edge.gap
        reach = max(gap, zone_edge.max_gap or 0.0) + 4 * view.near
        edge = (*a, *b) if forward else (*b, *a)
        yield edge, reach, zone_edge.kind is EdgeKind.CASING


def _beside(edge: Edge, side: Edge, reach: float, near: float) -> float:
    """Return how far an edge of a piece runs along an edge of the zone, within reach of it."""
    ax, ay, bx, by = edge
    length = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    along, off = [], []
    for x, y in (side[:2], side[2:]):
        along.append((x - ax) * ux + (y - ay) * uy)
        off.append((y - ay) * ux - (x - ax) * uy)
    if not all(-near <= distance <= reach for distance in off):
        return 0.0
    return max(0.0, min(along[1], length) - max(along[0], 0.0))


def _face(edge: Edge) -> str:
    """Return the face of the floor that an edge with the floor on its left bounds."""
    dx, dy = edge[2] - edge[0], edge[3] - edge[1]
    if abs(dx) > abs(dy):
        return "low" if dx > 0 else "high"
    return "right" if dy > 0 else "left"


def _down(view: View) -> dict[LaidPiece, set[str]]:
    """Return at which faces each new piece meets what is down when its turn comes."""
    laid: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in view.pieces:
        if piece.before:
            laid[piece.row].append(piece)
    faces = {}
    for piece in view.new:
        rows = (piece.row - 1, piece.row, piece.row + 1)
        others = [o for row in rows for o in laid[row] if _touch(piece, o, view.near)]
        faces[piece] = {
            face for face in _FACES if any(_meet(piece, o, face, view.near) for o in others)
        }
        laid[piece.row].append(piece)
    return faces


def _touch(piece: LaidPiece, other: LaidPiece, near: float) -> bool:
    """Whether the bounds of two pieces meet."""
    a, b = piece.bounds, other.bounds
    off = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
    return off <= 2 * near


def _meet(piece: LaidPiece, other: LaidPiece, face: str, near: float) -> bool:
    """Whether another piece lies at a face of a piece."""
    if face in ("low", "high"):
        high = face == "high"
        mine, theirs = piece.levels(top=high, near=near), other.levels(top=not high, near=near)
    else:
        right = face == "right"
        mine, theirs = (
            piece.uprights(right=right, near=near),
            other.uprights(right=not right, near=near),
        )
    sides = list(theirs)
    return any(
        abs(at - there) <= 2 * near and min(b, d) - max(a, c) > 3 * near
        for at, a, b in mine
        for there, c, d in sides
    )


def _new_runs(view: View) -> Iterator[Sequence[LaidPiece]]:
    """Yield the new pieces of every row that are joined end to end."""
    run_of = {piece: [piece] for piece in view.new}
    for joint in view.seams:
        left, right = run_of.get(joint.left), run_of.get(joint.right)
        if left is not None and right is not None and left is not right:
            left += right
            for piece in right:
                run_of[piece] = left
    yield from {id(run): run for run in run_of.values()}.values()
