"""The order of cuts of one plank: every cut as it is made, with the true shapes it leaves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from layout.saw.bench import SawBench, Want
from layout.saw.jigsaw import Nibble, corners_of, nibbles_of
from layout.saw.lines import Corners, SawLine, back, beyond, clipped, crossing, is_convex
from layout.saw.measures import line_measure, nibble_measure
from layout.saw.parting import Finish, Parting, Tree, parted
from layout.values.outline import polygons_of
from layout.values.tolerances import OVERLAP_TOLERANCE


@dataclass(frozen=True, eq=False, kw_only=True)
class Sawing:
    """One cut as it is made.

    ``piece`` is what the part that ``stays`` is worked on to become, ``aside`` the pieces that
    come of what goes away (``away``, the kerf taken off; None where nothing is left of it).
    ``line`` is None for a notch or a hole. ``done``: the piece is finished by it.
    """

    kind: str
    path: Corners
    goes: str
    measure_from: str
    at: float
    piece: str
    stays: Polygon
    away: Polygon | None = None
    aside: tuple[str, ...] = ()
    line: SawLine | None = None
    done: bool = False


@dataclass(frozen=True, eq=False, kw_only=True)
class SawOrder:
    """All cuts of a part of a plank in order, and what is in hand at first.

    ``names``: its pieces as they are laid.
    """

    in_hand: Polygon
    names: tuple[str, ...]
    sawings: tuple[Sawing, ...]


def order_of(
    bench: SawBench, wants: Sequence[Want], in_hand: Polygon | None = None
) -> SawOrder | None:
    """Return the cuts that make pieces of a plank, or of a leftover; None where no order serves.

    What comes out of the cuts is held against the pieces, so that none is left with a cut missing.
    """
    part = in_hand if in_hand is not None else Polygon(bench.plank)
    if not all(_within(want.shape, part, 2 * bench.near) for want in wants):
        return None
    tree = parted(bench, wants, corners_of(part))
    if tree is None:
        return None
    names = tuple(want.name for want in sorted(wants, key=lambda want: want.turn))
    making = _Making(bench)
    sawings = tuple(making.cuts(tree, part))
    if not all(_same(making.made[want.name], want.shape, bench) for want in wants):
        return None
    return SawOrder(in_hand=part, names=names, sawings=sawings)


def halves(
    part: Polygon, line: SawLine, kerf: float, wanted: tuple[Polygon, Polygon]
) -> tuple[Polygon, Polygon | None]:
    """Return what stays and what goes of a part; of several the one that its piece is wanted of."""
    corners = corners_of(part)
    if not part.interiors and is_convex(corners):
        return _polygon(clipped(corners, line)) or part, _polygon(beyond(corners, line, kerf))
    stays = _largest(part.intersection(_half(part, line)), wanted[0])
    goes = _largest(part.intersection(_half(part, _behind(line, kerf))), wanted[1])
    return stays or part, goes


class _Making:
    """The cuts of one tree, made one after the other; ``made``: what came out, by its name."""

    def __init__(self, bench: SawBench) -> None:
        self._bench = bench
        self.made: dict[str, Polygon] = {}

    def cuts(self, tree: Tree, part: Polygon) -> Iterator[Sawing]:
        """Yield the cuts; of the parts put aside the one whose piece is laid first comes next."""
        aside = [(tree, part)]
        while aside:
            aside.sort(key=lambda entry: wants_of(entry[0])[0].turn)
            now, shape = aside.pop(0)
            while isinstance(now, Parting):
                sawing = self._parting(now, shape)
                yield sawing
                aside.append((now.goes, sawing.away or shape))
                now, shape = now.stays, sawing.stays
            yield from self._finish(now, shape)

    def _parting(self, tree: Parting, part: Polygon) -> Sawing:
        """Return the cut that parts pieces."""
        names = tuple(want.name for want in wants_of(tree.goes))
        first = wants_of(tree.stays)[0]
        sawing = self._straight(tree.line, part, first, wants_of(tree.goes)[0])
        done = isinstance(tree.stays, Finish) and not tree.stays.lines and not tree.stays.want.fine
        return replace(sawing, aside=names, done=done)

    def _straight(self, line: SawLine, part: Polygon, want: Want, other: Want | None) -> Sawing:
        """Return a straight cut through a part."""
        kerf = self._bench.takes(line.way)
        stays, away = halves(part, line, kerf, (want.shape, (other or want).shape))
        path = crossing(corners_of(part), line) or ((0.0, 0.0), (0.0, 0.0))
        measure_from, at = line_measure(self._bench, line, part, path)
        return Sawing(
            kind=line.kind,
            path=path,
            goes=line.goes,
            measure_from=measure_from,
            at=at,
            piece=want.name,
            stays=stays,
            away=away,
            line=line,
        )

    def _finish(self, tree: Finish, part: Polygon) -> Iterator[Sawing]:
        """Yield the cuts that finish one piece, notches and holes as late as they can be measured.

        These come last where the piece keeps an end and a side.
        """
        want, steps, parts = tree.want, [], [part]
        for line in tree.lines:
            steps.append(self._straight(line, parts[-1], want, None))
            parts.append(steps[-1].stays)
        near, thin = self._bench.near, self._bench.thin
        nibbles = nibbles_of(want.shape, parts[-1], near, thin) if want.fine else []
        when = (
            len(tree.lines)
            if not nibbles
            else max(
                (k for k, p in enumerate(parts) if self._bench.has_base(corners_of(p), "notch")),
                default=len(tree.lines),
            )
        )
        sawings = steps[:when]
        sawings += self._nibbled(nibbles, parts[when], want)
        now = sawings[-1].stays if sawings else part
        for line in tree.lines[when:]:
            sawings.append(self._straight(line, now, want, None))
            now = sawings[-1].stays
        self.made[want.name] = now
        yield from (replace(s, done=s is sawings[-1]) for s in sawings)

    def _nibbled(self, nibbles: Sequence[Nibble], part: Polygon, want: Want) -> list[Sawing]:
        """Return the notches and holes of a piece in a part."""
        sawings: list[Sawing] = []
        for nibble in nibbles:
            for path in nibble.paths(part, self._bench.near):
                after = _largest(part.difference(nibble.waste), want.shape) or part
                measure_from, at = nibble_measure(self._bench, part, after, path)
                part = after
                sawings.append(
                    Sawing(
                        kind=nibble.kind,
                        path=path,
                        goes="inside",
                        measure_from=measure_from,
                        at=at,
                        piece=want.name,
                        stays=part,
                    )
                )
        return sawings


def wants_of(tree: Tree) -> tuple[Want, ...]:
    """Return the pieces of a tree, first laid first."""
    if isinstance(tree, Finish):
        return (tree.want,)
    both = (*wants_of(tree.stays), *wants_of(tree.goes))
    return tuple(sorted(both, key=lambda want: want.turn))


def _within(shape: Polygon, part: Polygon, near: float) -> bool:
    """Whether a shape lies within a part, but for lengths that are the same."""
    left, low, right, high = part.bounds
    x0, y0, x1, y1 = shape.bounds
    if min(x0 - left, y0 - low, right - x1, high - y1) < -near:
        return False
    boxed = (right - left) * (high - low) - part.area < OVERLAP_TOLERANCE
    return boxed or bool(part.buffer(near).covers(shape))


def _same(one: Polygon, other: Polygon, bench: SawBench) -> bool:
    """Whether two shapes are one, but for notches too thin to be cut and lengths that are the same.

    Those may be off on either side, which adds up.
    """
    off = bench.near + bench.thin / 2
    return bool(one.symmetric_difference(other).buffer(-off).is_empty)


def _polygon(corners: Corners) -> Polygon | None:
    """Return what a ring encloses, None where that is nothing."""
    shape = Polygon(corners) if len(corners) > 2 else None
    return None if shape is None or shape.area < OVERLAP_TOLERANCE else shape


def _behind(line: SawLine, kerf: float) -> SawLine:
    """Return the line at which what goes begins, seen from there."""
    return SawLine(way=back(line.way), at=-(line.at + kerf))


def _half(part: Polygon, line: SawLine) -> Polygon:
    """Return all round a part that lies at or below a line."""
    left, low, right, high = part.bounds
    far = 2 * (right - left + high - low) + abs(left) + abs(low) + 1.0
    x, y = line.way
    foot = (x * line.at, y * line.at)
    return Polygon(
        [
            (foot[0] + s * far * -y - t * far * x, foot[1] + s * far * x - t * far * y)
            for s, t in ((-1, 0), (1, 0), (1, 2), (-1, 2))
        ]
    )


def _largest(shape: BaseGeometry, wanted: BaseGeometry) -> Polygon | None:
    """Return the polygon of a shape that has most of what is wanted, then the largest."""
    parts = polygons_of(shape)
    if not parts:
        return None
    if len(parts) == 1:
        return parts[0]
    return max(parts, key=lambda p: (p.intersection(wanted).area, p.area))
