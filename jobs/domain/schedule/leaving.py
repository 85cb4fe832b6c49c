"""Where a day leaves off: at a whole row, with the old floor hauled out of the house.

Nobody goes home early to keep some tear-out for the day of the run to the dump: a load that is not
driven off the same day goes first thing the next morning.
"""

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import DayRules


def caps_of(before: WorkBench, after: WorkBench, rules: DayRules) -> dict[str, int]:
    """Return how far steps may go this day so that each ends at a stop; the same where all do.

    A part between two stops that no whole day holds may be left in its midst. Where a run to the
    dump is not done this day, its driver is there for a pour that was short of hands.
    """
    caps = dict(rules.caps)
    for key, it in after.progress.items():
        step = after.steps[key]
        if not step.stops or it.done == before.progress[key].done:
            continue
        behind = len(it.stops_at)
        at = step.stops[behind - 1].halves if behind else 0
        if it.done == at:
            continue
        if step.stops[behind].halves - at > after.whole_day(step, rules.halves):
            continue
        caps[key] = max(at, before.progress[key].done)
    if any(after.steps[key].task.code == "dump_run" for key in caps.keys() - rules.caps.keys()):
        left = [key for key in caps if after.steps[key].task.code != "level" or key in rules.caps]
        return {key: caps[key] for key in left}
    return caps
