"""Other ways to lay a floor and what they come to: other directions, other places to start."""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.fields import Fields, check_number
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
