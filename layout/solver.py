"""The only door to the optimization library: linear and integer programs, every status checked.

One value of ``threads`` serves the whole process: the library refuses a second one without a
word. Effort comes in as a ``stop`` callable and a node limit; a run cut short carries what it
found and the bound it had proven.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from math import inf
from typing import TYPE_CHECKING

from layout.values.errors import LayoutError
from layout.values.tolerances import BOUND_TOLERANCE

if TYPE_CHECKING:
    import highspy

Stop = Callable[[], bool]
Coefficients = Sequence[tuple[int, float]]

THREADS = 1


class SolverError(LayoutError):
    """The optimization library answered with a status that no caller can use."""


class Verdict(StrEnum):
    """How a run ended."""

    BEST = "best"  # proven best
    FEASIBLE = "feasible"  # cut short; a solution and a bound stand
    IMPOSSIBLE = "impossible"  # proven that nothing meets the rows
    CUT_SHORT = "cut short"  # cut short before any solution; the bound may still say something


@dataclass(slots=True)
class Program:
    """A linear or integer program to be minimized, built column by column and row by row."""

    costs: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)
    rows: list[Coefficients] = field(default_factory=list)

    def column(
        self, cost: float, *, lower: float = 0.0, upper: float = inf, whole: bool = False
    ) -> int:
        """Add a column between its bounds; return its index."""
        self.costs.append(cost)
        self.lower.append(lower)
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.costs) - 1

    def row(self, coefficients: Coefficients, *, lower: float = -inf, upper: float = inf) -> int:
        """Add a row ``lower <= sum of value * column <= upper``; return its index."""
        self.rows.append(coefficients)
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        return len(self.rows) - 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a run ended with.

    ``values`` is empty and ``objective`` infinite where no solution stands. ``bound`` is what the
    run proved no solution can go below, within the library's own float tolerance. ``duals`` has
    one price a row after a linear program; empty after an integer one.
    """

    verdict: Verdict
    values: tuple[float, ...] = ()
    objective: float = inf
    bound: float = -inf
    duals: tuple[float, ...] = ()


def solve(
    program: Program,
    *,
    stop: Stop | None = None,
    time_limit_s: float | None = None,
    node_limit: int | None = None,
    seed: int = 0,
    start: Sequence[float] | None = None,
) -> Outcome:
    """Minimize ``program`` until proven, stopped, or past a limit.

    ``start`` is a known solution to begin an integer program with. With ``node_limit`` alone the
    same program and seed end the same way. Raises SolverError on a status that says nothing.
    """
    highs = _engine(seed, time_limit_s, node_limit)
    _check(highs.passModel(_as_model(program)), "passing the program")
    if start is not None:
        _offer(highs, start)
    if stop is not None:
        _listen(highs, stop, whole=any(program.whole))
    _check(highs.run(), "running")
    return _outcome(highs, whole=any(program.whole))


def _engine(seed: int, time_limit_s: float | None, node_limit: int | None) -> highspy.Highs:
    """Return a silent engine with its options set."""
    highs = _quiet()
    options: dict[str, int | float] = {
        "threads": THREADS,
        "random_seed": seed,
        "mip_rel_gap": 0.0,
        "mip_abs_gap": BOUND_TOLERANCE,
    }
    if time_limit_s is not None:
        options["time_limit"] = max(time_limit_s, 0.01)
    if node_limit is not None:
        options["mip_max_nodes"] = node_limit
    for name, value in options.items():
        _check(highs.setOptionValue(name, value), f"setting {name}")
    return highs


def _quiet() -> highspy.Highs:
    """Return an engine that never writes to the standard output, not even while it is made."""
    import highspy  # slow to load, and most callers of this package never solve

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:  # noqa: N802 - the library's name; writes a greeting
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Quiet()  # type: ignore[no-untyped-call]


def _as_model(program: Program) -> highspy.HighsLp:
    """Return the library's own form of ``program``."""
    import highspy
    import numpy as np

    model = highspy.HighsLp()
    model.num_col_ = len(program.costs)
    model.num_row_ = len(program.rows)
    model.col_cost_ = np.array(program.costs, dtype=float)
    model.col_lower_ = np.array(program.lower, dtype=float)
    model.col_upper_ = np.array(program.upper, dtype=float)
    model.row_lower_ = np.array(program.row_lower, dtype=float)
    model.row_upper_ = np.array(program.row_upper, dtype=float)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    starts = np.cumsum([0, *(len(row) for row in program.rows)])
    model.a_matrix_.start_ = starts.astype(np.int32)
    model.a_matrix_.index_ = np.array([i for row in program.rows for i, _ in row], dtype=np.int32)
    model.a_matrix_.value_ = np.array([v for row in program.rows for _, v in row], dtype=float)
    if any(program.whole):
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[whole] for whole in program.whole]
    return model


def _offer(highs: highspy.Highs, start: Sequence[float]) -> None:
    """Hand a known solution over."""
    import highspy

    solution = highspy.HighsSolution()
    solution.col_value = list(start)
    _check(highs.setSolution(solution), "offering a solution")


def _listen(highs: highspy.Highs, stop: Stop, *, whole: bool) -> None:
    """Let ``stop`` end the run."""

    def ask(event: highspy.HighsCallbackEvent) -> None:
        if stop():
            event.interrupt()

    if whole:
        highs.cbMipInterrupt += ask
    highs.cbSimplexInterrupt += ask


def _check(status: highspy.HighsStatus, doing: str) -> None:
    """Raise SolverError where the library reports an error."""
    import highspy

    if status == highspy.HighsStatus.kError:
        text = f"the solver failed at {doing}"
        raise SolverError(text)


def _outcome(highs: highspy.Highs, *, whole: bool) -> Outcome:
    """Read how the run ended; raise SolverError where that says nothing."""
    import highspy

    kind = highspy.HighsModelStatus
    status = highs.getModelStatus()
    if status in (kind.kInfeasible, kind.kUnboundedOrInfeasible):
        return Outcome(verdict=Verdict.IMPOSSIBLE, bound=inf)
    if status in (kind.kOptimal, kind.kModelEmpty):
        return _solution(highs, Verdict.BEST, whole=whole)
    cut_short = (kind.kTimeLimit, kind.kIterationLimit, kind.kSolutionLimit, kind.kInterrupt)
    if status not in cut_short:
        text = f"the solver ended with the status {highs.modelStatusToString(status)}"
        raise SolverError(text)
    feasible = int(highs.getInfo().primal_solution_status) == int(
        highspy.SolutionStatus.kSolutionStatusFeasible
    )
    if whole and feasible:
        return _solution(highs, Verdict.FEASIBLE, whole=True)
    bound = highs.getInfo().mip_dual_bound if whole else -inf
    return Outcome(verdict=Verdict.CUT_SHORT, bound=bound)


def _solution(highs: highspy.Highs, verdict: Verdict, *, whole: bool) -> Outcome:
    """Read the solution that stands."""
    solution = highs.getSolution()
    info = highs.getInfo()
    objective = float(info.objective_function_value)
    proven = verdict is Verdict.BEST
    return Outcome(
        verdict=verdict,
        values=tuple(solution.col_value),
        objective=objective,
        bound=objective if proven else float(info.mip_dual_bound),
        duals=() if whole else tuple(solution.row_dual),
    )
