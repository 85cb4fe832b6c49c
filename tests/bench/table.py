"""The bench: every room planned, proven, judged and compared with how floors are bought by hand.

    python -m tests.bench.table                     the sixty rooms of tests/bench/rooms.py
    python -m tests.bench.table ell suite           only names that begin so
    python -m tests.bench.table --hard              the harder rooms of tests/bench/hard_rooms.py
    python -m tests.bench.table --half odd          only rooms of odd numbers: constants are chosen
                                                    on these and reported on the even ones
    python -m tests.bench.table --rooms FOLDER      the requests (*.json) of a folder instead
    python -m tests.bench.table --effort 2          seconds for each room (default 5)
    python -m tests.bench.table --iterations 60     so much work for each room: the same table again

Nothing here passes or fails; figures are printed as found.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from layout.judge.check import check_plan
from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.proof.floor import area_bound
from layout.values.errors import LayoutError
from layout.values.outline import zone_polygon
from layout.values.request import PlanRequest, read_request
from tests.bench.baseline import planks_by_hand, planks_by_ten_percent
from tests.bench.hard_rooms import hard_rooms
from tests.bench.rooms import bench_rooms


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One room of the table; planks throughout, times in seconds.

    ``hand`` is None where boards of several widths come in one carton: the hand method knows one.
    The times are None where equal work was done, so that two tables can be compared line by line.
    """

    name: str
    planks: int
    bound: int
    area: int
    hand: int | None
    bought: int
    cartons: int
    cartons_bought: int
    first_s: float | None
    best_s: float | None
    faults: tuple[str, ...]
    warnings: int

    @property
    def kind(self) -> str:
        """The name without its number."""
        return self.name.rstrip("0123456789 ")


def measure(name: str, request: PlanRequest, effort_s: float) -> Result:
    """Plan one room within its effort and return what was found.

    The request's ``effort_iterations`` go before the seconds, where given.
    """
    timed = request.effort_iterations is None
    began = time.perf_counter()
    seen: list[tuple[float, int]] = []

    def note(progress: Progress) -> None:
        seen.append((time.perf_counter() - began, progress.planks))

    def spent() -> bool:
        return timed and time.perf_counter() - began > effort_s

    plan = plan_floor(request, stop=spent, progress=note)
    ended = time.perf_counter() - began
    best = [at for at, planks in seen if planks <= plan.totals.planks]
    bought = planks_by_ten_percent(zone_polygon(request.zone).area, request)
    return Result(
        name=name,
        planks=plan.totals.planks,
        bound=plan.totals.lower_bound,
        area=area_bound(request),
        hand=planks_by_hand(request) if len(request.product.boards) == 1 else None,
        bought=bought,
        cartons=plan.totals.cartons,
        cartons_bought=bought // request.product.per_carton,
        first_s=(seen[0][0] if seen else ended) if timed else None,
        best_s=min(best, default=ended) if timed else None,
        faults=tuple(f"{fault.rule}: {fault.text}" for fault in check_plan(request, plan)),
        warnings=len(plan.warnings),
    )


HEAD = (
    f"{'room':<28}{'planks':>7}{'bound':>7}{'area':>6}{'hand':>6}{'10 %':>6}"
    f"{'first s':>9}{'best s':>8}  {'':<8}"
)


def line_of(result: Result) -> str:
    """Return one line of the table."""
    marks = "proven" if result.planks == result.bound else f"gap {result.planks - result.bound}"
    if result.hand is not None and result.planks > result.hand:
        marks += f", hand is {result.planks - result.hand} better"
    if result.bought < result.planks:
        marks += ", 10 % runs short"
    if result.warnings:
        marks += f", {result.warnings} warnings"
    if result.faults:
        marks += f", FAULTS {len(result.faults)}: {result.faults[0][:90]}"
    hand = "-" if result.hand is None else result.hand
    return (
        f"{result.name:<28}{result.planks:>7}{result.bound:>7}{result.area:>6}{hand:>6}"
        f"{result.bought:>6}{_time(result.first_s):>9}{_time(result.best_s):>8}  {marks}"
    )


def _time(seconds: float | None) -> str:
    return "-" if seconds is None else f"{seconds:.2f}"


def summary_of(results: Sequence[Result]) -> list[str]:
    """Return the lines below the table: by kind of room and in all."""
    kinds = list(dict.fromkeys(result.kind for result in results))
    lines = [
        "",
        (
            f"{'kind':<28}{'rooms':>6}{'proven':>7}{'planks':>7}{'bound':>7}{'hand':>6}"
            f"{'saved':>8}{'10 %':>7}{'short':>6}{'cartons':>9}{'by 10 %':>8}"
        ),
    ]
    groups = [(kind, [r for r in results if r.kind == kind]) for kind in kinds]
    for kind, group in [*groups, ("all", list(results))]:
        lines.append(_group_line(kind, group))
    planks, bound = _sum(r.planks for r in results), _sum(r.bound for r in results)
    worse = [r.name for r in results if r.hand is not None and r.planks > r.hand]
    lines += [
        "",
        f"planks exceed their bounds by {100 * (planks / bound - 1):.2f} % in all",
        f"more planks than by hand: {', '.join(worse) or 'nowhere'}",
        f"rooms with faults: {', '.join(r.name for r in results if r.faults) or 'none'}",
    ]
    return lines


def _group_line(kind: str, group: Sequence[Result]) -> str:
    planks, hand = _sum(r.planks for r in group), _sum(r.hand or 0 for r in group)
    compared = _sum(r.planks for r in group if r.hand is not None)
    saved = f"{100 * (1 - compared / hand):.1f}%" if hand else "-"
    return (
        f"{kind:<28}{len(group):>6}{sum(r.planks == r.bound for r in group):>7}{planks:>7}"
        f"{_sum(r.bound for r in group):>7}{hand:>6}{saved:>8}"
        f"{_sum(r.bought for r in group):>7}{sum(r.bought < r.planks for r in group):>6}"
        f"{_sum(r.cartons for r in group):>9}{_sum(r.cartons_bought for r in group):>8}"
    )


def _sum(values: Iterable[int]) -> int:
    return sum(values)


def _requests(folder: Path | None, half: str | None, *, hard: bool) -> dict[str, Any]:
    """Return the forms to plan, by name; those that are no plan requests left out."""
    if folder is None:
        rooms = hard_rooms() if hard else bench_rooms()
        odd = half == "odd"
        return {
            name: form
            for name, form in rooms.items()
            if half is None or int(name.split()[-1]) % 2 == odd
        }
    forms = {path.stem: json.loads(path.read_text()) for path in sorted(folder.glob("*.json"))}
    return {name: form for name, form in forms.items() if "zone" in form}


def main(arguments: Sequence[str]) -> int:
    """Print the table; return 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.table")
    parser.add_argument("names", nargs="*", help="only rooms whose name begins so")
    parser.add_argument("--rooms", type=Path, help="a folder of requests")
    parser.add_argument("--hard", action="store_true", help="the harder rooms")
    parser.add_argument("--half", choices=("odd", "even"), help="only rooms of these numbers")
    effort = parser.add_mutually_exclusive_group()
    effort.add_argument("--effort", type=float, default=5.0, help="seconds for each room")
    effort.add_argument("--iterations", type=int, help="iterations for each room, repeatable")
    chosen = parser.parse_args(arguments)
    results: list[Result] = []
    print(HEAD)  # noqa: T201
    for name, form in _requests(chosen.rooms, chosen.half, hard=chosen.hard).items():
        if chosen.names and not name.startswith(tuple(chosen.names)):
            continue
        try:
            request = replace(read_request(form), effort_iterations=chosen.iterations)
            results.append(measure(name, request, chosen.effort))
        except LayoutError as error:
            print(f"{name:<28} refused: {error}")  # noqa: T201
            continue
        print(line_of(results[-1]), flush=True)  # noqa: T201
    if results:
        print("\n".join(summary_of(results)))  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
