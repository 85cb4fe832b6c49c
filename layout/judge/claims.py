"""Judging claims beyond the pieces: the bound, what planks were spent on, what to give up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from layout.judge.boards import has_piles
from layout.judge.view import Fault, View
from layout.proof.certificate import CertificateError, check
from layout.proof.floor import area_bound
from layout.proof.kept import kept_by
from layout.values.advice import Relaxation
from layout.values.material import Prefer
from layout.values.plan import RuleWarning
from layout.values.request import PlanRequest

_DIGEST = re.compile("[0-9a-f]{64}")
# Rules with a limit that can be given up in part.
_WALL, _BALANCE, _END = "wall_error", "balance", "min_end_piece"
_LIMITS = (_END, "min_joint_offset", "min_row_width", _WALL)


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
    """Yield rules to give up that are not broken, or by another figure than the pieces show.

    Also rules that a warning owns to be broken by a measure, and that are not among those.
    """
    eases = view.plan.relax
    rules = [ease.rule for ease in eases]
    for ease in eases:
        broken = [
            fault
            for fault in faults
            if fault.rule == ease.rule and not _with_ends(view, fault.rule, fault)
        ]
        text = _relax_text(view, ease, broken)
        if rules.count(ease.rule) > 1:
            text = f"{ease.rule} is to be given up twice"
        if text:
            yield _fault("relax", ease.rule, ease.eased, ease.limit, text)
    broken_rules = {fault.rule for fault in faults if not _with_ends(view, fault.rule, fault)}
    owned = broken_rules & {warning.rule for warning in view.plan.warnings}
    for rule in sorted(owned & {*_LIMITS, _BALANCE} - set(rules)):
        yield _fault("relax", rule, 0, 1, f"{rule} is broken, and not among the rules to give up")


def _with_ends(view: View, rule: str, broken: Fault | RuleWarning) -> bool:
    """Whether shorter end pieces, to be given up, also mend a last piece that a wall shortens."""
    least = view.request.rules.min_end_piece
    eased = [ease.eased for ease in view.plan.relax if ease.rule == _END]
    of_ends = rule == _WALL and abs(broken.limit - least) <= view.near
    return bool(of_ends and eased and broken.value >= min(eased) - 2 * view.near)


def _relax_text(view: View, ease: Relaxation, broken: Sequence[Fault]) -> str:
    """Return what is wrong with a rule to give up, nothing where it is right."""
    if ease.rule not in {*_LIMITS, _BALANCE} or not broken:
        return f"{ease.rule} is to be given up; the pieces keep it, or it is none to give up so"
    limit = 1.0 if ease.rule == _BALANCE else float(getattr(view.request.rules, ease.rule))
    if abs(ease.limit - limit) > view.near:
        return f"{ease.rule} is {limit:g} in the request, not {ease.limit:g}"
    if ease.rule == _BALANCE:
        shown = 0.0
    elif ease.rule == _WALL:
        shown = max(0.0, limit - max(fault.limit - fault.value for fault in broken))
    else:
        shown = min(fault.value for fault in broken)
    if not -view.near <= ease.eased <= min(shown + 2 * view.near, limit):
        return f"{ease.rule} is to be {ease.eased:g}; the pieces show {shown:.4g}"
    mended = [
        warning.rule == ease.rule or (ease.rule == _END and _with_ends(view, warning.rule, warning))
        for warning in view.plan.warnings
    ]
    if ease.clean != all(mended):
        return f"{ease.rule} is told to be all there is to give up, or not; the warnings deny it"
    return ""


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
        request = kept_by(view.request, view.plan.warnings)
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
