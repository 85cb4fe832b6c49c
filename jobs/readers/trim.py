"""Trim runs read from their rows: as the takeoff knows them, and as cut lists in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypedDict, cast

from jobs.domain.lengths import MM_PER_IN, length_words
from jobs.domain.scope import inputs
from jobs.domain.scope.inputs import TrimTake
from jobs.domain.scope.trim import stock_words
from jobs.domain.trim.stock import (
    KERF_IN,
    STOCK_IN,
    STOCK_MM,
    BoughtStick,
    Cuts,
    TrimLength,
    cut_trim,
)
from jobs.models import BaseTreatment, Job, Moisture, Room, TrimKind, TrimRun
from jobs.readers.openings.doorways import inches_of
from jobs.readers.openings.openings import wall_name
from layout.drawing.trim_stick import draw_trim_stick

WOOD = frozenset({"wood", "mdf", "pine", "oak", "poplar", "fir", "maple", "fiberboard"})
"""Words of a profile that swells where it gets wet."""


def action_of(run: TrimRun) -> str:
    """Return what happens to a run: its own action, else the room's; shoe is always new."""
    if run.kind == TrimKind.SHOE:
        return run.action or BaseTreatment.REPLACE
    return run.action or run.room.base


def handled(runs: Iterable[TrimRun], *actions: str) -> list[TrimRun]:
    """Return the runs that are not left out and have one of these actions."""
    return [run for run in runs if not run.left_out and action_of(run) in actions]


def material_for(room: Room) -> str:
    """Return what new trim of a room is made of: no wood where it gets wet."""
    return "wood" if room.moisture == Moisture.DRY else "moisture-proof"


def swells(profile: str, room: Room) -> bool:
    """Whether a profile would swell in a room: wood where it gets wet."""
    words = profile.lower().replace(",", " ").split()
    return room.moisture != Moisture.DRY and bool(WOOD & set(words))


def usual_stock(unit: str) -> tuple[Decimal, ...]:
    """Return the lengths trim is usually bought in, in mm."""
    return STOCK_MM if unit == "mm" else tuple(length * MM_PER_IN for length in STOCK_IN)


def stock_mm(job: Job) -> tuple[Decimal, ...]:
    """Return the lengths that the trim of a job is bought in, in mm, the shortest first."""
    chosen = tuple(Decimal(length) for length in job.trim_stock)
    return tuple(sorted(chosen or usual_stock(job.unit)))


def stock_of(job: Job) -> tuple[Decimal, ...]:
    """Return the lengths that the trim of a job is bought in, in inches."""
    return tuple(inches_of(length) for length in stock_mm(job))


def trim_takes(room: Room) -> tuple[TrimTake, ...]:
    """Return the runs of a room as the takeoff knows them, those left out not among them."""
    return tuple(
        TrimTake(
            kind=cast(inputs.TrimKind, str(run.kind)),
            cut=TrimLength(
                name=place_words(run),
                length_in=inches_of(run.length_mm),
                start_end=run.start_end,
                finish_end=run.finish_end,
            ),
            action=cast(inputs.TrimAction, str(action_of(run))),
            material=run.profile,
        )
        for run in room.trim_runs.all()
        if not run.left_out
    )


def place_words(run: TrimRun) -> str:
    """Return where in its room a run is: the wall and which piece of it, or what it runs along."""
    if run.is_added:
        return run.beside
    return f"wall {wall_name(run.room, run.wall)}" + (
        f", piece {run.place + 1}" if run.place else ""
    )


class CutLine(TypedDict):
    """One cut of a stick in words."""

    where: str
    length: str


class StickLine(TypedDict):
    """One stick in words: its length, the cuts in order, what is left; a packet keeps it so."""

    number: int
    stock: str
    cuts: list[CutLine]
    left: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimCutList:
    """What is cut from sticks of one kind and material, in words for a page or the packet."""

    title: str
    sticks: list[StickLine]
    bought: str
    proof: str


def cut_lists(job: Job, rooms: Iterable[Room] | None = None) -> list[TrimCutList]:
    """Return the cut lists of a job's new trim, by kind and material.

    ``rooms``: of these rooms only; None: of all of them.
    """
    stock, system = stock_of(job), job.units
    groups = _grouped(job.rooms.prefetch_related("trim_runs__room") if rooms is None else rooms)
    return [
        _list_of(kind, material, cut_trim(kind, tuple(runs), stock), system)
        for (kind, material), runs in groups.items()
    ]


def _grouped(rooms: Iterable[Room]) -> dict[tuple[str, str], list[TrimLength]]:
    """Return the new runs of rooms by kind and material, named by room and wall."""
    groups: dict[tuple[str, str], list[TrimLength]] = defaultdict(list)
    for room in rooms:
        new = handled(room.trim_runs.all(), BaseTreatment.REPLACE)
        for run in sorted(new, key=lambda one: (one.kind, one.wall, one.place)):
            cut = TrimLength(
                name=f"{room.name}, {place_words(run)}",
                length_in=inches_of(run.length_mm),
                start_end=run.start_end,
                finish_end=run.finish_end,
            )
            groups[str(run.kind), run.profile or material_for(room)].append(cut)
    return groups


def _list_of(kind: str, material: str, cuts: Cuts, system: str) -> TrimCutList:
    sticks = _in_order(cuts)
    bought = ", ".join(f"{count} of {stock_words(stock)}" for stock, count in cuts.count())
    least = length_words(cuts.least_in * MM_PER_IN, system)
    proof = "No other way buys less." if cuts.proven else f"At least {least} are needed."
    return TrimCutList(
        title=f"{TrimKind(kind).label}, {material}",
        sticks=[_stick_words(number, one, system) for number, one in enumerate(sticks, start=1)],
        bought=bought,
        proof=proof,
    )


def _in_order(cuts: Cuts) -> list[BoughtStick]:
    """Return sticks in the order of a cut list: the longest first, the least left over first."""
    return sorted(cuts.sticks, key=lambda stick: (-stick.stock_in, stick.left_in))


def drawn_lists(
    job: Job, rooms: Iterable[Room] | None = None
) -> list[tuple[TrimCutList, list[tuple[StickLine, str]]]]:
    """Return the cut lists of a job, or of these rooms, each with the drawing of every stick."""
    members = None if rooms is None else list(rooms)
    lists, drawings = cut_lists(job, members), stick_drawings(job, members)
    return [
        (one, list(zip(one.sticks, drawn, strict=True)))
        for one, drawn in zip(lists, drawings, strict=True)
    ]


def stick_drawings(job: Job, rooms: Iterable[Room] | None = None) -> list[list[str]]:
    """Return the drawing of every stick of every cut list, in the order of `cut_lists`."""
    stock, system = stock_of(job), job.units
    longest = float(max(stock))
    groups = _grouped(job.rooms.prefetch_related("trim_runs__room") if rooms is None else rooms)
    return [
        [
            _drawn(number, stick, longest, system)
            for number, stick in enumerate(_in_order(cut_trim(kind, tuple(runs), stock)), start=1)
        ]
        for (kind, _), runs in groups.items()
    ]


def _drawn(number: int, stick: BoughtStick, longest: float, system: str) -> str:
    """Return the drawing of one stick."""
    return draw_trim_stick(
        float(stick.stock_in),
        [
            (float(cut.length_in), length_words(cut.length_in * MM_PER_IN, system))
            for cut in stick.cuts
        ],
        longest=longest,
        kerf=float(KERF_IN),
        title=f"Stick {number}",
    )


def _stick_words(number: int, stick: BoughtStick, system: str) -> StickLine:
    """Return a stick as a line: its length, the cuts in order, what is left."""
    return {
        "number": number,
        "stock": stock_words(stick.stock_in),
        "cuts": [
            {
                "where": cut.name + (f", part {cut.part} of {cut.parts}" if cut.parts > 1 else ""),
                "length": length_words(cut.length_in * MM_PER_IN, system),
            }
            for cut in stick.cuts
        ],
        "left": length_words(stick.left_in * MM_PER_IN, system),
    }


def ends_words(run: TrimRun) -> str:
    """Return how both ends of a run are cut, from the wall's first corner on."""
    return f"{END_WORDS[run.start_end]}, then {END_WORDS[run.finish_end].lower()}"


END_WORDS = {
    "inside": "Square, into the corner",
    "outside": "Mitered, round the corner",
    "butt": "Square, butted",
    "cope": "Coped, over the run before",
}


def lengths_words(lengths_mm: Sequence[Decimal]) -> str:
    """Return stock lengths in words: `8 ft, 12 ft, 16 ft`."""
    return ", ".join(stock_words(inches_of(length)) for length in lengths_mm)
