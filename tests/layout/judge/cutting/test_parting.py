"""The judge's saw on planks drawn by hand: what can be sawn, what can't, and what is left."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from shapely.geometry import Polygon, box

from layout.judge.cutting.parting import Leaving, Saw
from layout.values.laid_pieces import LaidPiece
from layout.values.plan import Offcut, Piece

SIZE = (48.0, 7.0)
WHOLE = box(0, 0, *SIZE)


def piece(name: str, shape: Polygon) -> LaidPiece:
    ring = tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])
    cut = Piece(id=name, row=1, place=1, plank=1, size=SIZE, outline=ring, origin=(0.0, 0.0))
    return LaidPiece(piece=cut, shape=shape, x0=0.0, y0=0.0, before=False)


def saw(
    kerf: float = 0.125, across: float = 0.125, leavings: Sequence[Leaving] | None = None
) -> Saw:
    return Saw(
        size=SIZE,
        kerf=kerf,
        kerf_across=across,
        least=(8.0, 2.0),
        near=0.01,
        leavings=leavings,
    )


def can_be_sawn(*shapes: Polygon, bench: Saw | None = None) -> bool:
    group = tuple(piece(f"1-{i}", shape) for i, shape in enumerate(shapes, start=1))
    return any(True for _ in (bench or saw()).ways(WHOLE, group, frozenset()))


def leaving(shape: Polygon, user: str | None = None) -> Leaving:
    offcut = Offcut(id="F1", plank=1, length=1, width=1, keeps=(), used_by=user)
    return Leaving(offcut, shape)


def leaves_just(wanted: Polygon, *leavings: Leaving) -> bool:
    """Whether some order of cuts leaves all of these and no other usable leftover."""
    bench, all_of_them = saw(leavings=leavings), frozenset(range(len(leavings)))
    return any(not way.left for way in bench.ways(WHOLE, (piece("1-1", wanted),), all_of_them))


def test_two_ends_a_kerf_apart_can_be_sawn() -> None:
    assert can_be_sawn(box(0, 0, 20, 7), box(20.125, 0, 48, 7))


def test_two_ends_closer_than_the_kerf_can_not() -> None:
    assert not can_be_sawn(box(0, 0, 20, 7), box(20.0625, 0, 48, 7))


def test_four_pieces_like_the_vanes_of_a_wheel_can_not() -> None:
    # Every straight cut along one of them goes through another.
    vanes = (box(0, 0, 30, 3), box(30.5, 0, 48, 4), box(20, 4.5, 48, 7), box(0, 3.5, 19.5, 7))
    assert not can_be_sawn(*vanes)
    assert can_be_sawn(*vanes[:3])


def test_a_piece_in_the_notch_of_another_can_not() -> None:
    notched = box(0, 0, 40, 7).difference(box(10, 3, 30, 7))
    assert not can_be_sawn(notched, box(12, 4, 28, 7))


def test_strips_need_what_a_rip_takes_between_them() -> None:
    strips = (box(0, 0, 48, 3), box(0, 3.125, 48, 7))
    assert can_be_sawn(*strips, bench=saw(across=0.125))
    assert not can_be_sawn(*strips, bench=saw(across=0.25))


@pytest.mark.parametrize(("gap", "clear"), [(0.1, False), (0.13, True)])
def test_the_kerf_of_a_slanted_cut_is_a_slanted_band(gap: float, clear: bool) -> None:
    # Both ends lean by 45 degrees; along the plank the band is as wide as the kerf times 1.41.
    wide = gap * 2**0.5
    left = Polygon([(0, 0), (20, 0), (27, 7), (0, 7)])
    right = Polygon([(20 + wide, 0), (48, 0), (48, 7), (27 + wide, 7)])
    assert can_be_sawn(left, right) == clear


def test_a_slanted_kerf_that_runs_past_the_corner_is_in_the_way() -> None:
    # The shapes are a kerf apart, corner to edge, but no straight band lies between them.
    left = Polygon([(0, 0), (20, 0), (27, 7), (0, 7)])
    corner = box(22, 0, 48, 1.6)
    assert left.distance(corner) > 0.125
    assert can_be_sawn(left, corner)
    assert not can_be_sawn(left, corner, box(30, 1.8, 48, 7), bench=saw(kerf=0.5, across=0.5))


def test_a_crosscut_leaves_the_rest_of_the_plank() -> None:
    assert leaves_just(box(0, 0, 20, 7), leaving(box(20.125, 0, 48, 7)))


def test_a_leftover_that_is_told_too_long_is_not_what_is_left() -> None:
    assert not leaves_just(box(0, 0, 20, 7), leaving(box(19.625, 0, 48, 7)))


def test_a_usable_leftover_must_be_told() -> None:
    assert not leaves_just(box(0, 0, 20, 7))
    assert leaves_just(box(0, 0, 41, 7))


@pytest.mark.parametrize(
    "rests",
    [
        (box(20.125, 0, 48, 7), box(0, 4.125, 20, 7)),
        (box(20.125, 0, 48, 4), box(0, 4.125, 48, 7)),
    ],
)
def test_either_order_of_a_crosscut_and_a_rip_is_one(rests: tuple[Polygon, Polygon]) -> None:
    assert leaves_just(box(0, 0, 20, 4), *map(leaving, rests))


def test_leftovers_of_two_orders_at_once_are_none() -> None:
    both = (box(20.125, 0, 48, 7), box(0, 4.125, 48, 7))
    assert not leaves_just(box(0, 0, 20, 4), *map(leaving, both))


def test_a_slanted_cut_leaves_a_slanted_end() -> None:
    wide = 0.125 * 2**0.5
    slanted = Polygon([(0, 0), (20, 0), (27, 7), (0, 7)])
    rest = Polygon([(20 + wide, 0), (48, 0), (48, 7), (27 + wide, 7)])
    assert leaves_just(slanted, leaving(rest))
    assert not leaves_just(slanted, leaving(box(20, 0, 48, 7)))


def test_a_part_put_aside_is_told_for_the_first_piece_cut_from_it() -> None:
    group = (piece("1-1", box(0, 0, 20, 7)), piece("2-1", box(20.125, 0, 48, 7)))
    aside = saw(leavings=(leaving(box(20.125, 0, 48, 7), "2-1"),))
    way = next(way for way in aside.ways(WHOLE, group, frozenset({0})) if not way.left)
    assert [(i, first.piece.id) for i, first in way.since] == [(0, "1-1")]
