"""The days of a job: the best of several orders to go through the house, none under two hours.

Where they don't end as soon as could be, such that do are searched for among the orders near them
(`search`).

Flooring is carried in as soon as it is there, before the truck drives old floor to the dump, but
where that ends the job later.
Where a day would be worked for less than two hours, the days before it leave it more. Rooms are
emptied on their day and torn out one after another, but where the job ends sooner otherwise.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise, product

from jobs.domain.schedule.bench.emptied import emptied_days_before
from jobs.domain.schedule.bench.evenings import early_evenings
from jobs.domain.schedule.bench.lone import is_for_one, is_the_same_work
from jobs.domain.schedule.bench.standing import stands_from
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY
from jobs.domain.schedule.leaving import scant_runs, stands_overnight
from jobs.domain.schedule.lived_in import lived_in
from jobs.domain.schedule.planning import LEAST_HALVES, YEAR, DayPlan, Setting
from jobs.domain.schedule.priority import orders_of
from jobs.domain.schedule.search.rank import dusty, rank, scant, short
from jobs.domain.schedule.search.sooner import RankedDays, ended_sooner
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.schedule.trade import PHASES, phase_of

MORE_HALVES = 8
"""How much more than is lacking days before the last are shortened by at most."""


def worked_days(setting: Setting) -> list[WorkedDay]:
    """Return the days of a job. Raises NoDayError where nothing can be worked for a year."""
    least = _soonest(setting)
    at_leisure = frozenset(name for name, over in setting.agreed.items() if over)
    best = RankedDays(setting=setting, days=[])
    for kindly, steps in ((True, setting.steps), (False, setting.steps), (False, _loaded(setting))):
        if best.days and not best.rank.senseless and best.rank.ends <= least + timedelta(days=1):
            break
        tried = replace(setting, steps=steps, at_leisure=at_leisure, kindly=kindly)
        best = _best_of(tried, least, best)
    if best.days and best.rank.ends > least and not setting.quick:
        best = ended_sooner(best, _starts(setting), _without_vain_waits, least)
    return best.days


def _starts(setting: Setting) -> Iterator[Setting]:
    """Yield all that the search may go on from: every order and agreement, kindly and not."""
    at_leisure = frozenset(name for name, over in setting.agreed.items() if over)
    for kindly, agreed in product((True, False), _agreements(setting)):
        tries = _tries(replace(setting, agreed=agreed, at_leisure=at_leisure, kindly=kindly))
        yield from (tried for tried in tries if not tried.patient)


def _loaded(setting: Setting) -> tuple[Step, ...]:
    """Return the steps where nobody sets up before all is loaded."""
    loads = tuple(StepNeed(key=s.key) for s in setting.steps if s.task.code == "load")
    return tuple(
        replace(s, needs=(*s.needs, *loads)) if s.task.code == "setup" else s for s in setting.steps
    )


def _best_of(setting: Setting, least: date, best: RankedDays) -> RankedDays:
    """Return the best days of all orders and agreements, or those that were the best before."""
    for agreed in _agreements(setting):
        for tried in _tries(replace(setting, agreed=agreed)):
            if tried.patient and not _may_gain_by_patience(best.days, setting):
                break
            until = best.rank.ends if best.days else None
            ranked = RankedDays.of(tried, _without_vain_waits(tried, until))
            if not ranked.days:
                return ranked
            if ranked.rank < best.rank:
                best = _poured_last(ranked)
            if best.is_sound(least):
                return best
    return best


def _poured_last(ranked: RankedDays) -> RankedDays:
    """Return the days with leveler after the day's tear-out, where they are none the worse."""
    if not dusty(ranked.days, ranked.setting):
        return ranked
    setting = replace(ranked.setting, pours_last=True)
    cleaner = RankedDays.of(setting, _without_vain_waits(setting, ranked.days[-1].date))
    return min(ranked, cleaner, key=lambda one: one.rank)


def _without_vain_waits(setting: Setting, until: date | None) -> list[WorkedDay]:
    """Return the days in this order, where no room waits for a stretch that doesn't hold it.

    A room that is open over days off all the same, though it waited, is opened when its turn comes.
    No more is looked for once they go on after `until`.
    """
    days = _in_order(setting, until)
    long = _open_over_days_off(days, setting)
    if not long:
        return days
    sooner = _in_order(replace(setting, long=long), until)
    return min(days, sooner, key=lambda made: rank(made, setting))


def _open_over_days_off(days: Sequence[WorkedDay], setting: Setting) -> frozenset[str]:
    """Return the rooms that stand open over days off, where nobody agreed to it."""
    rooms = lived_in(setting.steps) if days else ()
    return frozenset(
        room.name
        for room in rooms
        if not setting.agreed.get(room.name)
        if any(
            room.is_opened(day.after)
            and not room.is_closed(day.after)
            and (following.date - day.date).days > 1
            and not setting.working(day.date + timedelta(days=1))
            for day, following in pairwise(days)
        )
    )


def _tries(setting: Setting) -> Iterator[Setting]:
    """Yield the orders to be tried, the flooring carried in first; one where it comes in later.

    Each also with a crew that rather tears nothing out on a day than little.
    """
    orders = orders_of(setting.steps)
    later = orders_of(setting.steps, carried_first=False)[0]
    hauls = any(step.load and step.halves for step in setting.steps)
    for patient in (False, True) if hauls else (False,):
        for order in orders:
            yield replace(setting, steps=order, patient=patient)
        yield replace(setting, steps=later, patient=patient, carried_first=False)


def _may_gain_by_patience(days: Sequence[WorkedDay], setting: Setting) -> bool:
    """Whether a crew that tears nothing out for little might drive or go home less often.

    Not where old floor stands overnight: a run more is counted then.
    """
    gains = early_evenings(days, setting) or scant_runs(days)
    return bool(gains) and not any(map(stands_overnight, days))


def _agreements(setting: Setting) -> list[Mapping[str, bool]]:
    """Return what was agreed without the nights over days off, and with: only to end sooner."""
    plain = dict.fromkeys(setting.agreed, False)
    return [plain, setting.agreed] if any(setting.agreed.values()) else [plain]


def _soonest(setting: Setting) -> date:
    """Return the day before which nobody could end: all half hours over those of each day."""
    left, day = sum(step.halves for step in setting.steps), setting.start
    for _ in range(YEAR):
        if setting.working(day):
            left -= sum(setting.team.halves(day))
        if left <= 0:
            break
        day += timedelta(days=1)
    return day


def _in_order(setting: Setting, until: date | None) -> list[WorkedDay]:
    """Return the days where the steps are taken in this order, none of them under two hours.

    Such a day beside a wait may be, but where those before it can leave it more.
    """
    shut: dict[date, int] = dict(setting.short)
    days = DayPlan(setting, shut).days(until=until)
    if until is not None and days and days[-1].date > until:
        return days
    if setting.kindly:
        setting, days = _emptied_late(setting, days, until)
    for find in (short, scant):
        for _ in range(len(days)):
            place = find(days)
            if place is None:
                break
            better = _leaving_more(setting, shut, days, place, find)
            if better is None or _goes_home_oftener(better[0], days, setting):
                break
            days, shut = better
    days = _with_more_left(setting, shut, days)
    days = _gone_home(setting, shut, days)
    return _driven_alone(setting, shut, days)


def _gone_home(
    setting: Setting, shut: Mapping[date, int], days: list[WorkedDay]
) -> list[WorkedDay]:
    """Return the days on which nobody stands about for longer than for what; no later, no worse."""
    for place in range(len(days)):
        most = stands_from(days[place]) if place < len(days) else None
        if most is None:
            continue
        tried = {**shut, days[place].date: most}
        made = [*days[:place], *DayPlan(setting, tried).days(days[place])]
        if rank(made, setting) <= rank(days, setting):
            days, shut = made, tried
    return days


def _driven_alone(
    setting: Setting, shut: Mapping[date, int], days: list[WorkedDay]
) -> list[WorkedDay]:
    """Return the days where the lead alone drives out for what one does as soon as it is wanted.

    All else is as it was: the next day begins as it did, and nothing ends later.
    """
    for place, day in enumerate(days[:-1]):
        halves = setting.team.halves(day.date)[0]
        if not place or not is_for_one(day, min(halves, shut.get(day.date, halves))):
            continue
        team = setting.team.with_one_on(day.date)
        tried = replace(setting, team=team)
        made = [*days[:place], *DayPlan(tried, shut).days(day)]
        if not is_the_same_work(made[place], day) or len(made) > len(days):
            continue
        if rank(made, tried) <= rank(days, setting):
            setting, days = tried, made
    return days


def _emptied_late(
    setting: Setting, days: list[WorkedDay], until: date | None
) -> tuple[Setting, list[WorkedDay]]:
    """Return the days on which a room is emptied the day before something is begun in it at most.

    The same days where the job would end later by it, unless somebody lives by the room.
    """
    lived = {step.key for step in setting.steps if step.use}
    for _ in range(2):
        more = emptied_days_before(days, setting.start)
        if not more:
            break
        must = {key: moment for key, moment in more.items() if key in lived}
        for one in (more, must) if must else (more,):
            tried = replace(setting, held={**setting.held, **one})
            made = DayPlan(tried, setting.short).days(until=until if must else days[-1].date)
            if one is must or made[-1].date <= days[-1].date:
                break
        else:
            break
        setting, days = tried, made
    return setting, days


def _goes_home_oftener(
    made: Sequence[WorkedDay], days: Sequence[WorkedDay], setting: Setting
) -> bool:
    """Whether a day under two hours beside a wait would be mended by going home before the time."""
    early = early_evenings(days, setting) if short(days) is None else YEAR
    return early_evenings(made, setting) > early


def _with_more_left(
    setting: Setting, shut: Mapping[date, int], days: list[WorkedDay]
) -> list[WorkedDay]:
    """Return the days where base or the like waits for a last day that nobody would drive out for.

    Only in rooms that nobody lives by; the same days where that mends nothing.
    """
    place = short(days)
    if place is None or place + 1 < len(days):
        return days
    moment = (days[place].date - setting.start).days * QUARTERS_A_DAY
    steps = {step.key: step for step in setting.steps}
    spells = [spell for day in days[:place] for spell in day.spells]
    held: dict[str, int] = {}
    longest = days[-1].on_site
    for key in dict.fromkeys(spell.key for spell in reversed(spells)):
        step = steps[key]
        if step.use or phase_of(step.task.code, step.part) < PHASES["base"]:
            continue
        made = DayPlan(setting, shut, {**held, key: moment}).days()
        if len(made) > len(days):
            continue
        if made[-1].on_site >= LEAST_HALVES and short(made) is None:
            return made
        if made[-1].on_site > longest:
            held[key], longest = moment, made[-1].on_site
    return days


def _leaving_more(
    setting: Setting,
    shut: Mapping[date, int],
    days: Sequence[WorkedDay],
    at: int,
    find: Callable[[Sequence[WorkedDay]], int | None],
) -> tuple[list[WorkedDay], dict[date, int]] | None:
    """Return the days where one before the short one ends sooner; None where that mends nothing."""
    lacking = LEAST_HALVES - days[at].on_site
    for place in range(at - 1, max(-1, at - 4), -1):
        for less in range(lacking, lacking + (3 if place == at - 1 else MORE_HALVES)):
            most = days[place].on_site - less
            if most < LEAST_HALVES:
                break
            tried = {**shut, days[place].date: most}
            made = [*days[:place], *DayPlan(setting, tried).days(days[place])]
            later = find(made)
            if len(made) <= len(days) and (later is None or later > at):
                return made, tried
    return None
