"""What one scope does differently from another, in words, for a change order.

A name is no scope: a room, doorway, stair or floor that is merely called otherwise differs in
nothing. It is known by its key; where an older scope kept none, by what is counted of it.
"""

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal, TypeVar

from jobs.domain.checks import ZERO
from jobs.domain.quantities import CATALOG, Quantity, in_units
from jobs.domain.scope.changed.by_job import comparable
from jobs.domain.scope.changed.renamed import named_as
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from jobs.domain.tasks import HAULING, Task

Item = TypeVar("Item")
ChangeKind = Literal["added", "removed", "changed"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ScopeChange:
    """One difference between two scopes: what, and how it was and is (None: not there)."""

    kind: ChangeKind
    subject: Literal["floor", "quantity", "task", "split"]
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
    """Return what `new` does differently, in order: floors, quantities, tasks, who does them.

    A basis told in other words is no change; nor is a fact that nobody pays for, another name, or
    what an older scope did not count yet or counted floor by floor.
    """
    old = named_as(old, new)
    floors = _compared(
        "floor", old.zones, new.zones, lambda zone: zone.name, lambda zone: zone.name, _floor_said
    )
    known = _counts_alike(old, new)
    were, are = comparable(old.quantities, new.quantities)
    now_paid = [entry for entry in are if entry.kind != "fact" and known(entry.code)]
    was_paid = [entry for entry in were if entry.kind != "fact" and known(entry.code)]
    paid = by_job(was_paid, now_paid)
    counted = _compared(
        "quantity",
        paid,
        now_paid,
        lambda entry: entry.key,
        lambda entry: entry.where,
        lambda entry: in_units(entry.amount, entry.unit),
    )
    was_work = [task for task in old.tasks if known(task.code)]
    work = [task for task in new.tasks if known(task.code)]
    tasks = _compared("task", was_work, work, lambda task: task.key, _task_named, _task_said)
    return (*floors, *counted, *tasks, *_split(old, new))


def _split(old: FrozenScope, new: FrozenScope) -> list[ScopeChange]:
    """Return of which work the crew and the homeowner have changed places."""
    there = {task.code for task in old.tasks if task.hours}
    labels = {task.code: task.label for task in new.tasks if task.hours and task.code in there}
    return [
        ScopeChange(
            kind="changed", subject="split", what=label, before=_done_by(old, code), after=now
        )
        for code, label in labels.items()
        if (now := _done_by(new, code)) != _done_by(old, code)
    ]


def _done_by(scope: FrozenScope, code: str) -> str:
    return "done by the homeowner" if code in scope.left else "done by the crew"


def _counts_alike(old: FrozenScope, new: FrozenScope) -> Callable[[str], bool]:
    """Return whether both scopes count what has a code: one without days knew no hauling."""
    if old.schedule is None and new.schedule is not None:
        return lambda code: code not in (*HAULING, "pick_ups", "dump_runs")
    return lambda code: True


def by_job(old: Sequence[Quantity], new: Sequence[Quantity]) -> list[Quantity]:
    """Return `old` with what `new` counts once a job summed up from the floors it stood at.

    Packs that were rounded up floor by floor are as many as the job's where they are only more, and
    by less than one a floor.
    """
    once = {(entry.code, entry.item): entry for entry in new if not entry.zone and not entry.room}
    at_floors: dict[tuple[str, str], list[Quantity]] = {}
    summed: list[Quantity] = []
    for entry in old:
        key = (entry.code, entry.item)
        if key in once and (entry.zone or entry.room):
            at_floors.setdefault(key, []).append(entry)
        else:
            summed.append(entry)
    for key, entries in at_floors.items():
        amount = sum((entry.amount for entry in entries), ZERO)
        whole = CATALOG[key[0]].whole
        rounded_up = whole and 0 <= amount - once[key].amount < len(entries)
        summed.append(replace(once[key], amount=once[key].amount if rounded_up else amount))
    return summed


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
