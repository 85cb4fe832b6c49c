"""What one stretch of work took: hours of a task, and so much of each thing that drives them."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError, require_choice, require_number, require_text
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.tasks import TASKS

Driver = tuple[str, str]
"""What drives hours: the code of a quantity and its item (the old floor, the profile), or ""."""

MOST_HOURS = 24 * 12
"""Man-hours of a day that twelve people could log; what is beyond is a slip of the pen."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkDone:
    """Man-hours logged for a task on so many days, and the amounts that were done in them.

    `log` is what it is called where people read of it; `job` tells which stretches belong together;
    `closed` is the day on which that job was closed.
    """

    log: str
    job: str
    closed: str
    task_code: str
    amounts: Mapping[Driver, Decimal]
    hours: Decimal
    days: int = 1

    def __post_init__(self) -> None:
        """Refuse work of no known task, hours or amount, and more hours than a day has."""
        require_text("work.log", self.log)
        require_choice("work.task_code", self.task_code, TASKS)
        require_number(f"{self.log}.days", self.days, least=1)
        require_number(f"{self.log}.hours", self.hours, above=0, most=MOST_HOURS * self.days)
        for (code, _), amount in self.amounts.items():
            require_choice(f"{self.log}.driver", code, TASKS[self.task_code].drivers)
            require_number(f"{self.log}.{code}", amount, least=0)
        if not sum(self.amounts.values(), ZERO):
            accepted = "an amount of what was done"
            raise BadValueError(field=self.log, value="none", accepted=accepted)


@dataclass(frozen=True, kw_only=True, slots=True)
class AnchoredRate:
    """A rate as it counts now, and what it was before anything was learned: set by hand or default.

    `since` is the day on which it was set by hand, empty for a default: what closed by then was
    known to whoever set it, and does not count against it.
    """

    now: ProductionRate
    anchor: ProductionRate
    since: str = ""

    def knew(self, work: WorkDone) -> bool:
        """Whether that work was done by when the rate was set by hand."""
        return bool(self.since) and work.closed <= self.since
