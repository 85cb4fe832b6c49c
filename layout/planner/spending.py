"""Planks that are paid for already, spent on looks, then on fewer cuts.

The most sparing plan stands first; its planks, its bound and proof are kept. Planks beyond it go
into having no H-joint and no staircase, then into fewer cuts and into pieces that go in untrapped.
A plank that buys nothing isn't spent, and no carton is opened for any of it.

Paid for is what lies on hand (``on_hand.planks`` or the piles counted), else what the cartons of
the most sparing plan hold. ``prefer`` says how many of what is left may go: all ("cartons") or
``spend`` of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from random import Random

from layout.joints.choices import Pick
from layout.planner.mending import cut_less, mend
from layout.planner.polish import PlanksToSpend, Polish
from layout.planner.ranking import broken_rules
from layout.planner.trials import Trial
from layout.solver import Stop
from layout.values.advice import Spent
from layout.values.errors import InputError
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.plan_form import plan_text
from layout.values.request import PlanRequest

_STEPS = 120  # steps of mending at each number of planks
_BATCHES = 40  # batches of moves that look for fewer cuts, at most
_MOVES = 30  # moves in a batch
_IDLE = 8  # batches without improvement after which that ends
_RUNS_IN_ALL = 4000  # batches times runs of a floor, about
_WAYS_IN = 6  # plans written beside the last one where pieces are trapped

Written = Callable[[Sequence[Pick]], Plan]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A plan that planks may buy, and its picks."""

    plan: Plan
    picks: tuple[Pick, ...]


def spends(request: PlanRequest) -> bool:
    """Whether planks paid for already may be spent."""
    return request.spend is not None or request.prefer is Prefer.CARTONS


def allowance_of(request: PlanRequest, sparing: Plan) -> PlanksToSpend:
    """Return the planks that may be spent beyond the most sparing plan.

    Raises InputError where ``spend`` is more than is left of what is paid for: of cartons what
    this plan leaves, of planks on hand what any plan could leave.
    """
    if not spends(request):
        return PlanksToSpend()
    totals, at_hand = sparing.totals, _planks_at_hand(request)
    paid = totals.cartons * request.product.per_carton if at_hand is None else at_hand
    left = max(0, paid - totals.planks - request.spares)
    most = left if at_hand is None else max(0, paid - totals.lower_bound - request.spares)
    if request.spend is not None and request.spend > most:
        accepted = f"0 to {most}, which {paid} planks paid for leave (if more are: on_hand.planks)"
        raise InputError("prefer.spend", request.spend, accepted)
    planks = left if request.spend is None else min(left, request.spend)
    return PlanksToSpend(planks=planks, by_width=_left_by_width(request, sparing))


def _planks_at_hand(request: PlanRequest) -> int | None:
    """Return the whole planks on hand, counted by piles or in all; None where nothing is said."""
    return None if request.on_hand is None else request.on_hand.whole


def _left_by_width(request: PlanRequest, sparing: Plan) -> dict[float, int]:
    """Return what is left of every board width, nothing where there is only one."""
    sizes = request.sizes
    if len(sizes) == 1:
        return {}
    begun = {piece.plank for piece in request.laid}
    begun |= {offcut.plank for offcut in (request.on_hand.offcuts if request.on_hand else ())}
    planks = {piece.plank: piece.size[1] for piece in sparing.pieces if piece.plank not in begun}
    cartons = 0 if sizes[0].counted else sparing.totals.cartons
    left = {round(size.board.width, 6): size.held(cartons) for size in sizes}
    for width in planks.values():
        left[round(width, 6)] -= 1
    return {width: max(0, count) for width, count in left.items()}


def spent_on_looks(
    trial: Trial, sparing: Offer, written: Written, allowance: PlanksToSpend, stop: Stop
) -> Offer:
    """Return the best plan that an allowance buys, the sparing one where it buys nothing.

    ``stop`` is heard once a little was looked at, so that planks are spent in any case.
    """
    if trial.search.fixed:
        return sparing
    offers = [sparing]
    for planks in range(allowance.planks, -1, -1):
        bought = _bought(trial, sparing, written, replace(allowance, planks=planks), stop)
        fit = [_fits(trial, offer.plan, sparing.plan, allowance) for offer in bought]
        offers += [offer for offer, fitting in zip(bought, fit, strict=True) if fitting]
        if fit[-1] or (len(offers) > 1 and stop()):
            break
    return min(offers, key=lambda offer: _worth(offer.plan))


def _fits(trial: Trial, plan: Plan, sparing: Plan, allowance: PlanksToSpend) -> bool:
    """Whether a plan breaks no more rules than the most sparing one and opens no carton for it."""
    totals, least = plan.totals, sparing.totals
    opened = _planks_at_hand(trial.ground.request) is None and totals.cartons > least.cartons
    opened = opened or totals.shortage_planks > least.shortage_planks
    within = totals.planks <= least.planks + allowance.planks and not opened
    return within and broken_rules(plan) <= broken_rules(sparing)


def _worth(plan: Plan) -> tuple[int, ...]:
    """Return what bought plans are compared by: looks, cuts, trapped pieces, planks, rack."""
    totals = plan.totals
    return (
        totals.look.h_joints + totals.look.staircases,
        totals.crosscuts + totals.rips,
        sum(piece.trapped for piece in plan.pieces),
        totals.planks,
        totals.rack_max,
    )


def _bought(
    trial: Trial, sparing: Offer, written: Written, allowance: PlanksToSpend, stop: Stop
) -> list[Offer]:
    """Return plans that an allowance buys: mended looks, then fewer cuts as well."""
    rng = Random(trial.ground.request.seed)
    polish = Polish(trial, rng, allowance, picks=sparing.picks, spending=True)
    for planks in range(allowance.planks + 1):
        polish.allow(replace(allowance, planks=allowance.planks if stop() else planks))
        mend(polish, rng, _STEPS)
        if not polish.looks.total or stop():
            break
    polish.allow(allowance)
    offers: list[Offer] = []
    idle = 0
    for batch in range(_batches(trial)):
        if batch % _IDLE == 0:
            offers.append(_offer(polish, written))
            polish.refresh()
            cut_less(polish, rng)
        idle = 0 if polish.improve(_MOVES, lambda: False) else idle + 1
        if idle == _IDLE or stop():
            break
    offers.append(_offer(polish, written))
    for _ in range(_WAYS_IN if _trapping(offers[-1]) and not stop() else 0):
        polish.improve(_MOVES, lambda: False)
        offers.append(_offer(polish, written))
    return offers


def _batches(trial: Trial) -> int:
    """Return how many batches of moves look for fewer cuts, at most: fewer on a large floor."""
    return max(_IDLE, min(_BATCHES, _RUNS_IN_ALL // len(trial.sites)))


def _trapping(offer: Offer) -> bool:
    """Whether some piece of a plan is trapped."""
    return any(piece.trapped for piece in offer.plan.pieces)


def _offer(polish: Polish, written: Written) -> Offer:
    """Return the plan of the picks as they are now."""
    return Offer(plan=written(polish.picks), picks=tuple(polish.picks))


def with_spent(plan: Plan, sparing: Plan) -> Plan:
    """Return a plan with what it bought, and the count, bound and proof of the most sparing one.

    Where looking for looks came upon a plan of fewer planks, this is the most sparing one itself.
    """
    least, totals = sparing.totals, plan.totals
    fewest = min(least.planks, totals.planks)
    bought = Spent(
        planks=totals.planks - fewest,
        h_joints=(least.look.h_joints, totals.look.h_joints),
        staircases=(least.look.staircases, totals.look.staircases),
        crosscuts=(least.crosscuts, totals.crosscuts),
    )
    kept = replace(
        totals,
        fewest=fewest,
        fewest_plan=sha256(plan_text(sparing).encode()).hexdigest(),
        lower_bound=least.lower_bound,
    )
    status = "proven" if fewest == least.lower_bound else "best_found"
    return replace(plan, status=status, proof=sparing.proof, totals=kept, bought=bought)
