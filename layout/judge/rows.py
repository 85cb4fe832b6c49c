"""Judging the rules of laying: row lines, end pieces, joint offsets, doorways, fixed steps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from shapely.geometry import LineString, Polygon

from layout.judge.view import Fault, Joint, View
from layout.values.laid_pieces import LaidPiece
from layout.values.material import Stagger
from layout.values.outline import polygons_of, to_frame


def crooked_rows(view: View) -> Iterator[Fault]:
    """Yield rows whose pieces do not share one board width between two row lines.

    Each part of a region that falls apart has row lines of its own.
    """
    for rows in rows_by_part(view):
        bands = []
        for number, pieces in rows.items():
            low = min(piece.bounds[1] for piece in pieces)
            high = max(piece.bounds[3] for piece in pieces)
            bands.append((number, low, high))
            widths = {round(piece.piece.size[1] / view.near / 2) for piece in pieces}
            if len(widths) > 1:
                text = "its boards are of different widths"
                yield _row_fault("rows", number, len(widths), 1, text)
            width = max(piece.piece.size[1] for piece in pieces)
            if high - low > width + 2 * view.near:
                text = f"its pieces reach over {high - low:.2f}, more than one board of {width:g}"
                yield _row_fault("rows", number, high - low, width, text)
        yield from _lines_crossed(view, bands)


def rows_by_part(view: View) -> Iterator[dict[int, list[LaidPiece]]]:
    """Yield the rows of every connected part of the region."""
    parts = polygons_of(view.region)
    if len(parts) < 2:
        yield view.rows
        return
    for part in parts:
        rows = {
            number: [piece for piece in pieces if piece.shape.intersects(part)]
            for number, pieces in view.rows.items()
        }
        yield {number: pieces for number, pieces in rows.items() if pieces}


def _lines_crossed(view: View, bands: list[tuple[int, float, float]]) -> Iterator[Fault]:
    """Yield rows that reach into the row before them."""
    for (_, low, high), (number, next_low, next_high) in pairwise(bands):
        over = high - next_low if view.from_low else next_high - low
        if over > 2 * view.near:
            text = f"it reaches {over:.3f} over the line of the row before it"
            yield _row_fault("rows", number, over, 0, text)


def wrong_places(view: View) -> Iterator[Fault]:
    """Yield doubled ids and places that do not count from the end where rows begin."""
    seen: set[str] = set()
    for piece in view.pieces:
        if piece.piece.id in seen:
            yield _piece_fault("id", piece, 1, 0, "another piece has the same id")
        seen.add(piece.piece.id)
    for pieces in view.rows.values():
        laid = [piece for piece in pieces if not piece.before]
        for left, right in pairwise(laid):
            first, second = (left, right) if view.from_left else (right, left)
            if first.bounds[0] != second.bounds[0] and first.piece.place >= second.piece.place:
                text = f"place {second.piece.place} comes after place {first.piece.place}"
                value = second.piece.place
                yield _piece_fault("place", second, value, first.piece.place, text)


def short_ends(view: View) -> Iterator[Fault]:
    """Yield first and last pieces of runs of two or more that are shorter than the rule."""
    least = view.request.rules.min_end_piece
    for run in view.runs:
        if len(run) < 2:
            continue
        ends = (
            min(run, key=lambda piece: piece.bounds[0]),
            max(run, key=lambda piece: piece.bounds[2]),
        )
        for piece in ends:
            if piece.extent < least - view.near and not piece.before:
                text = (
                    f"the run's end piece is {piece.extent:.3f} long; the rule asks for {least:g}"
                )
                yield _piece_fault("min_end_piece", piece, piece.extent, least, text)


def close_joints(view: View) -> Iterator[Fault]:
    """Yield end joints of touching rows that stand closer than the rule."""
    least = view.request.rules.min_joint_offset
    for first, second in touching_joints(view):
        offset = abs(first.x - second.x)
        if offset < least - view.near and not (first.before and second.before):
            text = (
                f"end joints of rows {first.row} and {second.row} stand {offset:.3f} apart; "
                f"the rule asks for {least:g}"
            )
            yield Fault(
                rule="min_joint_offset",
                where=f"pieces {first.right.piece.id} and {second.right.piece.id}",
                value=offset,
                limit=least,
                text=text,
                rows=(first.row, second.row),
            )


def touching_joints(view: View) -> Iterator[tuple[Joint, Joint]]:
    """Yield pairs of joints of neighboring rows that reach the same stretch of row line."""
    by_row = _joints_by_row(view)
    for row, joints in by_row.items():
        above = by_row.get(row + 1)
        if not above:
            continue
        lower, upper = (row, row + 1) if view.from_low else (row + 1, row)
        for y, (u, v) in view.contacts(lower, upper):
            below = [j for j in joints if _reaches(j, y, u, v, view.near)]
            other = [j for j in above if _reaches(j, y, u, v, view.near)]
            for first in below:
                yield from ((first, second) for second in other)


def _reaches(joint: Joint, y: float, u: float, v: float, near: float) -> bool:
    """Whether a joint ends on the stretch [u, v] of the row line at ``y``."""
    on_line = min(abs(joint.low - y), abs(joint.high - y)) <= 2 * near
    return on_line and u - 2 * near <= joint.x <= v + 2 * near


def _joints_by_row(view: View) -> dict[int, list[Joint]]:
    """Return the joints of every row."""
    rows: dict[int, list[Joint]] = defaultdict(list)
    for joint in view.joints:
        rows[joint.row].append(joint)
    return rows


def joints_in_doorways(view: View) -> Iterator[Fault]:
    """Yield end joints inside a place where none may fall."""
    turn = view.plan.direction_deg
    places = [Polygon(to_frame(ring, turn)) for ring in view.request.zone.no_joints]
    for joint in view.joints:
        line = LineString([(joint.x, joint.low), (joint.x, joint.high)])
        for i, place in enumerate(places):
            inside = line.intersection(place.buffer(-view.near)).length
            if inside > view.near and not joint.before:
                yield Fault(
                    rule="no_joints",
                    where=f"piece {joint.right.piece.id}",
                    value=inside,
                    limit=0,
                    text=f"its end joint stands in no_joints[{i}]",
                    rows=(joint.row,),
                )


def broken_steps(view: View) -> Iterator[Fault]:
    """Yield rows whose joints do not stand one fixed step from those of the row before."""
    stagger = view.request.rules.stagger
    if stagger is Stagger.FREE:
        return
    length = view.request.product.board.length
    step = length / 2 if stagger is Stagger.HALF else length / 3
    turned: dict[bool, list[Fault]] = {True: [], False: []}
    for forward in (True, False):
        want = step if forward else length - step
        for first, second in touching_joints(view):
            off = abs((second.x - first.x - want + length / 2) % length - length / 2)
            if off > 2 * view.near and not (first.before and second.before):
                turned[forward].append(_step_fault(first, second, length, step))
    yield from min(turned.values(), key=len)


def _step_fault(first: Joint, second: Joint, length: float, step: float) -> Fault:
    """Return the fault of two joints off the fixed step."""
    value = (second.x - first.x) % length
    return Fault(
        rule="stagger",
        where=f"pieces {first.right.piece.id} and {second.right.piece.id}",
        value=value,
        limit=step,
        text=f"the step from row {first.row} to row {second.row} is {value:.3f}, not {step:g}",
        rows=(first.row, second.row),
    )


def _row_fault(rule: str, row: int, value: float, limit: float, text: str) -> Fault:
    """Return a fault of one row."""
    return Fault(rule=rule, where=f"row {row}", value=value, limit=limit, text=text, rows=(row,))


def _piece_fault(rule: str, piece: LaidPiece, value: float, limit: float, text: str) -> Fault:
    """Return a fault of one piece."""
    return Fault(
        rule=rule, where=piece.name, value=value, limit=limit, text=text, rows=(piece.row,)
    )
