"""Hours: quantities and production rates in, tasks out, in the order of the trade.

Every hour has a driver (feet, pieces, cuts, casings, pounds by flights) and a rate that says where
it comes from. What drives hours and has no rate is a fault, never nought hours.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from jobs.domain.checks import ONE, ZERO, BadValueError, require_choice, require_number
from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.on_site import crew_of_hours
from jobs.domain.quantities import MEASURED, Quantity, in_units, quantity
from jobs.domain.scope.by_room.places import FloorFacts, lay_shares, room_shares, row_hours
from jobs.domain.scope.laid_for.basis import LaidFor, days_laid_for
from jobs.domain.scope.laid_for.hauling import hauled, lacks_a_run, with_one_more_run
from jobs.domain.scope.rates import (
    ProductionRate,
    find_rate,
    hours_for,
    to_hundredths,
)
from jobs.domain.scope.rules import up
from jobs.domain.scope.schedule import ScopeSchedule, rooms_agreed, schedule_of, worked_days
from jobs.domain.tasks import HAULING, TASKS, Task, comes_after, crews_work


class MissingRatesError(BadValueError):
    """Work was counted that no rate covers; `missing` lists it."""

    def __init__(self, missing: Sequence[str]) -> None:
        """Say every rate that is missing at once."""
        super().__init__(
            field="rates", value="missing for " + "; ".join(missing), accepted="a rate for each"
        )
        self.missing = tuple(missing)


@dataclass(frozen=True, kw_only=True, slots=True)
class SiteWork:
    """What the place and the crew do to the hours.

    `trip_hours` (out and home) and `crew_hours_per_day` are man-hours of the whole crew.
    `delay_factor` stretches the work (not travel); `acclimatize_hours` by zone may be nought where
    the cartons came early. `painted_by_crew` false leaves painting in the order of work at no
    hours. `crew` is who does it, None: people of about eight hours. `scheduled` false reckons as
    scopes did before they kept their days: trips by the hours, nothing hauled. What is
    `left_to_homeowner` (codes of tasks) takes no time of the crew's days. `floors` say by name
    where the work of a floor lies, `agreed` which rooms may be open for nights. `older_days` true
    lays the days out as agreed scopes of before were, so that a change is priced alone. `laid_for`
    is a real crew from a real day on, None: from some Monday on.
    """

    crew_hours_per_day: Decimal = Decimal(16)
    trip_hours: Decimal = ONE
    flights: int = 0
    delay_factor: Decimal = ONE
    level_cure_hours: Decimal = Decimal(24)
    acclimatize_hours: Mapping[str, Decimal] | None = None
    painted_by_crew: bool = True
    paint_dry_hours: Decimal = Decimal(12)
    crew: CrewDay | None = None
    scheduled: bool = True
    left_to_homeowner: tuple[str, ...] = ()
    floors: Mapping[str, FloorFacts] = field(default_factory=dict)
    older_days: bool = False
    agreed: Mapping[str, bool] = field(default_factory=dict)
    laid_for: LaidFor | None = None

    def __post_init__(self) -> None:
        """Refuse a day that travel eats up, and negative figures."""
        require_number("site.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_number("site.trip_hours", self.trip_hours, least=0, below=self.crew_hours_per_day)
        require_number("site.flights", self.flights, least=0)
        require_number("site.delay_factor", self.delay_factor, above=0)
        require_number("site.level_cure_hours", self.level_cure_hours, least=0)
        require_number("site.paint_dry_hours", self.paint_dry_hours, least=0)
        for zone, hours in (self.acclimatize_hours or {}).items():
            require_number(f"site.acclimatize_hours {zone}", hours, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Work:
    """Everything a job takes and everything to be done, ready to be frozen as its scope.

    `schedule` None: the work could not be laid onto days, or is reckoned as before there were any.
    """

    quantities: tuple[Quantity, ...]
    tasks: tuple[Task, ...]
    schedule: ScopeSchedule | None = None

    @property
    def hours(self) -> Decimal:
        """All man-hours."""
        return sum((task.hours for task in self.tasks), ZERO)


def site_quantities(quantities: Iterable[Quantity], site: SiteWork) -> tuple[Quantity, ...]:
    """Return what the site adds to a takeoff: one visit to set up, weight by flights, hauling."""
    taken = tuple(quantities)
    added = [quantity("visits", 1, "one job")]
    weight = sum((entry.amount for entry in taken if entry.code == "carry"), ZERO)
    if weight and site.flights:
        basis = f"{weight} lb up or down {site.flights} flights"
        added.append(quantity("carry_up", weight * site.flights, basis, source=MEASURED))
    return (*added, *hauled(taken)) if site.scheduled else tuple(added)


def missing_rates(
    quantities: Iterable[Quantity], rates: Sequence[ProductionRate]
) -> tuple[str, ...]:
    """Return, in words, each task and quantity that no rate covers."""
    faults: dict[str, None] = {}
    for entry in quantities:
        for code, kind in TASKS.items():
            if entry.code not in kind.drivers:
                continue
            if find_rate(rates, code, entry.code, entry.item) is None:
                item = f" ({entry.item})" if entry.item else ""
                faults[f"{kind.label}: {entry.label}{item}, per {entry.unit}"] = None
    return tuple(faults)


def trips_for(hours: Decimal, site: SiteWork) -> int:
    """Return the days that `hours` on site fill beside their travel, before they are laid out."""
    return up(hours / (site.crew_hours_per_day - site.trip_hours))


def travel_rate(site: SiteWork) -> ProductionRate:
    """Return what a trip takes, out and home, the whole crew together."""
    return ProductionRate(
        task_code="travel", driver="trips", hours=site.trip_hours, source="for this site"
    )


def work_from(
    takeoff: Sequence[Quantity],
    rates: Sequence[ProductionRate],
    site: SiteWork,
    holds: Iterable[tuple[str, str]] = (),
) -> Work:
    """Return a takeoff with what the site adds (visit, hauling, trips), all its tasks and days.

    `holds` are pairs of task code and the code of the caution that blocks it.
    Raises MissingRatesError naming everything that no rate covers.
    """
    counted = (*takeoff, *site_quantities(takeoff, site))
    return laid_out(counted, tasks_from(counted, rates, site, holds), site)


def laid_out(counted: Sequence[Quantity], tasks: Sequence[Task], site: SiteWork) -> Work:
    """Return what was counted and its tasks with the trips that these take, and with their days.

    Trips are the days that the work is laid onto, each out and home, and every trip takes its time
    from its day.
    """
    left = site.left_to_homeowner
    on_site = sum((task.hours for task in crews_work(tasks, left)), ZERO)
    guess = trips_for(on_site, site)
    if site.scheduled and (crew := _crew(site)) is not None:
        counted, tasks, days = _days(counted, tasks, guess, crew, site)
        if days is not None:
            basis = "a day on site each, out and home"
            work = _with_trips(counted, tasks, quantity("trips", worked_days(days), basis), site)
            schedule = schedule_of(days, crew, site.trip_hours, older=site.older_days)
            return replace(work, schedule=replace(schedule, agreed=rooms_agreed(site.agreed)))
    room = site.crew_hours_per_day - site.trip_hours
    basis = f"{on_site} h on site, {room} h a day beside travel, rounded up"
    return _with_trips(counted, tasks, quantity("trips", guess, basis), site)


def _days(
    counted: Sequence[Quantity], tasks: Sequence[Task], guess: int, crew: CrewDay, site: SiteWork
) -> tuple[Sequence[Quantity], Sequence[Task], Sequence[PlannedDay] | None]:
    """Return what is counted and done, with its days; None where it can't be laid onto days.

    They are laid out again until there is a run to the dump for each day that takes one, quickly
    until then. Older days have a drive only for so many of them as the scope had trips, and are
    laid out again until they are as many.
    """
    trips, quick = guess, not site.older_days
    while True:
        work = _with_trips(counted, tasks, quantity("trips", trips, "a day each"), site)
        crews = crews_work(work.tasks, site.left_to_homeowner)
        days = days_laid_for(site.laid_for, crews, crew, site.older_days, site.agreed, quick=quick)
        if days is None:
            return counted, tasks, None
        if not site.older_days and lacks_a_run(days, crews):
            counted, tasks = with_one_more_run(counted, tasks)
        elif quick:
            quick = False
        elif not site.older_days or worked_days(days) == trips:
            return counted, tasks, days
        else:
            trips = worked_days(days)


def _crew(site: SiteWork) -> CrewDay | None:
    """Return who does it; None where no crew has such a day."""
    try:
        return site.crew or crew_of_hours(site.crew_hours_per_day)
    except BadValueError:
        return None


def _with_trips(
    counted: Sequence[Quantity], tasks: Sequence[Task], trips: Quantity, site: SiteWork
) -> Work:
    alone = replace(site, acclimatize_hours=None)
    travel = tasks_from((trips,), (travel_rate(site),), alone)
    return Work(quantities=(*counted, trips), tasks=(*tasks, *travel))


def tasks_from(
    quantities: Sequence[Quantity],
    rates: Sequence[ProductionRate],
    site: SiteWork,
    holds: Iterable[tuple[str, str]] = (),
) -> tuple[Task, ...]:
    """Return the tasks that these quantities drive, in working order.

    Raises MissingRatesError naming everything that no rate covers.
    """
    missing = missing_rates(quantities, rates)
    if missing:
        raise MissingRatesError(missing)
    blocked: dict[str, list[str]] = defaultdict(list)
    for code, caution in holds:
        require_choice("hold.task", code, TASKS)
        blocked[code].append(caution)
    loose = [
        _task(code, zone, quantities, rates, site)
        for code in TASKS
        if site.scheduled or code not in HAULING
        for zone in _zones(code, quantities, site)
    ]
    return tuple(
        replace(task, after=comes_after(task, loose), hold_points=tuple(blocked[task.code]))
        for task in loose
    )


def _zones(code: str, quantities: Sequence[Quantity], site: SiteWork) -> tuple[str, ...]:
    """The zones in which this kind of task has something to do."""
    kind = TASKS[code]
    if code == "acclimatise":
        waits = site.acclimatize_hours or {}
        return tuple(zone for zone, hours in waits.items() if hours)
    zones = {
        "" if kind.whole_job else entry.zone: None
        for entry in quantities
        if entry.code in kind.drivers and entry.amount
    }
    return tuple(zones)


def _task(
    code: str,
    zone: str,
    quantities: Sequence[Quantity],
    rates: Sequence[ProductionRate],
    site: SiteWork,
) -> Task:
    kind = TASKS[code]
    driving = [
        entry
        for entry in quantities
        if entry.code in kind.drivers and (kind.whole_job or entry.zone == zone)
    ]
    by_others = code == "paint" and not site.painted_by_crew
    parts = [] if by_others else [_part(code, entry, rates) for entry in driving]
    factor = ONE if code in ("travel", *HAULING) else site.delay_factor
    said = [words for _, words in parts]
    if factor != ONE:
        said.append(f"all times {factor}")
    floor = site.floors.get(zone)
    task = Task(
        code=code,
        label=f"{kind.label} (by others)" if by_others else kind.label,
        zone=zone,
        hours=to_hundredths(sum((hours for hours, _ in parts), ZERO) * factor),
        basis="; ".join(said) or "no hours of ours",
        wait_hours_after=_wait_after(code, zone, site),
        rows=_rows(code, zone, quantities),
        helper=kind.helper,
        per_day=site.trip_hours if code == "travel" else ZERO,
        people=_people(code, driving),
        passes=_passes(code, driving, floor),
    )
    taken = [(entry, hours) for entry, (hours, _) in zip(driving, parts, strict=False)]
    return _placed(task, taken, floor, rates)


def _people(code: str, driving: Sequence[Quantity]) -> int:
    """Return how many a task takes at once: two for furniture, appliances and stair parts."""
    heavy = code in ("furniture", "stairs") or any(e.code == "appliances" for e in driving)
    return 2 if heavy else 1


def _passes(code: str, driving: Sequence[Quantity], floor: FloorFacts | None) -> int:
    """Return in how many goes a task is done: loads to the dump, treads of the only stair."""
    if code == "dump_run":
        return max(1, int(sum((entry.amount for entry in driving), ZERO)))
    return 2 if code == "stairs" and floor is not None and floor.alternate else 1


def _placed(
    task: Task,
    taken: Sequence[tuple[Quantity, Decimal]],
    floor: FloorFacts | None,
    rates: Sequence[ProductionRate],
) -> Task:
    """Return a task with its hours by room, those of laying by row."""
    if task.code == "lay":
        by_row = row_hours(task.hours, task.row_count, floor, rates) if task.rows else ()
        return replace(task, rooms=lay_shares(task.hours, floor), row_hours=by_row)
    if TASKS[task.code].whole_job or task.code in ("acclimatise", "underlay", "stairs"):
        return task
    return replace(task, rooms=room_shares(task.hours, taken, floor))


def _part(code: str, entry: Quantity, rates: Sequence[ProductionRate]) -> tuple[Decimal, str]:
    """Hours, not rounded, that one quantity takes, and the sentence that says so."""
    rate = find_rate(rates, code, entry.code, entry.item)
    if rate is None:
        raise MissingRatesError([f"{code}: {entry.code}"])
    named = f"{entry.label}, {entry.item}" if entry.item else entry.label
    per = entry.unit if rate.per == ONE else in_units(rate.per, entry.unit)
    each = "each" if per == "each" else f"per {per}"
    words = f"{named}: {in_units(entry.amount, entry.unit)} at {rate.hours} h {each}"
    return hours_for(entry.amount, rate), f"{words} ({rate.source})"


def _wait_after(code: str, zone: str, site: SiteWork) -> Decimal:
    if code == "acclimatise":
        return (site.acclimatize_hours or {}).get(zone, ZERO)
    if code == "level":
        return site.level_cure_hours
    return site.paint_dry_hours if code == "paint" else ZERO


def _rows(code: str, zone: str, quantities: Sequence[Quantity]) -> tuple[int, int] | None:
    """First and last row of a zone, for its laying task."""
    if code != "lay":
        return None
    rows = sum(int(e.amount) for e in quantities if (e.code, e.zone) == ("rows", zone))
    return (1, rows) if rows else None
