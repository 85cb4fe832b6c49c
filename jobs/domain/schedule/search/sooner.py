"""The search for days that end sooner: from good ones to better ones near them, a counted while.

No order that is fixed beforehand is the best for every house: which room comes first decides when
its leveler is dry, and with it the day that the job ends on. So what a lead would turn over in his
head is tried: this room before that one, the cartons after the tear-out.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.planning import DayPlan, NoDayError, Setting
from jobs.domain.schedule.search.moves import near
from jobs.domain.schedule.search.rank import NO_DAYS, DaysRank, nights, rank

TRIED_A_DAY = 160
"""How many days are tried at most for each that a job takes: some hundred orders of its work."""

AT_ONCE = 4
"""From how many orders the search goes on."""

Lay = Callable[[Setting, date | None], list[WorkedDay]]


@dataclass(frozen=True, kw_only=True, slots=True)
class RankedDays:
    """Days, the setting that they are of, and how good they are; no day where there are none."""

    setting: Setting
    days: list[WorkedDay]
    rank: DaysRank = NO_DAYS

    @classmethod
    def of(cls, setting: Setting, days: list[WorkedDay]) -> "RankedDays":
        """Return these days with their rank."""
        return cls(setting=setting, days=days, rank=rank(days, setting))

    def is_sound(self, least: date) -> bool:
        """Whether they end as soon as could be, with nothing in them that nobody does so."""
        return self.rank.ends <= least and not self.rank.senseless and not self.rank.odd


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchAim:
    """What the search is after: the first day that could be the last, and no more nights.

    `nights` are those of rooms for which the homeowner agreed to none.
    """

    least: date
    nights: int

    def height(self, ranked: RankedDays) -> tuple[int, date, bool, int, DaysRank]:
        """Return how far days are from it: nights too many, end, what is left after that day."""
        late = (spell for day in ranked.days if day.date > self.least for spell in day.spells)
        left = sum(spell.ends - spell.begins for spell in late)
        more = max(0, nights(ranked.days, ranked.setting, unasked=True) - self.nights)
        return more, ranked.rank.ends, ranked.rank.senseless, left, ranked.rank

    def is_sooner(self, ranked: RankedDays, best: RankedDays) -> bool:
        """Whether days end sooner than others, with no more nights than there may be."""
        more = nights(ranked.days, ranked.setting, unasked=True) > self.nights
        return ranked.rank.ends < best.rank.ends and not more


class SearchPoint:
    """Days that the search goes on from, and the orders near theirs that were not tried yet."""

    def __init__(self, at: RankedDays) -> None:
        self.at = at
        self.near = near(at.setting)

    def step(self, aim: SearchAim) -> tuple["SearchPoint | None", int]:
        """Return from where it goes on, None: from here; and how many days that was to try."""
        setting = next(self.near, None)
        if setting is None:
            return None, 0
        tried, spent = _as_they_come(setting, self.at.rank.ends)
        whole = bool(tried.days) and tried.days[-1].after.finished
        is_better = whole and aim.height(tried) < aim.height(self.at)
        return SearchPoint(tried) if is_better else None, spent


def ended_sooner(
    best: RankedDays,
    starts: Iterable[Setting],
    lay: Lay,
    least: date,
    tried_a_day: int = TRIED_A_DAY,
) -> RankedDays:
    """Return the days that end soonest of those that so many tries give; as given where none do.

    The search goes on from the best few of `starts` in turn, each time to better days near them:
    those that end sooner, and those with less left after the day that is the `least`. No room is
    open for a night more by it, but where the homeowner agreed to its nights.
    """
    aim = SearchAim(least=least, nights=nights(best.days, best.setting, unasked=True))
    points, most_days = _points(starts, aim), tried_a_day * len(best.days)
    while points and most_days > 0 and best.rank.ends > least:
        point = points.pop(0)
        better, spent = point.step(aim)
        most_days -= spent
        if better is not None and aim.is_sooner(better.at, best):
            ranked = RankedDays.of(better.at.setting, lay(better.at.setting, best.rank.ends))
            best = ranked if aim.is_sooner(ranked, best) else best
        if spent:
            points.append(better or point)
    return best


def _points(starts: Iterable[Setting], aim: SearchAim) -> list[SearchPoint]:
    """Return from where the search goes on: of each order its best days, and the best of them."""
    orders: dict[object, RankedDays] = {}
    for setting in starts:
        order = setting.carried_first, *(step.key for step in setting.steps)
        ranked, _ = _as_they_come(setting)
        if order not in orders or aim.height(ranked) < aim.height(orders[order]):
            orders[order] = ranked
    in_turn = sorted(orders.values(), key=aim.height)
    return [SearchPoint(one) for one in in_turn[:AT_ONCE]]


def _as_they_come(setting: Setting, until: date | None = None) -> tuple[RankedDays, int]:
    """Return days as the bench gives them, with nothing mended, and how many were tried for it.

    There are none where this order leaves something that nobody can do within a year.
    """
    plan = DayPlan(setting, setting.short)
    try:
        days = plan.days(until=until)
    except NoDayError:
        days = []
    return RankedDays.of(setting, days), len(plan.tried)
