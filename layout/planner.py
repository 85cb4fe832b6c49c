"""The planner's front door: a request in, a plan out, improved until told to stop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot
from random import Random

from layout.choices import Terms
from layout.drafting import draft_plan
from layout.errors import NoPlanError, NotYetError, StoppedError
from layout.material import Stagger
from layout.outline import Region, edges_of, laying_region, polygons_of
from layout.plan import DirectionCost, Plan
from layout.request import PlanRequest
from layout.rows import Frame
from layout.solver import Stop
from layout.trials import Trial, begin, rip_choices

DEFAULT_ITERATIONS = 400

_SWEEPS = 10  # sweeps between two offers of new choices
_LARGE = 200  # runs from which on a stop is heard before a first plan stands
_IDLE = 40  # rounds without improvement after which the search is done


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the planner is: the best plan's planks, the proven bound, the work done so far."""

    planks: int
    lower_bound: int
    iterations: int


class Effort:
    """How much work may still be done: iterations where given, and the caller's stop."""

    def __init__(self, stop: Stop | None, iterations: int | None) -> None:
        self._stop = stop or (lambda: False)
        self._limit = iterations
        self.iterations = 0

    def step(self) -> bool:
        """Count one iteration; return whether the effort is spent."""
        self.iterations += 1
        return self.spent()

    def spent(self) -> bool:
        """Return whether the effort is spent."""
        over = self._limit is not None and self.iterations >= self._limit
        return over or self._stop()


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
    _refuse_not_yet(request)
    iterations = request.effort_iterations
    if iterations is None and stop is None:
        iterations = DEFAULT_ITERATIONS
    plans: list[Plan] = []
    directions = _directions(request)
    for number, direction in enumerate(directions, start=1):
        share = None if iterations is None else iterations * number // len(directions)
        effort = Effort(stop, share)
        if plans and effort.spent():
            break
        plans.append(_plan_direction(request, direction, effort, progress))
    best = min(plans, key=_rank)
    if request.rules.direction_deg is None:
        best = replace(best, directions=tuple(_cost(plan) for plan in plans if plan is not best))
    return best


def _refuse_not_yet(request: PlanRequest) -> None:
    """Refuse what can be read but not planned."""
    if len(request.product.boards) > 1:
        widths = [board.width for board in request.product.boards]
        raise NotYetError("product.boards", widths, "one board size for now")
    if request.product.variants:
        raise NotYetError("product.variants", dict(request.product.variants), "none for now")
    if request.laid:
        raise NotYetError("laid", f"{len(request.laid)} pieces", "none for now")
    if request.on_hand and request.on_hand.offcuts:
        raise NotYetError("on_hand.offcuts", len(request.on_hand.offcuts), "none for now")
    if request.rules.stagger is not Stagger.FREE:
        raise NotYetError("rules.stagger", request.rules.stagger.value, '"free" for now')


def _directions(request: PlanRequest) -> list[float]:
    """Return the directions to plan: the one asked for, or the main wall directions."""
    if request.rules.direction_deg is not None:
        return [request.rules.direction_deg]
    lengths: dict[float, float] = defaultdict(float)
    for (ax, ay), (bx, by) in edges_of(request.zone.outline):
        angle = round(degrees(atan2(by - ay, bx - ax)) % 180, 1) % 180
        lengths[angle] += hypot(bx - ax, by - ay)
    total = sum(lengths.values())
    main = sorted(lengths, key=lambda angle: (-lengths[angle], angle))
    return [angle for angle in main if lengths[angle] > 0.15 * total][:4] or main[:1]


def _plan_direction(
    request: PlanRequest,
    direction: float,
    effort: Effort,
    progress: Callable[[Progress], None] | None,
) -> Plan:
    """Return the best plan found along one direction."""
    frame = Frame(direction_deg=direction, lay=request.lay)
    region = frame.region(laying_region(request.zone, request.rules.expansion_gap))
    if region.is_empty:
        text = "zone: the gaps at its edges leave no floor to lay"
        raise NoPlanError(text)
    rng = Random(request.seed)
    trial = _first_trial(request, frame, region, rng, effort)
    terms = Terms.of(request.product.board.length, request.rules)

    def drafted(best: Trial) -> Plan:
        return draft_plan(
            request, frame, best.floor, best.sites, best.seams(best.search.picks), terms
        )

    plan = drafted(trial)
    _tell(progress, plan, effort)
    trials = [trial, *_more_trials(request, frame, region, rng, effort)]
    best = _searched(trials, plan.totals.lower_bound, effort)
    plan = min(plan, drafted(best), key=_rank)
    _tell(progress, plan, effort)
    return plan


def _first_trial(
    request: PlanRequest, frame: Frame, region: Region, rng: Random, effort: Effort
) -> Trial:
    """Return the trial of the best balanced first rip."""
    rips = [rip_choices(request, part)[0] for part in polygons_of(region)]
    trial = begin(request, frame, region, rips, rng)
    if len(trial.sites) > _LARGE and effort.spent():
        text = "stopped before a first plan stood"
        raise StoppedError(text)
    return trial


def _more_trials(
    request: PlanRequest, frame: Frame, region: Region, rng: Random, effort: Effort
) -> list[Trial]:
    """Return the trials of the other first rips that the balance rule allows."""
    parts = polygons_of(region)
    choices = [rip_choices(request, part) for part in parts]
    trials = []
    for i in range(1, max(len(own) for own in choices)):
        if effort.step():
            break
        rips = [own[min(i, len(own) - 1)] for own in choices]
        trials.append(begin(request, frame, region, rips, rng))
    return trials


def _searched(trials: list[Trial], bound: int, effort: Effort) -> Trial:
    """Improve the trials in turns, dropping those that fall behind; return the best."""
    idle = 0
    while not effort.spent() and idle < _IDLE * len(trials):
        best = min(trials, key=lambda trial: trial.rank)
        if best.search.score.clashes == 0 and best.search.score.planks <= bound:
            return best
        for trial in trials:
            improved = trial.search.improve(_SWEEPS, effort.step)
            idle = 0 if improved else idle + 1
        trials = _leaders(trials)
    return min(trials, key=lambda trial: trial.rank)


def _leaders(trials: list[Trial]) -> list[Trial]:
    """Return the better half of the trials, and all that are as good as its worst."""
    ranked = sorted(trials, key=lambda trial: trial.rank)
    worst = ranked[(len(ranked) - 1) // 2].rank[:2]
    return [trial for trial in ranked if trial.rank[:2] <= worst]


def _tell(progress: Callable[[Progress], None] | None, plan: Plan, effort: Effort) -> None:
    """Report how far the work is."""
    if progress is not None:
        progress(
            Progress(
                planks=plan.totals.planks,
                lower_bound=plan.totals.lower_bound,
                iterations=effort.iterations,
            )
        )


def _rank(plan: Plan) -> tuple[float, ...]:
    """Return what plans are compared by: rules, planks, looks, rack, crosscuts, rips."""
    totals = plan.totals
    return (
        len(plan.warnings),
        totals.planks,
        totals.look.h_joints + totals.look.staircases,
        totals.rack_max,
        totals.crosscuts,
        totals.rips,
    )


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
