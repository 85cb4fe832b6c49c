"""Where a day leaves off: at a whole row, with the old floor at the dump that came out on it.

The truck leaves as late as it can be back before the crew goes home. Only what the runs that are
left can't take, or a day can't hold, stands on the truck overnight.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.emptied import emptied_in_vain
from jobs.domain.schedule.bench.half_hours import work
from jobs.domain.schedule.bench.values import DayRules
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_HALF

EARLIER_HALVES = 8
"""By how much sooner the truck is tried to leave, where somebody is in the midst of other work."""


def day_by(rules: DayRules, before: WorkBench, day: date) -> WorkedDay | None:
    """Return a day worked by these rules, each step left at a stop; None: there is no work."""
    while True:
        after = before.copy()
        spells = work(after, rules)
        if not spells:
            return None
        caps = caps_of(before, after, rules)
        if caps == rules.caps:
            kept = emptied_in_vain(before, after, rules)
            if kept == rules:
                break
            rules = kept
            continue
        rules = replace(rules, caps=caps)
    return WorkedDay(date=day, opens=rules.opens, spells=tuple(spells), before=before, after=after)


def stands_overnight(made: WorkedDay) -> bool:
    """Whether old floor that came out on this day is not at the dump when it ends."""
    truck = made.after.truck
    came_out = truck.out > made.before.truck.out
    return bool(truck.runs) and came_out and bool(truck.loaded or _runs_left(made, all_out=True))


def _runs_left(made: WorkedDay, *, all_out: bool) -> list[str]:
    """Return the runs that are still to be driven; those of `all_out` only where all is out."""
    truck, progress = made.after.truck, made.after.progress
    if all_out and truck.out < truck.all_of_it:
        return []
    return [key for key in truck.runs if progress[key].done_at is None]


def rules_with_runs(made: WorkedDay, rules: DayRules) -> Iterator[tuple[DayRules, bool]]:
    """Yield rules for the same day on which the truck leaves in time, and if all must be gone then.

    All of it first, where it may come out on this day; then one run with what comes out until it
    leaves, the latest first. Where only the last run is left and little would come out until it
    leaves, nothing does before the day that holds all of it.
    """
    truck, steps = made.after.truck, made.after.steps
    before = made.before.progress
    left = [key for key in truck.runs if before[key].done_at is None]
    all_out = truck.out >= truck.all_of_it
    most = max(rules.halves)
    if all_out and left:
        if len(left) > 1:
            yield replace(rules, by_load=True), True
        latest = most - sum(steps[key].halves for key in left)
        for sooner in range(min(EARLIER_HALVES, max(0, latest))):
            yield replace(rules, leaves=latest - sooner, by_load=len(left) > 1), True
    if len(left) > 1:
        latest = most - steps[left[0]].halves
        for sooner in range(min(EARLIER_HALVES, max(0, latest))):
            yield replace(rules, leaves=latest - sooner), False
    elif _is_little(made, rules) and _fits_one_day(made, rules):
        yield replace(rules, leaves=0), False


def _is_little(made: WorkedDay, rules: DayRules) -> bool:
    """Whether less comes out on a day than the hours of the run that would drive it off."""
    truck = made.after.truck
    run = max((made.after.steps[key].halves for key in truck.runs), default=0)
    leaves = rules.opens + (max(rules.halves) - run) * QUARTERS_A_HALF
    spent = (min(s.ends, leaves) - s.begins for s in made.spells if s.key in truck.old_floor)
    return sum(quarters for quarters in spent if quarters > 0) < run * QUARTERS_A_HALF


def scant_runs(days: Sequence[WorkedDay]) -> int:
    """Return how many days drive off less old floor than their run takes hours, but the last.

    What is left over at the end must go, however little it is.
    """
    return sum(map(_drives_little, [day for day in days if _runs_of(day)][:-1]))


def _runs_of(day: WorkedDay) -> list[int]:
    """Return how long the runs of a day are, in quarters of an hour."""
    runs = day.after.truck.runs
    return [spell.ends - spell.begins for spell in day.spells if spell.key in runs]


def _drives_little(day: WorkedDay) -> bool:
    old_floor = day.after.truck.old_floor
    out = sum(spell.ends - spell.begins for spell in day.spells if spell.key in old_floor)
    return out < max(_runs_of(day))


def _fits_one_day(made: WorkedDay, rules: DayRules) -> bool:
    """Whether all old floor that is in the house comes out and is driven off on one day."""
    bench, truck = made.before, made.before.truck
    if truck.loaded:
        return False
    out = 0
    for key in truck.old_floor:
        step, hands = bench.steps[key], sum(map(bool, rules.halves))
        out += -(-(step.halves - bench.progress[key].done) // min(step.most, hands))
    runs = (bench.steps[key] for key in truck.runs if bench.progress[key].done_at is None)
    return out + sum(step.halves for step in runs) <= max(rules.halves)


def best_with_runs(
    made: WorkedDay, rules: DayRules, day: date, *, patient: bool = False
) -> WorkedDay:
    """Return the day on which what comes out is driven off; as it was made where none is.

    Who is `patient` rather tears nothing out than little.
    """
    first = [(replace(rules, leaves=0), False)] if patient and _is_little(made, rules) else []
    for one, all_gone in (*first, *rules_with_runs(made, rules)):
        tried = day_by(one, made.before, day)
        if tried is None or stands_overnight(tried):
            continue
        if not all_gone or tried.after.truck.out >= tried.after.truck.all_of_it:
            return tried
    return made


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
