"""The days of a job as its packet has them: tasks by the clock, rows of the plan laid by now."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

from jobs.clock import today_of
from jobs.domain.days.placed.pieces import PlacedSpell, clock_of, spells_of
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.formats import Fields
from jobs.domain.lengths import core_length_words
from jobs.domain.packet.checks import FloorChecks
from jobs.domain.packet.day import DayFloor, DayTask, PacketDay, minded_on, morning_holds
from jobs.domain.packet.row_edges import marks_to_check
from jobs.domain.quantities import PRACTICE
from jobs.domain.site.facts import Caution
from jobs.http import whole_address
from jobs.models import Job, User, WorkDay
from jobs.readers.current_plan.floors import CurrentFloor
from jobs.readers.days import (
    TaskLine,
    half_hours_words,
    holds_ahead_of,
    is_ahead,
    laid_hours,
    summed_up,
    task_lines,
)
from jobs.readers.packets.cartons import LaidFloor, OpenedCartons
from jobs.readers.packets.cover import QUARTERS, code_of

ROAD = "travel"
BEFORE_SITE = frozenset({ROAD, "pick_up", "load"})


def days_of(
    job: Job,
    floors: Iterable[CurrentFloor],
    cautions: Sequence[Caution],
    *,
    gates: Sequence[Fields] = (),
) -> list[PacketDay]:
    """Return the days of a job for its packet; ``gates`` stand where a floor's row one is laid."""
    laid = {floor.name: one for floor in floors if (one := LaidFloor.of(floor)) is not None}
    days = job.days.select_related("crew", "job").prefetch_related("crew__members")
    opened, today = OpenedCartons(), today_of(job.company)
    return [_day(day, laid, cautions, gates, opened, today) for day in days.order_by("date")]


def _day(
    day: WorkDay,
    laid: Mapping[str, LaidFloor],
    cautions: Sequence[Caution],
    gates: Sequence[Fields],
    opened: OpenedCartons,
    today: date,
) -> PacketDay:
    lines = task_lines(day, holds_ahead_of(day, today))
    begun = [line.zone for line in lines if line.task == "lay" and line.rows and line.rows[0] == 1]
    spells = spells_of(day.date, day.lanes)
    codes = [line.task for line in lines]
    on_site = [line for line in lines if line.task != ROAD]
    said = [_unnamed(line) for line in on_site] if len(laid) == 1 else on_site
    return PacketDay(
        number=day.number,
        date=day.date,
        crew=day.crew.name,
        people=tuple(_named(one) for one in day.crew.members.all()),
        hours=day.hours,
        clock=half_hours_words(_hours_of_day(on_site, spells)),
        goal="; ".join(one.text for one in summed_up(said)),
        begins=begun_elsewhere(spells),
        arrives=clock_of(min(spell.begins for spell in _there(spells))) if spells else "",
        places=tuple(nameless(spells, {one.name for one in day.crew.members.all()})),
        lunch=not spells or rests(spells),
        leaves=clock_of(max(spell.ends for spell in spells)) if spells else "",
        code=code_of(whole_address("day", day.pk), f"Day {day.number}, for who is signed in"),
        tasks=tuple(_task(line, spells) for line in said),
        floors=tuple(
            _floor(line, line.rows, laid[line.zone], opened)
            for line in lines
            if line.rows and line.task == "lay" and line.zone in laid
        ),
        notes=tuple(day.notes),
        morning=morning_holds(gates) if begun and is_ahead(day, today) else (),
        cautions=tuple(
            caution.title
            for caution in cautions
            if "packet" in caution.shown_on and minded_on(caution.code, caution.blocks, codes)
        ),
    )


def _unnamed(line: TaskLine) -> TaskLine:
    """Return a task of a job of one floor, which need not be named."""
    return replace(line, zone="", rooms=() if line.rooms == (line.zone,) else line.rooms)


def _there(spells: Sequence[PlacedSpell]) -> list[PlacedSpell]:
    """Return what is done at the site; all, where nothing is."""
    return [spell for spell in spells if spell.task not in BEFORE_SITE] or [*spells]


def begun_elsewhere(spells: Sequence[PlacedSpell]) -> str:
    """Return when a day begins that begins elsewhere, with a pick-up; empty where it does not."""
    first = min((spell.begins for spell in spells), default=0)
    there = min((spell.begins for spell in _there(spells)), default=0)
    return clock_of(first) if first < there else ""


def nameless(spells: Sequence[PlacedSpell], names: Collection[str]) -> Iterator[str]:
    """Yield the places of a crew that the clock has for people whom nobody named."""
    people = dict.fromkeys(spell.person for spell in sorted(spells, key=lambda one: one.begins))
    yield from (person for person in people if person not in names)


def rests(spells: Sequence[PlacedSpell]) -> bool:
    """Whether everybody who is at work for more than five hours has half an hour's rest in it."""
    for person in {spell.person for spell in spells}:
        mine = sorted((one.begins, one.ends) for one in spells if one.person == person)
        gaps = [after[0] - before[1] for before, after in pairwise(mine)]
        if mine[-1][1] - mine[0][0] > 5 * QUARTERS and max(gaps, default=0) < QUARTERS // 2:
            return False
    return True


def _named(person: User) -> str:
    return f"{person.name}, {person.phone}" if person.phone else person.name


def _task(line: TaskLine, spells: Sequence[PlacedSpell]) -> DayTask:
    strokes = [spell for spell in spells if _is_of(spell, line)]
    return DayTask(
        code=line.task,
        name=line.name,
        hours=line.hours,
        clock=half_hours_words(_spent(strokes)) if strokes else line.clock_words,
        rows=line.rows_words,
        stop=line.ends_at if line.rows and not line.finishes else "",
        helper=line.helper,
        holds=line.open_holds,
        begins=clock_of(min(spell.begins for spell in strokes)) if strokes else "",
        ends=clock_of(max(spell.ends for spell in strokes)) if strokes else "",
        people=tuple(_people(strokes)),
        rooms=line.rooms_words,
    )


def _spent(spells: Iterable[PlacedSpell]) -> Decimal:
    """Return the hours of all people together, as they lie on the clock."""
    return Decimal(sum(spell.ends - spell.begins for spell in spells)) / QUARTERS


def _hours_of_day(lines: Sequence[TaskLine], spells: Sequence[PlacedSpell]) -> Decimal:
    """Return the hours of a day: each task's as it lies on the clock, else as it is booked."""
    total = Decimal(0)
    for line in lines:
        strokes = [spell for spell in spells if _is_of(spell, line)]
        total += _spent(strokes) if strokes else laid_hours([line])
    return total


def _people(strokes: Sequence[PlacedSpell]) -> Iterator[str]:
    """Yield who is at a task, with their own hours where they don't all begin and end together."""
    hours: dict[str, tuple[int, int]] = {}
    for spell in strokes:
        begins, ends = hours.get(spell.person, (spell.begins, spell.ends))
        hours[spell.person] = min(begins, spell.begins), max(ends, spell.ends)
    together = len(set(hours.values())) == 1
    for person, (begins, ends) in hours.items():
        yield person if together else f"{person} {clock_of(begins)} to {clock_of(ends)}"


def _is_of(spell: PlacedSpell, line: TaskLine) -> bool:
    """Whether a spell is of this task, in a room of it and of the same part."""
    if spell.task != line.key or spell.part != line.part:
        return False
    return not line.rooms or not spell.room or spell.room in line.rooms


def _floor(
    line: TaskLine, rows: tuple[int, int], laid: LaidFloor, opened: OpenedCartons
) -> DayFloor:
    request, plan = laid.sheet.request, laid.sheet.plan
    row = laid.floor.row
    product = row.product if row else None
    last = max(laid.edges, default=rows[1])
    checks = FloorChecks(
        name=line.zone,
        rows=rows,
        finishes=rows[1] >= last,
        gap=core_length_words(request.rules.expansion_gap, plan.unit),
        gap_source=rule_source(product, "gap_mm") if product else PRACTICE,
        offset=core_length_words(request.rules.min_joint_offset, plan.unit),
        offset_source=rule_source(product, "min_offset_mm") if product else PRACTICE,
        marks=marks_to_check(dict(laid.edges), rows),
        line=laid.edges.get(1, ""),
        flat=product.flatness if product else "",
        flat_source=rule_source(product, "flatness") if product else "",
    )
    boards = product.carton_boards if product else 0
    return DayFloor(
        checks=checks,
        cartons=opened.words(laid, rows, boards),
        offcuts=_starting(laid, rows),
    )


def _starting(laid: LaidFloor, rows: tuple[int, int]) -> tuple[str, ...]:
    """Return the offcuts cut before these rows that they start from: stack, size, piece."""
    lines = []
    for entry in laid.sheet.rack():
        cut, used = _row(entry.cut_with), _row(entry.used_by)
        if used is not None and rows[0] <= used <= rows[1] and (cut or 0) < rows[0]:
            stack = f"stack {entry.stack}, " if entry.stack else ""
            lines.append(f"{stack}{entry.used_by}: {entry.size}")
    return tuple(lines)


def _row(piece: str | None) -> int | None:
    number = (piece or "").partition("-")[0]
    return int(number) if number.isdigit() else None
