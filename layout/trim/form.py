"""Trim requests and cut lists: frozen values and their JSON forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation

from layout.values.errors import Described, InputError
from layout.values.fields import Fields, as_number, as_text, check_number

FORMAT = 2
FORMATS = (1, 2)  # requests of both are read
MOST_PIECES = 20_000
ENDS = ("inside", "outside", "cope", "butt")
UNUSED_FIELDS = ("unit", "effort_iterations", "seed")


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLength:
    """A length the store sells, in the request's unit, and its price."""

    id: str
    length: float
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimPiece:
    """A wall to be trimmed: its length and what its ends meet; ``count`` alike."""

    id: str
    length: float
    ends: tuple[str, ...] = ()
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimRequest:
    """What to cut, from what. Lengths in one unit; ``longest_without_joint`` None: the stock.

    ``effort_s`` counts by the caller's stop.
    """

    saw_kerf: float
    stock: tuple[StockLength, ...]
    pieces: tuple[TrimPiece, ...]
    end_allowance: dict[str, float] = field(default_factory=dict)
    longest_without_joint: float | None = None
    min_joint_piece: float | None = None
    effort_s: float = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimCut:
    """One piece on a stick, allowances included; ``part`` of ``parts`` where a wall is joined."""

    id: str
    length: float
    part: int = 1
    parts: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimStick:
    """One stick to buy, its cuts in order, what is left over."""

    stock: str
    cuts: tuple[TrimCut, ...]
    left_over: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """The sticks, what they cost, and what no other way can cost less than."""

    sticks: tuple[TrimStick, ...]
    cost: Decimal
    lower_bound_cost: Decimal

    @property
    def status(self) -> str:
        """``proven`` where cost and bound meet, else ``best_found``."""
        return "proven" if self.cost == self.lower_bound_cost else "best_found"


def read_trim(data: object) -> TrimRequest:
    """Return the request of a JSON form. Raises InputError."""
    form = Fields(data, "")
    if form.count("format") not in FORMATS:
        accepted = " or ".join(str(known) for known in FORMATS)
        raise InputError("format", form.raw("format", accepted), accepted)
    kerf = form.number("saw_kerf", 0.0)
    check_number(kerf, "saw_kerf")
    stock = tuple(_read_stock(value, where) for where, value in form.entries("stock", most=50))
    if not stock:
        raise InputError("stock", Described("no stock length"), "one or more")
    pieces = tuple(_read_piece(v, where) for where, v in form.entries("pieces", most=MOST_PIECES))
    _check_ids([s.id for s in stock], "stock")
    _check_ids([p.id for p in pieces], "pieces")
    if not pieces or sum(piece.count for piece in pieces) > MOST_PIECES:
        counted = Described(f"{sum(piece.count for piece in pieces)} pieces")
        raise InputError("pieces", counted, f"1 to {MOST_PIECES}")
    allowances = {}
    for name, where, value in form.pairs("end_allowance"):
        if name not in ENDS:
            raise InputError(where, Described("unknown end"), ", ".join(ENDS))
        allowances[name] = as_number(value, where)
        check_number(allowances[name], where)
    effort = form.number("effort_s", 5.0)
    check_number(effort, "effort_s", most=3_600)
    request = TrimRequest(
        saw_kerf=kerf,
        stock=stock,
        pieces=pieces,
        end_allowance=allowances,
        longest_without_joint=_above_zero(form, "longest_without_joint"),
        min_joint_piece=_above_zero(form, "min_joint_piece"),
        effort_s=effort,
    )
    form.refuse_unknown(UNUSED_FIELDS)
    return request


def _above_zero(form: Fields, name: str) -> float | None:
    value = form.number_or_none(name)
    if value is not None:
        check_number(value, form.path(name), above=0.0)
    return value


def _check_ids(ids: Sequence[str], where: str) -> None:
    """Refuse an id that is used twice."""
    seen: set[str] = set()
    for i, name in enumerate(ids):
        if name in seen:
            raise InputError(f"{where}[{i}].id", name, "an id not used before")
        seen.add(name)


def _read_stock(value: object, where: str) -> StockLength:
    form = Fields(value, where)
    name, length = form.text("id"), form.number("length")
    check_number(length, form.path("length"), above=0.0)
    price = _price(form.raw("price", "an amount"), form.path("price"))
    form.refuse_unknown()
    return StockLength(id=name, length=length, price=price)


def _price(value: object, where: str) -> Decimal:
    """Return an amount of money above 0 with at most four decimal places."""
    accepted = 'an amount above 0 and at most 1000000, such as "6.40"'
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise InputError(where, value, accepted)
    try:
        price = Decimal(str(value).strip())
    except InvalidOperation as error:
        raise InputError(where, value, accepted) from error
    if not (price.is_finite() and 0 < price <= 1_000_000) or price != round(price, 4):
        raise InputError(where, value, accepted)
    return price


def _read_piece(value: object, where: str) -> TrimPiece:
    form = Fields(value, where)
    name, length, count = form.text("id"), form.number("length"), form.count("count", 1)
    check_number(length, form.path("length"), above=0.0)
    check_number(count, form.path("count"), least=1, most=MOST_PIECES)
    ends = tuple(as_text(end, at) for at, end in form.entries("ends"))
    if len(ends) > 2 or any(end not in ENDS for end in ends):
        raise InputError(form.path("ends"), list(ends), f"at most two of {', '.join(ENDS)}")
    form.refuse_unknown()
    return TrimPiece(id=name, length=length, ends=ends, count=count)


def cut_list_to_json(cuts: CutList) -> dict[str, object]:
    """Return the JSON form of a cut list."""
    return {
        "format": FORMAT,
        "status": cuts.status,
        "sticks": [
            {
                "stock": stick.stock,
                "cuts": [_cut_to_json(c) for c in stick.cuts],
                "left_over": stick.left_over,
            }
            for stick in cuts.sticks
        ],
        "totals": {
            "sticks": len(cuts.sticks),
            "cost": str(cuts.cost),
            "lower_bound_cost": str(cuts.lower_bound_cost),
        },
    }


def _cut_to_json(item: TrimCut) -> dict[str, object]:
    joint = {"part": item.part, "parts": item.parts} if item.parts > 1 else {}
    return {"id": item.id, "length": item.length, **joint}
