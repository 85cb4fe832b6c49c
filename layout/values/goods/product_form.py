"""A product in its JSON form: one board size as it is, several as ``boards``.

Shades are told by name and count in a carton (``"variants": {"A": 4, "B": 3}``), of several widths
with each board. Where the carton's mix isn't known ``"variants"`` is ``"mixed"``, at the product or
at any board, and ``"shades"`` beside it says how many there are (4 unless told); either way it
holds for all of the product, and is written at the product.
"""

from __future__ import annotations

from layout.values.errors import InputError
from layout.values.fields import Fields, as_count, as_text
from layout.values.material import Board, Flooring, Lock

MIXED = "mixed"
SHADES_UNKNOWN = 4  # so many where nothing is told: common practice, no source


def read_product(data: object, where: str = "product") -> Flooring:
    """Return the product of a request. Raises InputError."""
    fields = Fields(data, where)
    mixed = [_read_shades(fields)]
    boards, variants = [], _read_variants(fields)
    if fields.has("boards"):
        for path, value in fields.entries("boards", most=20):
            inner = Fields(value, path)
            mixed.append(_read_shades(inner))
            boards.append(_read_board(inner, _read_variants(inner)))
            inner.refuse_unknown()
    else:
        boards.append(_read_board(fields))
    lock = fields.choice("lock", Lock) if fields.has("lock") else None
    backward = fields.flag("backward", default=False)
    fields.refuse_unknown()
    return Flooring(
        boards=tuple(boards),
        variants=variants,
        lock=lock,
        backward=backward,
        shades=max((count for count in mixed if count is not None), default=None),
    )


def _read_shades(fields: Fields) -> int | None:
    """Return how many shades are mixed in a carton, None where they are not told so."""
    if not fields.has("variants") or fields.raw("variants", "") != MIXED:
        if fields.has("shades"):
            accepted = f'none, but for "variants": "{MIXED}"'
            raise InputError(fields.path("shades"), fields.raw("shades", accepted), accepted)
        return None
    return fields.count("shades", SHADES_UNKNOWN)


def _read_variants(fields: Fields) -> dict[str, int]:
    """Return the shades named and their counts in a carton; none where they are mixed."""
    if not fields.has("variants"):
        return {}
    value = fields.raw("variants", "")
    if isinstance(value, str) and value != MIXED:
        accepted = f'counts by name, such as {{"A": 4, "B": 3}}, or "{MIXED}"'
        raise InputError(fields.path("variants"), value, accepted)
    if value == MIXED:
        return {}
    return {
        as_text(name, path): as_count(count, path) for name, path, count in fields.pairs("variants")
    }


def _read_board(fields: Fields, variants: dict[str, int] | None = None) -> Board:
    """Return the board whose length, width and count stand in the fields."""
    return Board(
        length=fields.number("length"),
        width=fields.number("width"),
        per_carton=fields.count("per_carton"),
        variants=tuple((variants or {}).items()),
    )


def product_to_json(product: Flooring) -> dict[str, object]:
    """Return the product of a request in its JSON form."""
    sizes = [_board_to_json(board) for board in product.boards]
    data: dict[str, object] = {"boards": sizes} if len(sizes) > 1 else {**sizes[0]}
    if product.variants:
        data["variants"] = dict(product.variants)
    if product.shades is not None:
        data |= {"variants": MIXED, "shades": product.shades}
    if product.backward:
        data["backward"] = True
    return {**data, "lock": None if product.lock is None else product.lock.value}


def _board_to_json(board: Board) -> dict[str, object]:
    """Return one board size as the form has it."""
    data: dict[str, object] = {"length": board.length, "width": board.width}
    data["per_carton"] = board.per_carton
    return {**data, "variants": dict(board.variants)} if board.variants else data
