"""The grounds of a request along one direction: what is laid at the gaps, and at wider ones."""

from __future__ import annotations

from dataclasses import replace

from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.rows.strips import stopping_lines
from layout.values.outline import Edge, Region, edges_of
from layout.values.regions import laying_region, widest_region
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE


def grounds_of(request: PlanRequest, frame: Frame) -> list[Ground]:
    """Return the grounds to plan on: at the gaps first, then as wide gaps save boards.

    Where edges have a ``max_gap``: every such edge at its widest, and those along the last row
    moved in just so far that the rows come out in whole boards. Empty ones are left out, but for
    the first of a request without a ``max_gap``.
    """
    at_gaps = Ground.at_gaps(request, frame)
    if all(edge.max_gap is None for edge in request.zone.edges.values()):
        return [at_gaps]
    widest = frame.region(widest_region(request.zone, request.rules.expansion_gap))
    regions = [at_gaps.region, widest]
    if (even := _evened(at_gaps)) is not None:
        regions.append(even)
    return [replace(at_gaps, region=region) for region in regions if not region.is_empty]


def _evened(ground: Ground) -> Region | None:
    """Return the region with wider gaps at the last row, so that whole boards fill it across."""
    request, frame, width = ground.request, ground.frame, ground.request.product.board.width
    lines = stopping_lines(ground.region, width, ground.least_run)
    if len(lines) != 2 or any(line.high - line.low > TOUCHING_TOLERANCE for line in lines):
        return None
    over = (lines[1].low - lines[0].low) % width
    edges = dict(request.zone.edges)
    points = frame.inward(request.zone.outline)
    for index, ((_, ay), (_, by)) in enumerate(edges_of(points)):
        edge = edges.get(index, Edge())
        gap = request.rules.expansion_gap if edge.gap is None else edge.gap
        level = abs(ay - by) < TOUCHING_TOLERANCE
        if level and abs(ay - gap - lines[1].low) < TOUCHING_TOLERANCE:
            if edge.max_gap is None or gap + over > edge.max_gap + TOUCHING_TOLERANCE:
                return None
            edges[index] = replace(edge, gap=gap + over)
    zone = replace(request.zone, edges=edges)
    return frame.region(laying_region(zone, request.rules.expansion_gap))
