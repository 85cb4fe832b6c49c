"""What the logs of closed jobs propose for the rates: beside each its old figure, and how sure.

Every proposal is made afresh from all that was logged and from what the rate was before anything
was learned. So each log counts once, however often a proposal is taken.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

import numpy as np

from jobs.domain.checks import ZERO
from jobs.domain.rates.boxed import Floats
from jobs.domain.rates.fit import STANDS_OUT, Fitted, fitted
from jobs.domain.rates.work import AnchoredRate, WorkDone
from jobs.domain.scope.rates import RATE_PLACES, ProductionRate, find_rate, hours_for

LEAST_CHANGE = Decimal("0.02")
"""A rate that moves by less than this part of itself stands: logs are kept in quarter hours."""
HOURS_PLACES = Decimal("0.01")


@dataclass(frozen=True, kw_only=True, slots=True)
class RateProposal:
    """A rate as it counts, as it is proposed, and the range it lies in four times of five.

    `stretches` of work speak of it; the jobs that they are of stand with the proposed rate.
    """

    before: ProductionRate
    after: ProductionRate
    low: Decimal
    high: Decimal
    stretches: int

    @property
    def moves(self) -> bool:
        """Whether it moves by more than logs in quarter hours can tell."""
        return abs(self.after.hours - self.before.hours) > self.before.hours * LEAST_CHANGE


@dataclass(frozen=True, kw_only=True, slots=True)
class OddWork:
    """A stretch of work far off from what the others say: its hours, and what they would give."""

    log: str
    hours: Decimal
    expected: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskLearning:
    """What is learned of one task: its rates, and the stretches of work that stand out."""

    task_code: str
    rates: tuple[RateProposal, ...]
    odd: tuple[OddWork, ...]

    @property
    def moved(self) -> tuple[RateProposal, ...]:
        """The rates that are proposed otherwise than they count."""
        return tuple(rate for rate in self.rates if rate.moves)


def learned(rates: Sequence[AnchoredRate], done: Iterable[WorkDone]) -> tuple[TaskLearning, ...]:
    """Return what is learned of each task that was logged, in the order of the rates."""
    by_task: dict[str, list[WorkDone]] = {}
    for work in done:
        by_task.setdefault(work.task_code, []).append(work)
    tasks = []
    for code in dict.fromkeys(rate.now.task_code for rate in rates):
        of_task = [r for r in rates if r.now.task_code == code and r.anchor.hours]
        task = _learned_task(code, of_task, by_task.get(code, []))
        if task is not None:
            tasks.append(task)
    return tuple(tasks)


def _learned_task(
    code: str, rates: Sequence[AnchoredRate], done: Sequence[WorkDone]
) -> TaskLearning | None:
    """Return what is learned of a task; None where no work speaks of its rates."""
    parts, fixed = _parts(rates, done)
    speaks = parts.sum(axis=1) > 0
    work = [each for each, counts in zip(done, speaks, strict=True) if counts]
    parts, fixed = parts[speaks], fixed[speaks]
    columns = [place for place in range(len(rates)) if (parts[:, place] > 0).any()]
    if not columns:
        return None
    fit = fitted(
        parts[:, columns],
        np.array([float(each.hours) for each in work]),
        np.array([float(each.days) for each in work]),
        [each.job for each in work],
        fixed,
    )
    proposals = [
        _proposal(
            rates[column], fit, place, [w for w, p in zip(work, parts, strict=True) if p[column]]
        )
        for place, column in enumerate(columns)
    ]
    odd = _odd(work, parts[:, columns], fixed, fit)
    return TaskLearning(task_code=code, rates=tuple(proposals), odd=odd)


def _parts(rates: Sequence[AnchoredRate], done: Sequence[WorkDone]) -> tuple[Floats, Floats]:
    """Return the hours of each rate in each stretch of work, and those of rates that stand for it.

    A stretch in which something has no rate says nothing, and has no hours here.
    """
    anchors = [rate.anchor for rate in rates]
    parts, fixed = np.zeros((len(done), len(rates))), np.zeros(len(done))
    for row, work in enumerate(done):
        for (code, item), amount in work.amounts.items():
            rate = find_rate(anchors, work.task_code, code, item)
            if rate is None:
                parts[row] = 0
                break
            place = anchors.index(rate)
            hours = float(hours_for(amount, rate))
            if rates[place].knew(work):
                fixed[row] += hours
            else:
                parts[row, place] += hours
    return parts, fixed


def _proposal(
    rate: AnchoredRate, fit: Fitted, place: int, work: Sequence[WorkDone]
) -> RateProposal:
    jobs = len({each.job for each in work})
    source = f"learned from {jobs} {'job' if jobs == 1 else 'jobs'}"
    hours = _scaled(rate.anchor, fit.off[place])
    return RateProposal(
        before=rate.now,
        after=replace(rate.anchor, hours=hours, source=source, jobs=jobs),
        low=_scaled(rate.anchor, fit.low[place]),
        high=_scaled(rate.anchor, fit.high[place]),
        stretches=len(work),
    )


def _scaled(rate: ProductionRate, off: float) -> Decimal:
    hours = rate.hours * max(1 + Decimal(repr(float(off))), ZERO)
    return hours.quantize(RATE_PLACES, ROUND_HALF_UP)


def _odd(
    work: Sequence[WorkDone], parts: Floats, fixed: Floats, fit: Fitted
) -> tuple[OddWork, ...]:
    """Return the stretches that stand out, the farthest first."""
    expected = parts @ (1 + fit.off) + fixed
    far = sorted(range(len(work)), key=lambda row: -abs(fit.outlying[row]))
    return tuple(
        OddWork(
            log=work[row].log,
            hours=work[row].hours,
            expected=Decimal(repr(float(expected[row]))).quantize(HOURS_PLACES),
        )
        for row in far
        if abs(fit.outlying[row]) >= STANDS_OUT
    )
