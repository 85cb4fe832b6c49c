"""What a passport tells otherwise than it did before, in words. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from estimates.domain.passport.content import FloorTold, PassportContent, ReadingTold


def changes_since(before: PassportContent, now: PassportContent) -> tuple[str, ...]:
    """Return a sentence for each thing that is told otherwise; the days of telling aside."""
    return tuple(_changes(before, now))


def _changes(before: PassportContent, now: PassportContent) -> Iterator[str]:
    earlier = {floor.name: floor for floor in before.floors}
    for floor in now.floors:
        if floor.name in earlier:
            yield from _of_floor(earlier[floor.name], floor)
        else:
            yield f"{floor.name}: told of for the first time."
    later = {floor.name for floor in now.floors}
    yield from (f"{name}: told of no more." for name in earlier if name not in later)
    yield from _of_readings(before, now)
    if before.warranty != now.warranty:
        yield f"Warranty: {now.warranty or 'none of its own'}"
    if before.site != now.site:
        yield f"Address: {now.site}"
    if before.done_on != now.done_on:
        yield "Signed off." if now.done_on else "Not signed off any more."


def _of_floor(before: FloorTold, now: FloorTold) -> Iterator[str]:
    name = now.name
    if (before.product, before.kind, before.glued) != (now.product, now.kind, now.glued):
        yield f"{name}: product {now.product}{', ' if now.kind else ''}{now.kind}."
    if (before.plan, before.request, before.rooms) != (now.plan, now.request, now.rooms):
        yield f"{name}: laid otherwise, as its map of that day shows."
    if before.lots != now.lots:
        yield f"{name}: lot {', '.join(now.lots) or 'not noted'}."
    if before.attic != now.attic:
        yield f"{name}: in the attic {_attic(now)}, before {_attic(before)}."
    elif before.planned_spares != now.planned_spares:
        was = before.planned_spares
        yield f"{name}: planned beyond the floor {now.planned_spares}, before {was}."
    if before.care != now.care:
        yield f"{name}: the words on care are others."


def _of_readings(before: PassportContent, now: PassportContent) -> Iterator[str]:
    yield from (f"Reading added: {_reading(r)}." for r in now.readings if r not in before.readings)
    gone = (reading for reading in before.readings if reading not in now.readings)
    yield from (f"Reading taken back: {_reading(reading)}." for reading in gone)


def _reading(reading: ReadingTold) -> str:
    where = f", {reading.where}" if reading.where else ""
    return f"{reading.method} {reading.value}{where}"


def _attic(floor: FloorTold) -> str:
    said = [
        f"{left.planks} plank{'s' if left.planks != 1 else ''}"
        + (f" of lot {left.lot}" if left.lot else "")
        for left in floor.attic
    ]
    return " and ".join(said) or "none noted"
