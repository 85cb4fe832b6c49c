"""The choices of a quote: what each is called, what follows from it, and what it costs. Pure.

A choice is named by what it is, never by a rank. It is the whole job done one way, with a total of
its own; all else stays the same.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.boards import plank_words, step_words
from estimates.domain.quotes.content import ChoiceFact, QuoteChoice
from estimates.domain.quotes.plain_words import counted_words
from estimates.domain.quotes.sold import PricedChoice
from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope

KEYS = ("a", "b", "c")
"""What choices are said apart by, in their order; nobody reads it."""
SEVERAL = "+"
"""Between the keys of options that are taken together."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WayWords:
    """An option as a homeowner reads it, and the option that it stands against."""

    name: str
    text: str
    against: str


WAYS: Mapping[str, WayWords] = {
    "base_old": WayWords(
        name="Your baseboard back",
        text="It comes off and goes back on. Old baseboard may split or mark the wall.",
        against="base_new",
    ),
    "base_new": WayWords(
        name="New baseboard",
        text="New baseboard, put on and sealed along the top. It hides old marks. "
        "Painting is yours.",
        against="base_old",
    ),
    "tear_out": WayWords(
        name="The old floor taken out",
        text="The old floor comes out and is hauled away.",
        against="lay_over",
    ),
    "lay_over": WayWords(
        name="The new floor over the old one",
        text="The old floor stays. The new one stands higher by it: look at doors and at the steps "
        "to other floors.",
        against="tear_out",
    ),
    "pad_separate": WayWords(
        name="New pad under the floor",
        text="A new pad is rolled out under the planks. The floor stands higher by its thickness.",
        against="pad_none",
    ),
    "pad_none": WayWords(
        name="No new pad", text="Nothing is rolled out under the planks.", against="pad_separate"
    ),
}
"""The options that are offered as choices: each is a plain edit of the job's facts."""


def way_name(way: str) -> str:
    """Return what a way is called where nobody gave it a name: the names of its options."""
    names = [WAYS[key].name for key in way.split(SEVERAL) if key in WAYS]
    return ", ".join([*names[:1], *(name[0].lower() + name[1:] for name in names[1:])])


def way_text(way: str) -> str:
    """Return what follows from a way where nobody wrote it."""
    return " ".join(WAYS[key].text for key in way.split(SEVERAL) if key in WAYS)


def as_priced(other_ways: Sequence[str]) -> str:
    """Return the way that the job is priced, said against the choices beside it."""
    options = [key for way in other_ways for key in way.split(SEVERAL) if key in WAYS]
    return SEVERAL.join(dict.fromkeys(WAYS[key].against for key in options))


def choices_of(
    choices: Sequence[PricedChoice],
    deposit_of: Callable[[Decimal], Decimal],
    *,
    system: str = "imperial",
) -> tuple[QuoteChoice, ...]:
    """Return the choices with their figures; only facts that differ among them are said."""
    facts = [_facts(choice, system) for choice in choices]
    differing = [label for label in facts[0] if len({each[label] for each in facts}) > 1]
    several = len(choices) > 1
    return tuple(
        _choice(
            choice,
            deposit_of(choice.priced.total),
            tuple(ChoiceFact(label=label, text=said[label]) for label in differing if several),
        )
        for choice, said in zip(choices, facts, strict=True)
    )


def _choice(choice: PricedChoice, deposit: Decimal, facts: tuple[ChoiceFact, ...]) -> QuoteChoice:
    """Return one choice. Every allowance is in the total at its cap, so no more can be owed."""
    total = choice.priced.total
    return QuoteChoice(
        key=choice.key,
        name=choice.name,
        text=choice.text,
        facts=facts,
        total=total,
        tax=choice.priced.tax,
        most=total,
        deposit=deposit,
        balance=total - deposit,
        scope_sha256=choice.scope_sha256,
        estimate_sha256=choice.estimate_sha256,
    )


def _facts(choice: PricedChoice, system: str) -> dict[str, str]:
    """Return what may differ between two ways, in words."""
    scope = choice.scope
    trimmed = int(_sum(scope, "doors_trimmed"))
    days = scope.schedule.trips if scope.schedule else 0
    return {
        "Plank": plank_words(choice.floors, system),
        "Days on site": counted_words(days, "day") if days else "not known yet",
        "Doors trimmed": counted_words(trimmed, "door") if trimmed else "none",
        "At the doors": step_words(choice.steps),
        "Baseboard": _baseboard(scope),
        "Old floor": "taken out" if _sum(scope, "tear_out") else "stays",
    }


def _baseboard(scope: FrozenScope) -> str:
    feet = {"replace": ZERO, "reinstall": ZERO}
    for entry in scope.quantities:
        if entry.code == "base_on" and entry.amount:
            feet["replace" if _is_new(entry) else "reinstall"] += entry.amount
    said = [f"{_whole(feet['replace'])} feet new"] if feet["replace"] else []
    said += [f"{_whole(feet['reinstall'])} feet of your own"] if feet["reinstall"] else []
    return ", ".join(said) or "stays on"


def _is_new(entry: Quantity) -> bool:
    return entry.basis.endswith("replace")


def _whole(amount: Decimal) -> int:
    return round(amount)


def _sum(scope: FrozenScope, code: str) -> Decimal:
    return sum((entry.amount for entry in scope.quantities if entry.code == code), ZERO)
