"""The drawing that a homeowner gets of the floors that are quoted, from their stored plans."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.models import FloorPlan
from jobs.readers.floors.floors import place_of, placed_room
from jobs.readers.stored_plan import stored_plan
from layout.drawing.homeowner import ShownRoom, draw_for_homeowner


def homeowner_drawing(plans: Iterable[FloorPlan]) -> str:
    """Return one SVG a floor, one after the other; raises as `stored_plan`."""
    return "".join(_drawn(plan) for plan in plans)


def _drawn(plan: FloorPlan) -> str:
    stored = stored_plan(plan)
    rows = sorted(plan.zone.rooms.all(), key=lambda room: (room.order, room.pk))
    rooms = tuple(
        ShownRoom(name=room.name, ring=placed_room(room, place_of(room, alone=len(rows) == 1)).ring)
        for room in rows
    )
    return draw_for_homeowner(
        stored.request, stored.plan, rooms, title=plan.zone.name, ident=f"quoted-{plan.pk}"
    )
