"""A board of 48 x 7 in on the bench, pieces of it, and its cuts in a few words."""

from __future__ import annotations

from typing import TypeAlias

from shapely.geometry import Polygon, box

from layout.saw.bench import SawBench, Want
from layout.saw.order import SawOrder, order_of

NEAR = 0.01
BENCH = SawBench(length=48, width=7, kerf=0.125, rip=0.125, near=NEAR)
Shape: TypeAlias = Polygon | tuple[float, float, float, float] | list[tuple[float, float]]


def want(turn: int, shape: Shape, *, longer: float = 0.0) -> Want:
    """Return the piece laid in that turn, called a, b, c ...; ``longer`` on its right end."""
    if isinstance(shape, tuple):
        shape = box(*shape)
    elif isinstance(shape, list):
        shape = Polygon(shape)
    grows = (longer, 0.0, 0.0, 0.0)
    return Want(name=chr(ord("a") + turn), turn=turn, shape=shape, near=NEAR, grows=grows)


def sawn(
    *shapes: Shape, bench: SawBench = BENCH, in_hand: Polygon | None = None
) -> SawOrder | None:
    """Return how pieces, laid in that order, are sawn."""
    return order_of(bench, [want(turn, shape) for turn, shape in enumerate(shapes)], in_hand)


def in_short(order: SawOrder | None) -> list[str]:
    """Return each cut as "kind at-from: in hand | aside"."""
    assert order is not None
    lines = []
    for cut in order.sawings:
        aside = f" | {' '.join(cut.aside)}" if cut.aside else ""
        words = (cut.kind, f"{cut.at:.6g}", "from", cut.measure_from)
        lines.append(" ".join(words) + f": {cut.piece}{aside}")
    return lines
