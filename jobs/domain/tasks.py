"""Tasks: what a crew does on a floor, in which order, and what drives the hours of each.

A task belongs to one zone, or to the whole job (zone ""). Its `key` is its code, with the zone
where it has one; `after` names the keys that must be done first. `wait_hours_after` is clock time
that must pass before what follows may begin: leveler cures, cartons take on the room's climate.
The order and the helper marks are common practice without a source.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from itertools import accumulate

from jobs.domain.checks import (
    ONE,
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
)
from jobs.domain.documents import stored

HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskKind:
    """One kind of task: what it comes after, the quantities that drive it, who may do it.

    A `whole_job` task is one for the job; every other kind is one for each zone that has work.
    """

    label: str
    after: tuple[str, ...]
    drivers: tuple[str, ...]
    helper: bool = False
    whole_job: bool = False


TASKS: Mapping[str, TaskKind] = {
    "pick_up": TaskKind(
        label="Pick up the material", after=(), drivers=("pick_ups",), whole_job=True
    ),
    "load": TaskKind(
        label="Load the truck", after=("pick_up",), drivers=("carry",), helper=True, whole_job=True
    ),
    "setup": TaskKind(
        label="Set up and protect", after=("load",), drivers=("visits",), whole_job=True
    ),
    "carry": TaskKind(
        label="Carry in",
        after=("setup",),
        drivers=("carry", "carry_up"),
        helper=True,
        whole_job=True,
    ),
    "acclimatise": TaskKind(label="Cartons lie in the room", after=("carry",), drivers=()),
    "furniture": TaskKind(
        label="Move furniture", after=("setup",), drivers=("furniture",), helper=True
    ),
    "fixtures_off": TaskKind(
        label="Lift toilets, move appliances",
        after=("furniture",),
        drivers=("toilets", "appliances"),
    ),
    "base_off": TaskKind(label="Take base off", after=("furniture",), drivers=("base_off",)),
    "doors_off": TaskKind(label="Take doors off", after=("furniture",), drivers=("doors_off",)),
    "tear_out": TaskKind(
        label="Take the old floor out",
        after=("furniture", "fixtures_off", "base_off", "doors_off"),
        drivers=("tear_out",),
        helper=True,
    ),
    "dispose": TaskKind(
        label="Load and dispose", after=("tear_out",), drivers=("disposal",), helper=True
    ),
    "dump_run": TaskKind(
        label="Drive to the dump",
        after=("dispose",),
        drivers=("dump_runs",),
        helper=True,
        whole_job=True,
    ),
    "undercut": TaskKind(
        label="Undercut casings", after=("tear_out", "doors_off"), drivers=("casings",)
    ),
    "prep": TaskKind(
        label="Clean and screw the subfloor",
        after=("tear_out", "base_off", "undercut"),
        drivers=("floor_area", "subfloor_screws"),
    ),
    "level": TaskKind(label="Prime and level", after=("prep",), drivers=("leveller", "primer")),
    "paint": TaskKind(
        label="Paint",
        after=("tear_out", "base_off", "undercut", "prep", "level"),
        drivers=("paint_area",),
    ),
    "underlay": TaskKind(
        label="Roll out pad and barrier",
        after=("prep", "level", "undercut", "paint"),
        drivers=("pad_area",),
    ),
    "lay": TaskKind(
        label="Lay the floor",
        after=(
            "furniture",
            "fixtures_off",
            "doors_off",
            "prep",
            "level",
            "undercut",
            "paint",
            "underlay",
            "acclimatise",
        ),
        drivers=("floor_area", "pieces", "crosscuts", "rips", "notches", "trapped"),
    ),
    "stairs": TaskKind(
        label="Cover the stairs", after=("lay",), drivers=("treads", "risers", "nosings")
    ),
    "transitions": TaskKind(label="Set transitions", after=("lay",), drivers=("transitions",)),
    "base": TaskKind(label="Put base on", after=("lay", "transitions"), drivers=("base_on",)),
    "shoe": TaskKind(label="Put shoe on", after=("lay", "base"), drivers=("shoe_on",)),
    "doors_on": TaskKind(
        label="Trim and rehang doors",
        after=("lay", "transitions"),
        drivers=("doors_off", "doors_trimmed"),
    ),
    "fixtures_on": TaskKind(
        label="Reset toilets, move appliances back",
        after=("lay", "base", "shoe"),
        drivers=("toilets", "appliances"),
    ),
    "clean": TaskKind(
        label="Clean and hand over",
        after=(
            "dispose",
            "dump_run",
            "stairs",
            "transitions",
            "base",
            "shoe",
            "doors_on",
            "fixtures_on",
            "lay",
            "carry",
        ),
        drivers=("visits", "floor_area"),
        helper=True,
        whole_job=True,
    ),
    "travel": TaskKind(label="Drive out and home", after=(), drivers=("trips",), whole_job=True),
}

USES = ("bedroom", "kitchen", "bath")
"""Rooms that nobody can do without for a night."""

HAULING = ("pick_up", "load", "dump_run")
"""Work off the site, which scopes count since they keep their schedule."""


MOST_LOADS = 99
GOES_ALONG: Mapping[str, tuple[str, ...]] = {"dispose": ("dump_run",)}
"""Work that whoever does a task does with it: who loads the old floor drives it to the dump."""


def task_key(code: str, zone: str = "") -> str:
    """Return what a task is called by others: its code, and its zone where it has one."""
    return f"{code}:{zone}" if zone else code


@stored("room hours use rows")
@dataclass(frozen=True, kw_only=True, slots=True)
class RoomShare:
    """What of a task's hours falls to one room, and for laying the rows that lie in the room.

    `use` is bedroom, kitchen or bath where somebody lives by it; else empty.
    """

    room: str
    hours: Decimal
    use: str = ""
    rows: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        """Refuse a room without a name, negative hours and a use that is none."""
        require_text("share.room", self.room)
        require_number(f"share {self.room}.hours", self.hours, least=0)
        require_choice(f"share {self.room}.use", self.use, ("", *USES))


@stored(
    "code label hours basis zone after wait_hours_after rows helper per_day hold_points"
    " rooms row_hours people passes"
)
@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """Work of one kind in one zone: man-hours to 0.01, and what it waits for.

    `rows` are the first and last row that a laying task lays; `per_day` (man-hours) marks a task
    done a little each day, as travel is; `hold_points` are the codes of cautions that block it.
    `rooms` share its hours where that is known, and may sum to more once some of it is done.
    `row_hours` are those of each row of the plan, from row 1 on. It takes `people` at once, and is
    done in `passes` with a night between: 2 for glued treads of the only stair; to the dump they
    are the loads.
    """

    code: str
    label: str
    hours: Decimal
    basis: str
    zone: str = ""
    after: tuple[str, ...] = ()
    wait_hours_after: Decimal = ZERO
    rows: tuple[int, int] | None = None
    helper: bool = False
    per_day: Decimal = ZERO
    hold_points: tuple[str, ...] = ()
    rooms: tuple[RoomShare, ...] = ()
    row_hours: tuple[Decimal, ...] = ()
    people: int = 1
    passes: int = 1

    def __post_init__(self) -> None:
        """Refuse an unknown code, hours finer than 0.01 or negative, rows that don't count up."""
        require_choice("task.code", self.code, TASKS)
        where = f"task {self.key}"
        require_text(f"{where}.label", self.label)
        require_number(f"{where}.hours", self.hours, least=0)
        require_number(f"{where}.per_day", self.per_day, least=0)
        require_number(f"{where}.wait_hours_after", self.wait_hours_after, least=0)
        if self.hours != self.hours.quantize(Decimal("0.01")):
            accepted = "hours to two decimals"
            raise BadValueError(field=f"{where}.hours", value=self.hours, accepted=accepted)
        if self.key in self.after:
            accepted = "other tasks than itself"
            raise BadValueError(field=f"{where}.after", value=self.key, accepted=accepted)
        if self.rows is not None:
            first, last = self.rows
            require_number(f"{where}.rows", first, least=1)
            require_number(f"{where}.rows", last, least=first)
        require_number(f"{where}.people", self.people, least=1, most=2)
        most = MOST_LOADS if self.code == "dump_run" else 2
        require_number(f"{where}.passes", self.passes, least=1, most=most)
        shared = sum((share.hours for share in self.rooms), ZERO)
        if self.rooms and shared < self.hours:
            accepted = f"rooms that share all {self.hours} h"
            raise BadValueError(field=f"{where}.rooms", value=f"{shared} h", accepted=accepted)
        if self.row_hours and self.rows is not None and len(self.row_hours) < self.rows[1]:
            accepted = f"hours of {self.rows[1]} rows"
            raise BadValueError(
                field=f"{where}.row_hours", value=len(self.row_hours), accepted=accepted
            )

    @property
    def key(self) -> str:
        """Code, and zone where it has one."""
        return task_key(self.code, self.zone)

    @property
    def row_count(self) -> int:
        """Rows that this task lays; 0 for every other task."""
        return 0 if self.rows is None else self.rows[1] - self.rows[0] + 1

    @property
    def rows_before(self) -> int:
        """Rows that are down before this task begins."""
        return 0 if self.rows is None else self.rows[0] - 1

    @property
    def hours_by_row(self) -> tuple[Decimal, ...]:
        """The hours of each of its rows: by the row where that is known, else even shares."""
        if self.rows is not None and self.row_hours:
            return self.row_hours[self.rows[0] - 1 : self.rows[1]]
        return in_shares(self.hours, (ONE,) * self.row_count)


def in_shares(hours: Decimal, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Return hours shared by weight, each to a hundredth, so that together they are the hours."""
    whole = sum(weights, ZERO)
    if not whole:
        weights, whole = (ONE,) * len(weights), Decimal(len(weights))
    reached = [
        (hours * part / whole).quantize(HUNDREDTH, ROUND_FLOOR) for part in accumulate(weights)
    ]
    reached[-1:] = [hours] if reached else []
    return tuple(now - before for before, now in zip((ZERO, *reached), reached, strict=False))


def with_what_goes_along(codes: Iterable[str]) -> tuple[str, ...]:
    """Return the codes of these tasks and of what goes along with them, in working order."""
    named = set(codes)
    named |= {along for code in named for along in GOES_ALONG.get(code, ())}
    return tuple(code for code in TASKS if code in named)


def crews_work(tasks: Iterable[Task], left: Collection[str]) -> tuple[Task, ...]:
    """Return the tasks with those of the `left` kinds at no hours of ours; order and waits stay."""
    return tuple(
        replace(task, hours=ZERO, rows=None, per_day=ZERO) if task.code in left else task
        for task in tasks
    )


def comes_after(task: Task, others: Sequence[Task]) -> tuple[str, ...]:
    """Return the keys of `others` that must be done before `task`, in the order of `others`.

    A zone's task waits for its own zone and for the whole job; the job's own wait for every zone.
    Where a kind has no work here, what that kind would have waited for takes its place.
    """
    near = [other for other in others if other.zone in ("", task.zone) or not task.zone]
    wanted = _kinds_before(task.code, {other.code for other in near})
    return tuple(other.key for other in near if other.code in wanted and other.key != task.key)


def _kinds_before(code: str, present: set[str]) -> set[str]:
    kinds: set[str] = set()
    for kind in TASKS[code].after:
        kinds |= {kind} if kind in present else _kinds_before(kind, present)
    return kinds


OTHER = "other"
"""The task of work that is not in the scope; its note says what."""
