"""Floors before and after planks that are paid for already are spent on looks.

    python -m tests.bench.spend                            twenty floors of the bench's rooms
    python -m tests.bench.spend --floors 3 --seed 4        so many, drawn by a seed
    python -m tests.bench.spend --iterations 300           work for each floor (default 300)
    python -m tests.bench.spend --drawings FOLDER          writes NAME-before.svg and NAME-after.svg

Each floor is planned with `prefer` "planks", then with "cartons": all that its last carton leaves.
Drawn are rooms whose last carton leaves two planks or more. Figures as found.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from layout.drawing.plan import draw_plan
from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests.bench.rooms import bench_rooms

LEAST_LEFT = 2  # planks that a floor's last carton leaves, at least
ITERATIONS = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeAfter:
    """One floor planned twice, with the processor seconds that each took."""

    name: str
    request: PlanRequest
    before: Plan
    after: Plan
    seconds: tuple[float, float]

    @property
    def faults(self) -> int:
        """Faults that the judge finds in the floor with planks spent."""
        return len(check_plan(self.request, self.after))


def left_in_carton(request: PlanRequest, plan: Plan) -> int:
    """Return the planks that the last carton of a plan leaves."""
    return plan.totals.cartons * request.product.per_carton - plan.totals.planks - request.spares


def floors(count: int, seed: int, iterations: int = ITERATIONS) -> Iterator[BeforeAfter]:
    """Yield so many of the bench's rooms, in an order drawn by a seed, before and after."""
    names = list(bench_rooms())
    Random(seed).shuffle(names)
    made = 0
    for name in names:
        if made == count:
            return
        request = replace(read_request(bench_rooms()[name]), effort_iterations=iterations)
        began = time.process_time()
        before = plan_floor(request)
        taken = time.process_time() - began
        if left_in_carton(request, before) < LEAST_LEFT:
            continue
        made += 1
        spending = replace(request, prefer=Prefer.CARTONS)
        began = time.process_time()
        after = plan_floor(spending)
        yield BeforeAfter(
            name=name,
            request=spending,
            before=before,
            after=after,
            seconds=(taken, time.process_time() - began),
        )


HEAD = (
    f"{'floor':<14}{'left':>5}{'planks':>12}{'fewest':>7}{'bound':>6}{'cartons':>10}"
    f"{'H-joints':>11}{'stairs':>11}{'cuts':>12}{'rack':>9}{'s':>12}"
)


def line_of(floor: BeforeAfter) -> str:
    """Return one line of the table: before and after."""
    one, two = floor.before.totals, floor.after.totals
    cuts = (one.crosscuts + one.rips, two.crosscuts + two.rips)
    return (
        f"{floor.name:<14}{left_in_carton(floor.request, floor.before):>5}"
        f"{_pair(one.planks, two.planks):>12}{two.fewest:>7}{two.lower_bound:>6}"
        f"{_pair(one.cartons, two.cartons):>10}{_pair(one.look.h_joints, two.look.h_joints):>11}"
        f"{_pair(one.look.staircases, two.look.staircases):>11}{_pair(*cuts):>12}"
        f"{_pair(one.rack_max, two.rack_max):>9}{_pair(*(f'{s:.1f}' for s in floor.seconds)):>12}"
        f"{f'  FAULTS {floor.faults}' if floor.faults else ''}"
    )


def _pair(before: object, after: object) -> str:
    """Return two figures, before and after."""
    return f"{before} > {after}"


def write_drawings(floor: BeforeAfter, folder: Path) -> None:
    """Write the floor before and after as drawings."""
    folder.mkdir(parents=True, exist_ok=True)
    for word, plan in (("before", floor.before), ("after", floor.after)):
        text = draw_plan(floor.request, plan, title=f"{floor.name}, {word}")
        (folder / f"{floor.name.replace(' ', '-')}-{word}.svg").write_text(text)


def main(arguments: Sequence[str]) -> int:
    """Print the table; return 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.spend")
    parser.add_argument("--floors", type=int, default=20)
    parser.add_argument("--seed", type=int, default=4)
    parser.add_argument("--iterations", type=int, default=ITERATIONS)
    parser.add_argument("--drawings", type=Path)
    chosen = parser.parse_args(arguments)
    sys.stdout.write(f"{HEAD}\n")
    for floor in floors(chosen.floors, chosen.seed, chosen.iterations):
        sys.stdout.write(f"{line_of(floor)}\n")
        sys.stdout.flush()
        if chosen.drawings is not None:
            write_drawings(floor, chosen.drawings)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
