"""Trials: one floor for each first rip worth looking at, searched side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import ceil
from random import Random

import numpy as np
from shapely.geometry import Polygon, box

from layout.bounds.find import planks_a_row
from layout.joints.choices import NEVER, Pick, Site, Terms, joints_at
from layout.joints.first_picks import opening
from layout.joints.search import Search
from layout.planks.pieces import Seams
from layout.resume.laid_boards import (
    Down,
    LaidBoard,
    at_hand,
    boards_down,
    check_rows,
    parts_in_order,
    planks_at_hand,
    rip_down,
    take_down,
    widths_down,
)
from layout.rows.rows import Floor, Frame, floor_of, floor_of_widths, joined
from layout.rows.strips import (
    LEAST_RUN,
    Span,
    allowed_first_rips,
    narrowest_strip,
    slivers,
    stopping_lines,
)
from layout.rows.widths import Widths, narrowest_of, ripped_last, thrice_in, width_orders
from layout.values.material import Flooring, Stagger
from layout.values.outline import Edge, HoleKind, Region, edges_of, laying_region, widest_region
from layout.values.request import PlanRequest
from layout.values.tolerances import (
    LEAST_RIP_SHARE,
    LENGTH_TOLERANCE,
    OVERLAP_TOLERANCE,
    TOUCHING_TOLERANCE,
)

MOST_TRIALS = 12

Rip = float | Widths

_STEPS_TRIED = 800  # runs looked at, in all, for the best first row of fixed steps
_LIMITS_OF = 6  # runs whose own limits are looked at for it


@dataclass
class Trial:
    """A floor of one first rip, its sites, and the search over its joints once begun."""

    floor: Floor
    sites: tuple[Site, ...]
    narrowest: float
    slivers: int
    search: Search
    product: Flooring
    widths: tuple[int, int] = (0, 0)  # rows of one width too many running, last rows ripped
    down: Down | None = None

    @property
    def rank(self) -> tuple[float, ...]:
        """What trials are compared by: broken rules, planks, the widest narrowest strip, rips.

        Where widths are mixed the cartons and what is said of widths come before the planks.
        """
        score = self.search.score
        broken = self.slivers + score.faults + score.clashes
        return (broken, self.cartons, *self.widths, score.planks, -self.narrowest, self.ripped)

    @property
    def cartons(self) -> int:
        """How many cartons the widths take; 0 where there is only one width."""
        boards = self.product.boards
        if len(boards) == 1:
            return 0
        planks = self.search.best_planks()
        return max(
            ceil(planks.get(round(board.width, 6), 0) / board.per_carton) for board in boards
        )

    def open_by_hand(self) -> None:
        """Let the search look at what laying run by run would give."""
        if not self.search.fixed:
            self.search.consider(opening(self.floor, self.sites, self.search.terms))

    def meets(self, bound: int) -> bool:
        """Whether the search keeps the rules with no more planks than the bound."""
        return self.search.score.clashes == 0 and self.search.score.planks <= bound

    def promise(self, bound: int) -> tuple[float, ...]:
        """Return the best rank that the trial could reach."""
        broken = self.slivers + self.search.score.faults
        return (broken, self.cartons, *self.widths, bound, -self.narrowest, self.ripped)

    @cached_property
    def ripped(self) -> int:
        """How many runs are not as wide as their boards all along."""
        return sum(not run.full for run in self.floor.runs)

    def seams(self, picks: Sequence[Pick]) -> list[Seams]:
        """Return the seams of every run that picks make."""
        length = self.floor.board.length
        return [_seams(site, pick, length) for site, pick in zip(self.sites, picks, strict=True)]


def _seams(site: Site, pick: Pick, length: float) -> Seams:
    """Return the seams of a run; one in one piece lies where its pick puts it on the plank."""
    starter, ender = pick
    if max(starter, ender) >= NEVER:
        return Seams(joints=(), right_end=starter < NEVER)
    return Seams(joints=joints_at(site.run, starter, length))


def begin(
    request: PlanRequest, frame: Frame, region: Region, rips: Sequence[Rip], rng: Random
) -> Trial:
    """Return the trial of one first rip, or one order of widths, for each part of the region."""
    board, least = request.product.board, LEAST_RUN[request.unit]
    registers = [
        Polygon(frame.inward(hole.ring))
        for hole in request.zone.holes
        if hole.kind is HoleKind.REGISTER
    ]
    boards = boards_down(request, frame)
    parts = [part for part, _ in parts_in_order(region, boards)]
    floor = joined(
        [
            floor_of(part, board, rip, registers=registers)
            if isinstance(rip, float)
            else floor_of_widths(part, board, rip, registers=registers)
            for part, rip in zip(parts, rips, strict=True)
        ]
    )
    mixed = len(request.product.boards) > 1
    widths = (thrice_in(floor.rows), ripped_last(floor.rows)) if mixed else (0, 0)
    sites = sites_of(floor, [Polygon(frame.inward(ring)) for ring in request.zone.no_joints])
    down = None
    if boards:
        check_rows(request, floor, boards)
        near, offset = LENGTH_TOLERANCE[request.unit], request.rules.min_joint_offset
        floor, sites, down = take_down(floor, sites, boards, offset, near)
    limit = request.rules.min_row_width
    return Trial(
        floor=floor,
        sites=sites,
        narrowest=min(
            narrowest_strip(part, board.width, least, rip)
            if isinstance(rip, float)
            else narrowest_of(rip, part, least)
            for part, rip in zip(parts, rips, strict=True)
        ),
        slivers=sum(len(slivers(run.shape, limit, least)) for run in floor.runs if not run.full),
        search=_search(request, frame, floor, sites, rng, boards),
        product=request.product,
        widths=widths,
        down=down,
    )


def _search(
    request: PlanRequest,
    frame: Frame,
    floor: Floor,
    sites: Sequence[Site],
    rng: Random,
    down: Sequence[LaidBoard],
) -> Search:
    """Return the search over joints, or the best one of fixed steps where these are asked for."""
    rules, length = request.rules, request.product.board.length
    terms = Terms.of(length, rules, request.unit)
    if rules.stagger is Stagger.FREE:
        return Search(floor, sites, terms, rng, at_hand=at_hand(planks_at_hand(request, frame)))
    step = length / 2 if rules.stagger is Stagger.HALF else length / 3
    ways = (step,) if rules.stagger is Stagger.HALF else (step, -step)
    searches = [
        Search(floor, sites, terms, rng, [begin + way * site.run.row for site in sites])
        for way, begins in _steps_down(request, down, ways)
        or [(w, _begins(sites, terms)) for w in ways]
        for begin in begins
    ]
    return min(searches, key=lambda search: search.score)


def _steps_down(
    request: PlanRequest, down: Sequence[LaidBoard], ways: Sequence[float]
) -> list[tuple[float, list[float]]]:
    """Return the ways to step with the phases of the first row that boards down have fixed."""
    near, length = LENGTH_TOLERANCE[request.unit], request.product.board.length
    ends = [(x, board.piece.row) for board in down for x in board.joints(near)]
    ways_begun = []
    for way in ways if ends else ():
        begins: list[float] = []
        for x, row in ends:
            begin = (x - way * row) % length
            if all(abs((begin - b + length / 2) % length - length / 2) > near for b in begins):
                begins.append(begin)
        ways_begun.append((way, begins))
    fewest = min((len(begins) for _, begins in ways_begun), default=0)
    return [(way, begins) for way, begins in ways_begun if len(begins) == fewest]


def _begins(sites: Sequence[Site], terms: Terms) -> list[float]:
    """Return phases worth a look for the first row of fixed steps."""
    count = max(12, min(48, _STEPS_TRIED // len(sites)))
    begins = {terms.length * i / count for i in range(count)}
    for site in sites[:_LIMITS_OF]:
        ends = (site.run.x0 + terms.least_end, site.run.x1 - terms.least_end)
        begins |= {end % (terms.length / 3) for end in ends}
    return sorted(begins)


def sites_of(floor: Floor, doorways: Sequence[Polygon]) -> tuple[Site, ...]:
    """Return the runs with the stretches where no joint may fall."""
    sites = []
    for run in floor.runs:
        met = [d.intersection(run.shape) for d in doorways if d.intersects(run.shape)]
        barred = tuple(
            sorted(
                (part.bounds[0], part.bounds[2]) for part in met if part.area > OVERLAP_TOLERANCE
            )
        )
        sites.append(Site(run=run, barred=barred, posts=run.posts))
    return tuple(sites)


def regions_of(request: PlanRequest, frame: Frame) -> list[Region]:
    """Return the regions to lay, in the working frame: at the gaps, then as wide gaps save boards.

    Where edges have a ``max_gap``: every such edge at its widest, and those along the last row
    moved in just so far that the rows come out in whole boards.
    """
    gap = request.rules.expansion_gap
    regions = [frame.region(laying_region(request.zone, gap))]
    if all(edge.max_gap is None for edge in request.zone.edges.values()):
        return regions
    regions.append(frame.region(widest_region(request.zone, gap)))
    if (even := _evened(request, frame, regions[0])) is not None:
        regions.append(even)
    return [region for region in regions if not region.is_empty]


def _evened(request: PlanRequest, frame: Frame, region: Region) -> Region | None:
    """Return the region with wider gaps at the last row, so that whole boards fill it across."""
    width, least = request.product.board.width, LEAST_RUN[request.unit]
    lines = stopping_lines(region, width, least)
    if len(lines) != 2 or any(line.high - line.low > TOUCHING_TOLERANCE for line in lines):
        return None
    over = (lines[1].low - lines[0].low) % width
    edges = dict(request.zone.edges)
    points = frame.inward(request.zone.outline)
    for index, ((_, ay), (_, by)) in enumerate(edges_of(points)):
        edge = edges.get(index, Edge())
        gap = request.rules.expansion_gap if edge.gap is None else edge.gap
        if abs(ay - by) < TOUCHING_TOLERANCE and abs(ay - gap - lines[1].low) < TOUCHING_TOLERANCE:
            if edge.max_gap is None or gap + over > edge.max_gap + TOUCHING_TOLERANCE:
                return None
            edges[index] = replace(edge, gap=gap + over)
    zone = replace(request.zone, edges=edges)
    return frame.region(laying_region(zone, request.rules.expansion_gap))


def row_choices(request: PlanRequest, frame: Frame, region: Region) -> list[Sequence[Rip]]:
    """Return for every part of the region the first rips worth a trial, or the orders of widths.

    Boards down have fixed the first rip of their part, and the widths of their rows.
    """
    mixed = len(request.product.boards) > 1
    return [
        _orders(request, part, down) if mixed else rip_choices(request, part, down)
        for part, down in parts_in_order(region, boards_down(request, frame))
    ]


def _orders(request: PlanRequest, part: Polygon, down: Sequence[LaidBoard]) -> list[Widths]:
    """Return the orders of widths worth a trial, those of the rows that are down first in each."""
    boards, least = request.product.boards, LEAST_RUN[request.unit]
    chance = Random(request.seed)
    narrow, taken = request.rules.min_row_width, planks_a_row(request, part)
    if not down:
        return width_orders(part, boards, least, narrow, chance, taken)
    begun = widths_down(request, down, part)
    left, low, right, high = part.bounds
    line = low + sum(begun)
    if line > high - TOUCHING_TOLERANCE:
        return [begun]
    rest = part.intersection(box(left - 1, line, right + 1, high + 1))
    narrowest = min(board.width for board in boards)
    orders = width_orders(rest, boards, least, narrow, chance) or [
        (narrowest,) * ceil((high - line) / narrowest)
    ]
    return [(*begun, *order) for order in orders]


def rip_choices(request: PlanRequest, part: Polygon, down: Sequence[LaidBoard] = ()) -> list[float]:
    """Return the first rips worth a trial, the widest narrowest strip first.

    Rows change their structure only where a row line passes a corner: the rips at these places,
    between them and at the ends of what the balance rule allows stand for all others. Where
    boards are ``down`` they have fixed it.
    """
    width, least = request.product.board.width, LEAST_RUN[request.unit]
    rules = request.rules
    if down:
        return [rip_down(request, down, part)]
    spans = allowed_first_rips(
        part, width, least, balance=rules.balance, min_width=rules.min_row_width
    )
    corners = [y - part.bounds[1] for r in (part.exterior, *part.interiors) for _, y in r.coords]
    marks = sorted({x for span in spans for x in _marks(span, corners, width)})
    marks.sort(key=lambda x: (-round(narrowest_strip(part, width, least, x), 6), -x))
    if len(marks) > MOST_TRIALS:
        kept = np.linspace(0, len(marks) - 1, MOST_TRIALS).round().astype(int)
        marks = [marks[i] for i in kept]
    return marks


def _marks(span: Span, corners: Sequence[float], width: float) -> list[float]:
    """Return the rips of a span that stand for it."""
    low, high = max(span[0], width * LEAST_RIP_SHARE), span[1]
    if high < low:
        return [width]
    if high - low < TOUCHING_TOLERANCE:
        return [high]
    inside = {round(y % width, 6) for y in corners}
    stops = [
        low,
        *sorted(y for y in inside if low + TOUCHING_TOLERANCE < y < high - TOUCHING_TOLERANCE),
        high,
    ]
    between = [(a + b) / 2 for a, b in pairwise(stops)]
    return [*stops, *between]
