"""Sharing a plank: whether an order of cuts makes all of its parts, wherever the walls stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from layout.planks.parts import Part, Plank, Stock
from layout.saw.bench import SawBench, Want
from layout.saw.jigsaw import corners_of
from layout.saw.order import order_of
from layout.saw.parting import parted
from layout.values.outline import polygons_of
from layout.values.tolerances import JOINT_TOLERANCE, OVERLAP_TOLERANCE, TOUCHING_TOLERANCE


def clear(one: Part, two: Part, stock: Stock) -> bool:
    """Whether two parts of one plank can both be sawn, wherever the walls stand.

    Two boxes can where a cut and its kerf lie between them: each keeps an end and a side to measure
    from. Of others all cuts are looked at.
    """
    if not _apart(one, two, stock):
        if _plain(one) and _plain(two):
            return False
        if _too_near(_shape(one), _shape(two), min(stock.kerf, stock.kerf_across)):
            return False
    elif _plain(one) and _plain(two):
        return True
    return sawable((one, two), stock)


def sawable(parts: Sequence[Part], stock: Stock) -> bool:
    """Whether an order of cuts makes all parts of one plank, or of its leftover at hand."""
    gone = [part for part in parts if part.order < 0]
    if len(gone) > 1:
        return False
    fresh = [part for part in parts if part.order >= 0]
    bench = bench_of(stock)
    wants = [want for part in fresh for want in _wants(part, stock)]
    if not gone:
        return parted(bench, wants, thorough=False) is not None
    left = gone[0].left_over or _rest(gone[0], stock)
    within = left.buffer(2 * JOINT_TOLERANCE)
    plank = box(0.0, 0.0, stock.length, stock.width)
    if not all(within.covers(_grown(want).intersection(plank)) for want in wants):
        return False
    return parted(bench, wants, corners_of(left), thorough=False) is not None


def sawn_apart(plank: Plank) -> list[Plank]:
    """Return a plank, or where no order of cuts makes all of its parts, the planks it takes."""
    parts, stock = plank.parts, plank.stock
    shared = len(parts) == 2 and clear(*parts, stock)
    if len(parts) < 2 or ((shared or sawable(parts, stock)) and comes_out(parts, stock)):
        return [plank]
    rest = replace(plank, parts=parts[:-1])
    return [*sawn_apart(rest), Plank(stock=stock, parts=parts[-1:])]


def comes_out(parts: Sequence[Part], stock: Stock) -> bool:
    """Whether the cuts of a plank, once made, leave its parts as wanted; told of notches alone.

    An order of straight cuts leaves what it was looked for by.
    """
    wants = [want for part in parts if part.order >= 0 for want in _wants(part, stock)]
    if not any(want.fine for want in wants):
        return True
    gone = next((part for part in parts if part.order < 0), None)
    left = (gone.left_over or _rest(gone, stock)) if gone else None
    alike = [replace(want, near=stock.near) for want in wants]
    return order_of(replace(bench_of(stock), near=stock.near), alike, left) is not None


def is_sound(part: Part, stock: Stock) -> bool:
    """Whether a part has an end of its plank: enough of it to measure all cuts across from."""
    if part.left_over is not None:
        return False
    if part.shape is None:
        return True
    pieces = polygons_of(part.shape)
    kept = bench_of(stock).keeps(corners_of(pieces[0])) if len(pieces) == 1 else ()
    return "left end" in kept or "right end" in kept


def bench_of(stock: Stock) -> SawBench:
    """Return the bench of planks of a stock, where lengths are told apart as finely as can be."""
    return SawBench(
        length=stock.length,
        width=stock.width,
        kerf=stock.kerf,
        rip=stock.kerf_across,
        near=JOINT_TOLERANCE,
        least_edge=stock.least_edge,
        thin=stock.thin,
    )


def _apart(one: Part, two: Part, stock: Stock) -> bool:
    """Whether the boxes of two parts lie a kerf apart."""
    along, across = stock.kerf - TOUCHING_TOLERANCE, stock.kerf_across - TOUCHING_TOLERANCE
    return (
        two.left - one.right >= along + one.slack
        or one.left - two.right >= along + two.slack
        or two.low - one.high >= across + one.rise
        or one.low - two.high >= across + two.rise
    )


def _too_near(one: Polygon, two: Polygon, kerf: float) -> bool:
    """Whether no cut can run between two shapes, since they overlap or lie nearer than a kerf."""
    apart = float(one.distance(two))
    if apart > 0:
        return apart < kerf - JOINT_TOLERANCE
    return kerf > JOINT_TOLERANCE or one.intersection(two).area > OVERLAP_TOLERANCE


def _plain(part: Part) -> bool:
    """Whether a part is a box of a whole plank."""
    return part.shape is None and part.left_over is None


def _wants(part: Part, stock: Stock) -> Iterator[Want]:
    """Yield the pieces that a part becomes, with what walls may add."""
    for i, piece in enumerate(polygons_of(_shape(part))):
        yield Want(
            name=f"{part.order}.{i}",
            turn=part.order,
            shape=piece,
            near=JOINT_TOLERANCE,
            grows=(part.slack, 0.0, part.rise, 0.0),
            thin=stock.thin,
        )


def _shape(part: Part) -> Polygon:
    """Return the shape of a part."""
    return part.shape or box(part.left, part.low, part.right, part.high)


def _grown(want: Want) -> Polygon:
    """Return all that a piece may take where its walls are measured on site."""
    right, _, high, _ = want.grows
    if not (right or high):
        return want.shape
    moved = [translate(want.shape, right), translate(want.shape, 0.0, high)]
    return polygons_of(shapely.union_all([want.shape, *moved]).convex_hull)[0]


def _rest(gone: Part, stock: Stock) -> Polygon:
    """Return the largest part of a plank that lies a kerf off what is gone of it."""
    plank = box(0.0, 0.0, stock.length, stock.width)
    rest = plank.difference(_shape(gone).buffer(stock.kerf, join_style="mitre"))
    return max(polygons_of(rest), key=lambda part: part.area, default=Polygon())
