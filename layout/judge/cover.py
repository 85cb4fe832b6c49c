"""Judging cover: every piece within its plank, the floor covered once, cut edges at the walls."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import Region, meeting, polygons_of, region_to_frame
from layout.values.tolerances import MEETING_TOLERANCE


def unusable_pieces(view: View) -> Iterator[Fault]:
    """Yield pieces whose outline can't be judged: crossed, or without any area."""
    for piece in view.pieces:
        if not piece.shape.is_valid:
            yield _fault("outline", piece, 0, 0, "its outline crosses or touches itself")
        elif piece.shape.area <= view.scrap / 100:
            area = piece.shape.area
            yield _fault("outline", piece, area, view.scrap / 100, "it has no area to speak of")


def wrong_planks(view: View) -> Iterator[Fault]:
    """Yield pieces of no board of the product, and pieces that reach past their plank."""
    for piece in view.pieces:
        if view.board_of(piece.piece) is None:
            length, width = piece.piece.size
            board = view.request.product.board
            text = f"its plank is {length:g} x {width:g}; the product has no such board"
            yield _fault("size", piece, length, board.length, text)
        over = _past_plank(piece)
        if over > view.near:
            text = f"it reaches {over:.3f} past its plank"
            yield _fault("within plank", piece, over, 0, text)


def wrong_cover(view: View) -> Iterator[Fault]:
    """Yield what the pieces leave bare, what lies outside the region, what lies twice."""
    if not view.pieces:
        return
    shapes = [piece.shape for piece in view.pieces]
    shapely.prepare(view.region)
    outside = shapely.area(shapely.difference(shapes, view.region))
    for piece, area in zip(view.pieces, outside, strict=True):
        if area > view.scrap and not piece.before:
            text = f"{area:.2f} square {view.request.unit} lie outside the laying region"
            yield _fault("outside", piece, float(area), view.scrap, text)
    yield from _doubled(view, shapes)
    yield from _bare(view, shapes)


def _doubled(view: View, shapes: list[Polygon]) -> Iterator[Fault]:
    """Yield pairs of pieces that lie on top of each other."""
    for i, j in meeting(shapes):
        area = shapes[i].intersection(shapes[j]).area
        if area > view.scrap:
            first, second = view.pieces[i], view.pieces[j]
            text = f"it lies on {first.name} over {area:.2f} square {view.request.unit}"
            yield _fault("overlap", second, area, view.scrap, text)


def _bare(view: View, shapes: list[Polygon]) -> Iterator[Fault]:
    """Yield the places that must be covered and are not, the largest first."""
    bare = polygons_of(_only_areas(view.least_region.difference(shapely.union_all(shapes))))
    if sum(part.area for part in bare) <= view.scrap:
        return
    bare = _uncovered(bare, shapes)
    if sum(part.area for part in bare) <= view.scrap:
        return
    worst = sorted(bare, key=lambda part: -part.area)[:20]
    for part in worst:
        if part.area > view.scrap or part is worst[0]:
            point = part.representative_point()
            ((x, y),) = region_to_frame(point, -view.plan.direction_deg).coords
            yield Fault(
                rule="missing",
                where=f"at ({x:.2f}, {y:.2f})",
                value=part.area,
                limit=view.scrap,
                text=f"{part.area:.2f} square {view.request.unit} of floor stay bare",
            )


def _uncovered(parts: Sequence[Polygon], shapes: list[Polygon]) -> tuple[Polygon, ...]:
    """Return what stays of parts once every piece that meets them is taken away by itself.

    A union of many pieces in a turned room may lose one of them to rounding; a fault must not.
    """
    tree = shapely.STRtree(shapes)
    rest: list[Polygon] = []
    for part in parts:
        left: Region = part
        for i in tree.query(part):
            left = left.difference(shapes[i])
        rest += polygons_of(_only_areas(left))
    return tuple(rest)


def wrong_cuts(view: View) -> Iterator[Fault]:
    """Yield cut edges that do not face the edge of the laying region.

    A cut edge is any edge that does not lie on the rectangle of its plank. It may face the
    region's edge, or the strip that ``max_gap`` leaves bare there, where it may meet no piece.
    """
    band = view.region.difference(view.least_region)
    walls = shapely.union_all([view.region.boundary.buffer(view.near), band.buffer(view.near)])
    shapely.prepare(walls)
    shapes, freed = [piece.shape for piece in view.pieces], _seams_freed(view)
    tree = shapely.STRtree(shapes)
    for i, piece in enumerate(view.pieces):
        if piece.whole(view.near) or piece.before:
            continue
        cut = _cut_edges(piece, view.near)
        if piece in freed:
            cut = cut.difference(shapely.union_all(freed[piece]))
        astray = cut.difference(walls).length
        if not band.is_empty and not cut.is_empty:
            others = [shapes[j] for j in tree.query(cut) if j != i]
            inside = cut.intersection(band.buffer(-view.near))
            astray += sum(
                inside.intersection(other.buffer(MEETING_TOLERANCE)).length for other in others
            )
        if astray > 5 * view.near:
            text = f"a cut edge of {astray:.2f} {view.request.unit} does not face the region's edge"
            yield _fault("cut edge", piece, astray, 0, text)


def enclosed_posts(view: View) -> Iterator[Fault]:
    """Yield pieces that enclose a post, or a cabinet, which can't be lowered over it."""
    for piece in view.pieces:
        if piece.before:
            continue
        for ring in piece.shape.interiors:
            if any(Polygon(ring).intersects(hole) for hole in view.fixed_holes):
                yield _fault("post", piece, 1, 0, "it encloses a post; no plank goes over one")


def needless_splits(view: View) -> Iterator[Fault]:
    """Yield pieces that declare a split where no post makes them split."""
    split = {piece for seam in view.splits for piece in (seam.left, seam.right)}
    for piece in view.new:
        if piece.piece.split and piece not in split:
            text = "it is declared split, and no post splits it there"
            yield _fault("split", piece, 1, 0, text)


def _seams_freed(view: View) -> dict[LaidPiece, list[BaseGeometry]]:
    """Return the seams, of some width, where a split lets a cut edge of a piece meet another."""
    freed: dict[LaidPiece, list[BaseGeometry]] = defaultdict(list)
    for seam in view.splits:
        off = 2 * view.near
        line = box(seam.x - off, seam.low - off, seam.x + off, seam.high + off)
        freed[seam.left].append(line)
        freed[seam.right].append(line)
    return freed


def _cut_edges(piece: LaidPiece, near: float) -> BaseGeometry:
    """Return the edges of a piece that do not lie on the rectangle of its plank."""
    length, width = piece.piece.size
    plank = box(piece.x0, piece.y0, piece.x0 + length, piece.y0 + width)
    return piece.shape.boundary.difference(plank.exterior.buffer(near))


def _past_plank(piece: LaidPiece) -> float:
    """Return how far a piece reaches past the rectangle of its plank."""
    length, width = piece.piece.size
    left, low, right, high = piece.bounds
    return max(
        piece.x0 - left,
        piece.y0 - low,
        right - piece.x0 - length,
        high - piece.y0 - width,
    )


def _only_areas(shape: BaseGeometry) -> Region:
    """Return the polygons of a difference without stray lines and points."""
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    return shapely.MultiPolygon([part for part in parts if not part.is_empty])


def _fault(rule: str, piece: LaidPiece, value: float, limit: float, text: str) -> Fault:
    """Return a fault of one piece."""
    return Fault(
        rule=rule, where=piece.name, value=value, limit=limit, text=text, rows=(piece.row,)
    )
