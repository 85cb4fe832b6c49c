"""Production rates as a scope keeps them: the whole set it was made with, as values that stay."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.documents import stored
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.tasks import TASKS


@stored("task driver item hours per source jobs since")
@dataclass(frozen=True, kw_only=True, slots=True)
class RateUsed:
    """A production rate as it stood; `since` is the day it was set, empty for a starting rate."""

    task: str
    driver: str
    item: str
    hours: Decimal
    per: Decimal
    source: str
    jobs: int
    since: str

    @property
    def task_label(self) -> str:
        """The task in words; its code where no such task is left."""
        return TASKS[self.task].label if self.task in TASKS else self.task

    @property
    def unit(self) -> str:
        """The unit that the driver is counted in; empty where no such driver is left."""
        return CATALOG[self.driver].unit if self.driver in CATALOG else ""

    @property
    def key(self) -> tuple[str, str, str]:
        """What tells it from every other rate of its set: task, driver, item."""
        return self.task, self.driver, self.item

    @property
    def counts(self) -> bool:
        """Whether such a task with such a driver is still known."""
        return self.task in TASKS and self.driver in TASKS[self.task].drivers


def rate_used(rate: ProductionRate, since: str) -> RateUsed:
    """Return a production rate as it is kept, with the day on which it was set."""
    return RateUsed(
        task=rate.task_code,
        driver=rate.driver,
        item=rate.item,
        hours=rate.hours,
        per=rate.per,
        source=rate.source,
        jobs=rate.jobs,
        since=since,
    )


def as_rate(used: RateUsed) -> ProductionRate:
    """Return a kept rate to reckon with. Raises BadValueError where no such task is left."""
    return ProductionRate(
        task_code=used.task,
        driver=used.driver,
        item=used.item,
        hours=used.hours,
        per=used.per,
        source=used.source,
        jobs=used.jobs,
    )


def kept_over(rates: Iterable[RateUsed], kept: Iterable[RateUsed]) -> tuple[RateUsed, ...]:
    """Return the rates that were kept, and of `rates` those for work that had none then.

    A trip is no work: what it takes is said with the crew.
    """
    frozen = [rate for rate in kept if rate.counts and rate.task != "travel"]
    covered = {(rate.task, rate.driver) for rate in frozen}
    return (*frozen, *(rate for rate in rates if (rate.task, rate.driver) not in covered))
