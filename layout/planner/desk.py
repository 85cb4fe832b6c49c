"""The desk of one direction: the best plan so far, its trials searched, polished and proven."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from layout.bounds.find import Bound, lower_bound
from layout.drafting.plan import draft_plan
from layout.joints.choices import Pick
from layout.planner.effort import Effort, Progress
from layout.planner.polish import Polish
from layout.planner.ranking import broken_rules, cartons_of, rank_of
from layout.planner.spending import Offer, allowance_of, spent_on_looks
from layout.planner.trials import Rank, Trial
from layout.rows.frame import Frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_SWEEPS = 10  # sweeps between two offers of new choices
_MET = 6  # rounds after which the bound is met and nothing better balanced is looked for
_MOVES = 10  # moves of polish that count as one iteration
_BATHED = 3  # trials that take heat baths in turns
_PROVEN_FROM = 100  # iterations from which on a bound is looked for when they are spent
_LARGE = 200  # runs from which on plans are written down once a round
_IDLE_POLISH = 30  # batches of moves without improvement after which polish is done


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
        self._even_only = False  # whether the bound speaks of balanced floors alone
        self._best: Trial | None = None
        self._best_rank: Rank | None = None
        self._polish: Polish | None = None
        self._by_area: int | None = None  # the bound before a proof, where that came early
        self._aim: int | None = None

    @property
    def _mixed(self) -> bool:
        return len(self.request.product.boards) > 1

    @property
    def _shaded(self) -> bool:
        return any(size.shaded for size in self.request.sizes)

    @property
    def plan(self) -> Plan:
        """The best plan so far."""
        return self._drafts[0].plan

    @property
    def joints_broken(self) -> int:
        """How many rules the joints of the best trial break."""
        if self._best is None:
            return 0
        score = self._best.search.score
        return score.faults + score.clashes

    def draft(self, trial: Trial, picks: Sequence[Pick]) -> None:
        """Write a plan down and keep it if it is the best so far."""
        self._keep(Draft(plan=self._written(trial, picks), trial=trial, picks=tuple(picks)))

    def finish(self) -> None:
        """Prove the best plan and spread its variants as well as can be."""
        known = self._bound.cartons if self._bound else None
        stale = self._mixed and known != cartons_of(self.plan, self.request)
        unproven = self._bound is None and self.plan.status != "proven"
        if stale or unproven or not self._speaks_of(self._drafts[0]):
            self.prove()
        best = self._drafts[0]
        if self._shaded:
            plan = self._written(best.trial, best.picks, thorough=True)
            self._drafts = [self._proven(replace(best, plan=plan))]

    def spend(self) -> Plan:
        """Return the best plan with planks that are paid for spent on looks, then on fewer cuts."""
        best = self._drafts[0]
        offer = spent_on_looks(
            best.trial,
            Offer(plan=best.plan, picks=best.picks),
            lambda picks: self._written(best.trial, picks),
            allowance_of(self.request, best.plan),
            self.effort.stopped,
        )
        if self._shaded and offer.plan is not best.plan:
            return self._written(best.trial, offer.picks, thorough=True)
        return offer.plan

    def _written(self, trial: Trial, picks: Sequence[Pick], *, thorough: bool = False) -> Plan:
        """Return the plan that picks make."""

        def written() -> Plan:
            return draft_plan(
                trial.ground,
                trial.floor,
                trial.sites,
                trial.seams(picks),
                down=trial.down,
                given_way=trial.given_way,
                thorough=thorough,
            )

        return self.effort.writing(written)

    def look_around(self, trials: list[Trial], rounds: int) -> None:
        """Improve trials as if nothing beyond the area were known: the starts of polish.

        A first floor that meets the bound may have every joint above another two rows down.
        """
        self._aim = self._by_area
        self.search(trials, rounds)
        self._aim = None

    def search(self, trials: list[Trial], rounds: int) -> None:
        """Improve trials in turns until proven, idle or spent; write down what gets better.

        Planks that a spent effort came by halfway are left aside: a longer run might not.
        """
        self._take(min(trials, key=_rank_of))
        self._search(trials, rounds)
        best = min(trials, key=_rank_of)
        if best.rank == self._best_rank and best.search.picks != list(self._drafts[0].picks):
            self._polish = None
            self._redraft(best, best.search.picks)

    def bathe(self, trials: Sequence[Trial], baths: int) -> None:
        """Aim the best trials at the bound by heat baths, in turns, where it is not met yet."""
        for k in range(baths):
            bound = self._least()
            if self.plan.totals.planks <= bound or self.effort.spent():
                return
            leaders = sorted(trials, key=_rank_of)[:_BATHED]
            trial = leaders[k % len(leaders)]
            # Slanted ends may share more planks than lengths alone tell.
            spared = max(0, trial.search.score.planks - self.plan.totals.planks)
            trial.search.bathe(bound + spared, self.effort.step)
            if self.effort.spent():
                return
            self._take(trial)

    def _search(self, trials: list[Trial], rounds: int) -> None:
        """Improve trials in turns until proven, idle or spent."""
        for k in range(rounds):
            bound, best = self._least(), min(trials, key=_rank_of)
            if best.meets(bound):
                # At the bound only a better balanced floor at the same planks is worth the while.
                trials[:] = [t for t in trials if t.promise(bound) < best.rank] if k < _MET else []
                trials.append(best)
            if self.effort.spent() or (len(trials) == 1 and best.meets(bound)):
                break
            for trial in trials:
                trial.search.improve(_SWEEPS, self.effort.step)
                if self.effort.spent():
                    return
                if len(trial.sites) < _LARGE:
                    self._take(trial)
            trials[:] = _leaders(trials)
            self._take(min(trials, key=_rank_of))

    def _take(self, trial: Trial) -> None:
        """Write a trial down where it is better than all before."""
        if self._best_rank is None or trial.rank < self._best_rank:
            self._best, self._best_rank = trial, trial.rank
            self._polish = None
            self.draft(trial, trial.search.picks)

    def polish(self, moves: int) -> None:
        """Improve looks, rack and cuts at the same planks."""
        if self._best is None or self._best.search.fixed or self.effort.spent():
            return
        if self._polish is None:
            best = self._drafts[0]
            self._polish = Polish(best.trial, self.rng, picks=best.picks)
        idle = 0
        while moves > 0 and idle < _IDLE_POLISH and not self.effort.step():
            idle = 0 if self._polish.improve(_MOVES, self.effort.spent) else idle + 1
            moves -= _MOVES
        self._redraft(self._polish.trial, self._polish.picks)

    def _redraft(self, trial: Trial, picks: Sequence[Pick]) -> None:
        """Write down other picks of about as many planks; fewer of a spent effort don't count."""
        plan = self._written(trial, picks)
        if not self.effort.spent() or plan.totals.planks >= self.plan.totals.planks:
            self._keep(Draft(plan=plan, trial=trial, picks=tuple(picks)))

    def prove_early(self) -> None:
        """Find the lower bound before the search takes the time, where the clock counts.

        A first plan that breaks rules says too little of which bound is meant.
        """
        if not (self.effort.counted or self._mixed or any(broken_rules(self.plan))):
            self._by_area = self.plan.totals.lower_bound
            self.prove()

    def prove_again(self) -> None:
        """Find the lower bound where none is known that speaks of the best plan."""
        met = self._bound is not None and self._bound.value == self.plan.totals.planks
        if not (met and self._speaks_of(self._drafts[0])):
            self.prove()

    def prove(self) -> None:
        """Find the lower bound, and attach it to the plan; where widths are mixed it is short.

        Of a plan in which the balance rule gave way it speaks for all first rips.
        """
        late = self.effort.enough(_PROVEN_FROM) and not self.effort.stopped()
        if self.effort.spent() and not (self._mixed or late):
            return
        stop = self.effort.stopped if late else self.effort.spent
        planks = self.plan.totals.planks
        self._even_only = self._drafts[0].trial.even
        rules = replace(self.request.rules, balance=self.request.rules.balance and self._even_only)
        self._bound = lower_bound(
            replace(self.request, rules=rules),
            self.frame.direction_deg,
            stop=stop,
            planks=planks,
            cartons=cartons_of(self.plan, self.request),
        )
        self._keep(self._drafts.pop())

    def _speaks_of(self, draft: Draft) -> bool:
        """Whether the bound speaks of such a plan: as even, and of no more cartons."""
        bound = self._bound
        within = (
            bound is None
            or bound.cartons is None
            or cartons_of(draft.plan, self.request) <= bound.cartons
        )
        beaten = bound is not None and bound.value > draft.plan.totals.planks
        return within and not beaten and (draft.trial.even or not self._even_only)

    def _proven(self, draft: Draft) -> Draft:
        """Return a draft with the bound known, the certificate, and the status that follows.

        Without a bound, or where it does not speak of such a plan, it is returned as it is.
        """
        bound, plan = self._bound, draft.plan
        if bound is None or not self._speaks_of(draft):
            return draft
        status = "proven" if plan.totals.planks == bound.value else "best_found"
        totals = replace(plan.totals, lower_bound=bound.value)
        known = replace(plan, status=status, totals=totals, proof=bound.proof)
        return replace(draft, plan=known)

    def _least(self) -> int:
        """Return the planks below which no plan goes, as far as known, or what is aimed at."""
        if self._aim is not None:
            return self._aim
        return self._bound.value if self._bound else self.plan.totals.lower_bound

    def _keep(self, draft: Draft) -> None:
        """Keep a draft if it is the best, with the bound known, and tell of it."""
        draft = self._proven(draft)
        self._drafts = [min([*self._drafts, draft], key=lambda d: rank_of(d.plan, self.request))]
        if self._progress is not None:
            totals = self.plan.totals
            self._progress(
                Progress(
                    planks=totals.planks,
                    lower_bound=totals.lower_bound,
                    iterations=self.effort.iterations,
                )
            )


def _rank_of(trial: Trial) -> Rank:
    """Return what trials are compared by."""
    return trial.rank


def _leaders(trials: list[Trial]) -> list[Trial]:
    """Return the better half of the trials, and all that are as good as its worst."""
    ranked = sorted(trials, key=lambda trial: trial.rank)
    worst = ranked[(len(ranked) - 1) // 2].rank.up_to_planks
    return [trial for trial in ranked if trial.rank.up_to_planks <= worst]
