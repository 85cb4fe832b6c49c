"""Furniture goes out on the day on which something else is begun in its room, no sooner.

A bedroom or a kitchen that is emptied before is a night lost for nothing. Other rooms may be
emptied on the day before, all of them together. Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import DayRules
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY
from jobs.domain.schedule.step import Step
from jobs.domain.schedule.trade import BEFORE_TEAR_OUT, BEGINS_A_ROOM, OUT


def emptied_in_vain(before: WorkBench, after: WorkBench, rules: DayRules) -> DayRules:
    """Return rules that leave furniture in the rooms to be kept that nothing is begun in this day.

    The same rules where there is none, or where a room takes most of a day until it is empty.
    """
    hands = max(1, sum(map(bool, rules.halves)))
    caps = {
        step.key: before.progress[step.key].done
        for step in emptied(before, after)
        if step.room in rules.kept and not is_begun(step, after)
        if not _takes_long(step, before, hands, max(rules.halves))
    }
    return replace(rules, caps={**rules.caps, **caps}) if caps else rules


def emptied(before: WorkBench, after: WorkBench) -> Iterator[Step]:
    """Yield the furniture that goes out on a day, of rooms in which nothing was begun before."""
    for key in after.outs:
        step = after.steps[key]
        if after.progress[key].done > before.progress[key].done == 0:
            yield step


def is_begun(step: Step, bench: WorkBench) -> bool:
    """Whether its floor comes out in a room, or where it stays what is before its rows is done."""
    here = [s for s in bench.steps.values() if _is_in(s, step) and s.halves]
    torn = [s.key for s in here if s.task.code == "tear_out"]
    works = torn or [s.key for s in here if s.task.code in BEGINS_A_ROOM]
    return any(bench.progress[key].done for key in works) or _has_rows(step, bench)


def _is_in(step: Step, other: Step) -> bool:
    return step.task.zone == other.task.zone and not set(other.rooms).isdisjoint(step.rooms)


def _has_rows(step: Step, bench: WorkBench) -> bool:
    """Whether the first row of one of its rooms is down."""
    for key in bench.rows:
        lay = bench.steps[key]
        if lay.task.zone != step.task.zone:
            continue
        down = lay.task.rows_before + len(bench.progress[key].stops_at)
        if any(s.rows and s.rows[0] <= down for s in lay.task.rooms if s.room in step.rooms):
            return True
    return False


def _takes_long(step: Step, bench: WorkBench, hands: int, halves: int) -> bool:
    """Whether half a day is over before its old floor comes out."""
    before: Sequence[Step] = [
        s for s in bench.steps.values() if _is_in(s, step) and s.task.code in BEFORE_TEAR_OUT
    ]
    return sum(s.clock_halves(hands) for s in before if s.part in ("", OUT)) * 2 > halves


def emptied_days_before(days: Sequence[WorkedDay], start: date) -> dict[str, int]:
    """Return furniture of rooms emptied sooner than the day before something is begun in them.

    By its key the moment before which it stays: the day before that is worked.
    """
    held: dict[str, int] = {}
    for place, day in enumerate(days):
        for step in emptied(day.before, day.after):
            later = (n for n, d in enumerate(days[place:]) if is_begun(step, d.after))
            waits = next(later, 0)
            if waits > 1:
                held[step.key] = (days[place + waits - 1].date - start).days * QUARTERS_A_DAY
    return held
