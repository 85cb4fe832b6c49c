"""What is laid and by which rules: boards, products, laying rules, hands. Frozen and checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from string import ascii_uppercase

from layout.values.errors import Described, InputError, NotYetError
from layout.values.fields import Fields, check_number

# The lengths among the rules; their keys in the form are named so.
_LENGTHS = (
    *("expansion_gap", "saw_kerf", "min_end_piece", "min_joint_offset", "min_row_width"),
    "wall_error",
)
MOST_SHADES = len(ascii_uppercase)


class Lock(StrEnum):
    """How one board is joined to the next."""

    ANGLE_ANGLE = "angle-angle"
    ANGLE_DROP = "angle-drop"
    TAP = "tap"
    GLUE = "glue"


class GoesIn(StrEnum):
    """How a piece goes in that its lock's own way does not get into place."""

    ROW = "tilt as a row"
    SLIDE = "slide flat"
    SHAVE = "shave and slide"
    LOWER = "shave and lower"
    MAKER = "ask the maker"


class Stagger(StrEnum):
    """The step of end joints from row to row."""

    FREE = "free"
    HALF = "half"
    THIRD = "third"


class Side(StrEnum):
    """A long side of a board, or a side of the zone, in the direction frame."""

    LOW = "low"
    HIGH = "high"


class End(StrEnum):
    """An end of a board in the direction frame."""

    LEFT = "left"
    RIGHT = "right"


class Prefer(StrEnum):
    """What the last planks of the last carton are worth."""

    PLANKS = "planks"
    CARTONS = "cartons"


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board size of a carton: laid cover (never tongue or lip) in the request's unit.

    ``variants`` has (name, count in one carton) of its prints or shades where widths are mixed.
    """

    length: float
    width: float
    per_carton: int
    variants: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        check_number(self.length, "product.length", above=0)
        check_number(self.width, "product.width", above=0)
        check_number(self.per_carton, "product.per_carton", least=1, most=1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flooring:
    """A flooring product: its board sizes, the variants (prints, shades) of a carton, its lock.

    ``boards`` has one entry unless widths are mixed. Shades of one width stand in ``variants``
    (name and count in one carton), those of several widths with each board; all boards of a
    width that names none look alike. ``shades`` is how many there are where the carton's mix
    isn't known ("mixed"): then none is named, and once piles are sorted they are A, B, C and so
    on. ``backward`` tells whether rows may be joined on either long side, so that they go both
    ways from a control row. Raises InputError where variants do not make up one carton or stand
    where they can't, NotYetError for boards of different lengths.
    """

    boards: tuple[Board, ...]
    variants: dict[str, int] = field(default_factory=dict)
    lock: Lock | None = None
    backward: bool = False
    shades: int | None = None

    def __post_init__(self) -> None:
        if not self.boards:
            raise InputError("product.boards", Described("no boards"), "one board size or more")
        if len({board.length for board in self.boards}) > 1:
            lengths = ", ".join(f"{board.length:g}" for board in self.boards)
            value = Described(f"lengths {lengths} in one carton")
            raise NotYetError("product.boards", value, "boards of one length (widths may differ)")
        widths = [board.width for board in self.boards]
        if len(set(widths)) < len(widths):
            twice = next(width for width in widths if widths.count(width) > 1)
            value = Described(f"width {twice:g} stands {widths.count(twice)} times")
            raise InputError("product.boards", value, "each width once")
        self._check_variants()

    def _check_variants(self) -> None:
        """Refuse shades that make up no carton, and those told in two ways."""
        if self.variants and len(self.boards) > 1:
            value = Described(f"{', '.join(self.variants)} for boards of {len(self.boards)} widths")
            accepted = 'counts by width (product.boards[0].variants), or "mixed"'
            raise InputError("product.variants", value, accepted)
        carton = f"one carton, {self.per_carton} boards"
        _check_mix(self.variants, self.per_carton, "product.variants", carton)
        for i, board in enumerate(self.boards):
            of_width = f"one carton, {board.per_carton} boards of width {board.width:g}"
            mix, where = dict(board.variants), f"product.boards[{i}].variants"
            _check_mix(mix, board.per_carton, where, of_width)
        named = self.variants or any(board.variants for board in self.boards)
        if self.shades is not None:
            check_number(self.shades, "product.shades", least=2, most=MOST_SHADES)
            if named:
                value = Described('counts of shades beside "mixed"')
                raise InputError("product.variants", value, 'counts for every width, or "mixed"')

    def mix_of(self, board: Board) -> dict[str, int]:
        """Return the shades of a board size and their counts in one carton, none if not known."""
        return dict(board.variants) or dict(self.variants)

    @property
    def shade_names(self) -> tuple[str, ...]:
        """What shades are called that a carton of unknown mix is sorted into."""
        return tuple(ascii_uppercase[: self.shades or 0])

    @property
    def board(self) -> Board:
        """The first board size; the only one of a product that is not mixed."""
        return self.boards[0]

    @property
    def per_carton(self) -> int:
        """Boards in one carton, all sizes together."""
        return sum(board.per_carton for board in self.boards)


def _check_mix(mix: Mapping[str, int], per_carton: int, where: str, carton: str) -> None:
    """Refuse counts of shades that do not make up a carton's boards of one width."""
    for name, count in mix.items():
        check_number(count, f"{where}.{name}", least=1)
    total = sum(mix.values())
    if mix and total != per_carton:
        accepted = f"counts that make up {carton}"
        raise InputError(where, Described(f"{total} boards"), accepted)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayingRules:
    """The rules of laying, lengths in the request's unit.

    ``direction_deg`` is None for "best"; ``max_rack`` is None where the rack has no limit;
    ``wall_error`` is how far a wall may stand off its drawn place. ``saw_kerf`` is what a cut
    across takes (0: scored and snapped), ``rip_kerf`` what a rip takes; None: the same.
    """

    expansion_gap: float
    saw_kerf: float
    min_end_piece: float
    min_joint_offset: float
    min_row_width: float
    wall_error: float = 0.0
    max_rack: int | None = None
    stagger: Stagger = Stagger.FREE
    direction_deg: float | None = 0.0
    balance: bool = True
    rip_kerf: float | None = None

    def __post_init__(self) -> None:
        for name in _LENGTHS:
            check_number(getattr(self, name), f"rules.{name}")
        if self.rip_kerf is not None:
            check_number(self.rip_kerf, "rules.rip_kerf", least=self.saw_kerf)
        if self.max_rack is not None:
            check_number(self.max_rack, "rules.max_rack", most=10_000)
        if self.direction_deg is not None:
            check_number(self.direction_deg, "rules.direction_deg", least=-360, most=360)

    @property
    def kerf_across(self) -> float:
        """What a rip takes between two strips of one plank."""
        return self.saw_kerf if self.rip_kerf is None else self.rip_kerf


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """The hands of laying: start side, end from which rows are built, side of the tongue.

    ``control_row`` is the row laid first where rows go both ways: the rows after it come next,
    then those before it, backward to the start wall. None: rows go from the start wall on.
    """

    start: Side = Side.LOW
    first_end: End = End.LEFT
    tongue: Side = Side.HIGH
    control_row: int | None = None

    def __post_init__(self) -> None:
        if self.control_row is not None:
            check_number(self.control_row, "lay.control_row", least=1)

    def turn(self, row: int) -> tuple[bool, int]:
        """Return what rows are sorted by in the order of laying."""
        return (True, -row) if self.backward(row) else (False, row)

    def backward(self, row: int) -> bool:
        """Whether a row is laid back from the control row to the start wall."""
        return self.control_row is not None and row < self.control_row

    def behind(self, row: int) -> Side:
        """Return the side of a row from which it is laid: where its person kneels."""
        return Side.HIGH if (self.start is Side.HIGH) != self.backward(row) else Side.LOW


def read_rules(data: object, where: str = "rules") -> LayingRules:
    """Return the laying rules of a request. Raises InputError."""
    fields = Fields(data, where)
    rules = LayingRules(
        expansion_gap=fields.number("expansion_gap"),
        saw_kerf=fields.number("saw_kerf"),
        min_end_piece=fields.number("min_end_piece"),
        min_joint_offset=fields.number("min_joint_offset"),
        min_row_width=fields.number("min_row_width"),
        wall_error=fields.number("wall_error", 0.0),
        max_rack=fields.count_or_none("max_rack"),
        stagger=fields.choice("stagger", Stagger, Stagger.FREE),
        direction_deg=_direction(fields),
        balance=fields.flag("balance", default=True),
        rip_kerf=fields.number_or_none("rip_kerf"),
    )
    fields.refuse_unknown()
    return rules


def rules_to_json(rules: LayingRules) -> dict[str, object]:
    """Return the laying rules in their JSON form; limits that are not set are left out."""
    data: dict[str, object] = {name: getattr(rules, name) for name in _LENGTHS}
    data["stagger"] = rules.stagger.value
    data["direction_deg"] = "best" if rules.direction_deg is None else rules.direction_deg
    if rules.max_rack is not None:
        data["max_rack"] = rules.max_rack
    if rules.rip_kerf is not None:
        data["rip_kerf"] = rules.rip_kerf
    return data if rules.balance else {**data, "balance": False}


def read_lay(data: object, where: str = "lay") -> Lay:
    """Return the hands of laying; what is not said keeps its default. Raises InputError."""
    fields = Fields(data, where)
    lay = Lay(
        start=fields.choice("start", Side, Side.LOW),
        first_end=fields.choice("first_end", End, End.LEFT),
        tongue=fields.choice("tongue", Side, Side.HIGH),
        control_row=fields.count_or_none("control_row"),
    )
    fields.refuse_unknown()
    return lay


def lay_to_json(lay: Lay) -> dict[str, object]:
    """Return the hands of laying in their JSON form."""
    data: dict[str, object] = {
        name: str(getattr(lay, name)) for name in ("start", "first_end", "tongue")
    }
    return data if lay.control_row is None else {**data, "control_row": lay.control_row}


def _direction(fields: Fields) -> float | None:
    """Return the direction in degrees, None for "best"."""
    value = fields.raw("direction_deg", "") if fields.has("direction_deg") else 0.0
    if value == "best":
        return None
    if isinstance(value, str):
        raise InputError(fields.path("direction_deg"), value, 'an angle in degrees or "best"')
    return fields.number("direction_deg", 0.0)
