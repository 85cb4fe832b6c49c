"""The chart of days as shapes: columns by day, rows by task, bars, waits, gates. For one drawing.

A worked day is a wide column, the days between two of them a narrow one. A bar is as long as its
hours on the clock; its height is shared by the people of the crew, the lead uppermost.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import pairwise

from jobs.domain.days.placed.network import PlacedWait
from jobs.domain.days.placed.pieces import QUARTERS_A_DAY, Moment, clock_of
from jobs.domain.days.placed.reasons import PieceStanding, day_words
from jobs.domain.tasks import Task
from jobs.models import WorkDay
from jobs.readers.chart.placed import Gate, PlacedJob, also_words, slack_words
from jobs.readers.days import PARTS, half_hours_words, laid_hours, task_lines

LABELS, HEAD, ROW, GAP = 232, 66, 24, 44
WIDTH, LEAST_DAY, MOST_DAY = 920, 140, 300
GATE = 7
"""Half of a diamond."""
LETTER = 6.4
"""How wide a letter of the small type is taken to be."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """Days side by side on the drawing: one that is worked, or those between two of them."""

    x: float
    wide: float
    dates: tuple[date, ...]
    words: tuple[str, ...]
    trip: str = ""

    @property
    def middle(self) -> float:
        """Where its words stand."""
        return round(self.x + self.wide / 2, 1)

    @property
    def right(self) -> float:
        """Where it ends."""
        return round(self.x + self.wide, 1)


@dataclass(frozen=True, kw_only=True, slots=True)
class ChartShape:
    """A bar, a wait or words beside one."""

    x: float
    y: float
    wide: float = 0
    high: float = 0
    words: str = ""
    kind: str = "bar"


@dataclass(frozen=True, kw_only=True, slots=True)
class ChartRow:
    """One row: a head of rooms, or a task with its shapes; `y` is its upper edge."""

    y: float
    label: str
    head: bool = False
    shapes: tuple[ChartShape, ...] = ()
    high: int = ROW

    @property
    def base(self) -> float:
        """Where its words stand."""
        return self.y + base_of(self.high)

    @property
    def under(self) -> float:
        """Where its lower edge is."""
        return self.y + self.high


def base_of(row: int) -> int:
    """Return how far under the upper edge of a row its words stand."""
    return row * 2 // 3


@dataclass(frozen=True, kw_only=True, slots=True)
class GateMark:
    """A diamond with a dashed line down to what it keeps from beginning."""

    x: float
    y: float
    to: float
    title: str

    @property
    def points(self) -> str:
        """The corners of the diamond."""
        x, y = self.x, self.y
        return f"{x - GATE},{y} {x},{y - GATE} {x + GATE},{y} {x},{y + GATE}"


@dataclass(frozen=True, kw_only=True, slots=True)
class DaysChart:
    """The whole drawing."""

    wide: float
    high: float
    columns: tuple[Column, ...]
    rows: tuple[ChartRow, ...]
    gates: tuple[GateMark, ...]
    people: tuple[str, ...]
    labels: int = LABELS
    head: int = HEAD


@dataclass(slots=True)
class _DaysDrawing:
    """Where moments and people stand on the drawing."""

    job: PlacedJob
    columns: Sequence[Column]
    opens: int
    closes: int
    row: int = ROW
    rows: list[ChartRow] = field(default_factory=list)
    y: float = HEAD

    def x(self, moment: Moment) -> float:
        """Return where a moment stands."""
        day, quarter = moment
        for column in self.columns:
            if day > column.dates[-1]:
                continue
            if day < column.dates[0]:
                return column.x
            if column.trip:
                inside = min(max(quarter, self.opens), self.closes) - self.opens
                return round(column.x + column.wide * inside / (self.closes - self.opens), 1)
            passed = (day - column.dates[0]).days + quarter / QUARTERS_A_DAY
            return round(column.x + column.wide * passed / len(column.dates), 1)
        return self.columns[-1].right

    def add(self, label: str, *, head: bool = False, shapes: Sequence[ChartShape] = ()) -> None:
        """Put one more row under those before."""
        fits = int((LABELS - (8 if head else 20)) / LETTER)
        short = label if len(label) <= fits else label[: fits - 1].rstrip() + "…"
        self.rows.append(
            ChartRow(y=self.y, label=short, head=head, shapes=tuple(shapes), high=self.row)
        )
        self.y += self.row

    def bars(self, standing: PieceStanding) -> Iterator[ChartShape]:
        """Yield the bars of a piece, one a person, and its hours beside it."""
        piece, many = standing.piece, len(self.job.people)
        high = (self.row - 6) / many
        for spell in self.job.placed.spells:
            if spell.key != piece.key:
                continue
            x, rank = self.x((spell.day, spell.begins)), self.job.people.index(spell.person)
            yield ChartShape(
                x=x,
                y=round(self.y + 3 + rank * high, 1),
                wide=round(self.x((spell.day, spell.ends)) - x, 1),
                high=round(high, 1),
                kind="bar critical" if standing.critical else "bar",
            )
        yield self.words(self._hours(piece.key, piece.people), piece.start, piece.end)

    def words(self, words: str, begins: Moment, ends: Moment) -> ChartShape:
        """Return words right of what ends there; left of it where they would not fit."""
        x, length = self.x(ends), len(words) * LETTER
        before = " before" if x + 5 + length > self.columns[-1].right else ""
        at = self.x(begins) - 5 if before else x + 5
        y = self.y + base_of(self.row)
        return ChartShape(x=round(at, 1), y=y, words=words, kind=f"words{before}")

    def beside_gate(self, gate: Gate) -> ChartShape:
        """Return the title of a gate beside its diamond."""
        words = self.words(gate.title, gate.moment, gate.moment)
        return replace(words, x=words.x + (-GATE if "before" in words.kind else GATE))

    def _hours(self, key: str, people: tuple[str, ...]) -> str:
        spells = [spell for spell in self.job.placed.spells if spell.key == key]
        halves = sum(spell.ends - spell.begins for spell in spells) // 2
        who = "" if len(people) == len(self.job.people) else f" {people[0].lower()}"
        whole = "" if halves == 1 else str(halves // 2)
        return f"{whole}{'½' if halves % 2 else ''} h{who}"

    def wait(self, wait: PlacedWait) -> Iterator[ChartShape]:
        """Yield a wait by the clock and until when it lasts."""
        x, end = self.x(wait.begins), self.x(wait.ends)
        wide = max(round(end - x, 1), 6)
        yield ChartShape(x=x, y=self.y + 4, wide=wide, high=self.row - 8, kind="wait")
        words = f"to {wait.ends[0]:%a} {clock_of(wait.ends[1])}"
        if wide > len(words) * LETTER + 8:
            y = self.y + base_of(self.row)
            yield ChartShape(x=x + 6, y=y, words=words, kind="words on")
        else:
            yield self.words(words, wait.begins, wait.ends)


def draw_days(job: PlacedJob, days: Sequence[WorkDay], row: int = ROW) -> DaysChart:
    """Return the drawing of these days, in rows of this height."""
    clock = job.clock
    columns = tuple(_columns(days))
    drawing = _DaysDrawing(job, columns, clock.opens - job.leg, clock.closes + job.leg, row)
    for gate in job.gates:
        drawing.add("HOLD", shapes=[drawing.beside_gate(gate)])
    if job.leg:
        drawing.add("Drive", shapes=list(_drives(drawing, days)))
    places = _rows(drawing)
    gates = tuple(
        GateMark(
            x=drawing.x(gate.moment),
            y=HEAD + row * number + row / 2,
            to=places[gate.task, gate.room] + row,
            title=gate.title,
        )
        for number, gate in enumerate(job.gates)
    )
    return DaysChart(
        wide=columns[-1].right + 2,
        high=drawing.y + 8,
        columns=columns,
        rows=tuple(drawing.rows),
        gates=gates,
        people=job.people,
    )


def _columns(days: Sequence[WorkDay]) -> Iterator[Column]:
    gaps = sum((b.date - a.date).days > 1 for a, b in pairwise(days))
    wide = (WIDTH - LABELS - gaps * GAP) / len(days)
    wide = round(min(max(wide, LEAST_DAY), MOST_DAY), 1)
    x, last = float(LABELS), None
    for day in days:
        if last is not None and (day.date - last).days > 1:
            between = tuple(
                last + timedelta(days=number) for number in range(1, (day.date - last).days)
            )
            words = (f"{between[0]:%a}", f"to {between[-1]:%a}" if len(between) > 1 else "")
            yield Column(x=x, wide=GAP, dates=between, words=words)
            x += GAP
        hours = half_hours_words(laid_hours(task_lines(day, {})))
        words = (f"{day.date:%a}", f"{day.date:%b} {day.date.day}")
        trip = f"trip {day.number} · {hours}"
        yield Column(x=round(x, 1), wide=wide, dates=(day.date,), words=words, trip=trip)
        x, last = round(x + wide, 1), day.date


def _drives(drawing: _DaysDrawing, days: Sequence[WorkDay]) -> Iterator[ChartShape]:
    job = drawing.job
    for day in days:
        last = max(spell.ends for spell in job.placed.spells if spell.day == day.date)
        for begins in (job.clock.opens - job.leg, last):
            x = drawing.x((day.date, begins))
            wide = drawing.x((day.date, begins + job.leg)) - x
            yield ChartShape(x=x, y=drawing.y + 3, wide=round(wide, 1), high=drawing.row - 6)


def _rows(drawing: _DaysDrawing) -> dict[tuple[str, str], float]:
    """Draw a row for each task in each room, the whole job first; return where each stands."""
    job = drawing.job
    by_row: dict[tuple[str, str], list[PieceStanding]] = {}
    for standing in job.standings:
        by_row.setdefault((standing.piece.task, standing.piece.room), []).append(standing)
    waits = {(wait.task, wait.room): wait for wait in job.placed.waits}
    groups: dict[str, list[tuple[str, str]]] = {"": []}
    for key in (*by_row, *(key for key in waits if key not in by_row)):
        groups.setdefault(key[1] or job.placed.tasks[key[0]].zone, []).append(key)
    places: dict[tuple[str, str], float] = {}
    for place, keys in groups.items():
        if keys:
            drawing.add(place or "Whole job", head=True)
        for key in keys:
            here = by_row.get(key, [])
            places[key] = drawing.y
            shapes = [shape for one in here for shape in drawing.bars(one)]
            if key in waits:
                shapes = [s for s in shapes if not s.words] if here else shapes
                shapes += drawing.wait(waits[key])
            words = row_words(job.placed.tasks[key[0]], here) + also_words(here)
            drawing.add(words, shapes=list(_readable(shapes)))
    return places


def _readable(shapes: Sequence[ChartShape]) -> Iterator[ChartShape]:
    """Yield the shapes of a row without the words that would lie on another; the table has them."""
    drawn = [shape for shape in shapes if not shape.words]
    for shape in (*drawn, *(shape for shape in shapes if shape.words)):
        left, right = _reach(shape)
        if shape.words and shape.kind != "words on":
            spans = (_reach(other) for other in drawn)
            if any(left < end and begin < right for begin, end in spans):
                continue
            drawn.append(shape)
        yield shape


def _reach(shape: ChartShape) -> tuple[float, float]:
    """Return from where to where a shape lies."""
    wide = shape.wide or len(shape.words) * LETTER
    return (shape.x - wide, shape.x) if "before" in shape.kind else (shape.x, shape.x + wide)


def row_words(task: Task, standing: Sequence[PieceStanding]) -> str:
    """Return what a row of the chart is called: the task, or the part of it that is all it has."""
    parts = " and ".join(dict.fromkeys(one.piece.part for one in standing if one.piece.part))
    label = PARTS.get((task.code, parts), task.label)
    if not task.hours and task.wait_hours_after:
        return f"{label}, {task.wait_hours_after.normalize():f} h"
    return label


@dataclass(frozen=True, kw_only=True, slots=True)
class StandingLine:
    """One piece in words: what, where, when, why there, how far it may slip."""

    name: str
    room: str
    when: str
    why: str
    slack: str


def standing_lines(job: PlacedJob) -> list[StandingLine]:
    """Return the pieces in words, in the order in which they begin."""
    return [
        StandingLine(
            name=row_words(job.placed.tasks[one.piece.task], [one]),
            room=", ".join(one.piece.rooms) or job.placed.tasks[one.piece.task].zone,
            when=when_words(one),
            why=one.why,
            slack=slack_words(one.slack),
        )
        for one in job.standings
    ]


def when_words(standing: PieceStanding) -> str:
    """Return when a piece is done: Tue, Dec 8 9:15 to 10:45."""
    piece = standing.piece
    return f"{day_words(piece.day)} {clock_of(piece.begins)} to {clock_of(piece.ends)}"
