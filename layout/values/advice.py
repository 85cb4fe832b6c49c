"""What a plan says beside its pieces.

Other directions and places to start, rules to give up, planks spent, how shades are spread.
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.errors import Described, InputError
from layout.values.fields import Fields, as_count, as_list, check_number
from layout.values.material import Side


@dataclass(frozen=True, slots=True, kw_only=True)
class DirectionCost:
    """What a plan in another direction would have cost."""

    direction_deg: float
    planks: int
    cartons: int
    crosscuts: int
    rips: int
    trapped: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StartChoice:
    """One place to start: a ``start`` side, or a ``control_row``; the pieces it leaves trapped."""

    trapped: int
    start: Side | None = None
    control_row: int | None = None

    @property
    def words(self) -> str:
        """The place in words."""
        return (
            f"the {self.start.value} side" if self.start else f"row {self.control_row}, both ways"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxation:
    """What to give up for a floor without warnings: a rule, its limit, the limit that would do.

    ``clean``: whether giving up this one alone leaves no warning.
    """

    rule: str
    limit: float
    eased: float
    clean: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """What planks that were paid for already went into: counts before and after."""

    planks: int
    h_joints: tuple[int, int]
    staircases: tuple[int, int]
    crosscuts: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadRule:
    """How to spread shades by eye where the mix of a carton isn't known: how many, and the rule."""

    shades: int
    rule: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortPile:
    """What is missing of one width and shade (None: boards of that width all look alike)."""

    width: float
    variant: str | None
    planks: int


def read_cost(data: object, where: str) -> DirectionCost:
    """Return what another direction would have cost, from its JSON form. Raises InputError."""
    fields = Fields(data, where)
    counts = ("planks", "cartons", "crosscuts", "rips", "trapped")
    return DirectionCost(
        direction_deg=fields.number("direction_deg"),
        **{name: fields.count(name) for name in counts},
    )


def start_to_json(choice: StartChoice) -> dict[str, object]:
    """Return one place to start in its JSON form."""
    if choice.start is not None:
        return {"start": choice.start.value, "trapped": choice.trapped}
    return {"control_row": choice.control_row, "trapped": choice.trapped}


def read_start(data: object, where: str) -> StartChoice:
    """Return one place to start from its JSON form. Raises InputError."""
    fields = Fields(data, where)
    trapped = fields.count("trapped")
    check_number(trapped, fields.path("trapped"))
    if not fields.has("control_row"):
        return StartChoice(start=fields.choice("start", Side), trapped=trapped)
    row = fields.count("control_row")
    check_number(row, fields.path("control_row"), least=1)
    return StartChoice(control_row=row, trapped=trapped)


def relaxation_to_json(relaxation: Relaxation) -> dict[str, object]:
    """Return what to give up in its JSON form."""
    return {
        "rule": relaxation.rule,
        "from": relaxation.limit,
        "to": relaxation.eased,
        "clean": relaxation.clean,
    }


def read_relaxation(data: object, where: str) -> Relaxation:
    """Return what to give up from its JSON form. Raises InputError."""
    fields = Fields(data, where)
    return Relaxation(
        rule=fields.text("rule"),
        limit=fields.number("from"),
        eased=fields.number("to"),
        clean=fields.flag("clean", default=False),
    )


def bought_to_json(bought: Spent) -> dict[str, object]:
    """Return what planks were spent on in its JSON form."""
    return {
        "planks": bought.planks,
        "h_joints": bought.h_joints,
        "staircases": bought.staircases,
        "crosscuts": bought.crosscuts,
    }


def read_bought(fields: Fields) -> Spent:
    """Return what planks were spent on from its JSON form. Raises InputError."""
    return Spent(
        planks=fields.count("planks"),
        h_joints=_two_counts(fields, "h_joints"),
        staircases=_two_counts(fields, "staircases"),
        crosscuts=_two_counts(fields, "crosscuts"),
    )


def _two_counts(fields: Fields, name: str) -> tuple[int, int]:
    """Return a count before and after."""
    where, accepted = fields.path(name), "a pair [before, after]"
    pair = as_list(fields.raw(name, accepted), where)
    if len(pair) != 2:
        raise InputError(where, Described(f"{len(pair)} numbers"), accepted)
    return as_count(pair[0], f"{where}[0]"), as_count(pair[1], f"{where}[1]")


def spread_to_json(spread: SpreadRule) -> dict[str, object]:
    """Return the rule of spreading shades in its JSON form."""
    return {"shades": spread.shades, "rule": spread.rule}


def read_spread(fields: Fields) -> SpreadRule:
    """Return the rule of spreading shades from its JSON form. Raises InputError."""
    return SpreadRule(shades=fields.count("shades"), rule=fields.text("rule"))


def short_pile_to_json(pile: ShortPile) -> dict[str, object]:
    """Return what is missing of one pile in its JSON form."""
    return {"width": pile.width, "variant": pile.variant, "planks": pile.planks}


def read_short_pile(data: object, where: str) -> ShortPile:
    """Return what is missing of one pile from its JSON form. Raises InputError."""
    fields = Fields(data, where)
    return ShortPile(
        width=fields.number("width"),
        variant=fields.text_or_none("variant"),
        planks=fields.count("planks"),
    )
