"""Floors interrupted at random and gone on with: every plan of what is left must be judged right.

python -m tests.layout.interruptions --count 100 --seed 1
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from random import Random
from typing import Any

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.resume.remaining import go_on, planks_begun
from layout.values.errors import LayoutError, NoPlanError
from layout.values.plan import Plan
from layout.values.plan_form import plan_to_json, read_plan
from layout.values.request import PlanRequest, read_request
from layout.values.units import INCH

EFFORT = 12
WIDTHS = [
    {"length": 48, "width": 9, "per_carton": 3},
    {"length": 48, "width": 7, "per_carton": 4},
    {"length": 48, "width": 5, "per_carton": 3},
]
SHAPES = ("rectangle", "ell", "bay", "slanted", "turned", "column", "suite", "divided")


@dataclass(frozen=True, kw_only=True)
class Interruption:
    """One floor, what was laid of it, and what came of going on."""

    name: str
    first: PlanRequest
    plan: Plan
    laid: frozenset[str]
    again: PlanRequest
    spoiled: int
    gone: frozenset[str]


def outline_of(shape: str, chance: Random) -> tuple[list[list[float]], dict[str, Any]]:
    """Return the outline of a random room in inches, and what else its zone has."""
    w, h = chance.uniform(90, 260), chance.uniform(60, 200)
    u, v = chance.uniform(0.3, 0.7) * w, chance.uniform(0.3, 0.7) * h
    match shape:
        case "ell":
            return [[0, 0], [w, 0], [w, v], [u, v], [u, h], [0, h]], {}
        case "bay":
            a, b = 0.2 * w, 0.8 * w
            return [
                [0, 0],
                [w, 0],
                [w, h],
                [b, h],
                [b - 16, h + 18],
                [a + 16, h + 18],
                [a, h],
                [0, h],
            ], {}
        case "slanted":
            return [[0, 0], [w, 0], [w, v], [u, h], [0, h]], {}
        case "column":
            post = [[u, v], [u + 12, v], [u + 12, v + 10], [u, v + 10]]
            return [[0, 0], [w, 0], [w, h], [0, h]], {"holes": [post]}
        case "suite":
            return _suite(w, h, v, chance.uniform(70, 140))
        case "divided":
            return _suite(w, h, v, chance.uniform(70, 140), door=0.4)
        case _:
            return [[0, 0], [w, 0], [w, h], [0, h]], {}


def _suite(
    w: float, h: float, v: float, beyond: float, door: float = 30
) -> tuple[list[list[float]], dict[str, Any]]:
    """Return two rooms joined by a doorway where no joint may fall.

    One narrower than two gaps leaves a floor in two parts.
    """
    low, high, t, x = v, min(v + door, h - 2), 4.5, w + 4.5 + beyond
    outline: list[list[float]] = [
        [0, 0],
        [w, 0],
        [w, low],
        [w + t, low],
        [w + t, 0],
        [x, 0],
        [x, h],
        [w + t, h],
    ]
    outline += [[w + t, high], [w, high], [w, h], [0, h]]
    threshold = [[w, low], [w + t, low], [w + t, high], [w, high]]
    return outline, {"no_joints": [threshold]}


def random_request(chance: Random, *, mixed: bool = False) -> tuple[str, dict[str, Any]]:
    """Return a name and a random request in the interchange form."""
    shape = chance.choice(SHAPES)
    outline, more = outline_of(shape, chance)
    metric = not mixed and chance.random() < 0.25
    scale = INCH["mm"] if metric else 1.0
    board: dict[str, Any] = {
        "length": chance.choice([36, 48, 47.75, 60]) * scale,
        "width": chance.choice([5, 6.5, 7, 8.75]) * scale,
        "per_carton": chance.choice([8, 10, 12]),
    }
    lay = {"start": chance.choice(["low", "high"]), "first_end": chance.choice(["left", "right"])}
    angle = chance.choice([30, 45, 62.5, 90, 135]) if shape == "turned" else 0
    data = {
        "format": 1,
        "unit": "mm" if metric else "in",
        "zone": {"outline": _scaled(outline, scale), **_scaled(more, scale)},
        "product": {"boards": WIDTHS} if mixed else board,
        "rules": {
            "expansion_gap": 0.25 * scale,
            "saw_kerf": chance.choice([0, 0.125]) * scale,
            "min_end_piece": 8 * scale,
            "min_joint_offset": 8 * scale,
            "min_row_width": 2 * scale,
            "wall_error": chance.choice([0, 0, 0.25]) * scale,
            "direction_deg": angle,
        },
        "lay": lay,
        "spares": chance.choice([0, 0, 2]),
        "effort_iterations": EFFORT,
        "seed": chance.randrange(1000),
    }
    unit = f"{shape}, {data['unit']}, {lay['start']}, {lay['first_end']}"
    return f"{unit}{', mixed' if mixed else ''}", data


def _scaled(value: Any, scale: float) -> Any:
    """Return data with every number scaled."""
    if isinstance(value, list):
        return [_scaled(inner, scale) for inner in value]
    if isinstance(value, dict):
        return {key: _scaled(inner, scale) for key, inner in value.items()}
    return value * scale


def interrupted(chance: Random, name: str, first: PlanRequest, plan: Plan) -> Interruption:
    """Return a floor interrupted after a random piece, planks spoiled and offcuts broken."""
    before = {piece.id for piece in first.laid}
    new = [piece.id for piece in plan.pieces if piece.id not in before]
    count = chance.randrange(1, max(2, len(new)))
    laid = frozenset(new[:count])
    had = plan.totals.planks + first.spares + chance.choice([0, 3, 10])
    spoiled = chance.choice([0, 1, 4])
    left = max(0, had - planks_begun(first, plan, laid) - spoiled)
    planks_left = chance.choice([left, left, None])
    first = _otherwise(chance, first, plan, laid)
    whole = go_on(first, plan, laid_ids=laid, planks_left=planks_left)
    labels = sorted(o.id for o in whole.on_hand.offcuts) if whole.on_hand else []
    gone = frozenset(label for label in labels if chance.random() < 0.2)
    again = go_on(first, plan, laid_ids=laid, planks_left=planks_left, offcuts_gone=gone)
    return Interruption(
        name=name, first=first, plan=plan, laid=laid, again=again, spoiled=spoiled, gone=gone
    )


def _otherwise(chance: Random, first: PlanRequest, plan: Plan, laid: frozenset[str]) -> PlanRequest:
    """Return the request with the far wall somewhere else, half of the times it can be.

    It can be in a plain rectangle that the pieces down stay clear of by two boards.
    """
    corners, width = first.zone.outline, first.product.board.width
    plain = len(corners) == 4 and not first.zone.holes and not first.rules.direction_deg
    if not plain or chance.random() < 0.5:
        return first
    low = first.lay.start.value == "low"
    far = max(y for _, y in corners) if low else min(y for _, y in corners)
    down = [y for p in plan.pieces if p.id in laid or p in first.laid for _, y in p.outline]
    if min(abs(far - y) for y in down) < 2 * width:
        return first
    step = chance.uniform(-0.9, 0.9) * width
    moved = tuple((x, y + step if y == far else y) for x, y in corners)
    return replace(first, zone=replace(first.zone, outline=moved))


def wrong_with(halted: Interruption, plan: Plan) -> Iterator[str]:
    """Yield what is wrong with going on, found without the judge's help where that is plain."""
    request = halted.again
    yield from (str(fault) for fault in check_plan(request, plan))
    by_id = {piece.id: piece for piece in plan.pieces}
    for piece in halted.plan.pieces:
        down = piece.id in halted.laid or piece in halted.first.laid
        if down and by_id.get(piece.id) != piece:
            yield f"piece {piece.id} was down and is not the same"
    hand = request.on_hand
    labels = {offcut.id for offcut in hand.offcuts} if hand else set()
    if labels & halted.gone:
        yield f"offcuts {labels & halted.gone} are gone and at hand"
    if len({o.id for o in plan.offcuts}) < len(plan.offcuts):
        yield "two offcuts have one label"
    known = {p.plank for p in request.laid} | {o.plank for o in (hand.offcuts if hand else ())}
    fresh = len({p.plank for p in plan.pieces} - known)
    short = 0
    if hand and hand.planks is not None:
        short = max(0, fresh + request.spares - hand.planks)
    cartons = ceil(short / request.product.per_carton)
    if (plan.totals.shortage_planks, plan.totals.shortage_cartons) != (short, cartons):
        yield f"short of {plan.totals.shortage_planks}, counted {short}"
    if read_plan(plan_to_json(plan)).totals.planks != plan.totals.planks:
        yield "the plan reads differently"


def outcome(seed: int, *, mixed: bool = False) -> tuple[str, list[str], int]:
    """Return the name, what is wrong, and how many interruptions one floor took."""
    chance = Random(seed)
    name, data = random_request(chance, mixed=mixed)
    request = read_request(data)
    try:
        plan = plan_floor(request)
    except NoPlanError as error:
        return f"{name}: {error}", [], 0
    if faults := check_plan(request, plan):
        return name, [f"first plan: {fault}" for fault in faults], 0
    times = 0
    for _ in range(chance.choice([1, 1, 2])):
        halted = interrupted(chance, name, request, plan)
        if len(halted.again.laid) == len(plan.pieces):
            break
        plan = plan_floor(halted.again)
        times += 1
        if wrong := list(wrong_with(halted, plan)):
            return name, wrong, times
        request = halted.again
    return name, [], times


def run(count: int, seed: int, *, mixed: bool = False) -> tuple[Counter[str], list[str], int]:
    """Return how often which floor came, everything wrong, and how many plans went on."""
    names, wrong, times = Counter[str](), [], 0
    for number in range(seed * 10_000, seed * 10_000 + count):
        try:
            name, faults, plans = outcome(number, mixed=mixed)
        except LayoutError as error:
            name, faults, plans = "stopped", [f"{type(error).__name__}: {error}"], 0
        names[name.split(",")[0]] += 1
        times += plans
        wrong += [f"{number} ({name}): {text}" for text in faults]
    return names, wrong, times


def report() -> None:
    """Run as a script: print the outcome over many interruptions."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--mixed", action="store_true", help="boards of several widths")
    options = parser.parse_args()
    began = time.perf_counter()
    names, wrong, times = run(options.count, options.seed, mixed=options.mixed)
    kinds = ", ".join(f"{name} {number}" for name, number in sorted(names.items()))
    seconds = time.perf_counter() - began
    lines = [
        f"{options.count} floors ({kinds}), {times} plans gone on with, {seconds:.0f} s",
        f"wrong: {len(wrong)}",
        *wrong,
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    report()
