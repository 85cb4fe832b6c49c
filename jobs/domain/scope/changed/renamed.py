"""An older scope under the names that its floors and places have in a newer one."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from jobs.domain.tasks import Task, task_key

Names = Mapping[str, str]
Signature = frozenset[tuple[str, str, str, Decimal]]


def named_as(old: FrozenScope, new: FrozenScope) -> FrozenScope:
    """Return `old` with its floors and places called as `new` calls them.

    They are known by their keys; without keys a name that is gone is the new one of which the very
    same is counted.
    """
    zones = _apart(_zone_names(old, new), [zone.name for zone in old.zones])
    named = _under_zones(old, zones)
    places = _apart(_place_names(named, new), [entry.room for entry in named.quantities])
    quantities = [replace(e, room=places.get(e.room, e.room)) for e in named.quantities]
    return replace(named, quantities=tuple(quantities))


def _apart(names: Names, all_names: list[str]) -> Names:
    """Return new names by old ones; a name that another one takes over gets one of its own."""
    taken = {new for before, new in names.items() if before != new}
    left = [name for name in dict.fromkeys(all_names) if name not in names and name in taken]
    return dict(names) | {name: f"{name}, as it was" for name in left}


def _zone_names(old: FrozenScope, new: FrozenScope) -> Names:
    by_key = {zone.key: zone.name for zone in new.zones if zone.key}
    names = {zone.name: by_key[zone.key] for zone in old.zones if zone.key in by_key}
    gone = [zone for zone in old.zones if not zone.key and zone.name not in _zones(new)]
    fresh = [zone for zone in new.zones if zone.name not in _zones(old)]
    for zone in gone:
        alike = next((entry for entry in fresh if _same_floor(zone, entry)), None)
        if alike is not None:
            names[zone.name] = alike.name
            fresh.remove(alike)
    return names


def _zones(scope: FrozenScope) -> set[str]:
    return {zone.name for zone in scope.zones}


def _same_floor(one: ScopeZone, other: ScopeZone) -> bool:
    return (one.plan_sha256, one.product) == (other.plan_sha256, other.product)


def _under_zones(scope: FrozenScope, names: Names) -> FrozenScope:
    """Return a scope with its floors called otherwise, wherever they are named."""
    keys = {task.key: task_key(task.code, names.get(task.zone, task.zone)) for task in scope.tasks}
    return replace(
        scope,
        zones=tuple(replace(zone, name=names.get(zone.name, zone.name)) for zone in scope.zones),
        quantities=tuple(replace(e, zone=names.get(e.zone, e.zone)) for e in scope.quantities),
        tasks=tuple(_task_under(task, names, keys) for task in scope.tasks),
    )


def _task_under(task: Task, names: Names, keys: Names) -> Task:
    zone = names.get(task.zone, task.zone)
    return replace(task, zone=zone, after=tuple(keys[key] for key in task.after))


def _place_names(old: FrozenScope, new: FrozenScope) -> Names:
    by_key = {place.key: place.name for place in new.places}
    names = {place.name: by_key[place.key] for place in old.places if place.key in by_key}
    if old.places:
        return names
    before, after = _work_by_room(old), _work_by_room(new)
    fresh = {name: work for name, work in after.items() if name not in before}
    for name, work in before.items():
        if name in after:
            continue
        alike = next((other for other, counted in fresh.items() if counted == work), None)
        if alike is not None:
            names[name] = alike
            del fresh[alike]
    return names


def _work_by_room(scope: FrozenScope) -> dict[str, Signature]:
    """Return what is to be done in each place, from which a place without a key is known."""
    by_room: dict[str, set[tuple[str, str, str, Decimal]]] = {}
    for entry in scope.quantities:
        if entry.room and entry.kind == "work":
            by_room.setdefault(entry.room, set()).add(_counted(entry))
    return {room: frozenset(work) for room, work in by_room.items()}


def _counted(entry: Quantity) -> tuple[str, str, str, Decimal]:
    return entry.code, entry.zone, entry.item, entry.amount
