"""What a plan says beside its pieces: planks spent, piles short, what could give way. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jobs.domain.lengths import core_length_words, core_size_words
from layout.values.advice import Relaxation, ShortPile
from layout.values.plan import Plan
from layout.values.tolerances import COUNT_TOLERANCE
from layout.values.units import TAPE_STEP

_RULES = {
    "min_end_piece": "Minimum end piece",
    "min_joint_offset": "Minimum stagger",
    "min_row_width": "Minimum row width",
    "wall_error": "Walls may stand off by",
}
_FIELDS = {
    "min_end_piece": "min_end_mm",
    "min_joint_offset": "min_offset_mm",
    "min_row_width": "min_row_mm",
}
"""The rules that a floor may set for itself, and their fields in its form."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class RelaxOffer:
    """What could be given up in a sentence, and what the rules' form takes to try it.

    ``field`` is the name in that form, ``typed`` the value; both empty where the floor's form of
    rules has no such rule.
    """

    sentence: str
    field: str = ""
    typed: str = ""


def relax_offers(plan: Plan) -> list[RelaxOffer]:
    """Return what could be given up for a floor that breaks no rule, or fewer."""
    return [
        RelaxOffer(
            sentence=_relaxed(one, plan.unit),
            field=_FIELDS.get(one.rule, ""),
            typed=_typed(one.eased, plan.unit) if one.rule in _FIELDS else "",
        )
        for one in plan.relax
    ]


def _typed(eased: float, unit: str) -> str:
    """Return a limit as it may be typed: to the sixteenth below, so that the plan keeps it."""
    steps = math.floor(eased / TAPE_STEP[unit] + COUNT_TOLERANCE)
    return core_length_words(steps * TAPE_STEP[unit], unit).replace("\xa0", " ")


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
