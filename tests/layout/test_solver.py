"""The door to the optimization library says plainly how a run ended."""

from __future__ import annotations

import random
import subprocess
import sys

import pytest

from layout.solver import Program, Verdict, solve


def _knapsack(whole: bool = True) -> Program:
    """Cover 7 with threes and fives, fewest pieces."""
    program = Program()
    threes = program.column(1.0, whole=whole)
    fives = program.column(1.0, whole=whole)
    program.row([(threes, 3.0), (fives, 5.0)], lower=7.0)
    return program


def _market_split(size: int = 40) -> Program:
    """An integer program that no solver closes in a moment."""
    program, chance = Program(), random.Random(1)
    columns = [program.column(0.0, upper=1.0, whole=True) for _ in range(size)]
    for _ in range(5):
        weights = [chance.randint(1, 99) for _ in range(size)]
        over, under = program.column(1.0), program.column(1.0)
        terms = [(c, float(w)) for c, w in zip(columns, weights, strict=True)]
        target = float(sum(weights) // 2)
        program.row([*terms, (over, 1.0), (under, -1.0)], lower=target, upper=target)
    return program


def test_an_integer_program_is_proven_best() -> None:
    outcome = solve(_knapsack())
    assert outcome.verdict is Verdict.BEST
    assert outcome.objective == pytest.approx(2.0)
    assert outcome.bound == pytest.approx(2.0)


def test_a_linear_program_carries_one_price_a_row() -> None:
    outcome = solve(_knapsack(whole=False))
    assert outcome.objective == pytest.approx(1.4)
    assert outcome.duals == pytest.approx((0.2,))


def test_rows_that_nothing_meets_are_called_impossible() -> None:
    program = _knapsack()
    program.row([(0, 1.0), (1, 1.0)], upper=1.0)
    assert solve(program).verdict is Verdict.IMPOSSIBLE


def test_a_run_cut_short_carries_its_solution_and_its_bound() -> None:
    outcome = solve(_market_split(), node_limit=3)
    assert outcome.verdict is Verdict.FEASIBLE
    assert outcome.bound <= outcome.objective
    assert len(outcome.values) == 50


def test_the_caller_can_stop_a_run() -> None:
    calls: list[int] = []

    def stop() -> bool:
        calls.append(1)
        return len(calls) > 5

    outcome = solve(_market_split(), stop=stop)
    assert outcome.verdict in (Verdict.FEASIBLE, Verdict.CUT_SHORT)


def test_a_known_solution_is_taken_as_a_start() -> None:
    outcome = solve(_knapsack(), start=[0.0, 2.0])
    assert outcome.objective == pytest.approx(2.0)


def test_the_same_seed_and_node_limit_end_the_same_way() -> None:
    first = solve(_market_split(), node_limit=20, seed=3)
    assert solve(_market_split(), node_limit=20, seed=3) == first


def test_loading_the_door_does_not_load_the_library() -> None:
    code = "import sys, layout.solver; sys.exit('highspy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_run_writes_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    solve(_knapsack())
    assert capfd.readouterr() == ("", "")
