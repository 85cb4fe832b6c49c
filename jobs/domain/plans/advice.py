"""What a plan says beside its pieces: planks spent, piles short, what could give way. Pure."""

from __future__ import annotations

from jobs.domain.lengths import core_length_words, core_size_words
from layout.values.advice import Relaxation, ShortPile
from layout.values.plan import Plan

_RULES = {
    "min_end_piece": "Minimum end piece",
    "min_joint_offset": "Minimum stagger",
    "min_row_width": "Minimum row width",
    "wall_error": "Walls may stand off by",
}


def bought_sentence(plan: Plan) -> str:
    """Return what a plan spent planks on; empty where that changed no count."""
    bought = plan.bought
    if bought is None:
        return ""
    pairs = (
        ("H-joints", bought.h_joints),
        ("staircases", bought.staircases),
        ("crosscuts", bought.crosscuts),
    )
    changes = [f"{label} from {was} to {now}" for label, (was, now) in pairs if was != now]
    planks = f"{bought.planks or 'no'} plank{'' if bought.planks == 1 else 's'} paid for already"
    return f"{planks}: {', '.join(changes)}" if changes else ""


def short_words(plan: Plan) -> str:
    """Return what is missing of counted piles by width and shade, spares last; empty where none."""
    piles = plan.totals.short_piles
    words = [_short(pile, plan.unit) for pile in piles]
    spare = plan.totals.shortage_planks - sum(pile.planks for pile in piles)
    return "; ".join([*words, f"{spare} spare of any pile"] if words and spare > 0 else words)


def relax_sentences(plan: Plan) -> list[str]:
    """Return what could be given up for a floor that breaks no rule, or fewer, in sentences."""
    return [_relaxed(one, plan.unit) for one in plan.relax]


def spread_sentence(plan: Plan) -> str:
    """Return how to spread shades by eye; empty where every plank's shade is known."""
    if plan.spread is None:
        return ""
    return f"{plan.spread.shades} shades, spread by eye: {plan.spread.rule}"


def _short(pile: ShortPile, unit: str) -> str:
    shade = f" of {pile.variant}" if pile.variant else ""
    planks = f"{pile.planks} plank{'' if pile.planks == 1 else 's'}"
    return f"{planks}{shade}, {core_size_words(pile.width, unit)} wide"


def _relaxed(one: Relaxation, unit: str) -> str:
    then = "no rule is broken" if one.clean else "fewer rules are broken"
    if one.rule == "balance":
        return f"First and last row of unlike width: {then}."
    rule = _RULES.get(one.rule, one.rule.replace("_", " "))
    limit, eased = (core_length_words(value, unit) for value in (one.limit, one.eased))
    return f"{rule} {eased} instead of {limit}: {then}."
