"""Days that one of a crew drives out for: nobody else has to come for two hours of paint."""

from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_HALF


def is_for_one(day: WorkedDay, halves: int) -> bool:
    """Whether a crew does nothing but paint on a day, and one person has the half hours for it."""
    steps = day.after.steps
    people = {spell.person for spell in day.spells}
    spent = sum(spell.ends - spell.begins for spell in day.spells)
    paints = all(steps[spell.key].task.code == "paint" for spell in day.spells)
    return paints and len(people) > 1 and spent <= halves * QUARTERS_A_HALF


def is_the_same_work(day: WorkedDay, other: WorkedDay) -> bool:
    """Whether two days end with the same done, none of it too late for the work after them."""
    return day.date == other.date and all(
        it.done == other.after.progress[key].done for key, it in day.after.progress.items()
    )
