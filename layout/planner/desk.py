"""The desk of one direction: the best plan so far, its trials searched, polished and proven."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from layout.bounds.find import Bound, lower_bound
from layout.drafting.plan import draft_plan
from layout.joints.chain_bath import ChainBath, fewer_planks, makes_chains
from layout.joints.choices import Pick
from layout.planner.easing import eased
from layout.planner.effort import Effort, Progress
from layout.planner.polish import Polish
from layout.planner.ranking import broken_rules, cartons_of, rank_of
from layout.planner.spending import Offer, allowance_of, spent_on_looks
from layout.planner.trials import Rank, Trial
from layout.proof.kept import kept_by
from layout.rows.frame import Frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_SWEEPS = 10  # sweeps between two offers of new choices
_EARLY = 3  # rounds after which the bound is looked for where time may run out
_MET = 6  # rounds after which the bound is met and nothing better balanced is looked for
_MOVES = 10  # moves of polish that count as one iteration
_PROVEN_FROM = 100  # iterations from which on a bound is found, even once they are spent
_BATHED_BATCHES = 20  # batches of moves after a bath
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
        self._limits: tuple[float, float] | None = None  # that the bound rests on
        self._even_only = False  # whether the bound speaks of balanced floors alone
        self._best: Trial | None = None
        self._best_rank: Rank | None = None
        self._polish: Polish | None = None
        self._bathed = False
        self._written_last: tuple[Trial, tuple[Pick, ...]] | None = None

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
        return self._best.joints_broken

    def draft(self, trial: Trial, picks: Sequence[Pick]) -> None:
        """Write a plan down and keep it if it is the best so far; once is enough."""
        if self._written_last == (trial, tuple(picks)):
            return
        self._written_last = (trial, tuple(picks))
        self._keep(Draft(plan=self._written(trial, picks), trial=trial, picks=tuple(picks)))

    def finish(self) -> None:
        """Prove the best plan and spread its variants as well as can be."""
        known = self._bound.cartons if self._bound else None
        stale = self._mixed and known != cartons_of(self.plan, self.request)
        open_still = self._bound is None and self.effort.counts(_PROVEN_FROM)
        if stale or open_still or not self._speaks_of(self._drafts[0]):
            self.prove(last=True)
        self.bathe()
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
        return draft_plan(
            trial.ground,
            trial.floor,
            trial.sites,
            trial.seams(picks),
            down=trial.down,
            given_way=trial.given_way,
            thorough=thorough,
        )

    def search(
        self,
        trials: list[Trial],
        rounds: int,
        patience: int | None = None,
        *,
        early: bool = False,
    ) -> None:
        """Improve trials in turns until proven, idle or spent, or past patience; keep the best.

        ``early``: the bound is found on the way; the search goes on as if it were not known.
        What half the work would have ended with is kept as well, so that more work never ends with
        more planks: what a plan takes is only known once it is written down.
        """
        self.effort.halfway = lambda: self._take(min(trials, key=lambda trial: trial.rank))
        pause = self.prove_early if early else None
        self._take(_searched(trials, self._least(), rounds, self.effort, patience, pause))
        self.effort.halfway = None

    def _take(self, best: Trial) -> None:
        """Write the plan of a trial down where it is the best so far."""
        if self._best_rank is None or best.rank < self._best_rank:
            self._best, self._best_rank = best, best.rank
            self._polish = None
            self.draft(best, best.search.picks)

    def eased(self) -> list[Trial]:
        """Return what to search beside, where joints can't keep all rules: with those eased.

        Whatever the iterations, which are for sparing planks; a caller's stop is heard.
        """
        if self._best is None or not self.joints_broken or self.effort.stopped():
            return []
        trial = eased(self._best, self.rng, self.effort.stopped)
        if trial is None:
            return []
        self._take(trial)
        return [trial]

    def polish(self, moves: int) -> None:
        """Improve looks, rack and cuts at the same planks."""
        if self._best is None or self._best.search.fixed or self.effort.spent():
            return
        if self._polish is None:
            self._polish = Polish(self._best, self.rng)
        best, polish = self._best, self._polish
        self.effort.halfway = lambda: self.draft(best, polish.picks)
        idle = 0
        while moves > 0 and idle < _IDLE_POLISH and not self.effort.step():
            idle = 0 if self._polish.improve(_MOVES, self.effort.spent) else idle + 1
            moves -= _MOVES
        self.effort.halfway = None
        self.draft(self._best, self._polish.picks)

    def bathe(self) -> None:
        """Aim rows of one length at the bound by heat baths, once, where it is not met.

        Whatever the iterations, and apart from the search: where it brings nothing all stays as it
        is, and a longer run brings what a shorter one does. A caller's stop is heard.
        """
        best, stop = self._drafts[0], self.effort.stopped
        trial, planks = best.trial, best.plan.totals.planks
        if self._bathed or self._bound is None or not self._may_bathe(best) or stop():
            return
        self._bathed = True
        chance = Random(self.request.seed)
        bath = ChainBath(trial.floor, trial.sites, trial.search.terms, chance)
        picks = fewer_planks(bath, self._bound.value, planks, stop)
        if picks is None:
            return
        trial.search.consider(picks)
        self._take(trial)
        self._polish = polish = Polish(trial, chance)
        for _ in range(_BATHED_BATCHES):
            polish.improve(_MOVES, stop)
        self.draft(trial, polish.picks)

    def _may_bathe(self, draft: Draft) -> bool:
        """Whether a plan takes more planks than its bound, and its rows make chains."""
        request, trial, bound = self.request, draft.trial, self._least()
        above = self._speaks_of(draft) and draft.plan.totals.planks > bound
        begun = self._mixed or request.laid or request.on_hand is not None or trial.search.fixed
        broken = any(broken_rules(draft.plan))
        return above and not begun and not broken and makes_chains(trial.sites)

    def prove_early(self) -> None:
        """Find the lower bound for the first plan, where that says which plans are meant."""
        if not (self._mixed or any(broken_rules(self.plan)) or self.plan.status == "proven"):
            self.prove()

    def prove_again(self) -> None:
        """Find the lower bound where none is known that was looked for with such a plan in mind."""
        best = self._drafts[0]
        known = self._bound is not None and self._even_only == best.trial.even
        if not (known and self._speaks_of(best)):
            self.prove()

    def prove(self, *, last: bool = False) -> None:
        """Find the lower bound, and attach it to the plan; where widths are mixed it is short.

        Of a plan that breaks rules it speaks for all that break no more. The ``last`` time only the
        caller's stop ends it.
        """
        ended = self.effort.stopped if last else self.effort.spent
        if ended() and not self._mixed:
            return
        self._even_only = self._drafts[0].trial.even
        kept = self._kept_by(self._drafts[0])
        self._limits = _limits_of(kept)
        rules = replace(kept.rules, balance=kept.rules.balance and self._even_only)
        self._bound = lower_bound(
            replace(kept, rules=rules),
            self.frame.direction_deg,
            stop=ended,
            planks=self.plan.totals.planks,
            cartons=cartons_of(self.plan, self.request),
        )
        self._keep(self._drafts.pop())

    def _kept_by(self, draft: Draft) -> PlanRequest:
        """Return the request with the rules that a plan keeps."""
        return kept_by(self.request, draft.plan.warnings)

    def _speaks_of(self, draft: Draft) -> bool:
        """Whether the bound speaks of such a plan: as even, no more broken, of no more cartons."""
        bound = self._bound
        if bound is None:
            return True
        within = bound.cartons is None or cartons_of(draft.plan, self.request) <= bound.cartons
        same = _limits_of(self._kept_by(draft)) == self._limits
        return within and same and (draft.trial.even or not self._even_only)

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
        """Return the planks below which no plan goes, as far as known."""
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


def _limits_of(kept: PlanRequest) -> tuple[float, float]:
    """Return the limits that a bound rests on, of those that may give way."""
    return kept.rules.min_end_piece, kept.rules.min_joint_offset


def _searched(
    trials: list[Trial],
    bound: int,
    rounds: int,
    effort: Effort,
    patience: int | None,
    early: Callable[[], None] | None,
) -> Trial:
    """Improve the trials in turns, dropping those that fall behind; return the best.

    ``patience``: the rounds after which joints that still break rules are left to give way.
    ``early`` is called on the way, once a little was looked at.
    """
    for k in range(rounds):
        if k == _EARLY and early is not None:
            early()
        best = min(trials, key=lambda trial: trial.rank)
        if best.meets(bound):
            # At the bound only a better balanced floor at the same planks is worth the while.
            trials[:] = [t for t in trials if t.promise(bound) < best.rank] if k < _MET else []
            trials.append(best)
        if effort.spent() or (k == patience and best.joints_broken):
            break
        if len(trials) == 1 and best.meets(bound):
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
