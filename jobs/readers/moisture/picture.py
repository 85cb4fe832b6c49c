"""The moisture readings of a job on its rooms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jobs.domain.floors.place import placed
from jobs.domain.site.moisture import METHODS, Reading
from jobs.domain.site.read_rooms import rooms_read
from jobs.models import Job, Room
from jobs.readers.floors.floors import place_of
from jobs.readers.site import moisture_limits
from layout.drawing.pictures.moisture import ReadRoom, draw_readings
from layout.values.outline import Ring

_BETWEEN = 0.08  # of what stands drawn already, from one floor's rooms to the next one's


@dataclass(frozen=True, slots=True, kw_only=True)
class MoisturePicture:
    """The readings on the rooms as SVG, and how many name no room."""

    svg: str
    elsewhere: int


def moisture_picture(job: Job, readings: Sequence[Reading]) -> MoisturePicture | None:
    """Return the rooms of a job with the readings taken in each, None without a room or a reading.

    Rooms of one floor lie as they are placed in it, floors and other rooms beside each other.
    """
    rooms = list(job.rooms.all())
    drawn = [room for room in rooms if len(room.outline) > 2]
    if not drawn or not readings:
        return None
    read = rooms_read([room.name for room in drawn], readings)
    limits = moisture_limits(job)
    shown = [
        ReadRoom(
            name=room.name[:24],
            ring=ring,
            readings=tuple(
                _words(one, over=one.method in limits and one.value > limits[one.method])
                for one in read[place]
            ),
        )
        for place, (room, ring) in enumerate(zip(drawn, _laid_out(drawn), strict=True))
    ]
    placed_count = sum(len(of_room) for of_room in read)
    svg = draw_readings(shown, title="Moisture readings on the plan")
    return MoisturePicture(svg=svg, elsewhere=len(readings) - placed_count)


def _words(reading: Reading, *, over: bool) -> str:
    """Return a reading as it stands in its room: the value, whether it is over the limit."""
    unit = METHODS[reading.method].unit.split(" per ")[0]
    value = f"{reading.value.normalize():f} {unit}".strip()
    return f"{value}, over" if over else value


def _laid_out(rooms: Sequence[Room]) -> Iterator[Ring]:
    """Yield the outline of each room: those of a floor as placed, the next one to its right."""
    groups: dict[tuple[str, int], list[Room]] = {}
    for room in rooms:
        key = ("floor", room.zone_id) if room.zone_id else ("room", room.pk)
        groups.setdefault(key, []).append(room)
    rings: dict[int, Ring] = {}
    edge = 0.0
    for members in groups.values():
        lying = {room.pk: _ring(room, alone=len(members) == 1) for room in members}
        xs = [x for ring in lying.values() for x, _ in ring]
        low = min(y for ring in lying.values() for _, y in ring)
        off = edge - min(xs)
        rings |= {pk: tuple((x + off, y - low) for x, y in ring) for pk, ring in lying.items()}
        edge += (max(xs) - min(xs)) * (1 + _BETWEEN)
    yield from (rings[room.pk] for room in rooms)


def _ring(room: Room, *, alone: bool) -> Ring:
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    return placed(ring, place_of(room, alone=alone))
