"""The planner's front door: a request in, a plan out, improved until told to stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from random import Random

from layout.bounds.find import Bound, lower_bound
from layout.drafting.plan import draft_plan
from layout.joints.choices import Pick
from layout.planner.first_rows import row_choices
from layout.planner.grounds import grounds_of
from layout.planner.polish import Polish
from layout.planner.start_wall import with_starts
from layout.planner.trials import Rank, Trial, begin
from layout.rows.ground import Ground
from layout.rows.rows import Frame
from layout.solver import Stop
from layout.values.alternatives import DirectionCost
from layout.values.errors import InputError, NoPlanError, NotYetError, StoppedError
from layout.values.material import Prefer
from layout.values.outline import main_directions
from layout.values.plan import Plan
from layout.values.request import PlanRequest

DEFAULT_ITERATIONS = 600
_LOOK = 40  # iterations in each of several directions before the best of them is searched on

_SWEEPS = 10  # sweeps between two offers of new choices
_ASIDES = frozenset({"variants", "widths"})  # warnings of looks: no rule of laying is broken
_LARGE = 200  # runs from which on a stop is heard before a first plan stands
_FIRST_ROUNDS = 12  # rounds of search before the bound is looked for
_MOST_ROUNDS = 80
_MET = 6  # rounds after which the bound is met and nothing better balanced is looked for
_MOVES = 10  # moves of polish that count as one iteration
_FIRST_MOVES = 200
_MOST_MOVES = 4000
_IDLE_POLISH = 30  # batches of moves without improvement after which polish is done


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
        """Whether the effort is spent, one more iteration counted."""
        self.iterations += 1
        return self.spent()

    def spent(self) -> bool:
        """Whether the effort is spent."""
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
    _refuse_control_row(request)
    best = _best_plan(request, stop, progress)

    def planned(other: PlanRequest, *, full: bool) -> Plan:
        if full and not (stop is not None and stop()):
            with suppress(StoppedError):
                return _best_plan(other, stop, None)
        return _best_plan(replace(other, effort_iterations=1), None, None)

    return with_starts(request, best, planned)


def _best_plan(
    request: PlanRequest, stop: Stop | None, progress: Callable[[Progress], None] | None
) -> Plan:
    """Return the best plan found, in one direction or of all."""
    iterations = request.effort_iterations
    if iterations is None and stop is None:
        iterations = DEFAULT_ITERATIONS
    directions = _directions(request)
    limits: list[int | None] = [None]
    if iterations is not None:
        limits = [iterations * (i + 1) // len(directions) for i in range(len(directions))]
    elif len(directions) > 1:
        limits = [_LOOK] * len(directions)  # so that the first one leaves time for the others
    plans: list[Plan] = []
    for direction, limit in zip(directions, limits, strict=True):
        effort = Effort(stop, limit)
        if plans and effort.spent():
            break
        plans.append(_plan_direction(request, direction, effort, progress))
    best = min(plans, key=lambda plan: _rank(plan, request))
    if limits[0] == _LOOK and iterations is None and not Effort(stop, None).spent():
        fuller = _plan_direction(request, best.direction_deg, Effort(stop, None), progress)
        plans[plans.index(best)] = best = min(best, fuller, key=lambda plan: _rank(plan, request))
    if request.rules.direction_deg is None:
        best = replace(best, directions=tuple(_cost(plan) for plan in plans if plan is not best))
    return best


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
) -> Plan:
    """Return the best plan found along one direction."""
    frame = Frame(direction_deg=direction, lay=request.lay)
    grounds = grounds_of(request, frame)
    if not grounds or grounds[0].region.is_empty:
        text = "zone: the gaps at its edges leave no floor to lay"
        raise NoPlanError(text)
    desk = Desk(request=request, frame=frame, effort=effort, progress=progress)
    trials = [_first_trial(grounds[0], desk.rng, effort)]
    desk.draft(trials[0], trials[0].search.picks)
    for number, ground in enumerate(grounds):
        trials += _more_trials(ground, desk.rng, effort, begun=number == 0)
    _refuse_beyond(request, trials)
    desk.search(trials, rounds=_FIRST_ROUNDS)
    desk.polish(_FIRST_MOVES)
    desk.prove()
    desk.search(trials, rounds=_MOST_ROUNDS)
    desk.polish(_MOST_MOVES)
    return desk.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A plan and what it was made from."""

    plan: Plan
    trial: Trial
    picks: tuple[Pick, ...]


class Desk:
    """The best plan of one direction so far, its trial and bound, and what may still be spent."""

    def __init__(
        self,
        *,
        request: PlanRequest,
        frame: Frame,
        effort: Effort,
        progress: Callable[[Progress], None] | None,
    ) -> None:
        self.request = request
        self.frame = frame
        self.effort = effort
        self.rng = Random(request.seed)
        self._progress = progress
        self._drafts: list[Draft] = []
        self._bound: Bound | None = None
        self._best: Trial | None = None
        self._best_rank: Rank | None = None
        self._polish: Polish | None = None

    @property
    def _mixed(self) -> bool:
        return len(self.request.product.boards) > 1

    @property
    def plan(self) -> Plan:
        """The best plan so far."""
        return self._drafts[0].plan

    def draft(self, trial: Trial, picks: Sequence[Pick]) -> None:
        """Write a plan down and keep it if it is the best so far."""
        self._keep(Draft(plan=self._written(trial, picks), trial=trial, picks=tuple(picks)))

    def finish(self) -> Plan:
        """Return the best plan with its variants spread as well as can be."""
        known = self._bound.cartons if self._bound else None
        if self._mixed and known != self.plan.totals.cartons:
            self.prove()
        best = self._drafts[0]
        if self.request.product.variants:
            plan = self._written(best.trial, best.picks, thorough=True)
            best = replace(best, plan=proven(plan, self._bound) if self._bound else plan)
        return best.plan

    def _written(self, trial: Trial, picks: Sequence[Pick], *, thorough: bool = False) -> Plan:
        """Return the plan that picks make."""
        return draft_plan(
            trial.ground,
            trial.floor,
            trial.sites,
            trial.seams(picks),
            down=trial.down,
            thorough=thorough,
        )

    def search(self, trials: list[Trial], rounds: int) -> None:
        """Improve trials in turns until proven, idle or spent; keep the best."""
        best = _searched(trials, self._least(), rounds, self.effort)
        if self._best_rank is None or best.rank < self._best_rank:
            self._best, self._best_rank = best, best.rank
            self._polish = None
            self.draft(best, best.search.picks)

    def polish(self, moves: int) -> None:
        """Improve looks, rack and cuts at the same planks."""
        if self._best is None or self._best.search.fixed or self.effort.spent():
            return
        if self._polish is None:
            self._polish = Polish(self._best, self.rng, self._spare(self._best))
        idle = 0
        while moves > 0 and idle < _IDLE_POLISH and not self.effort.step():
            idle = 0 if self._polish.improve(_MOVES, self.effort.spent) else idle + 1
            moves -= _MOVES
        self.draft(self._best, self._polish.picks)

    def _spare(self, trial: Trial) -> int:
        """Return how many planks of the last carton may be spent on looks and fewer cuts."""
        if self.request.prefer is Prefer.PLANKS or len(self.request.product.boards) > 1:
            return 0
        bought = trial.search.score.planks + self.request.spares
        return -bought % self.request.product.per_carton

    def prove(self) -> None:
        """Find the lower bound, and attach it to the plan; where widths are mixed it is short."""
        if self.effort.spent() and not self._mixed:
            return
        planks = self.plan.totals.planks
        self._bound = lower_bound(
            self.request,
            self.frame.direction_deg,
            stop=self.effort.spent,
            planks=planks,
            cartons=self.plan.totals.cartons,
        )
        self._keep(self._drafts.pop())

    def _least(self) -> int:
        """Return the planks below which no plan goes, as far as known."""
        return self._bound.value if self._bound else self.plan.totals.lower_bound

    def _keep(self, draft: Draft) -> None:
        """Keep a draft if it is the best, with the bound known, and tell of it."""
        if self._bound is not None:
            draft = replace(draft, plan=proven(draft.plan, self._bound))
        self._drafts = [min([*self._drafts, draft], key=lambda d: _rank(d.plan, self.request))]
        if self._progress is not None:
            totals = self.plan.totals
            self._progress(
                Progress(
                    planks=totals.planks,
                    lower_bound=totals.lower_bound,
                    iterations=self.effort.iterations,
                )
            )


def proven(plan: Plan, bound: Bound) -> Plan:
    """Return the plan with its lower bound, the certificate, and the status that follows.

    A plan of more cartons than the bound speaks of is returned as it is.
    """
    if bound.cartons is not None and plan.totals.cartons > bound.cartons:
        return plan
    status = "proven" if plan.totals.planks == bound.value else "best_found"
    totals = replace(plan.totals, lower_bound=bound.value)
    return replace(plan, status=status, totals=totals, proof=bound.proof)


def _first_trial(ground: Ground, rng: Random, effort: Effort) -> Trial:
    """Return the trial of the best balanced first rip."""
    rips = [of_part[0] for of_part in row_choices(ground)]
    trial = begin(ground, rips, rng)
    trial.open_by_hand()
    if len(trial.sites) > _LARGE and effort.spent():
        text = "stopped before a first plan stood"
        raise StoppedError(text)
    return trial


def _more_trials(ground: Ground, rng: Random, effort: Effort, *, begun: bool) -> list[Trial]:
    """Return trials of the first rips that the balance rule allows, the first if not ``begun``."""
    choices = row_choices(ground)
    trials = []
    for i in range(int(begun), max(len(of_part) for of_part in choices)):
        if effort.step():
            break
        rips = [of_part[min(i, len(of_part) - 1)] for of_part in choices]
        trials.append(begin(ground, rips, rng))
    return trials


def _searched(trials: list[Trial], bound: int, rounds: int, effort: Effort) -> Trial:
    """Improve the trials in turns, dropping those that fall behind; return the best."""
    for k in range(rounds):
        best = min(trials, key=lambda trial: trial.rank)
        if best.meets(bound):
            # At the bound only a better balanced floor at the same planks is worth the while.
            trials[:] = [t for t in trials if t.promise(bound) < best.rank] if k < _MET else []
            trials.append(best)
        if effort.spent() or (len(trials) == 1 and best.meets(bound)):
            break
        for trial in trials:
            trial.search.improve(_SWEEPS, effort.step)
        trials[:] = _leaders(trials)
    return min(trials, key=lambda trial: trial.rank)


def _leaders(trials: list[Trial]) -> list[Trial]:
    """Return the better half of the trials, and all that are as good as its worst."""
    ranked = sorted(trials, key=lambda trial: trial.rank)
    worst = ranked[(len(ranked) - 1) // 2].rank.up_to_planks
    return [trial for trial in ranked if trial.rank.up_to_planks <= worst]


def _rank(plan: Plan, request: PlanRequest) -> tuple[float, ...]:
    """Return what plans are compared by: rules, planks, looks, rack, crosscuts, rips.

    Where cartons are preferred: rules, cartons, looks, cuts, planks, rack. Where widths are mixed
    the cartons come before the planks, and between them widths too often running and a last row
    that is ripped. Like pieces that touch are counted when all else stands.
    """
    totals = plan.totals
    asides = {warning.rule: warning.value for warning in plan.warnings if warning.rule in _ASIDES}
    broken = sum(warning.rule not in _ASIDES for warning in plan.warnings)
    looks = totals.look.h_joints + totals.look.staircases
    cuts = (totals.crosscuts, totals.rips)
    if request.prefer is Prefer.CARTONS:
        return (broken, totals.cartons, looks, sum(cuts), totals.planks, totals.rack_max)
    mixed = len(request.product.boards) > 1
    widths = (totals.cartons, asides.get("widths", 0), _last_ripped(plan)) if mixed else ()
    return (broken, *widths, totals.planks, looks, totals.rack_max, *cuts)


def _last_ripped(plan: Plan) -> bool:
    """Whether every piece of the last row is ripped."""
    last = max(piece.row for piece in plan.pieces)
    kinds = [{cut.kind for cut in piece.cuts} for piece in plan.pieces if piece.row == last]
    return all("rip" in cuts for cuts in kinds)


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
