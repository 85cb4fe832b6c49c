"""Where a last piece may be split in two, should the wall stand further off than a plank reaches.

row above      |        |            a joint must stand off those of the rows it touches, and lie
    +----------------------+~~       where joints may fall; both pieces keep the least length
    | last piece  :  more  |~~ wall
    +----------------------+~~
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import LineString, Polygon

from layout.values.laid_pieces import LaidPiece
from layout.values.outline import to_frame
from layout.values.request import PlanRequest
from layout.values.units import INCH


def cut_back(
    request: PlanRequest,
    piece: LaidPiece,
    pieces: Sequence[LaidPiece],
    direction_deg: float,
    *,
    right: bool,
    near: float,
) -> tuple[str, float] | None:
    """Return the whole plank before a last piece and how long it is cut, should that be too short.

    By the least piece at least, so that what is left to the wall is long enough; None where the
    plank before is not whole, or no joint fits.
    """
    begin = piece.bounds[0] if right else piece.bounds[2]
    before = [
        other
        for other in pieces
        if other.row == piece.row
        and abs((other.bounds[2] if right else other.bounds[0]) - begin) <= 2 * near
    ]
    if len(before) != 1 or before[0].before or not before[0].whole(near):
        return None
    long = split_length(request, before[0], pieces, direction_deg, right=right)
    return None if long is None else (before[0].piece.id, long)


def split_length(
    request: PlanRequest,
    piece: LaidPiece,
    pieces: Sequence[LaidPiece],
    direction_deg: float,
    *,
    right: bool,
) -> float | None:
    """Return how long a last piece is cut so that a further piece may end the row; None: nowhere.

    ``right``: whether the row ends at the piece's right end.
    """
    rules, length = request.rules, piece.piece.size[0]
    begin = piece.bounds[0] if right else piece.bounds[2]
    joints = [
        x
        for other in pieces
        if abs(other.row - piece.row) == 1
        for x in (other.bounds[0], other.bounds[2])
    ]
    banned = [Polygon(to_frame(ring, direction_deg)) for ring in request.zone.no_joints]
    step, long = INCH[request.unit], length - rules.min_end_piece
    while long >= rules.min_end_piece:
        x = begin + long if right else begin - long
        line = LineString([(x, piece.bounds[1]), (x, piece.bounds[3])])
        apart = all(abs(x - joint) >= rules.min_joint_offset for joint in joints)
        if apart and not any(line.intersects(area) for area in banned):
            return long
        long -= step
    return None
