"""Judging the cuts that a piece is told: each is what its outline shows, and each is told once.

    left end                    right end
    +--------------+ - - - - - -+      the outline shows a crosscut (its right end is short of the
    |            __|            |      plank's), a rip where a side is, and what its bounds have
    +-----------+  |  notch     |      too much: a notch where that is a box, else an angle
    :           +--+ - - - - - -+

A figure is measured from the end or side across, which stays; where that was cut off as well,
from the other one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon, box

from layout.judge.view import Fault, View
from layout.values.errors import InputError
from layout.values.fields import as_ring
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import polygons_of
from layout.values.plan import SIDES, Cut
from layout.values.tolerances import NOTCH_TOLERANCE, THIN_NOTCH_TOLERANCE

Places = NDArray[np.float64]

_ACROSS = dict(zip(SIDES, ("right end", "left end", "high side", "low side"), strict=True))
_FINER = 100  # rounding moves a corner by less than this part of what lengths are told apart by
_KINDS = {"crosscut", "rip", "notch", "angle", "hole"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A cut that an outline shows: its kinds, and the figure from every end or side allowed.

    ``deep``: whether it is plain to see; one hardly thicker than lengths are told apart may be
    told or not. ``straight``: whether a straight cut along it makes it.
    """

    kinds: frozenset[str]
    figures: dict[str, float]
    deep: bool
    waste: Polygon | None = None
    straight: bool = True

    def fits(self, cut: Cut, near: float) -> bool:
        """Whether a told cut is this one, its figure within what lengths are told apart by."""
        at = self.figures.get(cut.measure_from)
        return cut.kind in self.kinds and at is not None and abs(at - cut.at) <= 2 * near


def wrong_figures(view: View) -> Iterator[Fault]:
    """Yield cuts that an outline does not show, figures that are off, cuts that are not told."""
    for piece in view.new:
        cuts = piece.piece.cuts
        if not cuts and piece.whole(view.near / 2):
            continue
        thin = THIN_NOTCH_TOLERANCE[view.request.unit]
        left = list(shown_by(piece, view.near, thin))
        for cut in cuts:
            fitting = [each for each in left if each.fits(cut, view.near)]
            if not fitting:
                yield _fault("cuts", piece, cut.at, 0, _no_match(cut, left))
                continue
            # The two corners of a pointed end have the same figure: the waste tells them apart.
            wrong = [list(_wrong_waste(view, piece, cut, each)) for each in fitting]
            match, faults = min(zip(fitting, wrong, strict=True), key=lambda pair: len(pair[1]))
            left.remove(match)
            yield from faults
            yield from _wrong_tool(view, piece, cut, match)
        for each in left:
            if each.deep:
                kinds = " or ".join(sorted(each.kinds))
                yield _fault("cuts", piece, 0, 0, f"{_figures(each)}: no {kinds} is told there")


def shown_by(piece: LaidPiece, near: float, thin: float) -> Iterator[Shown]:
    """Yield the cuts that the outline of a piece shows in its plank.

    A notch no thicker than ``thin`` may be told or not.
    """
    shape = _on_its_bounds(piece.in_plank, near / _FINER)
    size = piece.piece.size
    yield from _straight(shape, size, near)
    waste = shape.envelope.difference(Polygon(shape.exterior))
    parts = [p for p in getattr(waste, "geoms", [waste]) if isinstance(p, Polygon)]
    for part in parts:
        if not part.buffer(-near / 4).is_empty:
            corner = _corner(part, shape, size, near)
            slight = "notch" in corner.kinds and part.buffer(-near - thin / 2).is_empty
            yield replace(corner, deep=False) if slight else corner
    for ring in shape.interiors:
        hole = Polygon(ring)
        yield Shown(kinds=frozenset({"hole"}), figures=_edges(hole, size), deep=True, waste=hole)


def _on_its_bounds(shape: Polygon, off: float) -> Polygon:
    """Return a shape with the corners that lie along its bounds, but for rounding, right on them.

    Turned floors are stored in the room's own coordinates: rounding alone may join two corners
    along a side.
    """
    left, low, right, high = shape.bounds
    moved: Polygon = shapely.transform(
        shape,
        lambda points: np.stack(
            (
                _drawn_to(points[:, 0], (left, right), off),
                _drawn_to(points[:, 1], (low, high), off),
            ),
            axis=1,
        ),
    )
    return moved


def _drawn_to(values: Places, lines: tuple[float, float], off: float) -> Places:
    """Return values, those within ``off`` of a line moved onto it."""
    for line in lines:
        values = np.where(np.abs(values - line) <= off, line, values)
    return values


def _straight(shape: Polygon, size: tuple[float, float], near: float) -> Iterator[Shown]:
    """Yield crosscuts and rips: bounds short of the plank's own, with an edge along them."""
    left, low, right, high = shape.bounds
    length, width = size
    short = dict(zip(SIDES, (left, length - right, low, width - high), strict=True))
    for i, (side, depth) in enumerate(short.items()):
        most = _edge_along(shape, i, 2 * near)
        if depth <= near / 2 or most <= near / 2:
            continue
        across = _ACROSS[side]
        whole = length if i < 2 else width
        figures = {across: whole - depth}
        if short[across] > near:
            figures[side] = depth
        yield Shown(
            kinds=frozenset({"crosscut" if i < 2 else "rip"}),
            figures=figures,
            deep=depth > 2 * near and _edge_along(shape, i, near / 2) > 2 * near,
        )


def _edge_along(shape: Polygon, side: int, off: float) -> float:
    """Return the longest edge of a shape that lies within ``off`` of one of its bounds."""
    left, low, right, high = shape.bounds
    axis, line = (0 if side < 2 else 1), (left, right, low, high)[side]
    return max(
        (
            abs(a[1 - axis] - b[1 - axis])
            for a, b in pairwise(shape.exterior.coords)
            if abs(a[axis] - line) < off and abs(b[axis] - line) < off
        ),
        default=0.0,
    )


def _corner(waste: Polygon, shape: Polygon, size: tuple[float, float], near: float) -> Shown:
    """Return the notch or angle that takes ``waste`` from a piece."""
    x0, y0, x1, y1 = waste.bounds
    lack = (x1 - x0) * (y1 - y0) - waste.area
    square = lack <= NOTCH_TOLERANCE
    leans = lack > 2 * near * max(x1 - x0, y1 - y0)
    level = all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(waste.exterior.coords))
    kinds = {"notch"} if square else {"angle"} if leans and not level else {"notch", "angle"}
    return Shown(
        kinds=frozenset(kinds),
        figures=_edges(waste, size),
        deep=not waste.buffer(-near).is_empty,
        waste=waste,
        straight=len(_inner(waste, shape, near)) == 1,
    )


def _inner(waste: Polygon, shape: Polygon, near: float) -> list[object]:
    """Return the edges that waste has in common with its piece."""
    edge = shape.exterior.buffer(near / 10)
    lines = [shapely.LineString(pair) for pair in pairwise(waste.exterior.coords)]
    bounds = shape.envelope.exterior.buffer(near / 10)
    return [line for line in lines if edge.contains(line) and not bounds.contains(line)]


def _edges(waste: Polygon, size: tuple[float, float]) -> dict[str, float]:
    """Return how far from every end and side of the plank waste begins, toward the piece."""
    x0, y0, x1, y1 = waste.bounds
    return dict(zip(SIDES, (x0, size[0] - x1, y0, size[1] - y1), strict=True))


def _wrong_waste(view: View, piece: LaidPiece, cut: Cut, shown: Shown) -> Iterator[Fault]:
    """Yield the waste of a notch, an angle or a hole that is not where the outline shows it."""
    if shown.waste is None:
        return
    try:
        waste = Polygon(as_ring(cut.detail.get("waste", ()), "waste"))
    except InputError:
        yield _fault("cuts", piece, cut.at, 0, f"its {cut.kind} tells no waste")
        return
    off = 2 * view.near
    apart = [abs(a - b) for a, b in zip(waste.bounds, shown.waste.bounds, strict=True)]
    if (
        not waste.is_valid
        or max(apart) > off
        or not waste.symmetric_difference(shown.waste).buffer(-off / 2).is_empty
    ):
        text = f"the waste of its {cut.kind} is told {max(apart):.3g} off what the outline shows"
        yield _fault("cuts", piece, cut.at, 0, text)


def _wrong_tool(view: View, piece: LaidPiece, cut: Cut, shown: Shown) -> Iterator[Fault]:
    """Yield a tool that does not make a cut of its kind in this material."""
    rules = view.request.rules
    kerf = rules.kerf_across if cut.kind == "rip" else rules.saw_kerf
    straight = "saw" if kerf > 0 else "score"
    right = {"jigsaw"}
    if cut.kind not in {"notch", "hole"}:
        right = {straight} if shown.straight else {straight, "jigsaw"}
    if cut.tool not in right:
        accepted = " or the ".join(sorted(right))
        text = f"its {cut.kind} is told for the {cut.tool}; it is one for the {accepted}"
        yield _fault("tool", piece, cut.at, 0, text)


def _no_match(cut: Cut, shown: Sequence[Shown]) -> str:
    """Return what is wrong with a cut that is none of those that the outline still shows."""
    figure = cut.at
    said = f"its {cut.kind} {figure:g} from the {cut.measure_from}"
    if cut.kind not in _KINDS:
        return f'"{cut.kind}" is no kind of cut'
    near = [_figures(each) for each in shown if cut.kind in each.kinds]
    if not near:
        return f"{said} is more than the outline shows"
    return f"{said} is not where the outline shows it: {'; '.join(near)}"


def _figures(shown: Shown) -> str:
    """Return the figures of a cut in words."""
    return " or ".join(f"{figure:.4g} from the {name}" for name, figure in shown.figures.items())


def wrong_limits(view: View) -> Iterator[Fault]:
    """Yield figures measured on site that are exact, and the reverse, and limits that don't hold.

    Limits hold the figure, lie on the plank and leave what its other pieces need.
    """
    ends = _measured(view)
    for piece in view.new:
        for cut in piece.piece.cuts:
            yield from _site_faults(view, piece, cut, ends)
            if cut.limits is not None:
                yield from _limit_faults(view, piece, cut, cut.limits)


def _measured(view: View) -> dict[LaidPiece, bool]:
    """Return the pieces that a wall ends where their run ends; whether they are the run's last."""
    far = 2 if view.from_left else 0
    joined = {joint.left if view.from_left else joint.right for joint in view.seams}
    ends: dict[LaidPiece, bool] = {}
    for run in view.runs:
        last = run[-1].bounds[far] if view.from_left else run[0].bounds[far]
        for piece in run:
            if piece not in joined and not piece.piece.split:
                ends[piece] = abs(piece.bounds[far] - last) <= view.near
    return ends


def _site_faults(
    view: View, piece: LaidPiece, cut: Cut, ends: dict[LaidPiece, bool]
) -> Iterator[Fault]:
    """Yield a cut that is told exact where it is measured on site, or the reverse."""
    far = "right end" if view.from_left else "left end"
    at_far = cut.kind == "crosscut" and _end_of(piece, cut) == far
    may = at_far and piece in ends
    on_site = cut.final == "measure on site"
    if cut.final not in {"exact", "measure on site"}:
        yield _fault("limits", piece, cut.at, 0, f'"{cut.final}" is no way to measure')
    elif on_site and not may:
        yield _fault("limits", piece, cut.at, 0, f"its {cut.kind} is exact, not measured on site")
    elif not on_site and may and ends[piece]:
        yield _fault("limits", piece, cut.at, 0, "its last cut is measured on site, not exact")
    if on_site != (cut.limits is not None):
        text = "it is measured on site and has no limits" if on_site else "it is exact; no limits"
        yield _fault("limits", piece, cut.at, 0, text)


def _end_of(piece: LaidPiece, cut: Cut) -> str:
    """Return the end of a piece that a crosscut makes."""
    left, _, right, _ = piece.in_plank.bounds
    x = cut.at if cut.measure_from == "left end" else piece.piece.size[0] - cut.at
    return "left end" if abs(x - left) < abs(x - right) else "right end"


def _limit_faults(
    view: View, piece: LaidPiece, cut: Cut, limits: tuple[float, float]
) -> Iterator[Fault]:
    """Yield limits that exclude the figure, leave the plank or reach into another piece."""
    least, most = limits
    length = piece.piece.size[0]
    if not least - view.near <= cut.at <= most + view.near:
        figure = cut.at
        text = f"limits {least:g} to {most:g} do not hold {figure:g}"
        yield _fault("limits", piece, cut.at, most, text)
    if least < -view.near or most > length + view.near:
        text = f"limits {least:g} to {most:g} leave the plank of {length:g}"
        yield _fault("limits", piece, most, length, text)
    left, low, right, high = piece.in_plank.bounds
    xs = limits if cut.measure_from == "left end" else (length - most, length - least)
    reached = (
        box(min(left, *xs), low, right, high)
        if _end_of(piece, cut) == "left end"
        else (box(left, low, max(right, *xs), high))
    )
    grown = polygons_of(reached.difference(piece.in_plank.envelope))
    for other in view.pieces:
        if other is piece or other.piece.plank != piece.piece.plank:
            continue
        for part in grown:
            apart = part.distance(other.in_plank)
            if apart < view.request.rules.saw_kerf - view.near or (
                part.intersection(other.in_plank).area > view.scrap
            ):
                text = f"limits {least:g} to {most:g} reach into piece {other.piece.id}"
                yield _fault("limits", piece, most, length, text)


def _fault(rule: str, piece: LaidPiece, value: float, limit: float, text: str) -> Fault:
    """Return a fault of one piece."""
    return Fault(
        rule=rule, where=piece.name, value=value, limit=limit, text=text, rows=(piece.row,)
    )
