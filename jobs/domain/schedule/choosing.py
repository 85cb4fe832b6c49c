"""The days of a job: the best of several orders to go through the house, none under two hours.

Flooring is carried in as soon as it is there, before the truck drives old floor to the dump, but
where that ends the job later.
Where a day would be worked for less than two hours, the days before it leave it more. Rooms are
emptied on their day and torn out one after another, but where the job ends sooner otherwise.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from jobs.domain.schedule.bench.emptied import emptied_days_before
from jobs.domain.schedule.bench.evenings import early_evenings, rides_along
from jobs.domain.schedule.bench.lone import is_for_one, is_the_same_work
from jobs.domain.schedule.bench.standing import stands_from
from jobs.domain.schedule.bench.stories import goes_back, turns
from jobs.domain.schedule.bench.wet import dusty_pours
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY
from jobs.domain.schedule.leaving import scant_runs, stands_overnight
from jobs.domain.schedule.lived_in import lived_in
from jobs.domain.schedule.planning import LEAST_HALVES, YEAR, DayPlan, Setting
from jobs.domain.schedule.priority import orders_of
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.schedule.trade import PHASES, phase_of

MORE_HALVES = 8
"""How much more than is lacking days before the last are shortened by at most."""
MOST_TURNS = 4
"""How often somebody may change the story on a day where other days end no later."""


def worked_days(setting: Setting) -> list[WorkedDay]:
    """Return the days of a job. Raises NoDayError where nothing can be worked for a year."""
    least = _soonest(setting)
    at_leisure = frozenset(name for name, over in setting.agreed.items() if over)
    best: list[WorkedDay] = []
    for kindly, steps in ((True, setting.steps), (False, setting.steps), (False, _loaded(setting))):
        ends, senseless, _ = _rank(best, setting) if best else (date.max, True, 0)
        if not senseless and ends <= least + timedelta(days=1):
            break
        tried = replace(setting, steps=steps, at_leisure=at_leisure, kindly=kindly)
        best = _best_of(tried, least, best)
    return best


def _loaded(setting: Setting) -> tuple[Step, ...]:
    """Return the steps where nobody sets up before all is loaded."""
    loads = tuple(StepNeed(key=s.key) for s in setting.steps if s.task.code == "load")
    return tuple(
        replace(s, needs=(*s.needs, *loads)) if s.task.code == "setup" else s for s in setting.steps
    )


def _best_of(setting: Setting, least: date, best: list[WorkedDay]) -> list[WorkedDay]:
    """Return the best days of all orders and agreements, or those that were the best before."""
    for agreed in _agreements(setting):
        for tried in _tries(replace(setting, agreed=agreed)):
            if tried.patient and not _may_gain_by_patience(best, setting):
                break
            days = _without_vain_waits(tried, _rank(best, setting)[0] if best else None)
            if not days:
                return days
            if not best or _rank(days, setting) < _rank(best, setting):
                best = _poured_last(tried, days)
            if _rank(best, setting) <= (least, False, 0):
                return best
    return best


def _poured_last(setting: Setting, days: list[WorkedDay]) -> list[WorkedDay]:
    """Return the days with leveler after the day's tear-out, where they are none the worse."""
    if not _dusty(days, setting):
        return days
    cleaner = _without_vain_waits(replace(setting, pours_last=True), days[-1].date)
    return min(days, cleaner or days, key=lambda made: _rank(made, setting))


def _dusty(days: Sequence[WorkedDay], setting: Setting) -> int:
    """Return on how many days old floor comes out beside leveler, though it could wait.

    Who is alone pours before the run to the dump, and goes on as it comes.
    """
    if len(setting.team.people) < 2:
        return 0
    return dusty_pours(days, {step.key: step for step in setting.steps})


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
    return min(days, sooner, key=lambda made: _rank(made, setting))


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


def _rank(days: Sequence[WorkedDay], setting: Setting) -> tuple[date, bool, int]:
    """Return how good days are: which end sooner, then those worth the drive without running.

    Such days as nobody lays out count as if they ended a worked day later.
    Then come those with fewer evenings on which the crew goes home though the next morning's work
    would have fitted in, fewer days of an hour, fewer runs with less old floor than they take
    hours, less old floor that comes out beside wet leveler, and then no flooring that rides to the
    dump.
    """
    story = {step.key: step.task.zone for step in setting.steps}
    runs = any(turns(day, story) > MOST_TURNS for day in days) or goes_back(days, setting.steps)
    few = sum(d.on_site < LEAST_HALVES or stands_from(d) is not None for d in days[1:])
    early = 4 * (early_evenings(days, setting) + few)
    early += 2 * scant_runs(days) + rides_along(days)
    early += 2 * _dusty(days, setting)
    senseless = runs or _short(days) is not None
    return _after(days[-1].date, setting) if senseless else days[-1].date, senseless, early


def _after(day: date, setting: Setting) -> date:
    """Return the next day that is worked; this one where none is for a year."""
    later = (day + timedelta(days=number) for number in range(1, YEAR))
    return next((one for one in later if setting.working(one)), day)


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
    for find in (_short, _scant):
        for _ in range(len(days)):
            short = find(days)
            if short is None:
                break
            better = _leaving_more(setting, shut, days, short, find)
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
        if _rank(made, setting) <= _rank(days, setting):
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
        if _rank(made, tried) <= _rank(days, setting):
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
    early = early_evenings(days, setting) if _short(days) is None else YEAR
    return early_evenings(made, setting) > early


def _with_more_left(
    setting: Setting, shut: Mapping[date, int], days: list[WorkedDay]
) -> list[WorkedDay]:
    """Return the days where base or the like waits for a last day that nobody would drive out for.

    Only in rooms that nobody lives by; the same days where that mends nothing.
    """
    place = _short(days)
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
        if made[-1].on_site >= LEAST_HALVES and _short(made) is None:
            return made
        if made[-1].on_site > longest:
            held[key], longest = moment, made[-1].on_site
    return days


def _short(days: Sequence[WorkedDay]) -> int | None:
    """Return the place of the first day that is not worth the drive."""
    for place, day in enumerate(days):
        beside = day.waits or (place > 0 and days[place - 1].waits)
        if place and day.on_site < LEAST_HALVES and not beside:
            return place
    return None


def _scant(days: Sequence[WorkedDay]) -> int | None:
    """Return the place of the first day under two hours after the first, also beside a wait."""
    for place, day in enumerate(days):
        if place and day.on_site < LEAST_HALVES:
            return place
    return None


def _leaving_more(
    setting: Setting,
    shut: Mapping[date, int],
    days: Sequence[WorkedDay],
    short: int,
    find: Callable[[Sequence[WorkedDay]], int | None],
) -> tuple[list[WorkedDay], dict[date, int]] | None:
    """Return the days where one before the short one ends sooner; None where that mends nothing."""
    lacking = LEAST_HALVES - days[short].on_site
    for place in range(short - 1, max(-1, short - 4), -1):
        for less in range(lacking, lacking + (3 if place == short - 1 else MORE_HALVES)):
            most = days[place].on_site - less
            if most < LEAST_HALVES:
                break
            tried = {**shut, days[place].date: most}
            made = [*days[:place], *DayPlan(setting, tried).days(days[place])]
            later = find(made)
            if len(made) <= len(days) and (later is None or later > short):
                return made, tried
    return None
