"""One day of a packet: tasks with hours, rows, stops, cartons, checks with boxes. Pure."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.packet.checks import FloorChecks, as_you_go, going_home, photographs


@dataclass(frozen=True, kw_only=True, slots=True)
class DayTask:
    """One task of a day; ``holds`` are titles of hold points that were open at issue.

    ``clock`` is its share of the day in words, ``begins`` and ``ends`` as people say them, empty
    on days that don't know it. ``stop``: the row at which it is left for the night.
    """

    code: str
    name: str
    hours: Decimal
    clock: str
    rows: str
    stop: str
    helper: bool
    holds: tuple[str, ...]
    begins: str = ""
    ends: str = ""
    people: tuple[str, ...] = ()
    rooms: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayFloor:
    """A floor of which rows are laid that day: what to open, from which offcuts it starts."""

    checks: FloorChecks
    cartons: str
    offcuts: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketDay:
    """One day of the packet.

    ``code`` is the drawing that leads a phone to the day's page, ``cautions`` are titles; ``goal``
    says the day in a line. ``morning``: what is read before row one. ``begins``: when the day
    begins elsewhere, before ``arrives``. ``places``: of the crew, who is told by no name.
    ``lunch``: whether the clock leaves room for one.
    """

    number: int
    date: date
    crew: str
    people: tuple[str, ...]
    hours: Decimal
    clock: str
    tasks: tuple[DayTask, ...]
    floors: tuple[DayFloor, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    arrives: str = ""
    leaves: str = ""
    code: str = ""
    goal: str = ""
    morning: tuple[Mapping[str, object], ...] = ()
    begins: str = ""
    places: tuple[str, ...] = ()
    lunch: bool = True


def morning_holds(gates: Sequence[Mapping[str, object]]) -> tuple[Mapping[str, object], ...]:
    """Return the readings of moisture that are made again before row one, of a job's gates."""
    return tuple(
        {
            "title": "Moisture again, before row one",
            "limit": _limit_words(gate),
            "limit_open": gate.get("limit_open", False),
            "unit": gate.get("unit", ""),
        }
        for gate in gates
        if gate["places"] and gate["limit"]
    )[:1]


def _limit_words(gate: Mapping[str, object]) -> str:
    """Return how a reading is made, and its limit."""
    limit = "Limit, maker's sheet" if gate.get("limit_open") else f"{gate['limit']}"
    return f"{gate['method']}. {limit}" if gate.get("method") else limit


_BELONGS: Mapping[str, frozenset[str]] = {
    "lifting": frozenset({"pick_up", "load", "carry", "furniture", "fixtures_off", "dispose"}),
    "silica": frozenset({"prep", "level", "undercut", "tear_out"}),
    "fire-door": frozenset({"doors_off", "doors_on", "undercut"}),
    "gas": frozenset({"fixtures_off", "fixtures_on"}),
    "toilet": frozenset({"fixtures_off", "fixtures_on"}),
    "heated-floor": frozenset({"prep", "underlay", "lay"}),
    "asbestos": frozenset({"tear_out", "dispose", "prep"}),
    "lead": frozenset({"tear_out", "base_off", "doors_off", "undercut"}),
    "moisture-tests": frozenset({"prep", "underlay", "lay"}),
}
_EDGES = frozenset({"lay", "transitions", "doors_on", "fixtures_on", "stairs", "undercut"})
"""Where a caution of no task of its own is minded: at the edges of the floor."""


def minded_on(code: str, blocks: Sequence[str], tasks: Sequence[str]) -> bool:
    """Whether a caution of this code belongs to a day with tasks of these codes."""
    if code == "work":
        return True
    return bool((frozenset(blocks) or _BELONGS.get(code, _EDGES)) & frozenset(tasks))


def day_content(day: PacketDay, job_codes: Collection[str] = ()) -> dict[str, object]:
    """Return one day: tasks, rows, stops, cartons, checks with boxes, photographs on day one.

    ``job_codes``: of the tasks of all days.
    """
    codes = [task.code for task in day.tasks]
    floors = [floor.checks for floor in day.floors]
    return {
        "number": day.number,
        "date": day.date,
        "crew": day.crew,
        "people": list(day.people),
        "hours": day.hours,
        "clock": day.clock,
        "arrives": day.arrives,
        "leaves": day.leaves,
        "begins": day.begins,
        "places": list(day.places),
        "lunch": day.lunch,
        "code": day.code,
        "goal": day.goal,
        "tasks": [_task(task) for task in day.tasks],
        "floors": [_floor(floor) for floor in day.floors],
        "notes": list(day.notes),
        "morning": [dict(one) for one in day.morning],
        "cautions": list(day.cautions),
        "holds": list(dict.fromkeys(hold for task in day.tasks for hold in task.holds)),
        "photos": list(photographs(job_codes or codes)) if day.number == 1 else [],
        "checks": [asdict(check) for check in as_you_go(codes, floors)],
        "going_home": [asdict(check) for check in going_home(codes, floors)],
    }


def _task(task: DayTask) -> dict[str, object]:
    return {
        "name": task.name,
        "hours": task.hours,
        "clock": task.clock,
        "begins": task.begins,
        "ends": task.ends,
        "people": list(task.people),
        "rooms": task.rooms,
        "rows": task.rows,
        "stop": task.stop,
        "helper": task.helper,
        "holds": list(task.holds),
    }


def _floor(floor: DayFloor) -> dict[str, object]:
    return {
        "name": floor.checks.name,
        "rows": list(floor.checks.rows),
        "finishes": floor.checks.finishes,
        "cartons": floor.cartons,
        "offcuts": list(floor.offcuts),
    }
