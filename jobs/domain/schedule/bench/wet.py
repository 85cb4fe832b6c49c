"""Where old floor comes out beside leveler that was poured on the same day."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.step import Step


def dusty_pours(days: Sequence[WorkedDay], steps: Mapping[str, Step]) -> int:
    """Return on how many days old floor comes out on a story after leveler was poured there."""
    return sum(_is_dusty(day, steps) for day in days)


def _is_dusty(day: WorkedDay, steps: Mapping[str, Step]) -> bool:
    poured: dict[str, int] = {}
    for spell in day.spells:
        task = steps[spell.key].task
        if task.code == "level":
            poured[task.zone] = min(spell.ends, poured.get(task.zone, spell.ends))
    return any(
        steps[spell.key].task.code == "tear_out"
        and spell.ends > poured.get(steps[spell.key].task.zone, spell.ends)
        for spell in day.spells
    )


def torn_beside(pour: Step, bench: WorkBench, order: Sequence[str]) -> Iterator[str]:
    """Yield the tear-out that is still to be done on the story of a pour."""
    for key in order:
        task = bench.steps[key].task
        beside = (task.code, task.zone) == ("tear_out", pour.task.zone)
        if beside and bench.progress[key].done_at is None:
            yield key


def halves_to_pour(
    pour: Step, bench: WorkBench, levelers: Sequence[str], hands: Callable[[Step], int]
) -> int:
    """Return the half hours on the clock that all leveler of a pour's story takes."""
    steps = (bench.steps[key] for key in levelers)
    return sum(s.clock_halves(hands(s)) for s in steps if s.task.zone == pour.task.zone)
