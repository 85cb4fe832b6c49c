"""A plan in its JSON form, written and read back.

The form is format 2. ``plan_to_json`` keeps a stable order of fields and rounds all measures to six
decimals, so that the same plan gives the same bytes; ``read_plan`` reads any plan in that form or
an older one, whoever made it, and judges nothing beyond what can be read.
"""

from __future__ import annotations

import json
from collections.abc import Iterable

from layout.values.advice import (
    bought_to_json,
    read_bought,
    read_cost,
    read_relaxation,
    read_short_pile,
    read_spread,
    read_start,
    relaxation_to_json,
    short_pile_to_json,
    spread_to_json,
    start_to_json,
)
from layout.values.errors import InputError
from layout.values.fields import (
    Fields,
    as_list,
    as_number,
    as_point,
    as_ring,
    as_text,
    check_number,
)
from layout.values.material import GoesIn, Lay, lay_to_json, read_lay
from layout.values.outline import Point, Ring
from layout.values.plan import (
    FORMATS,
    SIDES,
    Cut,
    Look,
    Offcut,
    Piece,
    Plan,
    RowMarks,
    RuleWarning,
    Totals,
)

# The keys of the form, in its order; they stay where a field of the values is renamed.
PIECE_KEYS = (
    *("id", "row", "place", "plank", "size", "outline", "holes", "origin"),
    *("variant", "trapped", "goes_in", "split", "cuts"),
)
_OFFCUT_KEYS_1 = ("id", "plank", "length", "width", "keeps", "at", "used_by")
OFFCUT_KEYS = (*_OFFCUT_KEYS_1, "outline", "stack")
_CUT_KEYS = ("kind", "measure_from", "at", "final", "limits", "tool")
_TOTALS_KEYS_1 = (
    *("planks", "cartons", "lower_bound", "floor_area", "laid_area", "rack_max", "waste"),
    *("crosscuts", "rips", "notches", "full_pieces"),
)
_TOTALS_KEYS = ("planks", "fewest", *_TOTALS_KEYS_1[1:])
_LOOK_KEYS = ("h_joints", "staircases", "smallest_offset")
_DIRECTION_KEYS = ("direction_deg", "planks", "cartons", "crosscuts", "rips", "trapped")
_WARNING_KEYS = ("rule", "where", "value", "limit", "text")


def plan_text(plan: Plan) -> str:
    """Return the plan as canonical text: one line of JSON, the same for the same plan."""
    return json.dumps(plan_to_json(plan), ensure_ascii=False, allow_nan=False) + "\n"


def plan_to_json(plan: Plan) -> dict[str, object]:
    """Return the plan in its JSON form, numbers rounded to six decimals; the proof as it is."""
    data: dict[str, object] = {
        "format": plan.format,
        "unit": plan.unit,
        "direction_deg": plan.direction_deg,
        "lay": lay_to_json(plan.lay),
        "status": plan.status,
        "proof": plan.proof,
        "pieces": [piece_to_json(piece) for piece in plan.pieces],
        "offcuts": [offcut_to_json(offcut) for offcut in plan.offcuts],
        "totals": _totals_to_json(plan.totals, plan.format),
        "row_marks": [_marks_to_json(row) for row in plan.row_marks],
        "directions": [_keyed(cost, _DIRECTION_KEYS) for cost in plan.directions],
        "starts": [start_to_json(one) for one in plan.starts],
        "warnings": [_keyed(warning, _WARNING_KEYS) for warning in plan.warnings],
    }
    if not plan.starts:
        del data["starts"]
    data |= _advice_to_json(plan)
    # A certificate rests on its own digits: the marks of a proof stay as they are.
    return {key: value if key == "proof" else _rounded(value) for key, value in data.items()}


def _advice_to_json(plan: Plan) -> dict[str, object]:
    """Return what a plan says beside its pieces, where it has anything to say."""
    data: dict[str, object] = {}
    if plan.relax:
        data["relax"] = [relaxation_to_json(one) for one in plan.relax]
    if plan.bought is not None:
        data["bought"] = bought_to_json(plan.bought)
    if plan.spread is not None:
        data["spread"] = spread_to_json(plan.spread)
    return data


def piece_to_json(piece: Piece) -> dict[str, object]:
    """Return one piece in its JSON form, numbers as they are."""
    data: dict[str, object] = {
        name: getattr(piece, name) for name in ("id", "row", "place", "plank")
    }
    data["size"] = piece.size
    data["outline"] = piece.outline
    data["holes"] = piece.holes
    data["origin"] = piece.origin
    if piece.variant is not None:
        data["variant"] = piece.variant
    data["trapped"] = piece.trapped
    if piece.goes_in is not None:
        data["goes_in"] = piece.goes_in.value
    if piece.split:
        data["split"] = True
    data["cuts"] = [_cut_to_json(cut) for cut in piece.cuts]
    return data


def offcut_to_json(offcut: Offcut) -> dict[str, object]:
    """Return one offcut in its JSON form, numbers as they are; one without an outline as a box."""
    return _keyed(offcut, OFFCUT_KEYS if offcut.outline else _OFFCUT_KEYS_1)


def read_plan(data: object) -> Plan:
    """Return a plan from its JSON form.

    Raises InputError naming the field, the value and what would be accepted.
    """
    fields = Fields(data, "")
    number = fields.count("format")
    if number not in FORMATS:
        accepted = " or ".join(str(known) for known in FORMATS)
        raise InputError("format", fields.raw("format", accepted), accepted)
    return Plan(
        unit=fields.text("unit"),
        direction_deg=fields.number("direction_deg"),
        lay=read_lay(fields.raw("lay", "an object { ... }")) if fields.has("lay") else Lay(),
        status=fields.text("status"),
        proof=_read_proof(fields),
        pieces=tuple(read_piece(value, path) for path, value in fields.entries("pieces")),
        offcuts=tuple(read_offcut(value, path) for path, value in fields.entries("offcuts")),
        totals=_read_totals(fields.child("totals")),
        row_marks=tuple(_read_marks(value, path) for path, value in fields.entries("row_marks")),
        directions=tuple(read_cost(value, path) for path, value in fields.entries("directions")),
        starts=tuple(read_start(value, path) for path, value in fields.entries("starts")),
        warnings=tuple(_read_warning(value, path) for path, value in fields.entries("warnings")),
        relax=tuple(read_relaxation(value, path) for path, value in fields.entries("relax")),
        bought=read_bought(fields.child("bought")) if fields.has("bought") else None,
        spread=read_spread(fields.child("spread")) if fields.has("spread") else None,
        format=number,
    )


def read_piece(data: object, where: str) -> Piece:
    """Return one piece from its JSON form. Raises InputError."""
    fields = Fields(data, where)
    size = as_point(fields.raw("size", "a pair [length, width]"), fields.path("size"))
    check_number(min(size), fields.path("size"), above=0)
    return Piece(
        id=fields.text("id"),
        row=fields.count("row"),
        place=fields.count("place"),
        plank=fields.count("plank"),
        size=size,
        outline=as_ring(fields.raw("outline", "a ring of corners"), fields.path("outline")),
        origin=as_point(fields.raw("origin", "a pair [x, y]"), fields.path("origin")),
        holes=tuple(as_ring(value, path) for path, value in fields.entries("holes", most=100)),
        variant=fields.text_or_none("variant"),
        trapped=fields.flag("trapped", default=False),
        goes_in=fields.choice("goes_in", GoesIn) if fields.has("goes_in") else None,
        split=fields.flag("split", default=False),
        cuts=tuple(_read_cut(value, path) for path, value in fields.entries("cuts", most=500)),
    )


def read_offcut(data: object, where: str, board: tuple[float, float] | None = None) -> Offcut:
    """Return one offcut from its JSON form; ``board`` (length, width) places one without ``at``.

    Raises InputError.
    """
    fields = Fields(data, where)
    length, width = fields.number("length"), fields.number("width")
    check_number(length, fields.path("length"), above=0)
    check_number(width, fields.path("width"), above=0)
    keeps = tuple(as_text(value, path) for path, value in fields.entries("keeps", most=4))
    for side in keeps:
        if side not in SIDES:
            raise InputError(fields.path("keeps"), side, " or ".join(f'"{name}"' for name in SIDES))
    at = (0.0, 0.0)
    if fields.has("at"):
        at = as_point(fields.raw("at", "a pair [x, y]"), fields.path("at"))
    elif board is not None:
        at = _kept_corner(length, width, keeps, board)
    return Offcut(
        id=fields.text("id"),
        plank=fields.count("plank"),
        length=length,
        width=width,
        keeps=keeps,
        at=at,
        outline=_read_outline(fields),
        used_by=fields.text_or_none("used_by"),
        stack=fields.text_or_none("stack"),
    )


def _read_outline(fields: Fields) -> Ring:
    """Return the true shape of an offcut, nothing where it is told as a box."""
    if not fields.has("outline"):
        return ()
    return as_ring(fields.raw("outline", "a ring of corners"), fields.path("outline"))


def _kept_corner(
    length: float, width: float, keeps: tuple[str, ...], board: tuple[float, float]
) -> Point:
    """Return the lower-left corner of an offcut in its plank, from the factory edges it keeps."""
    at_right = "right end" in keeps and "left end" not in keeps
    at_high = "high side" in keeps and "low side" not in keeps
    return (board[0] - length if at_right else 0.0, board[1] - width if at_high else 0.0)


def _cut_to_json(cut: Cut) -> dict[str, object]:
    """Return one cut; what its kind needs beyond the common fields stands beside them."""
    data = _keyed(cut, _CUT_KEYS)
    if cut.limits is None:
        del data["limits"]
    return {**data, **cut.detail}


def _totals_to_json(totals: Totals, number: int) -> dict[str, object]:
    """Return the totals, of a form of this number, with the shortage and the look as objects."""
    data = _keyed(totals, _TOTALS_KEYS if number > 1 else _TOTALS_KEYS_1)
    if totals.fewest_plan is not None:
        data["fewest_plan"] = totals.fewest_plan
    shortage: dict[str, object] = {
        "planks": totals.shortage_planks,
        "cartons": totals.shortage_cartons,
    }
    if totals.short_piles:
        shortage["piles"] = [short_pile_to_json(pile) for pile in totals.short_piles]
    return {**data, "look": _keyed(totals.look, _LOOK_KEYS), "shortage": shortage}


def _keyed(value: object, keys: Iterable[str]) -> dict[str, object]:
    """Return the fields of a value that are called as their keys in the form, in its order."""
    return {key: getattr(value, key) for key in keys}


def _rounded(value: object) -> object:
    """Return JSON data with every number rounded to six decimals, whole numbers without a point."""
    if isinstance(value, float):
        near = round(value, 6)
        return int(near) if near.is_integer() else near
    if isinstance(value, dict):
        return {str(key): _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value


def _read_proof(fields: Fields) -> dict[str, object]:
    """Return the certificate as it stands; only the check of it knows its inside."""
    proof = fields.raw("proof", "an object { ... }") if fields.has("proof") else {}
    if not isinstance(proof, dict):
        raise InputError("proof", proof, "an object { ... }")
    return proof


def _read_cut(data: object, where: str) -> Cut:
    """Return one cut; fields beyond the common ones become its detail."""
    fields = Fields(data, where)
    limits = None
    if fields.has("limits"):
        limits = as_point(fields.raw("limits", "a pair"), fields.path("limits"))
    cut = {name: fields.text(name) for name in ("kind", "measure_from")}
    final = fields.text_or_none("final") or "exact"
    tool = fields.text_or_none("tool") or "saw"
    at = fields.number("at")
    return Cut(**cut, at=at, final=final, limits=limits, tool=tool, detail=fields.rest())


def _read_totals(fields: Fields) -> Totals:
    """Return the totals; shortage may be left out, and fewest where it is the planks."""
    shortage = fields.child("shortage") if fields.has("shortage") else Fields({}, "totals.shortage")
    look = fields.child("look")
    smallest = look.number_or_none("smallest_offset")
    counts = ("planks", "cartons", "lower_bound", "rack_max")
    cuts = ("crosscuts", "rips", "notches", "full_pieces")
    return Totals(
        **{name: fields.count(name) for name in (*counts, *cuts)},
        fewest=fields.count("fewest", fields.count("planks")),
        fewest_plan=fields.text_or_none("fewest_plan"),
        floor_area=fields.number("floor_area"),
        laid_area=fields.number("laid_area"),
        waste=fields.number("waste"),
        look=Look(
            h_joints=look.count("h_joints"),
            staircases=look.count("staircases"),
            smallest_offset=smallest,
        ),
        shortage_planks=shortage.count("planks", 0),
        shortage_cartons=shortage.count("cartons", 0),
        short_piles=tuple(
            read_short_pile(value, path) for path, value in shortage.entries("piles")
        ),
    )


def _marks_to_json(row: RowMarks) -> dict[str, object]:
    """Return the row lines from one edge, with scribe offsets where the wall is not straight."""
    data: dict[str, object] = {"from": row.source, "marks": row.marks}
    return {**data, "scribe": row.scribe} if row.scribe else data


def _read_marks(data: object, where: str) -> RowMarks:
    """Return the row lines measured from one edge."""
    fields = Fields(data, where)
    marks = as_list(fields.raw("marks", "a list of numbers"), fields.path("marks"))
    numbers = tuple(as_number(mark, f"{where}.marks[{i}]") for i, mark in enumerate(marks))
    scribe = tuple(as_point(value, path) for path, value in fields.entries("scribe"))
    return RowMarks(source=fields.text("from"), marks=numbers, scribe=scribe)


def _read_warning(data: object, where: str) -> RuleWarning:
    """Return one warning."""
    fields = Fields(data, where)
    return RuleWarning(
        rule=fields.text("rule"),
        where=fields.text("where"),
        value=fields.number("value"),
        limit=fields.number("limit"),
        text=fields.text("text"),
    )
