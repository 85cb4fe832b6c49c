"""A day as it was worked on the bench."""

from dataclasses import dataclass
from datetime import date

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import WorkSpell
from jobs.domain.schedule.halves import QUARTERS_A_HALF


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkedDay:
    """One day as it was worked on the bench: who did what, and how far all was before and after."""

    date: date
    opens: int
    spells: tuple[WorkSpell, ...]
    before: WorkBench
    after: WorkBench

    @property
    def waits(self) -> bool:
        """Whether something only waits for the clock when the day ends."""
        now = max(spell.ends for spell in self.spells)
        return any(
            it.done_at is None and (moment := self.after.ready_at(key)) is not None and moment > now
            for key, it in self.after.progress.items()
        )

    @property
    def on_site(self) -> int:
        """Half hours between the first stroke and the last."""
        begins = min(spell.begins for spell in self.spells)
        return (max(spell.ends for spell in self.spells) - begins) // QUARTERS_A_HALF
