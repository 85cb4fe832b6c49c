"""The sheet: every cut of every plank, in the order in which they are made. Values and JSON form.

Planks stand in the order in which their first piece is laid, cuts in that in which they are made.
Ends and sides are those of the direction frame; a plank lies with its lower-left corner at 0, 0.
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.errors import InputError
from layout.values.fields import Fields, as_list, as_point, as_text
from layout.values.outline import Point
from layout.values.plan import FORMAT

_CUT_KEYS = ("n", "kind", "measure_from", "at", "path", "goes", "tool", "final")


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterCut:
    """What becomes of both parts once a cut is made.

    ``in_hand``: the piece that the part which stays becomes. ``aside``: the pieces that will come
    from the part that goes, on ``stack`` where it waits there. ``waste``: whether all that goes is
    waste.
    """

    in_hand: str
    aside: tuple[str, ...] = ()
    stack: str | None = None
    waste: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """One cut: ``path`` is the edge of what stays, the kerf lies on the side that ``goes``.

    ``kind``: crosscut, rip, angle, notch or hole. ``measure_from``: an end or side of the plank
    that is still there, ``at`` the distance from it to the path. ``goes``: left, right, low, high,
    or inside for notches and holes. ``final`` and ``limits`` as in the cut of a piece; ``text``
    says it all to a person.
    """

    n: int
    kind: str
    measure_from: str
    at: float
    path: tuple[Point, ...]
    goes: str
    tool: str
    then: AfterCut
    final: str = "exact"
    limits: tuple[float, float] | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlankCuts:
    """The cuts of one plank; none where it is laid whole."""

    plank: int
    size: tuple[float, float]
    cuts: tuple[SawCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """The cuts of all planks of a plan, lengths in its unit."""

    unit: str
    planks: tuple[PlankCuts, ...]


def sheet_to_json(sheet: CutSheet) -> dict[str, object]:
    """Return a sheet in its JSON form, lengths rounded to six decimals."""
    planks = [
        {
            "plank": plank.plank,
            "size": _rounded(plank.size),
            "cuts": [_cut_to_json(cut) for cut in plank.cuts],
        }
        for plank in sheet.planks
    ]
    return {"format": FORMAT, "unit": sheet.unit, "planks": planks}


def read_sheet(data: object) -> CutSheet:
    """Return a sheet from its JSON form. Raises InputError."""
    fields = Fields(data, "")
    if fields.count("format") != FORMAT:
        raise InputError("format", fields.raw("format", str(FORMAT)), str(FORMAT))
    planks = tuple(_read_plank(value, path) for path, value in fields.entries("planks"))
    return CutSheet(unit=fields.text("unit"), planks=planks)


def _cut_to_json(cut: SawCut) -> dict[str, object]:
    """Return one cut in its JSON form."""
    data: dict[str, object] = {key: getattr(cut, key) for key in _CUT_KEYS}
    data["at"] = round(cut.at, 6)
    data["path"] = [_rounded(point) for point in cut.path]
    if cut.limits is not None:
        data["limits"] = _rounded(cut.limits)
    then = {
        "in_hand": cut.then.in_hand,
        "aside": list(cut.then.aside),
        "stack": cut.then.stack,
        "waste": cut.then.waste,
    }
    return {**data, "then": then, "text": cut.text}


def _rounded(pair: tuple[float, float]) -> list[float]:
    """Return a pair of lengths rounded to six decimals."""
    return [round(value, 6) for value in pair]


def _read_plank(data: object, where: str) -> PlankCuts:
    """Return the cuts of one plank."""
    fields = Fields(data, where)
    return PlankCuts(
        plank=fields.count("plank"),
        size=as_point(fields.raw("size", "a pair [length, width]"), fields.path("size")),
        cuts=tuple(_read_cut(value, path) for path, value in fields.entries("cuts", most=500)),
    )


def _read_cut(data: object, where: str) -> SawCut:
    """Return one cut."""
    fields = Fields(data, where)
    limits = None
    if fields.has("limits"):
        limits = as_point(fields.raw("limits", "a pair"), fields.path("limits"))
    path = as_list(fields.raw("path", "a list of points"), fields.path("path"))
    then = fields.child("then")
    return SawCut(
        n=fields.count("n"),
        at=fields.number("at"),
        path=tuple(as_point(p, f"{fields.path('path')}[{i}]") for i, p in enumerate(path)),
        then=AfterCut(
            in_hand=then.text("in_hand"),
            aside=tuple(as_text(value, path) for path, value in then.entries("aside")),
            stack=then.text_or_none("stack"),
            waste=then.flag("waste", default=False),
        ),
        limits=limits,
        text=_read_text(fields),
        **{key: fields.text(key) for key in ("kind", "measure_from", "goes", "tool", "final")},
    )


def _read_text(fields: Fields) -> str:
    """Return the words of a cut, as long as they are."""
    text = fields.raw("text", "a text") if fields.has("text") else ""
    if not isinstance(text, str):
        raise InputError(fields.path("text"), text, "a text")
    return text
