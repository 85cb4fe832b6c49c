"""Where a job stood at the end of each day on site: work planned, earned and spent.

Earned are the agreed hours of what is done, however long it took: laying by its rows, each with the
hours of its own; other work by the hours logged of it, at most all of it. Once the job is closed
all of it is done, and each task was done as its hours were logged.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.review.values import DayReached, Logged, Money, ReviewTerms
from estimates.domain.terms.booked import per_day
from jobs.domain.checks import ONE, ZERO
from jobs.domain.days.on_site import booked_for
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import OTHER, Task

Key = tuple[str, str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Earning:
    """What work earns: the price and the material that go with all of it, and an hour's cost.

    `extra_hours` were ordered beside the scope: they are earned as other work is logged.
    """

    price: Decimal
    material: Decimal
    burdened_rate: Decimal
    extra_hours: Decimal = ZERO

    @classmethod
    def of(cls, real: Money, terms: ReviewTerms) -> "Earning":
        """Return what the work of a job earned."""
        return cls(
            price=real.price,
            material=real.material,
            burdened_rate=terms.burdened_rate,
            extra_hours=terms.extra_hours,
        )


def days_reached(
    agreed: FrozenScope,
    logs: Sequence[Logged],
    earning: Earning,
    crew_hours: Decimal,
    *,
    as_laid: Sequence[Task] = (),
    closed: bool = False,
) -> tuple[DayReached, ...]:
    """Return where the work stood at the end of each day that was logged, callbacks left out.

    `as_laid`: the crew's tasks by the plans that are laid now, where these differ.
    """
    counted = [entry for entry in logs if not entry.callback]
    days = sorted({entry.day for entry in counted if entry.hours})
    budget = {(task.code, task.zone): task for task in as_laid or agreed.crews_tasks if task.hours}
    whole = agreed.crews_hours + earning.extra_hours
    planned = _planned(agreed, earning.extra_hours)
    reached, on_site, spent = [], ZERO, ZERO
    for place, day in enumerate(days):
        today = sum((entry.hours for entry in counted if entry.day == day), ZERO)
        on_site, spent = on_site + booked_for(today, crew_hours), spent + today
        until = [entry for entry in counted if entry.day <= day]
        last = closed and place == len(days) - 1
        earned = whole
        if not last:
            beside = sum((entry.hours for entry in until if entry.task_code == OTHER), ZERO)
            earned = _earned(budget, until, counted, closed) + min(beside, earning.extra_hours)
        left = _contribution(earned, whole, spent, earning)
        reached.append(
            DayReached(
                day=day,
                days_on_site=on_site,
                planned=planned[min(place, len(planned) - 1)] if planned else None,
                earned=earned,
                spent=spent,
                contribution=left,
                contribution_per_day=per_day(left, on_site),
            )
        )
    return tuple(reached)


def to_come(
    tasks: Iterable[Task], logs: Sequence[Logged], extra_hours: Decimal = ZERO
) -> dict[Key, Decimal]:
    """Return the hours of each task that are still to be earned; a task that is all done has none.

    `extra_hours` were ordered beside the scope: other work that is logged earns them.
    """
    counted = _by_task(entry for entry in logs if not entry.callback)
    left = {}
    for task in tasks:
        earned = _earned_of(task, counted.get((task.code, task.zone), []))
        left[task.code, task.zone] = max(to_hundredths(task.hours - earned), ZERO)
    beside = sum((entry.hours for entry in counted.get((OTHER, ""), [])), ZERO)
    left[OTHER, ""] = max(extra_hours - beside, ZERO)
    return left


def _earned_of(task: Task, entries: Sequence[Logged]) -> Decimal:
    """Return the hours that a task has earned while the job is open: its rows', or those logged."""
    if _knows_rows(task, entries, closed=False):
        return _of_rows(task, entries)
    return min(task.hours, sum((entry.hours for entry in entries), ZERO))


def _contribution(earned: Decimal, budget: Decimal, spent: Decimal, earning: Earning) -> Decimal:
    """Return what was earned of price and material until then, less the labor spent."""
    share = earned / budget if budget else ONE
    return cents((earning.price - earning.material) * share) - cents(spent * earning.burdened_rate)


def _planned(agreed: FrozenScope, extra: Decimal) -> list[Decimal]:
    """Return the hours planned until the end of each day; none where no days were kept.

    What was ordered beside the scope lies on no day: it is due by the end of the last one.
    """
    reached, hours = [], ZERO
    for day in agreed.schedule.days if agreed.schedule else ():
        hours += day.hours
        reached.append(hours)
    if reached:
        reached[-1] += extra
    return reached


def _earned(
    budget: Mapping[Key, Task], until: Iterable[Logged], logs: Iterable[Logged], closed: bool
) -> Decimal:
    """Return the agreed hours of what is done by then."""
    then, whole = _by_task(until), _by_task(logs)
    earned = ZERO
    for key, task in budget.items():
        entries = then.get(key, [])
        hours = sum((entry.hours for entry in entries), ZERO)
        if _knows_rows(task, whole.get(key, []), closed):
            earned += _of_rows(task, entries)
        elif closed and hours:
            earned += task.hours * hours / sum((entry.hours for entry in whole[key]), ZERO)
        else:
            earned += min(task.hours, hours)
    return to_hundredths(earned)


def _knows_rows(task: Task, entries: Iterable[Logged], closed: bool) -> bool:
    """Whether the log of a task names its rows; of what is closed, all of them."""
    if task.rows is None:
        return False
    down = _down(entries)
    return down >= set(range(task.rows[0], task.rows[1] + 1)) if closed else bool(down)


def _of_rows(task: Task, entries: Iterable[Logged]) -> Decimal:
    """Return the hours of the rows that are down, each once however often it was logged."""
    first = task.rows[0] if task.rows else 1
    by_row = task.hours_by_row
    places = (row - first for row in _down(entries))
    return sum((by_row[place] for place in places if 0 <= place < len(by_row)), ZERO)


def _down(entries: Iterable[Logged]) -> set[int]:
    """Return the rows that entries name."""
    spans = (entry.rows for entry in entries if entry.rows is not None)
    return {row for first, last in spans for row in range(first, last + 1)}


def _by_task(logs: Iterable[Logged]) -> dict[Key, list[Logged]]:
    by_task: dict[Key, list[Logged]] = defaultdict(list)
    for entry in logs:
        if entry.hours or entry.rows:
            by_task[entry.task_code, entry.zone].append(entry)
    return by_task
