"""The scope: what a job is, frozen, between the measuring and the money.

A scope holds the floors (rows and the digest of the plan they were counted from), the quantities
and the tasks with their hours. Estimates price it, acceptance names it, days and review read it.
Once written it is never edited; `scope_changes` says in words what a newer one does differently.
"""

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, TypeVar

from jobs.domain.checks import ZERO, BadValueError, require_number, require_text, require_unique
from jobs.domain.documents import canonical_json, plain, plain_decimal, restore, stored
from jobs.domain.formats import DocumentForm, Fields
from jobs.domain.quantities import Quantity, in_units
from jobs.domain.scope.hours import Work
from jobs.domain.tasks import Task

SCOPE = DocumentForm(kind="scope", word="scope")
Item = TypeVar("Item")


@stored("name rows area_ft2 plan_sha256 product")
@dataclass(frozen=True, kw_only=True, slots=True)
class ScopeZone:
    """One floor of the scope: its rows, its area in square feet, and the plan it was counted from.

    `plan_sha256` is the digest of the plan's canonical text, 64 hexadecimal digits.
    """

    name: str
    rows: int
    area_ft2: Decimal
    plan_sha256: str
    product: str = ""

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


@stored("zones quantities tasks")
@dataclass(frozen=True, kw_only=True, slots=True)
class FrozenScope:
    """The frozen scope of a job."""

    zones: tuple[ScopeZone, ...]
    quantities: tuple[Quantity, ...]
    tasks: tuple[Task, ...]

    def __post_init__(self) -> None:
        """Refuse what stands twice, a task that waits for nothing known, rows unlike the plan's."""
        require_unique("scope.zones", [zone.name for zone in self.zones])
        require_unique("scope.tasks", [task.key for task in self.tasks])
        require_unique("scope.quantities", [str(entry.key) for entry in self.quantities])
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
        """All man-hours of the scope."""
        return sum((task.hours for task in self.tasks), ZERO)

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


def make_scope(zones: Iterable[ScopeZone], work: Work) -> FrozenScope:
    """Return the scope of these floors with the quantities and tasks of `work`."""
    return FrozenScope(zones=tuple(zones), quantities=work.quantities, tasks=work.tasks)


def scope_document(scope: FrozenScope) -> Fields:
    """Return the scope as a document; the total hours stand in it for the reader."""
    return {**SCOPE.head, "hours": scope.hours, **plain(scope)}


def scope_text(scope: FrozenScope) -> str:
    """Return the canonical text of the scope, which is what is frozen and fingerprinted."""
    return canonical_json(scope_document(scope))


def scope_from(fields: Fields) -> FrozenScope:
    """Return the scope that the fields of a document are.

    Raises BadValueError where they are no scope, or its total is not its tasks'.
    """
    data = dict(fields)
    hours = data.pop("hours", None)
    scope = restore(FrozenScope, data, "scope")
    total = plain_decimal(scope.hours)
    if hours != total:
        accepted = f"{total}, the sum of its tasks"
        raise BadValueError(field="scope.hours", value=hours, accepted=accepted)
    return scope


ChangeKind = Literal["added", "removed", "changed"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ScopeChange:
    """One difference between two scopes: what, and how it was and is (None: not there)."""

    kind: ChangeKind
    subject: Literal["floor", "quantity", "task"]
    what: str
    before: str | None
    after: str | None

    @property
    def text(self) -> str:
        """The change in words, for a change order."""
        if self.before is None:
            return f"Added: {self.what}, {self.after}."
        if self.after is None:
            return f"Left out: {self.what}, {self.before}."
        return f"Changed: {self.what}, from {self.before} to {self.after}."


def scope_changes(old: FrozenScope, new: FrozenScope) -> tuple[ScopeChange, ...]:
    """Return what `new` does differently, in the order floors, quantities, tasks; () if nothing.

    A basis told in other words is no change; nor is a fact that nobody pays for.
    """
    floors = _compared(
        "floor", old.zones, new.zones, lambda zone: zone.name, lambda zone: zone.name, _floor_said
    )
    paid = [entry for entry in old.quantities if entry.kind != "fact"]
    now_paid = [entry for entry in new.quantities if entry.kind != "fact"]
    counted = _compared(
        "quantity",
        paid,
        now_paid,
        lambda entry: entry.key,
        lambda entry: entry.where,
        lambda entry: in_units(entry.amount, entry.unit),
    )
    tasks = _compared("task", old.tasks, new.tasks, lambda task: task.key, _task_named, _task_said)
    return (*floors, *counted, *tasks)


def _floor_said(zone: ScopeZone) -> str:
    product = f" of {zone.product}" if zone.product else ""
    rows = in_units(Decimal(zone.rows), "row")
    return f"{in_units(zone.area_ft2, 'ft2')}{product} in {rows}, plan {zone.plan_sha256[:8]}"


def _task_named(task: Task) -> str:
    return f"{task.label} ({task.zone})" if task.zone else task.label


def _task_said(task: Task) -> str:
    held = f", held by {', '.join(task.hold_points)}" if task.hold_points else ""
    return f"{task.hours} h{held}"


def _compared(
    subject: Literal["floor", "quantity", "task"],
    old: Sequence[Item],
    new: Sequence[Item],
    key: Callable[[Item], Hashable],
    named: Callable[[Item], str],
    said: Callable[[Item], str],
) -> list[ScopeChange]:
    before: Mapping[Hashable, Item] = {key(item): item for item in old}
    after: Mapping[Hashable, Item] = {key(item): item for item in new}
    changes: list[ScopeChange] = []
    for each in dict.fromkeys((*before, *after)):
        was, now = before.get(each), after.get(each)
        was_said = None if was is None else said(was)
        now_said = None if now is None else said(now)
        if was_said == now_said:
            continue
        kind: ChangeKind = "changed"
        if was is None or now is None:
            kind = "added" if was is None else "removed"
        shown = now if now is not None else before[each]
        changes.append(
            ScopeChange(
                kind=kind, subject=subject, what=named(shown), before=was_said, after=now_said
            )
        )
    return changes
