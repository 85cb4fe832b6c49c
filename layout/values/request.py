"""A plan request: the zone, the product, the rules, and how hard to try.

The JSON form is format 2: ``request_to_json`` writes it; ``read_request`` reads it and format 1,
which lacks some fields, and refuses by field, value and range what can't be used.
Fields it does not know are refused too, so that no misspelt rule is passed over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shapely.geometry import Polygon

from layout.values.errors import Described, InputError
from layout.values.fields import Fields, as_lists, check_number, refuse_doubled
from layout.values.goods.piles import SizePiles, check_piles, size_piles
from layout.values.goods.product_form import product_to_json, read_product
from layout.values.leftovers import AtHandCheck, OnHand, on_hand_to_json, read_on_hand
from layout.values.material import (
    Flooring,
    Lay,
    LayingRules,
    Prefer,
    Stagger,
    read_lay,
    read_rules,
    rules_to_json,
)
from layout.values.outline import Zone, meeting, read_zone, zone_polygon, zone_to_json
from layout.values.plan import FORMAT, FORMATS, Piece
from layout.values.plan_form import (
    PIECE_KEYS,
    piece_to_json,
    read_piece,
)
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import INCH

MOST_BOARDS = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRequest:
    """Everything the planner needs. Exactly one of ``effort_s`` and ``effort_iterations`` counts:
    iterations where given (repeatable), else seconds. ``spend``: planks paid for already that may
    go into looks, then into fewer cuts; ``prefer`` cartons: what the last carton leaves.

    Raises InputError where lengths are absurd for a floor, where rules contradict each other or
    the board, where laid pieces or offcuts could not be there, and where the floor would take
    more than 20,000 boards.
    """

    unit: str
    zone: Zone
    product: Flooring
    rules: LayingRules
    lay: Lay = field(default_factory=Lay)
    laid: tuple[Piece, ...] = ()
    on_hand: OnHand | None = None
    spares: int = 0
    prefer: Prefer = Prefer.PLANKS
    spend: int | None = None
    effort_s: float = 5.0
    effort_iterations: int | None = None
    seed: int = 0

    def __post_init__(self) -> None:
        if self.unit not in INCH:
            raise InputError("unit", self.unit, '"in" or "mm"')
        check_number(self.spares, "spares", most=10_000)
        if self.spend is not None:
            check_number(self.spend, "prefer.spend", most=10_000)
        check_number(self.effort_s, "effort_s", most=3_600)
        if self.effort_iterations is not None:
            check_number(self.effort_iterations, "effort_iterations", most=10_000_000)
        _check_sizes(self)
        _check_rules(self)
        _check_control_row(self)
        _check_edges(self)
        _check_laid(self)
        _check_on_hand(self)

    @property
    def sizes(self) -> tuple[SizePiles, ...]:
        """What there is of every board size: piles once counted, and what a carton brings."""
        return size_piles(self.product, self.on_hand, LENGTH_TOLERANCE[self.unit])


def read_request(data: object) -> PlanRequest:
    """Return a plan request from its JSON form.

    Raises InputError naming the field, the value and what would be accepted.
    """
    fields = Fields(data, "")
    if fields.count("format") not in FORMATS:
        accepted = " or ".join(str(known) for known in FORMATS)
        raise InputError("format", fields.raw("format", accepted), accepted)
    product = read_product(fields.raw("product", "an object { ... }"))
    spend = _read_spend(fields)
    request = PlanRequest(
        unit=fields.text("unit"),
        zone=read_zone(fields.raw("zone", "an object { ... }")),
        product=product,
        rules=read_rules(fields.raw("rules", "an object { ... }")),
        lay=read_lay(fields.raw("lay", "an object { ... }")) if fields.has("lay") else Lay(),
        laid=tuple(_read_laid(value, path) for path, value in fields.entries("laid")),
        on_hand=read_on_hand(fields.child("on_hand"), product) if fields.has("on_hand") else None,
        spares=fields.count("spares", 0),
        spend=spend,
        prefer=Prefer.PLANKS
        if spend is not None
        else fields.choice("prefer", Prefer, Prefer.PLANKS),
        effort_s=fields.number("effort_s", 5.0),
        effort_iterations=fields.count_or_none("effort_iterations"),
        seed=fields.count("seed", 0),
    )
    fields.refuse_unknown(("name", "note"))
    return request


def _read_spend(fields: Fields) -> int | None:
    """Return how many planks may be spent, None where ``prefer`` is a word or is not said."""
    value = fields.raw("prefer", "") if fields.has("prefer") else None
    if isinstance(value, str) or value is None:
        return None
    if not isinstance(value, dict):
        accepted = '"planks" or "cartons" or {"spend": a whole number}'
        raise InputError("prefer", value, accepted)
    inner = Fields(value, "prefer")
    spend = inner.count("spend")
    inner.refuse_unknown()
    return spend


def request_to_json(request: PlanRequest, *, name: str = "") -> dict[str, object]:
    """Return a plan request in its JSON form, numbers as they are, with a ``name`` where given.

    What stands at its default and what is not set is left out where the form allows it, so that
    the same request gives the same text from one version to the next.
    """
    data: dict[str, object] = {"format": FORMAT, "unit": request.unit}
    if name:
        data["name"] = name
    data["zone"] = zone_to_json(request.zone)
    data["product"] = product_to_json(request.product)
    data["rules"] = rules_to_json(request.rules)
    data["lay"] = _lay_to_json(request.lay)
    data["spares"] = request.spares
    data["prefer"] = request.prefer.value if request.spend is None else {"spend": request.spend}
    if request.effort_iterations is None:
        whole = float(request.effort_s).is_integer()
        data["effort_s"] = int(request.effort_s) if whole else request.effort_s
    else:
        data["effort_iterations"] = request.effort_iterations
    data["seed"] = request.seed
    return {**data, **_begun_to_json(request)}


def _lay_to_json(lay: Lay) -> dict[str, object]:
    """Return the hands of laying: the start, and what differs from the default of the form."""
    data: dict[str, object] = {"start": lay.start.value}
    if lay.first_end is not Lay().first_end:
        data["first_end"] = lay.first_end.value
    if lay.tongue is not Lay().tongue:
        data["tongue"] = lay.tongue.value
    return data if lay.control_row is None else {**data, "control_row": lay.control_row}


def _begun_to_json(request: PlanRequest) -> dict[str, object]:
    """Return what is down and at hand, nothing where the floor is not begun.

    Pieces and offcuts are told as in a plan.
    """
    data: dict[str, object] = {}
    if request.laid or request.on_hand is not None:
        data["laid"] = [as_lists(piece_to_json(piece)) for piece in request.laid]
    if request.on_hand is not None:
        data["on_hand"] = on_hand_to_json(request.on_hand)
    return data


def _read_laid(data: object, where: str) -> Piece:
    """Return one piece that is down; it is told as in a plan."""
    piece = read_piece(data, where)
    Fields(data, where).refuse_unknown(PIECE_KEYS)
    return piece


def _check_sizes(request: PlanRequest) -> None:
    """Refuse boards and rooms that no floor has, and floors of too many boards."""
    inch, board = INCH[request.unit], request.product.board
    check_number(board.length, "product.length", least=inch, most=300 * inch)
    for size in request.product.boards:
        check_number(size.width, "product.width", least=0.5 * inch, most=60 * inch)
    zone = zone_polygon(request.zone)
    reach = max(map(abs, zone.bounds))
    if reach > 12_000 * inch:
        accepted = f"corners within {12_000 * inch:g} {request.unit} of the origin"
        raise InputError("zone.outline", Described(f"a corner at {reach:g}"), accepted)
    widest = max(size.width for size in request.product.boards)
    boards = zone.area / (board.length * widest)
    if boards > MOST_BOARDS:
        value = Described(
            f"{board.length:g} x {widest:g} makes about {boards:.0f} boards of this floor"
        )
        raise InputError("product", value, f"a product size that takes at most {MOST_BOARDS}")


def _check_rules(request: PlanRequest) -> None:
    """Refuse rules that no floor of this board could keep."""
    inch, rules, board = INCH[request.unit], request.rules, request.product.board
    narrowest = min(size.width for size in request.product.boards)
    check_number(rules.expansion_gap, "rules.expansion_gap", most=6 * inch)
    check_number(rules.saw_kerf, "rules.saw_kerf", most=inch)
    check_number(rules.kerf_across, "rules.rip_kerf", most=inch)
    check_number(rules.wall_error, "rules.wall_error", most=6 * inch)
    check_number(rules.min_end_piece, "rules.min_end_piece", most=board.length)
    check_number(rules.min_row_width, "rules.min_row_width", most=narrowest)
    parts = 3 if rules.stagger is Stagger.THIRD else 2
    check_number(rules.min_joint_offset, "rules.min_joint_offset", most=board.length / parts)


def _check_control_row(request: PlanRequest) -> None:
    """Refuse a control row where the product's rows go one way only."""
    row = request.lay.control_row
    if row is not None and not request.product.backward:
        accepted = 'none, or a product whose rows go both ways ("product.backward": true)'
        raise InputError("lay.control_row", row, accepted)


def _check_edges(request: PlanRequest) -> None:
    """Refuse a gap that no cover hides, and a widest gap below the gap itself."""
    most = 12 * INCH[request.unit]
    for index, edge in request.zone.edges.items():
        gap = request.rules.expansion_gap if edge.gap is None else edge.gap
        check_number(gap, f"zone.edges.{index}.gap", most=most)
        if edge.max_gap is not None:
            check_number(edge.max_gap, f"zone.edges.{index}.max_gap", least=gap, most=most)


def _check_laid(request: PlanRequest) -> None:
    """Refuse laid pieces outside the zone, on top of each other or of no board of the product."""
    refuse_doubled((piece.id for piece in request.laid), "laid")
    if request.laid and request.rules.direction_deg is None:
        accepted = "the direction of the laid pieces in degrees"
        raise InputError("rules.direction_deg", "best", accepted)
    room = zone_polygon(request.zone).buffer(LENGTH_TOLERANCE[request.unit])
    shapes = [Polygon(piece.outline, piece.holes) for piece in request.laid]
    for i, (piece, shape) in enumerate(zip(request.laid, shapes, strict=True)):
        _check_size(request, piece, f"laid[{i}].size")
        if not shape.is_valid:
            raise InputError(f"laid[{i}].outline", Described("meets itself"), "a simple outline")
        if not room.contains(shape):
            value = Described(f"piece {piece.id} lies outside the zone")
            raise InputError(f"laid[{i}].outline", value, "a piece inside the zone, off its holes")
    _refuse_overlap(shapes, [piece.id for piece in request.laid], request)


def _check_size(request: PlanRequest, piece: Piece, where: str) -> None:
    """Refuse a piece cut from no board of the product."""
    near = LENGTH_TOLERANCE[request.unit]
    boards = request.product.boards
    if not any(
        abs(piece.size[0] - b.length) <= near and abs(piece.size[1] - b.width) <= near
        for b in boards
    ):
        accepted = " or ".join(f"{b.length:g} x {b.width:g}" for b in boards)
        raise InputError(where, Described(f"{piece.size[0]:g} x {piece.size[1]:g}"), accepted)


def _refuse_overlap(shapes: Sequence[Polygon], ids: Sequence[str], request: PlanRequest) -> None:
    """Refuse laid pieces that lie on top of each other."""
    for i, j in meeting(shapes):
        if shapes[i].intersection(shapes[j]).area > AREA_TOLERANCE[request.unit]:
            value = Described(f"piece {ids[j]} overlaps piece {ids[i]}")
            raise InputError(f"laid[{j}].outline", value, "pieces that do not overlap")


def _check_on_hand(request: PlanRequest) -> None:
    """Refuse piles that don't fit, and pieces and offcuts that claim more than a plank has."""
    if request.on_hand is not None:
        check_piles(request.product, request.on_hand, LENGTH_TOLERANCE[request.unit])
    AtHandCheck(
        unit=request.unit,
        direction_deg=request.rules.direction_deg or 0.0,
        boards=request.product.boards,
        laid=request.laid,
        offcuts=request.on_hand.offcuts if request.on_hand else (),
    ).check()
