"""Opened piles drawn at random, and what a plan made of them must show, counted from its pieces.

+-----------------+
|  210 x 174      |   cartons of 3 boards 9 in wide, 4 boards 7 in wide, 3 boards 5 in wide,
+-----------------+   each width in shades of its own
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations, product
from math import ceil
from random import Random
from typing import Any

from shapely.geometry import Polygon

from layout.judge.check import check_plan
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

LENGTH = 48.0
MIX: dict[float, dict[str, int]] = {
    9.0: {"A": 1, "B": 1, "C": 1},
    7.0: {"A": 1, "B": 1, "C": 1, "D": 1},
    5.0: {"B": 1, "C": 1, "D": 1},
}
ROOM = [[0, 0], [210, 0], [210, 174], [0, 174]]
RUN, ACROSS = 209.5, 173.5
Kind = tuple[float, str]


def drawn(seed: int) -> Counter[Kind]:
    """Return piles as somebody may count them: cartons opened, some planks of them gone.

    Every third seed they are what is left of other jobs, in no carton's proportions.
    """
    rng = Random(seed)
    if seed % 3 == 2:
        return Counter({(w, n): rng.randint(0, 20) for w, mix in MIX.items() for n in mix})
    cartons = rng.randint(8, 16)
    piles = Counter({(w, n): cartons * k for w, mix in MIX.items() for n, k in mix.items()})
    for kind in rng.sample(sorted(piles), 4):
        piles[kind] = max(0, piles[kind] - rng.randint(0, 5))
    return piles


def request_of(piles: Counter[Kind], iterations: int) -> PlanRequest:
    """Return the request of the room from piles once counted."""
    boards = [
        {"length": LENGTH, "width": width, "per_carton": sum(mix.values()), "variants": mix}
        for width, mix in MIX.items()
    ]
    counted = [
        {"length": LENGTH, "width": width, "variant": name, "planks": planks}
        for (width, name), planks in piles.items()
    ]
    changes: dict[str, Any] = {"on_hand": {"piles": counted}, "effort_iterations": iterations}
    return read_request(rooms.request(ROOM, product={"boards": boards}, **changes))


def planks_of(plan: Plan) -> Counter[Kind]:
    """Return how many planks of every width and shade the pieces are cut from."""
    kinds = {piece.plank: (piece.size[1], piece.variant or "") for piece in plan.pieces}
    return Counter(kinds.values())


def like_pairs(plan: Plan) -> int:
    """Return how many pairs of pieces of one shade have more than a corner in common."""
    shapes = [(Polygon(piece.outline).buffer(0.005), piece.variant) for piece in plan.pieces]
    return sum(
        shade == other and one.intersection(two).area > 0.002
        for (one, shade), (two, other) in combinations(shapes, 2)
    )


def cartons_for(short: Counter[Kind]) -> int:
    """Return the cartons that bring so many planks of every width and shade."""
    by_width = Counter[float]()
    for (width, _), planks in short.items():
        by_width[width] += planks
    every = [ceil(n / sum(MIX[width].values())) for width, n in by_width.items()]
    return max([0, *every, *(ceil(n / MIX[w][name]) for (w, name), n in short.items())])


def fewest_cartons(piles: Counter[Kind]) -> int:
    """Return the cartons that no rows of these widths do without, by length and width alone."""
    there = Counter[float]()
    for (width, _), planks in piles.items():
        there[width] += planks
    most = [range(ceil(ACROSS / width) + 1) for width in MIX]
    return min(
        max(
            ceil(max(0, ceil(rows * RUN / LENGTH) - there[width]) / sum(mix.values()))
            for rows, (width, mix) in zip(counts, MIX.items(), strict=True)
        )
        for counts in product(*most)
        if sum(rows * width for rows, width in zip(counts, MIX, strict=True)) >= ACROSS
    )


def faults(request: PlanRequest, plan: Plan, piles: Counter[Kind]) -> list[str]:
    """Return what is wrong with a plan made of piles, a line each; nothing where it is right."""
    totals, used = plan.totals, planks_of(plan)
    short = used - piles
    listed = Counter({(p.width, p.variant or ""): p.planks for p in totals.short_piles})
    wrong = [str(fault) for fault in check_plan(request, plan)]
    if listed != short or totals.shortage_planks != short.total():
        wrong.append(f"short of {dict(short)}, told {dict(listed)}")
    if totals.shortage_cartons != cartons_for(short):
        wrong.append(f"{totals.shortage_cartons} cartons told, {cartons_for(short)} to buy")
    lying = {width for width, _ in piles - used} & {width for width, _ in short}
    if lying:
        wrong.append(f"bought though there are planks: {lying}")
    warned = sum(w.value for w in plan.warnings if w.rule == "variants")
    if warned != like_pairs(plan):
        wrong.append(f"{like_pairs(plan)} like pairs, {warned:g} told")
    return wrong
