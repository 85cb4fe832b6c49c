"""Notched planks read from their pages: the thick outline, its corners by the figures printed.

A figure stands before the end or edge that it is measured from, ``22⅞" from left``; the drawing is
to scale, and the scale is that by which all figures land on corners.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from layout.values.units import MM_PER_INCH
from tests.packet_pdf.grammar import NAME
from tests.packet_pdf.pages import PageLine, PageWord, ReadPage
from tests.sweeps.lengths import FIGURE, figure

_THICK, _FINE = 0.6, 0.18
_MM = 72 / float(MM_PER_INCH)
_SIDES = ("left", "right", "near", "far")


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchedReading:
    """A notched plank: what stays, its near left corner at 0, 0; the sides that are cut off.

    ``known``: whether a figure tells how long it is, and how wide.
    """

    name: str
    shape: Polygon
    cut: frozenset[str]
    known: tuple[bool, bool] = (False, False)


def notched_of(pages: Sequence[ReadPage]) -> dict[str, NotchedReading]:
    """Return the notched planks of some pages that figures tell, by name."""
    readings: dict[str, NotchedReading] = {}
    for page in pages:
        heads = [w for w in page.words if w.size > 13 and re.fullmatch(NAME, w.text)]
        outlines = [o for o in page.lines if abs(o.weight / _MM - _THICK) < 0.02 and o.closed]
        if not outlines:
            continue
        heads.sort(key=lambda word: -word.y)
        for head, after in zip(heads, [*heads[1:], None], strict=True):
            low = after.y if after else 0.0
            mine = [o for o in outlines if low < o.bounds[1] and o.bounds[3] < head.y]
            reading = _reading(page, head, mine, low) if mine else None
            if reading is not None:
                readings[head.text] = reading
    return readings


def _reading(
    page: ReadPage, head: PageWord, outlines: Sequence[PageLine], low: float
) -> NotchedReading | None:
    """Return one plank, None where its figures place no scale."""
    outer = max(outlines, key=lambda one: _area(one.bounds))
    figures = _figures([w for w in page.words if low < w.y < head.y])
    scale = _scale(outer, outlines, figures)
    if scale is None:
        return None
    rings = [_placed(one, outer, figures, scale) for one in outlines]
    holes = [ring for one, ring in zip(outlines, rings, strict=True) if one is not outer]
    return NotchedReading(
        name=head.text,
        shape=Polygon(rings[outlines.index(outer)], holes),
        cut=frozenset(_cut_sides(page, outer)),
        known=(_known(figures, rings, ("left", "right")), _known(figures, rings, ("near", "far"))),
    )


def _known(
    figures: Sequence[tuple[float, str]],
    rings: Sequence[Sequence[tuple[float, float]]],
    sides: tuple[str, str],
) -> bool:
    """Whether a figure reaches from one end or edge to the other."""
    axis = 0 if sides[0] == "left" else 1
    most = max(point[axis] for ring in rings for point in ring)
    return any(base in sides and abs(value - most) < 0.01 for value, base in figures)


def _area(bounds: tuple[float, float, float, float]) -> float:
    return (bounds[2] - bounds[0]) * (bounds[3] - bounds[1])


def _figures(words: Sequence[PageWord]) -> list[tuple[float, str]]:
    """Return figures with the end or edge that each is measured from."""
    figures = []
    for word in words:
        if word.size < 13 or not re.fullmatch(FIGURE, word.text):
            continue
        beside = sorted(
            (w for w in words if abs(w.y - word.y) < 3 and -3 < w.x0 - word.x1 < 40),
            key=lambda one: one.x0,
        )
        base = [w.text for w in beside if w.text in ("from", *_SIDES)]
        if base[:1] == ["from"] and len(base) > 1:
            figures.append((figure(word.text), base[1]))
    return figures


def _distances(
    corners: Sequence[tuple[float, float]], bounds: tuple[float, float, float, float], base: str
) -> list[float]:
    """Return how far corners lie from an end or edge of the outline, in points."""
    x0, y0, x1, y1 = bounds
    return [
        {"left": x - x0, "right": x1 - x, "near": y - y0, "far": y1 - y}[base] for x, y in corners
    ]


def _scale(
    outer: PageLine, outlines: Sequence[PageLine], figures: Sequence[tuple[float, str]]
) -> float | None:
    """Return the points of an inch or millimeter by which all figures land on corners."""
    corners = [point for one in outlines for point in one.points]
    ranked = sorted(figures, reverse=True)
    for value, base in ranked[:1]:
        fits = []
        for away in _distances(corners, outer.bounds, base):
            if away > 1:
                scale = away / value
                off = max(
                    min(abs(d - f * scale) for d in _distances(corners, outer.bounds, b))
                    for f, b in figures
                )
                fits.append((off, scale))
        best = min(fits, default=(9.0, 0.0))
        return _refined(best[1], corners, outer, figures) if best[0] < 1.2 else None
    return None


def _refined(
    scale: float,
    corners: Sequence[tuple[float, float]],
    outer: PageLine,
    figures: Sequence[tuple[float, str]],
) -> float:
    """Return a scale by all figures and the corners that they land on: least squares."""
    pairs = []
    for value, base in figures:
        off = [(abs(d - value * scale), d) for d in _distances(corners, outer.bounds, base)]
        pairs.append((value, min(off)[1]))
    return sum(f * d for f, d in pairs) / sum(f * f for f, _ in pairs)


def _placed(
    ring: PageLine, outer: PageLine, figures: Sequence[tuple[float, str]], scale: float
) -> list[tuple[float, float]]:
    """Return the corners of a ring by the figures that they stand at."""
    x0, y0, x1, y1 = outer.bounds
    long, wide = (x1 - x0) / scale, (y1 - y0) / scale
    long = next((f for f, b in figures if b in ("left", "right") and _near(f, long)), long)
    wide = next((f for f, b in figures if b in ("near", "far") and _near(f, wide)), wide)
    along = [f if b == "left" else long - f for f, b in figures if b in ("left", "right")]
    across = [f if b == "near" else wide - f for f, b in figures if b in ("near", "far")]

    def snapped(value: float, places: Sequence[float], most: float) -> float:
        best = min((0.0, most, *places), key=lambda place: abs(place - value))
        return best if _near(best, value) else value

    return [
        (snapped((x - x0) / scale, along, long), snapped((y - y0) / scale, across, wide))
        for x, y in ring.points
    ]


def _near(one: float, other: float) -> bool:
    return abs(one - other) < max(0.05, 0.004 * abs(other))


def _cut_sides(page: ReadPage, outer: PageLine) -> list[str]:
    """Return the sides past which something is hatched, and so cut off."""
    x0, y0, x1, y1 = outer.bounds
    sides = set()
    for line in page.lines:
        if abs(line.weight / _MM - _FINE) > 0.03 or len(line.points) != 2:
            continue
        (ax, ay), (bx, by) = line.points
        if abs(abs(bx - ax) - abs(by - ay)) > 0.05 or abs(bx - ax) < 0.3:
            continue
        x, y = (ax + bx) / 2, (ay + by) / 2
        if x0 - 90 < x < x1 + 90 and y0 - 40 < y < y1 + 40:
            sides |= {"left"} if x < x0 and y0 < y < y1 else set()
            sides |= {"right"} if x > x1 and y0 < y < y1 else set()
            sides |= {"near"} if y < y0 and x0 < x < x1 else set()
            sides |= {"far"} if y > y1 and x0 < x < x1 else set()
    return sorted(sides)
