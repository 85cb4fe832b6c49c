"""Twice the work: rooms planned with some iterations, and with twice as many.

    python -m tests.bench.twice                      100 rooms, easy ones and harder ones
    python -m tests.bench.twice --rooms 20 --seed 3

More work should never end with more planks. Nothing here passes or fails; figures as found.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.bench.hard_rooms import hard_rooms
from tests.bench.rooms import bench_rooms

ITERATIONS = (30, 60, 120, 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class Twice:
    """One room: its planks with some iterations, and with twice as many."""

    name: str
    iterations: int
    planks: int
    planks_at_twice: int

    def __str__(self) -> str:
        return f"{self.name:<20}{self.iterations:>5}{self.planks:>6}{self.planks_at_twice:>6}"


def rooms(count: int, seed: int) -> Iterator[Twice]:
    """Yield so many rooms planned twice, drawn by a seed."""
    chance, forms = Random(seed), {**bench_rooms(), **hard_rooms()}
    for name in chance.choices(sorted(forms), k=count):
        request, iterations = read_request(forms[name]), chance.choice(ITERATIONS)
        planks = [
            plan_floor(replace(request, effort_iterations=n)).totals.planks
            for n in (iterations, 2 * iterations)
        ]
        yield Twice(name=name, iterations=iterations, planks=planks[0], planks_at_twice=planks[1])


def main(arguments: Sequence[str]) -> int:
    """Print every room, then how many ended with fewer and with more planks; return 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.twice")
    parser.add_argument("--rooms", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    sys.stdout.write(f"{'room':<20}{'iter':>5}{'once':>6}{'twice':>6}\n")
    results: list[Twice] = []
    for result in rooms(chosen.rooms, chosen.seed):
        results.append(result)
        sys.stdout.write(f"{result}\n")
        sys.stdout.flush()
    fewer = sum(result.planks_at_twice < result.planks for result in results)
    more = sum(result.planks_at_twice > result.planks for result in results)
    sys.stdout.write(f"\n{len(results)} rooms: {fewer} with fewer planks, {more} with more\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
