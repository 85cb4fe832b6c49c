"""Where a day leaves off: at a whole row, with the old floor hauled away and driven to the dump."""

from collections.abc import Sequence

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import DayRules

LEAST_TORN = 4
"""Half hours of tear-out that the day of the last load holds beside its runs to the dump."""


def caps_of(
    before: WorkBench, after: WorkBench, rules: DayRules, dumps: Sequence[str]
) -> dict[str, int]:
    """Return how far steps may go this day so that each ends at a stop; the same where all do.

    A part between two stops that no whole day holds may be left in its midst.
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
    if caps == rules.caps:
        caps |= _till_the_dump(before, after, rules, dumps)
    return caps


def _till_the_dump(
    before: WorkBench, after: WorkBench, rules: DayRules, dumps: Sequence[str]
) -> dict[str, int]:
    """Return caps that leave some tear-out for the day on which its load is driven away."""
    open_runs = [key for key in dumps if after.progress[key].done_at is None]
    torn = [key for key, step in after.steps.items() if step.stops and step.task.code == "tear_out"]
    if not open_runs or not torn or any(after.progress[k].done_at is None for k in torn):
        return {}
    if any(after.progress[key].done > before.progress[key].done for key in open_runs):
        return {}
    runs = sum(after.steps[run].halves for run in open_runs)
    if runs + LEAST_TORN > max(rules.halves):  # runs of a whole day have a day of their own
        return {}
    for key in _latest_first(after, torn):
        was, now = before.progress[key].done, after.progress[key].done
        if now > was:
            earlier = [stop.halves for stop in after.steps[key].stops if was < stop.halves < now]
            rest = -(-(after.steps[key].halves - was) // after.steps[key].most)
            if earlier or rest + runs < min(halves for halves in rules.halves if halves):
                return {key: max([was, *earlier])}
    return {}


def _latest_first(after: WorkBench, torn: Sequence[str]) -> list[str]:
    """Return tear-out by what may best be left for another day.

    That is what came last: on the story where the crew is, in no room that leveler waits for.
    """
    ends = {key: after.progress[key].done_at or 0 for key in torn}
    here = after.steps[max(torn, key=ends.__getitem__)].task.zone
    return sorted(
        torn,
        key=lambda key: (
            after.steps[key].task.zone != here, key in after.before_pours, -ends[key]
        ),
    )  # fmt: skip
