"""The planner's front door: a request in, a plan out, improved until told to stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from random import Random

from layout.planner.desk import Desk
from layout.planner.effort import Effort, Progress
from layout.planner.first_rows import Rip, row_choices, uneven_choices
from layout.planner.grounds import grounds_of
from layout.planner.ranking import rank_of
from layout.planner.relaxing import with_relaxations
from layout.planner.spending import spends, with_spent
from layout.planner.start_wall import propose_start, with_starts
from layout.planner.trials import Trial, begin
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.saw.leftovers import with_offcuts
from layout.solver import Stop
from layout.values.advice import DirectionCost
from layout.values.errors import InputError, NoPlanError, NotYetError, StoppedError
from layout.values.outline import main_directions
from layout.values.plan import Plan
from layout.values.request import PlanRequest

DEFAULT_ITERATIONS = 600
_LOOK = 40  # iterations in each of several directions before the best of them is searched on

_LARGE = 200  # runs from which on a stop is heard before a first plan stands
_FIRST_ROUNDS = 12  # rounds of search before the bound is looked for
_PATIENCE = 3  # of them, where joints still break rules
_MOST_ROUNDS = 80
_FIRST_MOVES = 200
_MOST_MOVES = 4000


def plan_floor(
    request: PlanRequest,
    *,
    stop: Stop | None = None,
    progress: Callable[[Progress], None] | None = None,
) -> Plan:
    """Return the best plan found for ``request``.

    ``stop`` is asked often; once it says True the best plan so far is returned. The request's
    ``effort_iterations`` are counted here, its ``effort_s`` only by the caller's ``stop``: without
    either, a fixed number of iterations is done. Raises StoppedError where no plan stands yet,
    NoPlanError where nothing is left to lay, NotYetError for what this version can't plan.
    """
    _refuse_control_row(request)
    desk, best = _best_plan(request, stop, progress)

    def planned(other: PlanRequest, *, full: bool) -> Plan:
        if full and not (stop is not None and stop()):
            with suppress(StoppedError):
                return _best_plan(other, stop, None)[1]
        return _best_plan(replace(other, effort_iterations=1), None, None)[1]

    starts = propose_start(request, best, planned)

    def finished(plan: Plan) -> Plan:
        return with_relaxations(request, with_offcuts(request, with_starts(plan, starts)))

    sparing = finished(best)
    if not spends(request):
        return sparing
    spent = replace(desk.spend(), directions=best.directions)
    return with_spent(finished(spent), sparing)


def _best_plan(
    request: PlanRequest, stop: Stop | None, progress: Callable[[Progress], None] | None
) -> tuple[Desk, Plan]:
    """Return the best plan found, in one direction or of all, and the desk that it comes from."""
    iterations = request.effort_iterations
    if iterations is None and stop is None:
        iterations = DEFAULT_ITERATIONS
    directions = _directions(request)
    limits: list[int | None] = [None]
    if iterations is not None:
        limits = [iterations * (i + 1) // len(directions) for i in range(len(directions))]
    elif len(directions) > 1:
        limits = [_LOOK] * len(directions)  # so that the first one leaves time for the others
    desks: list[Desk] = []
    for direction, limit in zip(directions, limits, strict=True):
        effort = Effort(stop, limit)
        if desks and effort.spent():
            break
        desks.append(_plan_direction(request, direction, effort, progress))

    def rank(desk: Desk) -> tuple[float, ...]:
        return rank_of(desk.plan, request)

    best = min(desks, key=rank)
    if limits[0] == _LOOK and iterations is None and not Effort(stop, None).spent():
        fuller = _plan_direction(request, best.plan.direction_deg, Effort(stop, None), progress)
        desks[desks.index(best)] = best = min(best, fuller, key=rank)
    if request.rules.direction_deg is not None:
        return best, best.plan
    others = tuple(_cost(desk.plan) for desk in desks if desk is not best)
    return best, replace(best.plan, directions=others)


def _refuse_control_row(request: PlanRequest) -> None:
    """Refuse what is not planned yet with rows that go both ways."""
    if request.lay.control_row is not None and request.rules.wall_error > 0:
        accepted = "0 where rows go both ways (lay.control_row)"
        raise NotYetError("rules.wall_error", request.rules.wall_error, accepted)


def _refuse_beyond(request: PlanRequest, trials: Sequence[Trial]) -> None:
    """Refuse a control row beyond the last row."""
    row, last = request.lay.control_row, min(len(trial.floor.rows) for trial in trials)
    if row is not None and row > last:
        raise InputError("lay.control_row", row, f"1 to {last}, the rows of this floor")


def _directions(request: PlanRequest) -> list[float]:
    """Return the directions to plan: the one asked for, or the main wall directions."""
    if request.rules.direction_deg is not None:
        return [request.rules.direction_deg]
    return main_directions(request.zone.outline)


def _plan_direction(
    request: PlanRequest,
    direction: float,
    effort: Effort,
    progress: Callable[[Progress], None] | None,
) -> Desk:
    """Return the desk with the best plan found along one direction."""
    frame = Frame(direction_deg=direction, lay=request.lay)
    grounds = grounds_of(request, frame)
    if not grounds or grounds[0].region.is_empty:
        text = "zone: the gaps at its edges leave no floor to lay"
        raise NoPlanError(text)
    desk = Desk(request=request, frame=frame, effort=effort, progress=progress)
    choices = row_choices(grounds[0])
    trials = [_first_trial(grounds[0], choices, desk.rng, effort)]
    desk.draft(trials[0], trials[0].search.picks)
    trials += _more_trials(grounds[0], choices, desk.rng, effort, begun=True)
    for ground in grounds[1:]:
        if not effort.stopped():
            trials += _more_trials(ground, row_choices(ground), desk.rng, effort, begun=False)
    _refuse_beyond(request, trials)
    desk.search(trials, rounds=_FIRST_ROUNDS, patience=_PATIENCE, early=not effort.counts(0))
    if desk.joints_broken:
        uneven = _uneven_trials(grounds[0], desk.rng, effort)
        if uneven:
            trials += uneven
            desk.search(trials, rounds=_FIRST_ROUNDS, patience=_PATIENCE)
    trials += desk.eased()
    desk.polish(_FIRST_MOVES)
    desk.prove_again()
    desk.bathe()
    desk.search(trials, rounds=_MOST_ROUNDS)
    desk.polish(_MOST_MOVES)
    desk.finish()
    return desk


def _first_trial(
    ground: Ground, choices: Sequence[Sequence[Rip]], rng: Random, effort: Effort
) -> Trial:
    """Return the trial of the best balanced first rip of the choices for each part."""
    trial = begin(ground, [of_part[0] for of_part in choices], rng)
    trial.open_by_hand()
    if len(trial.sites) > _LARGE and effort.spent():
        text = "stopped before a first plan stood"
        raise StoppedError(text)
    return trial


def _more_trials(
    ground: Ground, choices: Sequence[Sequence[Rip]], rng: Random, effort: Effort, *, begun: bool
) -> list[Trial]:
    """Return trials of the first rips that the balance rule allows, the first if not ``begun``."""
    trials = []
    for i in range(int(begun), max(len(of_part) for of_part in choices)):
        if effort.step():
            break
        rips = [of_part[min(i, len(of_part) - 1)] for of_part in choices]
        trials.append(begin(ground, rips, rng))
    return trials


def _uneven_trials(ground: Ground, rng: Random, effort: Effort) -> list[Trial]:
    """Return trials of first rips beyond the balance rule, where joints break a rule with it."""
    trials: list[Trial] = []
    choices = uneven_choices(ground)
    for i in range(max(map(len, choices), default=0)):
        if effort.step():
            break
        trials.append(begin(ground, [part[min(i, len(part) - 1)] for part in choices], rng))
    return trials


def _cost(plan: Plan) -> DirectionCost:
    """Return what a plan in its direction costs."""
    return DirectionCost(
        direction_deg=plan.direction_deg,
        planks=plan.totals.planks,
        cartons=plan.totals.cartons,
        crosscuts=plan.totals.crosscuts,
        rips=plan.totals.rips,
        trapped=sum(piece.trapped for piece in plan.pieces),
    )
