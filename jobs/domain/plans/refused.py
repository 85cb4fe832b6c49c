"""Why a floor can't be planned, in the words of those who lay it.

The layout core names the field of its own form that it refuses (`zone.outline`, `rules.rip_kerf`).
People know rooms, doorways, rules and products: here each such field gets its sentence. What no
sentence is written for is told as what it is about, never in the core's words.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from jobs.domain.lengths import core_length_words
from layout.values.errors import InputError, LayoutError, NoPlanError, StoppedError

_MEETS = re.compile(r"edges \d+ and \d+ meet at \((-?[\d.e+-]+), (-?[\d.e+-]+)\)")
_CODE = re.compile(r'\s*\([^()]*[._"][^()]*\)')
"""What a sentence of the core adds in brackets for those who write its form by hand."""

_RULES = {
    "expansion_gap": "Expansion gap",
    "saw_kerf": "Saw cut across a plank",
    "rip_kerf": "Saw cut along a plank",
    "wall_error": "Wall tolerance",
    "min_end_piece": "Minimum end piece",
    "min_row_width": "Minimum row width",
    "min_joint_offset": "Minimum stagger",
    "stagger": "Stagger pattern",
    "direction_deg": "Direction of the rows",
}
_BROKEN = (
    "The floor could not be planned from what is stored of {subject}. Open {where} and save again, "
    "then plan once more; if that fails too, the worker's log says more."
)
_SUBJECTS = (
    ("zone", "its rooms", "its rooms"),
    ("product", "its product", "the product"),
    ("rules", "its rules", "the rules of this floor"),
    ("lay", "where its rows start", "the start wall"),
    ("laid", "what is laid", "the log"),
    ("on_hand", "the planks on hand", "the planks on hand"),
)


def refusal_words(error: LayoutError, unit: str = "in") -> str:
    """Return in one or two sentences why a floor can't be planned; lengths are in ``unit``."""
    if isinstance(error, InputError):
        return _refused(error, unit)
    if isinstance(error, StoppedError):
        return "Planning was stopped before a first plan stood."
    if isinstance(error, NoPlanError):
        return _no_plan(str(error), unit)
    if not type(error).__module__.startswith("layout."):
        return str(error)
    return (
        "Planning ended without a plan, since a step of the arithmetic failed. Plan once more; if "
        "that fails too, the worker's log says more."
    )


def _refused(error: InputError, unit: str) -> str:
    for pattern, words in _SENTENCES:
        if re.fullmatch(pattern, error.field):
            return words(error, unit)
    for part, subject, where in _SUBJECTS:
        if re.match(rf"{part}\b", error.field):
            return _BROKEN.format(subject=subject, where=where)
    return _BROKEN.format(subject="it", where="the floor")


def _no_plan(text: str, unit: str) -> str:
    gap = re.search(r"pieces of row (\d+) lie ([\d.e+-]+)", text)
    if gap:
        wide = core_length_words(float(gap[2]), unit)
        return (
            f"Between pieces that are down in row {gap[1]} lie {wide}, which whole planks do not "
            "fill; accepted: pieces noted as they lie."
        )
    if text.startswith("laid"):
        return "The floor is laid; nothing is left to plan."
    return (
        "The expansion gaps leave no floor to lay; accepted: rooms wider than the gaps at both "
        "of their walls."
    )


def _outline(error: InputError, unit: str) -> str:
    said, most = str(error.value), core_length_words(12_000 if unit == "in" else 304_800, unit)
    crossing = _MEETS.match(said)
    if crossing:
        x, y = (core_length_words(abs(float(place)), unit) for place in crossing.groups())
        return (
            f"The edge of this floor runs into itself, {x} along and {y} up from where the floor "
            "is measured from; accepted: rooms and doorways that neither cross nor touch there. "
            "Open the places of its rooms."
        )
    if said.startswith("a corner at"):
        return f"This floor reaches too far; accepted: corners within {most}."
    if said.endswith("corners"):
        return f"This floor has {said}; accepted: {_plain(error.accepted)}."
    return "The walls of this floor enclose no floor; accepted: walls round some floor."


def _corner(_: InputError, unit: str) -> str:
    least = core_length_words(0.0625 if unit == "in" else 1.0, unit)
    return f"Two corners of this floor lie on each other; accepted: walls of {least} or more."


def _hole(error: InputError, _: str) -> str:
    where = {"touches the outline": "touches a wall", "lies outside": "lies outside the room"}
    stands = where.get(str(error.value), "touches another one")
    return (
        f"What stands in a room (a post, a hearth, a register) {stands}; accepted: clear of walls "
        "and of each other, inside the room."
    )


def _gap(error: InputError, _: str) -> str:
    return f"Gap at one of the walls: {_value(error)}; accepted: {_plain(error.accepted)}."


def _rule(error: InputError, _: str) -> str:
    name = _RULES[error.field.partition(".")[2]]
    return (
        f"{name}: {_value(error)}; accepted: {_plain(error.accepted)}. Open the rules of this "
        "floor or its product."
    )


def _of(subject: str) -> Callable[[InputError, str], str]:
    def words(error: InputError, _: str) -> str:
        return f"{subject}: {_value(error)}; accepted: {_plain(error.accepted)}."

    return words


def _small(error: InputError, _: str) -> str:
    return f"The planks are too small for this floor: {_value(error)}; accepted: larger planks."


def _laid_row(error: InputError, _: str) -> str:
    return (
        f"A piece that is down is noted in row {_value(error)}; accepted: row "
        f"{_plain(error.accepted)}. Open the log."
    )


def _laid(error: InputError, _: str) -> str:
    stands = _value(error)
    piece = re.match(r"(piece \S+) (.*)", stands)
    if not piece:
        stands = "a piece can't be read"
    return f"What is down doesn't fit this floor: {stands}; accepted: pieces noted as they lie."


def _old_plan(*_: object) -> str:
    return "The plan doesn't fit the floor as it stands now; plan the floor again."


_SENTENCES: tuple[tuple[str, Callable[[InputError, str], str]], ...] = (
    (r"zone\.outline", _outline),
    (r"zone\.outline\[\d+\]", _corner),
    (r"zone\.holes\[\d+\]", _hole),
    (r"zone\.edges\.\d+\.(gap|max_gap)", _gap),
    (r"product", _small),
    (r"product\.length", _of("Plank length of the product")),
    (r"product\.width", _of("Plank width of the product")),
    (r"product\.boards", _of("Planks of the product")),
    (r"rules\.(" + "|".join(_RULES) + ")", _rule),
    (r"lay\.control_row", _of("Row from which rows go both ways")),
    (r"spares", _of("Spare planks")),
    (r"prefer\.spend", _of("Planks spent on looks")),
    (r"laid\[\d+\]\.row", _laid_row),
    (r"laid\[\d+\]\.outline", _laid),
    (r"on_hand\.(planks|piles)", _of("Planks on hand")),
    (r"(pieces|totals|proof|format|unit|rows|laid_ids|offcuts_gone)\b.*", _old_plan),
)


def _value(error: InputError) -> str:
    """Return the refused value as it is read: a number without needless digits, else its words."""
    value = error.value
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return "not a value that can be used"
    if isinstance(value, str):
        return _plain(value)
    return f"{value:.6g} can't be used"


def _plain(text: str) -> str:
    """Return words of the core without its brackets of code, and with the trade's nouns."""
    said = _CODE.sub("", text).replace("the zone", "this floor").replace("boards", "planks")
    return re.sub(r"[\"\[\]{}]", "", said).replace("board", "plank").replace("variant", "shade")
