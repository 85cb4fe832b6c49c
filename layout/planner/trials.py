"""Trials: one floor for each first rip worth looking at, searched side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from random import Random
from typing import NamedTuple

from shapely.geometry import Polygon

from layout.joints.choices import NEVER, Pick, Site, Terms, joints_at
from layout.joints.first_picks import opening
from layout.joints.search import Search
from layout.planks.pieces import Seams
from layout.planner.first_rows import Rip
from layout.resume.laid_boards import (
    Down,
    LaidBoard,
    at_hand,
    boards_down,
    check_rows,
    parts_in_order,
    planks_at_hand,
    take_down,
)
from layout.rows.giving_way import balance_warning, broken_strips, keeps_balance
from layout.rows.ground import Ground
from layout.rows.rows import Floor, floor_of, floor_of_widths, joined
from layout.rows.strips import narrowest_strip
from layout.rows.widths import narrowest_of, ripped_last, thrice_in
from layout.values.goods.piles import SizePiles, cartons_to_buy
from layout.values.material import Stagger
from layout.values.plan import RuleWarning
from layout.values.tolerances import OVERLAP_TOLERANCE

_STEPS_TRIED = 800  # runs looked at, in all, for the best first row of fixed steps
_LIMITS_OF = 6  # runs whose own limits are looked at for it


class Rank(NamedTuple):
    """What trials are compared by, entry by entry, the least the best.

    Where widths are mixed the cartons and what is said of widths come before the planks.
    """

    broken: int  # rules, as eased
    eased: bool  # whether rules of joints are
    uneven: int  # parts where the balance rule gives way
    cartons: int  # to buy
    missing: int  # planks, where piles are counted
    thrice: int  # rows of one width too many running
    last_ripped: int  # parts whose last row is ripped
    planks: int
    narrowest: float  # strip, negative: the widest one first
    ripped: int  # runs not as wide as their boards

    @property
    def up_to_planks(self) -> tuple[float, ...]:
        """The entries that a trial falls behind by: all up to the planks."""
        return self[: self._fields.index("planks") + 1]


@dataclass(frozen=True, eq=False, kw_only=True)
class Trial:
    """A floor of one first rip on its ground, its sites, and the search over its joints.

    ``given_way`` is what is to be said where the balance rule gave way; ``even``: it did not, not
    even by less than can be measured.
    """

    ground: Ground
    floor: Floor
    sites: tuple[Site, ...]
    narrowest: float
    broken_strips: int
    search: Search
    thrice: int = 0
    last_ripped: int = 0
    given_way: tuple[RuleWarning, ...] = ()
    even: bool = True
    down: Down | None = None

    @property
    def rank(self) -> Rank:
        """What the trial is compared by as its search stands now."""
        return self._rank(self.broken_strips + self.joints_broken, self.search.score.planks)

    @property
    def joints_broken(self) -> int:
        """How many rules the joints break, as eased."""
        return self.search.score.faults + self.search.score.clashes

    def promise(self, bound: int) -> Rank:
        """Return the best rank that the trial could reach."""
        return self._rank(self.broken_strips + self.search.score.faults, bound)

    def _rank(self, broken: int, planks: int) -> Rank:
        return Rank(
            broken=broken,
            eased=any(site.eased for site in self.sites),
            uneven=len(self.given_way),
            cartons=self.cartons,
            missing=self.missing,
            thrice=self.thrice,
            last_ripped=self.last_ripped,
            planks=planks,
            narrowest=-self.narrowest,
            ripped=self.ripped,
        )

    @property
    def cartons(self) -> int:
        """How many cartons the widths take; 0 where there is only one width."""
        return cartons_to_buy(self.sizes, self._taken()) if len(self.sizes) > 1 else 0

    @property
    def missing(self) -> int:
        """How many planks are in no pile; 0 where piles are not counted or all of one width."""
        if len(self.sizes) == 1 or not self.sizes[0].counted:
            return 0
        return sum(size.missing(n) for size, n in zip(self.sizes, self._taken(), strict=True))

    def _taken(self) -> list[int]:
        """Return the planks of every size."""
        planks = self.search.best_planks()
        return [planks.get(round(size.board.width, 6), 0) for size in self.sizes]

    @cached_property
    def sizes(self) -> tuple[SizePiles, ...]:
        """What there is of every board size."""
        return self.ground.request.sizes

    def open_by_hand(self) -> None:
        """Let the search look at what laying run by run would give."""
        if not self.search.fixed:
            self.search.consider(opening(self.floor, self.sites, self.search.terms))

    def meets(self, bound: int) -> bool:
        """Whether the search keeps the rules with no more planks than the bound."""
        return self.search.score.clashes == 0 and self.search.score.planks <= bound

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


def begin(ground: Ground, rips: Sequence[Rip], rng: Random) -> Trial:
    """Return the trial of one first rip, or one order of widths, for each part of the region."""
    request = ground.request
    boards = boards_down(ground)
    parts = [part for part, _ in parts_in_order(ground, boards)]
    pairs = list(zip(parts, rips, strict=True))
    floor = joined([_floor_of(ground, part, rip) for part, rip in pairs])
    mixed = len(request.product.boards) > 1
    rows = floor.rows
    sites = sites_of(floor, ground.doorways)
    down = None
    if boards:
        check_rows(request, floor, boards)
        floor, sites, down = take_down(ground, floor, sites, boards)
    lost = [balance_warning(ground, part, rip) for part, rip in pairs if isinstance(rip, float)]
    return Trial(
        ground=ground,
        floor=floor,
        sites=sites,
        narrowest=min(_narrowest(ground, part, rip) for part, rip in pairs),
        broken_strips=broken_strips(ground, floor.rows),
        search=_search(ground, floor, sites, rng, boards),
        thrice=thrice_in(rows) if mixed else 0,
        last_ripped=ripped_last(rows) if mixed else 0,
        given_way=tuple(warning for warning in lost if warning is not None),
        even=all(keeps_balance(ground, part, rip) for part, rip in pairs if isinstance(rip, float)),
        down=down,
    )


def with_sites(trial: Trial, sites: Sequence[Site], rng: Random) -> Trial:
    """Return a trial searched anew, what its runs keep changed."""
    boards = boards_down(trial.ground)
    search = _search(trial.ground, trial.floor, sites, rng, boards)
    return replace(trial, sites=tuple(sites), search=search)


def _floor_of(ground: Ground, part: Polygon, rip: Rip) -> Floor:
    """Return a part of the region in rows: of one first rip, or of an order of widths."""
    board, registers = ground.request.product.board, ground.registers
    if isinstance(rip, float):
        return floor_of(part, board, rip, registers=registers)
    return floor_of_widths(part, board, rip, registers=registers)


def _narrowest(ground: Ground, part: Polygon, rip: Rip) -> float:
    """Return the narrowest strip that a first rip or an order of widths leaves."""
    if isinstance(rip, float):
        return narrowest_strip(part, ground.request.product.board.width, ground.least_run, rip)
    return narrowest_of(rip, part, ground.least_run)


def _search(
    ground: Ground,
    floor: Floor,
    sites: Sequence[Site],
    rng: Random,
    down: Sequence[LaidBoard],
) -> Search:
    """Return the search over joints, or the best one of fixed steps where these are asked for."""
    request, terms = ground.request, Terms.of(ground.request)
    rules, length = request.rules, request.product.board.length
    if rules.stagger is Stagger.FREE:
        return Search(floor, sites, terms, rng, at_hand=at_hand(planks_at_hand(ground)))
    step = length / 2 if rules.stagger is Stagger.HALF else length / 3
    ways = (step,) if rules.stagger is Stagger.HALF else (step, -step)
    searches = [
        Search(floor, sites, terms, rng, [begin + way * site.run.row for site in sites])
        for way, begins in _steps_down(ground, down, ways)
        or [(w, _begins(sites, terms)) for w in ways]
        for begin in begins
    ]
    return min(searches, key=lambda search: search.score)


def _steps_down(
    ground: Ground, down: Sequence[LaidBoard], ways: Sequence[float]
) -> list[tuple[float, list[float]]]:
    """Return the ways to step with the phases of the first row that boards down have fixed."""
    near, length = ground.near, ground.request.product.board.length
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
        least = (site.eased or terms).least_end
        ends = (site.run.x0 + least, site.run.x1 - least)
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
