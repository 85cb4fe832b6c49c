"""Whether more old floor comes out on a day: the truck doesn't wait for what can't."""

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import DayRules
from jobs.domain.schedule.halves import QUARTERS_A_HALF


def comes_out_today(key: str, bench: WorkBench, rules: DayRules) -> bool:
    """Whether more of some old floor may still come out on this day, all before it done first."""
    undone = [key]
    for one in undone:
        if not _may_be_done(one, bench, rules):
            return False
        waits = bench.steps[one].waits_for
        undone += [k for k in waits if bench.progress[k].done_at is None and k not in undone]
    return True


def _may_be_done(key: str, bench: WorkBench, rules: DayRules) -> bool:
    cap, step, it = rules.caps.get(key), bench.steps[key], bench.progress[key]
    if it.done_at is not None or (cap is not None and it.done >= cap):
        return False
    room = bench.guarded.get(key)
    last = rules.opens + max(rules.halves) * QUARTERS_A_HALF
    held = max(bench.held.get(key, 0), bench.not_before.get(step.task.key, 0))
    return (room is None or room in rules.rooms) and held < last
