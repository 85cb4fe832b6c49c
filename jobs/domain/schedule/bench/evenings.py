"""What a lead shakes his head at: going home early, flooring that rides to the dump."""

from collections.abc import Sequence
from itertools import pairwise

from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_HALF
from jobs.domain.schedule.planning import LEAST_HALVES, Setting

DUST = ("tear_out", "undercut", "prep")
"""What is done before the evening where it fits in, rather than begun the next morning."""


def early_evenings(days: Sequence[WorkedDay], setting: Setting) -> int:
    """Return how many days end before their time with dust left that their rest would hold.

    That is what the next day begins with, a run to the dump counted where none leaves on the day;
    not in rooms that somebody lives by, nor where the next day would not be worth the drive.
    """
    return sum(
        _goes_home_early(day, following, setting) for day, following in pairwise(days)
    )  # fmt: skip


def rides_along(days: Sequence[WorkedDay]) -> bool:
    """Whether flooring is still on the truck when that leaves for the dump with old floor."""
    runs, carried = [], []
    for spell in (spell for day in days for spell in day.spells):
        step = days[-1].after.steps[spell.key]
        if step.load and step.halves:
            runs.append(spell.begins)
        elif step.task.code == "carry":
            carried.append(spell.ends)
    return bool(runs and carried) and max(carried) > min(runs)


def _goes_home_early(day: WorkedDay, following: WorkedDay, setting: Setting) -> bool:
    closes = day.opens + max(setting.team.halves(day.date)) * QUARTERS_A_HALF
    left = (closes - max(spell.ends for spell in day.spells)) // QUARTERS_A_HALF
    begins = min(spell.begins for spell in following.spells)
    for spell in following.spells:
        step = following.after.steps[spell.key]
        if spell.begins > begins or step.use or step.task.code not in DUST:
            continue
        takes = (spell.ends - spell.begins) // QUARTERS_A_HALF
        stays = following.on_site - takes
        if step.task.code == "tear_out":
            takes += _a_run(day)
        if takes <= left and stays >= LEAST_HALVES:
            return True
    return False


def _a_run(day: WorkedDay) -> int:
    """Return the half hours of a run to the dump; none where the truck leaves anyhow."""
    runs = day.after.truck.runs
    if any(spell.key in runs for spell in day.spells):
        return 0
    return min((day.after.steps[key].halves for key in runs), default=0)
