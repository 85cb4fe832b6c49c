"""The scope: what a job is, frozen, between the measuring and the money.

A scope holds the floors (rows and the digest of the plan they were counted from), the quantities,
the tasks with their hours, the days that these were laid onto and the rates that gave them.
Estimates price it, acceptance names it, days and review read it. Once written it is never edited.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import (
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
    require_unique,
)
from jobs.domain.documents import canonical_json, plain, plain_decimal, restore, stored
from jobs.domain.formats import DocumentForm, Fields, adding
from jobs.domain.quantities import Quantity
from jobs.domain.scope.hours import Work
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.scope.schedule import ScopeSchedule, require_laid_out
from jobs.domain.tasks import TASKS, Task, crews_work


def _without_schedule(fields: Fields) -> Fields:
    """A scope of format 1: it kept neither days nor rates, and knew its places by name alone."""
    zones = [zone | {"key": ""} for zone in fields["zones"]]
    return fields | {"zones": zones, "places": [], "schedule": None, "rates": []}


def _without_half_hours(fields: Fields) -> Fields:
    """A scope of format 3: its days knew neither half hours nor rooms, its tasks no shares."""
    newer = dict(fields)
    if "tasks" in newer:
        more = {"rooms": [], "row_hours": [], "people": 1, "passes": 1}
        newer["tasks"] = [task | more for task in newer["tasks"]]
    schedule = newer.get("schedule")
    if schedule is not None:
        days = [
            day | {"parts": [_older_part(part) for part in day["parts"]]}
            for day in schedule["days"]
        ]
        newer["schedule"] = schedule | {"days": days, "older": True, "nights": []}
    return newer


def _without_agreements(fields: Fields) -> Fields:
    """A scope of format 4: its days knew no room that may be open for nights."""
    schedule = fields.get("schedule")
    return fields if schedule is None else fields | {"schedule": schedule | {"agreed": []}}


def _older_part(part: Fields) -> Fields:
    return part | {"booked": None, "rooms": [], "rows": None, "part": ""}


SCOPE = DocumentForm(
    kind="scope",
    word="scope",
    upgrades=(
        _without_schedule,
        adding("left_to_homeowner", None),
        _without_half_hours,
        _without_agreements,
    ),
)


@stored("key name")
@dataclass(frozen=True, kw_only=True, slots=True)
class ScopePlace:
    """A room, doorway or flight of stairs: a key that stays, and the name it had then."""

    key: str
    name: str

    def __post_init__(self) -> None:
        """Refuse a place without a key or a name."""
        require_text("place.key", self.key)
        require_text(f"place {self.key}.name", self.name)


@stored("name rows area_ft2 plan_sha256 product key")
@dataclass(frozen=True, kw_only=True, slots=True)
class ScopeZone:
    """One floor of the scope: its rows, its area in square feet, and the plan it was counted from.

    `plan_sha256` is the digest of the plan's canonical text, 64 hexadecimal digits. `key` stays
    where the floor gets another name; empty in a scope that didn't keep it yet.
    """

    name: str
    rows: int
    area_ft2: Decimal
    plan_sha256: str
    product: str = ""
    key: str = ""

    def __post_init__(self) -> None:
        """Refuse a floor without name, rows or area, and a digest that isn't one."""
        require_text("zone.name", self.name)
        require_number(f"zone {self.name}.rows", self.rows, least=1)
        require_number(f"zone {self.name}.area_ft2", self.area_ft2, above=0)
        if len(self.plan_sha256) != 64 or set(self.plan_sha256) - set("0123456789abcdef"):
            raise BadValueError(
                field=f"zone {self.name}.plan_sha256",
                value=self.plan_sha256,
                accepted="64 lower-case hexadecimal digits",
            )


@stored("zones quantities tasks places schedule rates left_to_homeowner")
@dataclass(frozen=True, kw_only=True, slots=True)
class FrozenScope:
    """The frozen scope of a job.

    `places` are what quantities call their room. `schedule` and the whole set of `rates` that the
    hours were reckoned with; None and () in a scope that didn't keep them yet. `tasks` tell all the
    work; the days hold none of what is `left_to_homeowner` (codes of tasks, None: not kept yet).
    """

    zones: tuple[ScopeZone, ...]
    quantities: tuple[Quantity, ...]
    tasks: tuple[Task, ...]
    places: tuple[ScopePlace, ...] = ()
    schedule: ScopeSchedule | None = None
    rates: tuple[RateUsed, ...] = ()
    left_to_homeowner: tuple[str, ...] | None = ()

    def __post_init__(self) -> None:
        """Refuse what stands twice, a task that waits for nothing known, rows unlike the plan's."""
        require_unique("scope.zones", [zone.name for zone in self.zones])
        require_unique("scope.tasks", [task.key for task in self.tasks])
        require_unique("scope.quantities", [str(entry.key) for entry in self.quantities])
        require_unique("scope.places", [place.key for place in self.places])
        require_unique("scope.left_to_homeowner", self.left)
        for code in self.left:
            require_choice("scope.left_to_homeowner", code, TASKS)
        known = {task.key for task in self.tasks}
        rows = {zone.name: zone.rows for zone in self.zones}
        for task in self.tasks:
            for before in task.after:
                if before not in known:
                    accepted = "a task of this scope"
                    field = f"task {task.key}.after"
                    raise BadValueError(field=field, value=before, accepted=accepted)
            if task.rows is not None and task.rows != (1, rows.get(task.zone)):
                accepted = f"rows 1 to {rows.get(task.zone)}, as in the plan of {task.zone}"
                shown = f"{task.rows[0]} to {task.rows[1]}"
                raise BadValueError(field=f"task {task.key}.rows", value=shown, accepted=accepted)

    @property
    def hours(self) -> Decimal:
        """All man-hours of the scope, the homeowner's too."""
        return sum((task.hours for task in self.tasks), ZERO)

    @property
    def left(self) -> tuple[str, ...]:
        """Codes of the tasks that the homeowner does; none where that was not kept."""
        return self.left_to_homeowner or ()

    @property
    def crews_tasks(self) -> tuple[Task, ...]:
        """The tasks, with those that the homeowner does at no hours of the crew's."""
        return crews_work(self.tasks, self.left)

    @property
    def crews_hours(self) -> Decimal:
        """Man-hours of the crew's own work."""
        return sum((task.hours for task in self.crews_tasks), ZERO)

    @property
    def has_crew(self) -> bool:
        """Whether the crew does any of it; where it does not, there are no days."""
        return bool(self.crews_hours or not self.hours)

    @property
    def area_ft2(self) -> Decimal:
        """Floor area of all zones, square feet."""
        return sum((zone.area_ft2 for zone in self.zones), ZERO)

    def task(self, key: str) -> Task:
        """Return the task with this key; raises BadValueError where there is none."""
        for task in self.tasks:
            if task.key == key:
                return task
        accepted = "one of " + ", ".join(task.key for task in self.tasks)
        raise BadValueError(field="task", value=key, accepted=accepted)


def make_scope(
    zones: Iterable[ScopeZone],
    work: Work,
    *,
    places: Iterable[ScopePlace] = (),
    rates: Iterable[RateUsed] = (),
    left_to_homeowner: Iterable[str] = (),
) -> FrozenScope:
    """Return the scope of these floors with the quantities, tasks and days of `work`."""
    return FrozenScope(
        zones=tuple(zones),
        quantities=work.quantities,
        tasks=work.tasks,
        places=tuple(places),
        schedule=work.schedule,
        rates=tuple(rates),
        left_to_homeowner=tuple(left_to_homeowner),
    )


def scope_document(scope: FrozenScope) -> Fields:
    """Return the scope as a document; the total hours stand in it for the reader."""
    return {**SCOPE.head, "hours": scope.hours, **plain(scope)}


def scope_text(scope: FrozenScope) -> str:
    """Return the canonical text of the scope, which is what is frozen and fingerprinted."""
    return canonical_json(scope_document(scope))


def scope_from(fields: Fields) -> FrozenScope:
    """Return the scope that the fields of a document are.

    Raises BadValueError where they are no scope, its total is not its tasks', or its days hold
    other hours than its tasks have.
    """
    data = dict(fields)
    hours = data.pop("hours", None)
    scope = restore(FrozenScope, data, "scope")
    total = plain_decimal(scope.hours)
    if hours != total:
        accepted = f"{total}, the sum of its tasks"
        raise BadValueError(field="scope.hours", value=hours, accepted=accepted)
    if scope.schedule is not None:
        require_laid_out(scope.schedule, scope.crews_tasks)
    return scope
