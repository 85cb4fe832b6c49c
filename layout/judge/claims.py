"""Judging claims beyond the pieces: the bound, what planks were spent on, what to give up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from layout.judge.boards import has_piles
from layout.judge.view import Fault, View
from layout.proof.certificate import CertificateError, check
from layout.proof.floor import area_bound
from layout.values.material import Prefer
from layout.values.request import PlanRequest

_DIGEST = re.compile("[0-9a-f]{64}")
# Rules with a limit that can be given up in part.
_LIMITS = ("min_end_piece", "min_joint_offset", "min_row_width", "wall_error")


def wrong_spending(view: View) -> Iterator[Fault]:
    """Yield a count of the fewest planks that the totals or the request deny."""
    totals, request = view.plan.totals, view.request
    planks, fewest = totals.planks, totals.fewest
    may_spend = _may_spend(request)
    if fewest > planks:
        text = f"the plan says that {fewest} planks are the fewest, and takes {planks}"
        yield _fault("totals", "fewest", fewest, planks, text)
    if fewest < planks and not may_spend:
        text = f"{planks - fewest} planks more than the fewest; the request lets none be spent"
        yield _fault("totals", "fewest", fewest, planks, text)
    if request.spend is not None and planks - fewest > request.spend:
        text = f"{planks - fewest} planks more than the fewest; {request.spend} may be spent"
        yield _fault("totals", "fewest", fewest, planks - request.spend, text)
    if totals.fewest_plan is not None and not _DIGEST.fullmatch(totals.fewest_plan):
        text = f'"{totals.fewest_plan[:20]}" is no digest of a plan'
        yield _fault("totals", "fewest_plan", 0, 0, text)


def _may_spend(request: PlanRequest) -> bool:
    """Whether planks may be spent on looks."""
    return request.spend is not None or request.prefer is Prefer.CARTONS


def wrong_bought(view: View) -> Iterator[Fault]:
    """Yield a word on what planks were spent on that the totals deny, or that is missing."""
    totals, bought, request = view.plan.totals, view.plan.bought, view.request
    planks, fewest = totals.planks, totals.fewest
    if bought is None:
        if fewest < planks and request.spend is not None:
            text = f"{planks - fewest} planks were spent; the plan does not say on what"
            yield _fault("bought", "plan", 0, planks - fewest, text)
        return
    if not _may_spend(request):
        yield _fault("bought", "plan", bought.planks, 0, "the request lets no plank be spent")
    look = totals.look
    after = {
        "planks": (bought.planks, planks - fewest),
        "h_joints": (bought.h_joints[1], look.h_joints),
        "staircases": (bought.staircases[1], look.staircases),
        "crosscuts": (bought.crosscuts[1], totals.crosscuts),
    }
    for name, (said, counted) in after.items():
        if said != counted:
            text = f"the plan says {said} {name}, its totals make {counted}"
            yield _fault("bought", name, said, counted, text)
    before = bought.h_joints[0] + bought.staircases[0]
    if look.h_joints + look.staircases > before:
        text = f"{look.h_joints + look.staircases} H-joints and staircases for {before} before"
        yield _fault("bought", "looks", look.h_joints + look.staircases, before, text)


def wrong_relax(view: View, faults: Sequence[Fault]) -> Iterator[Fault]:
    """Yield rules to give up that are not broken, or not by that much."""
    rules = view.request.rules
    seen: set[str] = set()
    for ease in view.plan.relax:
        broken = [fault.value for fault in faults if fault.rule == ease.rule]
        limit = float(getattr(rules, ease.rule)) if ease.rule in _LIMITS else ease.limit
        if ease.rule in seen:
            text = f"{ease.rule} is to be given up twice"
        elif not broken:
            text = f"{ease.rule} is to be given up; the pieces keep it"
        elif abs(ease.limit - limit) > view.near:
            text = f"{ease.rule} is {limit:g} in the request, not {ease.limit:g}"
        elif not ease.eased < ease.limit:
            text = f"{ease.rule} at {ease.eased:g} gives up nothing of {ease.limit:g}"
        else:
            text = ""
        seen.add(ease.rule)
        if text:
            yield _fault("relax", ease.rule, ease.eased, ease.limit, text)


def _spoken_of(view: View) -> PlanRequest:
    """Return the request whose plans a bound speaks of: without balance where that gave way."""
    request = view.request
    if all(warning.rule != "balance" for warning in view.plan.warnings):
        return request
    return replace(request, rules=replace(request.rules, balance=False))


def wrong_bound(view: View) -> Iterator[Fault]:
    """Yield a lower bound that is not proven, or a status that does not follow from it.

    A plan without a proof may claim what the floor's area alone proves.
    """
    totals, status = view.plan.totals, view.plan.status
    planks, bound = totals.planks, totals.lower_bound
    least = min(planks, totals.fewest)
    if bound > least:
        text = f"the bound of {bound} planks lies above the plan's {least}"
        yield Fault(rule="lower_bound", where="totals", value=bound, limit=least, text=text)
    right = "proven" if totals.fewest == bound else "best_found"
    if status != right:
        text = f"the plan says {status}; with {least} planks and a bound of {bound} it is {right}"
        yield Fault(rule="status", where="plan", value=least, limit=bound, text=text)
    proof = view.plan.proof
    try:
        request = _spoken_of(view)
        proven = check(request, view.plan.direction_deg, proof) if proof else None
    except CertificateError as error:
        yield Fault(rule="proof", where="totals", value=bound, limit=0, text=str(error))
        return
    if proven is None:
        proven = area_bound(view.request)
    held, cartons = proof.get("cartons"), totals.cartons
    if has_piles(view):
        cartons = totals.shortage_cartons
    if proof.get("kind") == "widths" and isinstance(held, int) and held < cartons:
        text = f"the proof speaks of {held} cartons or fewer, the plan takes {cartons}"
        yield Fault(rule="proof", where="totals", value=held, limit=cartons, text=text)
    if bound > proven:
        text = f"the plan says {bound} planks, its proof gives {proven}"
        yield Fault(rule="proof", where="totals", value=bound, limit=proven, text=text)


def _fault(rule: str, where: str, said: float, right: float, text: str) -> Fault:
    """Return the fault of one claim."""
    return Fault(rule=rule, where=where, value=said, limit=right, text=text)
