"""How well the effort is kept: rooms and trim lists by the clock, the worst overruns printed.

    python -m tests.bench.promise                     100 rooms and 50 trim lists
    python -m tests.bench.promise --rooms 20 --trims 0

The promise is 1.1 times the effort and 0.3 s, measured inside the call, in processor seconds: other
work on the machine does not count. Figures as found.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from layout.planner.plan_floor import plan_floor
from layout.trim.form import read_trim
from layout.trim.plan_cuts import plan_cuts
from layout.values.request import read_request
from tests.bench.rooms import bench_rooms as every_room

SHARE, MORE_S = 1.1, 0.3
EFFORTS = (0.01, 0.2, 0.5, 1.0, 2.0)
STOCK = (("8 ft", 96, "6.40"), ("12 ft", 144, "9.20"), ("16 ft", 192, "12.10"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """One call: what was planned, the seconds allowed and taken, and what came out."""

    name: str
    effort_s: float
    seconds: float
    outcome: str

    @property
    def over_s(self) -> float:
        """The seconds past the promise, negative where it was kept."""
        return self.seconds - (SHARE * self.effort_s + MORE_S)


def _over(ends: float) -> Callable[[], bool]:
    """Return the question whether a moment is past."""
    return lambda: time.process_time() >= ends


def _left(ends: float) -> Callable[[], float]:
    """Return the question how many seconds are left."""
    return lambda: ends - time.process_time()


def rooms(count: int, seed: int) -> Iterator[Kept]:
    """Yield so many rooms planned by the clock, drawn by a seed."""
    chance, forms = Random(seed), every_room()
    for name in chance.choices(sorted(forms), k=count):
        effort, request = chance.choice(EFFORTS), read_request(forms[name])
        ends = (began := time.process_time()) + effort
        plan = plan_floor(request, stop=_over(ends))
        taken = time.process_time() - began
        outcome = f"{plan.totals.planks} planks, bound {plan.totals.lower_bound}"
        yield Kept(name=name, effort_s=effort, seconds=taken, outcome=outcome)


def trim_list(chance: Random) -> dict[str, Any]:
    """Return a trim list of one piece to 20,000, of few lengths or many, a few long walls."""
    count = chance.choice((1, 12, 60, 250, 1_000, 2_000, 5_000, 20_000))
    kinds = chance.choice((5, 40, 200, count))
    step = chance.choice((0.5, 0.0625, 0.001))
    longest = chance.choice((90, 140, 190, 260))
    lengths = [round(chance.uniform(4, longest) / step) * step for _ in range(min(kinds, count))]
    pieces = [{"id": f"p{k}", "length": chance.choice(lengths)} for k in range(count)]
    stock = [{"id": name, "length": length, "price": price} for name, length, price in STOCK]
    limits = {"saw_kerf": 0.125, "min_joint_piece": 16}
    return {"format": 2, "unit": "in", "stock": stock, "pieces": pieces, **limits}


def trims(count: int, seed: int) -> Iterator[Kept]:
    """Yield so many trim lists cut by the clock, drawn by a seed."""
    chance = Random(seed)
    for number in range(count):
        effort, request = chance.choice(EFFORTS), read_trim(trim_list(chance))
        ends = (began := time.process_time()) + effort
        cuts = plan_cuts(request, stop=_over(ends), left=_left(ends))
        taken = time.process_time() - began
        kinds = len({piece.length for piece in request.pieces})
        name = f"trim {number}: {len(request.pieces)} pieces, {kinds} lengths"
        outcome = f"{cuts.cost} over {cuts.lower_bound_cost}"
        yield Kept(name=name, effort_s=effort, seconds=taken, outcome=outcome)


def line_of(kept: Kept) -> str:
    """Return one line: what was planned, effort, seconds, how far from the promise."""
    return (
        f"{kept.name:<44}{kept.effort_s:>6.2f} s{kept.seconds:>8.2f} s"
        f"{kept.over_s:>+8.2f} s  {kept.outcome}"
    )


def main(arguments: Sequence[str]) -> int:
    """Print every call, then the worst; return 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.promise")
    parser.add_argument("--rooms", type=int, default=100)
    parser.add_argument("--trims", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    calls: list[Kept] = []
    for source in (trims(chosen.trims, chosen.seed), rooms(chosen.rooms, chosen.seed)):
        for kept in source:
            calls.append(kept)
            sys.stdout.write(f"{line_of(kept)}\n")
            sys.stdout.flush()
    over = [kept for kept in calls if kept.over_s > 0]
    worst = max(calls, key=lambda kept: kept.over_s)
    sys.stdout.write(f"\n{len(calls)} calls, {len(over)} past the promise; the worst:\n")
    sys.stdout.write(f"{line_of(worst)}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
