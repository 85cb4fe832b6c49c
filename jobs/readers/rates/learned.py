"""What the closed jobs of a company teach its rates."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.documents import canonical_json, digest
from jobs.domain.rates.proposals import RateProposal, TaskLearning, learned
from jobs.models import Company
from jobs.readers.rates.anchors import anchored_rates
from jobs.readers.rates.work_done import closed_work


@dataclass(frozen=True, kw_only=True, slots=True)
class LearnedRates:
    """What is learned by task; the jobs left out, since their agreed scope can't be read."""

    tasks: tuple[TaskLearning, ...]
    left_out: tuple[str, ...]

    @property
    def moved(self) -> tuple[RateProposal, ...]:
        """The rates that are proposed otherwise than they count."""
        return tuple(rate for task in self.tasks for rate in task.moved)

    @property
    def seen(self) -> str:
        """The digest of all that is proposed."""
        return digest(canonical_json([plain_rate(rate) for rate in self.moved]))


def plain_rate(rate: RateProposal) -> list[str]:
    """Return what tells a proposal from every other, and what it proposes."""
    return [rate_name(rate), str(rate.before.hours), str(rate.after.hours), str(rate.after.jobs)]


def rate_name(rate: RateProposal) -> str:
    """Return what a form calls a proposed rate: task, driver and item."""
    return f"{rate.after.task_code}:{rate.after.driver}:{rate.after.item}"


def learned_of(company: Company) -> LearnedRates:
    """Return what the logs of all closed jobs of a company teach."""
    work = closed_work(company)
    tasks = learned(anchored_rates(company), work.done)
    return LearnedRates(tasks=tasks, left_out=work.left_out)
