"""From joints to a plan: slots, parts, planks, pieces, offcuts, totals.

A *slot* is one board's place in a run, between two joints or a joint and a wall. What a slot holds
of the floor is cut from one plank: one piece, or several where the floor in it falls apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count

import shapely
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from layout.joints.choices import Site
from layout.planks.assign import assign
from layout.planks.cuts import cuts_of
from layout.planks.parts import Part, Plank, Stock
from layout.planks.rack import within_rack
from layout.planks.sharing import sawn_apart
from layout.rows.ground import Ground
from layout.values.plan import Cut, Piece
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    BOX_TOLERANCE,
    OVERLAP_TOLERANCE,
    THIN_NOTCH_TOLERANCE,
    TOUCHING_TOLERANCE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seams:
    """Where the end joints of a run fall, left to right.

    A run in one piece has none; it lies at the right end of its plank where ``right_end``.
    """

    joints: tuple[float, ...]
    right_end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One board's place in a run, in the working frame.

    ``size`` is its board, ``origin`` the board's lower-left corner, ``shapes`` what the floor
    holds of it. ``first`` and ``last`` tell whether a wall ends it on the left and right; one that
    is both ``floats`` along its plank. ``split`` marks the two halves of a board sawn through at a
    post.
    """

    site: int
    row: int
    size: tuple[float, float]
    origin: tuple[float, float]
    shapes: tuple[Polygon, ...]
    first: bool
    last: bool
    split: bool = False

    @property
    def floats(self) -> bool:
        """Whether no end of the slot meets another board."""
        return self.first and self.last and not self.split


def slots_of(
    site: Site, index: int, seams: Seams, length: float, wall_error: float
) -> Iterator[Slot]:
    """Yield the slots of a run cut at its seams, left to right."""
    run, joints = site.run, seams.joints
    stops = [run.x0, *joints, run.x1]
    for i in range(len(stops) - 1):
        left, right = stops[i], stops[i + 1]
        first = i == 0 and not site.begun
        last = i == len(joints) and not site.ended
        at = right - length if i == 0 and (joints or seams.right_end) else left
        at += wall_error if seams.right_end and last else 0.0
        shapes = _within(run.shape, left, right, whole=not joints, boxed=run.rectangular)
        slot = Slot(
            site=index,
            row=run.row,
            size=(length, run.width),
            origin=(at, run.y0),
            shapes=shapes,
            first=first,
            last=last,
        )
        yield from _split(slot, site, left, right)


def _within(
    shape: Polygon, left: float, right: float, *, whole: bool, boxed: bool = False
) -> tuple[Polygon, ...]:
    """Return the parts of a run, ``boxed`` or not, between two joints, left to right."""
    if whole:
        return (shape,)
    _, low, _, high = shape.bounds
    if boxed:
        return (box(left, low, right, high),)
    part = shapely.intersection(shape, box(left, low - 1, right, high + 1))
    polygons = [p for p in getattr(part, "geoms", [part]) if isinstance(p, Polygon)]
    return tuple(
        sorted((p for p in polygons if p.area > OVERLAP_TOLERANCE), key=lambda p: p.bounds)
    )


def _split(slot: Slot, site: Site, left: float, right: float) -> Iterator[Slot]:
    """Yield a slot, sawn through at the posts that its shapes enclose."""
    cuts = [
        (u + v) / 2
        for u, v in site.posts
        if left < u
        and v < right
        and any(
            abs(ring.bounds[0] - u) < TOUCHING_TOLERANCE
            for shape in slot.shapes
            for ring in shape.interiors
        )
    ]
    stops = [left, *sorted(cuts), right]
    for i in range(len(stops) - 1):
        shapes = [
            part
            for shape in slot.shapes
            for part in _within(shape, stops[i], stops[i + 1], whole=not cuts)
        ]
        yield replace(slot, shapes=tuple(shapes), split=bool(cuts))


def parts_of(slots: Sequence[Slot], wall_error: float) -> list[Part]:
    """Return the part that every slot takes of a plank."""
    parts = []
    final = max(slot.row for slot in slots)
    for order, slot in enumerate(slots):
        x, y = slot.origin
        bounds = [shape.bounds for shape in slot.shapes]
        left, low = min(b[0] for b in bounds) - x, min(b[1] for b in bounds) - y
        right, high = max(b[2] for b in bounds) - x, max(b[3] for b in bounds) - y
        area = sum(shape.area for shape in slot.shapes)
        boxed = area > (right - left) * (high - low) - BOX_TOLERANCE
        whole = slot.shapes[0] if len(slot.shapes) == 1 else shapely.union_all(slot.shapes)
        parts.append(
            Part(
                order=order,
                left=left,
                right=right,
                low=low,
                high=high,
                shape=None if boxed else translate(whole, -x, -y),
                floats=slot.floats,
                slack=wall_error if slot.last else 0.0,
                rise=wall_error if slot.row == final else 0.0,
            )
        )
    return parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """Slots in the order of laying with the index of the plank that each is cut from.

    ``origins`` are the slots' origins after floating parts were shifted along their planks.
    """

    slots: tuple[Slot, ...]
    planks: tuple[Plank, ...]
    plank_of: tuple[int, ...]
    origins: tuple[tuple[float, float], ...]


def cut_planks(
    slots: Sequence[Slot], request: PlanRequest, at_hand: Sequence[Plank] = (), begun: int = 0
) -> Cutting:
    """Return which slot is cut from which plank; all that share one can be sawn from it.

    Planks at hand are used where that saves a plank; new ones are numbered on from ``begun``.
    """
    rules = request.rules
    parts = parts_of(slots, rules.wall_error)
    planks: list[Plank] = []
    for length, width in sorted({slot.size for slot in slots}):
        stock = Stock.of((length, width), rules, request.unit)
        held = {
            p.parts[0].order: p for p in at_hand if abs(p.stock.width - width) < TOUCHING_TOLERANCE
        }
        of_size = [part for part in parts if slots[part.order].size == (length, width)]
        gone = [plank.parts[0] for plank in held.values()]
        for together in assign([*gone, *of_size], stock):
            plank = held.get(together[0].order, Plank(stock=stock, parts=()))
            planks += sawn_apart(replace(plank, parts=tuple(together)))
    planks = [plank for plank in planks if plank.parts[-1].order >= 0]
    planks.sort(key=lambda plank: next(p.order for p in plank.parts if p.order >= 0))
    if rules.max_rack is not None:
        planks = within_rack(planks, rules.max_rack)
    return _numbered(slots, parts, planks, begun)


def _numbered(
    slots: Sequence[Slot], parts: Sequence[Part], planks: Sequence[Plank], begun: int
) -> Cutting:
    """Return the cutting with new planks numbered in the order of first use."""
    plank_of = [0] * len(slots)
    origins = [slot.origin for slot in slots]
    fresh = count(begun + 1)
    numbered = [
        plank if plank.number is not None else replace(plank, number=next(fresh))
        for plank in planks
    ]
    for index, plank in enumerate(numbered):
        for part in plank.parts:
            if part.order >= 0:
                plank_of[part.order] = index
                x, y = origins[part.order]
                origins[part.order] = (x + parts[part.order].left - part.left, y)
    return Cutting(
        slots=tuple(slots),
        planks=tuple(numbered),
        plank_of=tuple(plank_of),
        origins=tuple(origins),
    )


def pieces_of(ground: Ground, cutting: Cutting) -> tuple[Piece, ...]:
    """Return the pieces in the order of laying.

    What is thinner than lengths are told apart is not cut. Places are counted on from those of
    pieces that were down before.
    """
    frame, least_end = ground.frame, ground.request.rules.min_end_piece
    pieces: list[Piece] = []
    places: dict[int, int] = {}
    for piece in ground.request.laid:
        places[piece.row] = max(places.get(piece.row, 0), piece.place)
    for slot, index, origin in zip(cutting.slots, cutting.plank_of, cutting.origins, strict=True):
        plank = cutting.planks[index]
        limits = _site_limits(slot, plank, origin, least_end)
        for shape in slot.shapes:
            places[slot.row] = place = places.get(slot.row, 0) + 1
            pieces.append(
                Piece(
                    id=f"{slot.row}-{place}",
                    row=slot.row,
                    place=place,
                    plank=plank.number or 0,
                    size=slot.size,
                    outline=frame.outward(shape.exterior.coords[:-1]),
                    holes=tuple(frame.outward(r.coords[:-1]) for r in shape.interiors),
                    origin=frame.corner(origin, slot.size),
                    split=slot.split,
                    cuts=_cuts(ground, shape, origin, slot.size, limits),
                )
            )
    return tuple(pieces)


def _cuts(
    ground: Ground,
    shape: Polygon,
    origin: tuple[float, float],
    size: tuple[float, float],
    limits: tuple[float, float] | None,
) -> tuple[Cut, ...]:
    """Return the cuts of a piece, turned to the direction frame; none of a whole plank."""
    if shape.area > size[0] * size[1] - OVERLAP_TOLERANCE:
        return ()
    frame, rules = ground.frame, ground.request.rules
    in_plank = frame.plank_shape(translate(shape, -origin[0], -origin[1]), size)
    end = "left end" if frame.mirrored_x else "right end"
    kerfs = (rules.saw_kerf, rules.kerf_across)
    same = (ground.near, THIN_NOTCH_TOLERANCE[ground.request.unit])
    return cuts_of(in_plank, size, {} if limits is None else {end: limits}, same, kerfs)


def _site_limits(
    slot: Slot, plank: Plank, origin: tuple[float, float], least_end: float
) -> tuple[float, float] | None:
    """Return the least and most that a last piece may keep while the plan stands; None if exact."""
    if not slot.last or slot.split:
        return None
    left = min(shape.bounds[0] for shape in slot.shapes) - origin[0]
    right = max(shape.bounds[2] for shape in slot.shapes) - origin[0]
    beyond = [p.left - plank.stock.kerf for p in _behind(slot, plank, origin, right)]
    beyond += _beside(slot, plank, origin, right)
    least = max(left, 0.0) if slot.first else min(least_end, right)
    at_hand = [p.left_over.bounds[2] for p in plank.parts if p.left_over is not None]
    return least, min([plank.stock.length, *beyond, *at_hand])


def _behind(slot: Slot, plank: Plank, origin: tuple[float, float], right: float) -> Iterator[Part]:
    """Yield the parts that begin where a last piece ends, none that a rip parts from it."""
    low = min(shape.bounds[1] for shape in slot.shapes) - origin[1]
    high = max(shape.bounds[3] for shape in slot.shapes) - origin[1]
    rip = plank.stock.kerf_across - TOUCHING_TOLERANCE
    for part in plank.parts:
        beside = part.low - high >= rip or low - part.high >= rip
        if part.left > right - TOUCHING_TOLERANCE and not beside:
            yield part


def _beside(slot: Slot, plank: Plank, origin: tuple[float, float], right: float) -> Iterator[float]:
    """Yield how far a last piece may reach along slanted ends that lie partly beside it."""
    kerf = plank.stock.kerf - TOUCHING_TOLERANCE
    low = min(shape.bounds[1] for shape in slot.shapes) - origin[1]
    high = max(shape.bounds[3] for shape in slot.shapes) - origin[1]
    reach = box(right, low - kerf, plank.stock.length, high + kerf)
    for part in plank.parts:
        if part.shape is not None and part.left <= right < part.right - TOUCHING_TOLERANCE:
            met = part.shape.intersection(reach)
            if met.area > OVERLAP_TOLERANCE:
                yield max(right, met.bounds[0] - plank.stock.kerf)
