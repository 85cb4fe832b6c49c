"""What is known of a site, what a caution is, and the published limits that cautions go by.

None and "unknown" mean not known yet, never no: what is not known is presumed until it is.
"""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal
from typing import Literal, get_args

from jobs.domain.checks import (
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
    require_unique,
)
from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.openings.stairs import Flight
from jobs.domain.openings.transitions import TightDoor, TrappedAppliance
from jobs.domain.site.clearing import cleared_by
from jobs.domain.tasks import TASKS

KnownFloor = Literal["unknown", "none", "carpet", "resilient", "tile", "wood", "laminate", "other"]
KnownSubfloor = Literal["unknown", "wood", "slab"]
KnownLayer = Literal["unknown", "none", "resilient", "tile", "other"]
KnownAdhesive = Literal["unknown", "none", "black", "other"]
KnownPaint = Literal["unknown", "yes", "no", "counted"]
Severity = Literal["note", "caution", "hold"]
Place = Literal["quote", "packet", "job"]

LAST_PRESUMED_ASBESTOS_YEAR = 1980
"""Put in no later than this: presumed. 29 CFR 1910.1001(j), 1926.1101(k); OSHA, 1 Aug 1997."""
FIRST_YEAR_WITHOUT_LEAD_RULE = 1978
"""The rule is for housing built before 1978. 40 CFR 745.83."""
MINOR_PAINT_FT2 = Decimal(6)
"""Minor work inside: 6 ft2 or less of painted surface in a room. 40 CFR 745.83."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """One caution: what it says, where it comes from, what it blocks, and where it is shown."""

    code: str
    title: str
    text: str
    source: str
    severity: Severity
    blocks: tuple[str, ...] = ()
    shown_on: tuple[Place, ...] = ("quote", "packet", "job")

    def __post_init__(self) -> None:
        """Refuse a hold that blocks nothing, anything else that blocks, and empty words."""
        for name in ("code", "title", "text", "source"):
            require_text(f"caution.{name}", getattr(self, name))
        where = f"caution {self.code}"
        require_choice(f"{where}.severity", self.severity, get_args(Severity))
        for task in self.blocks:
            require_choice(f"{where}.blocks", task, TASKS)
        if (self.severity == "hold") != bool(self.blocks):
            accepted = "tasks for a hold, and none for a note or caution"
            shown = ", ".join(self.blocks) or "nothing"
            raise BadValueError(field=f"{where}.blocks", value=shown, accepted=accepted)

    @property
    def clears(self) -> str:
        """Who clears it, in words; empty for what holds nothing."""
        return cleared_by(self.code) if self.severity == "hold" else ""


@dataclass(frozen=True, kw_only=True, slots=True)
class MoistureReading:
    """A reading and the limit that the floor's maker gives (None: not known), in one unit.

    `code` is its method's; `on` the day on which it was taken, None: not noted.
    """

    method: str
    value: Decimal
    limit: Decimal | None
    where: str = ""
    code: str = "other"
    on: date | None = None

    def __post_init__(self) -> None:
        """Refuse a reading without a method, and negative figures."""
        require_text("reading.method", self.method)
        require_number("reading.value", self.value, least=0)
        if self.limit is not None:
            require_number("reading.limit", self.limit, above=0)

    @property
    def over(self) -> bool:
        """Whether the reading exceeds a limit that is known; at the limit it does not."""
        return self.limit is not None and self.value > self.limit


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelChange:
    """A place where floors meet, and by how much one stands higher, in inches and in words.

    `beyond`: what lies there, in words; `strip`: what joins the two floors; empty: not known.
    """

    where: str
    rise_in: Decimal
    said: str = ""
    beyond: str = ""
    strip: str = ""

    def __post_init__(self) -> None:
        """Refuse a place without a name, and a negative rise."""
        require_text("level change.where", self.where)
        require_number(f"level change {self.where}.rise_in", self.rise_in, least=0)


HIGH_BASE_IN = Decimal("5.25")
"""How high painted base is taken to be that nobody measured; common in old houses, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SiteRoom:
    """What the visit found in one room: its floor, what lies below it, and its painted base.

    `base_off_in` is the length of base that comes off. `painted_base` "counted": its paint is in
    the figure of the whole house.
    """

    name: str
    existing_floor: KnownFloor = "unknown"
    floor_year: int | None = None
    layer_below: KnownLayer = "unknown"
    adhesive: KnownAdhesive = "unknown"
    subfloor: KnownSubfloor = "unknown"
    painted_base: KnownPaint = "unknown"
    base_off_in: Decimal = ZERO
    base_height_in: Decimal | None = None

    def __post_init__(self) -> None:
        """Refuse kinds that are not known, a year that can't be, and a base of no height."""
        where = f"site of {self.name}" if self.name else "site"
        for name, kinds in (
            ("existing_floor", KnownFloor),
            ("layer_below", KnownLayer),
            ("adhesive", KnownAdhesive),
            ("subfloor", KnownSubfloor),
            ("painted_base", KnownPaint),
        ):
            require_choice(f"{where}.{name}", getattr(self, name), get_args(kinds))
        if self.floor_year is not None:
            require_number(f"{where}.floor_year", self.floor_year, least=1600, most=2200)
        require_number(f"{where}.base_off_in", self.base_off_in, least=0)
        if self.base_height_in is not None:
            require_number(f"{where}.base_height_in", self.base_height_in, above=0)

    @property
    def painted_ft2(self) -> Decimal:
        """The painted surface of the base that comes off, which counts whole; not known: painted.

        40 CFR 745.83: what is removed counts by all of its painted surface.
        """
        if self.painted_base in ("no", "counted"):
            return ZERO
        return self.base_off_in * (self.base_height_in or HIGH_BASE_IN) / IN2_PER_FT2


@dataclass(frozen=True, kw_only=True, slots=True)
class VisitFacts:
    """What the visit found.

    `painted_ft2_per_room` is the most painted surface disturbed in any one room within 30 days,
    beside the base that comes off, removed pieces counted whole. `rooms` are empty where nothing
    is said room by room: then what is said of the house holds for all of them. `tight_doors` and
    `trapped_appliances` are those that the new floor would leave too little room.
    """

    year_built: int | None = None
    existing_floor: KnownFloor = "unknown"
    floor_year: int | None = None
    tear_out: bool = False
    subfloor: KnownSubfloor = "unknown"
    slab_ft2: Decimal = ZERO
    readings: tuple[MoistureReading, ...] = ()
    heated_floor: bool = False
    painted_ft2_per_room: Decimal = ZERO
    fire_door: bool = False
    gas_appliance: bool = False
    toilets: int = 0
    grinding: bool = False
    stairs: tuple[Flight, ...] = ()
    level_changes: tuple[LevelChange, ...] = ()
    tight_doors: tuple[TightDoor, ...] = ()
    trapped_appliances: tuple[TrappedAppliance, ...] = ()
    accessible_route: bool = False
    flights: int = 0
    carton_weight_lb: Decimal = ZERO
    rooms: tuple[SiteRoom, ...] = ()

    def __post_init__(self) -> None:
        """Refuse years that no house was built in, negative figures and unknown kinds."""
        require_choice("site.existing_floor", self.existing_floor, get_args(KnownFloor))
        require_choice("site.subfloor", self.subfloor, get_args(KnownSubfloor))
        for name in ("year_built", "floor_year"):
            year = getattr(self, name)
            if year is not None:
                require_number(f"site.{name}", year, least=1600, most=2200)
        for name in ("slab_ft2", "painted_ft2_per_room", "carton_weight_lb"):
            require_number(f"site.{name}", getattr(self, name), least=0)
        for name in ("toilets", "flights"):
            require_number(f"site.{name}", getattr(self, name), least=0)
        require_unique("site.stairs", [flight.name for flight in self.stairs])
        require_unique("site.level_changes", [change.where for change in self.level_changes])

    @property
    def each_room(self) -> tuple[SiteRoom, ...]:
        """What is known room by room; where nothing is, the house as one room without a name."""
        if self.rooms:
            return self.rooms
        house = SiteRoom(
            name="",
            existing_floor=self.existing_floor,
            floor_year=self.floor_year,
            subfloor=self.subfloor,
        )
        return (house,)

    @property
    def on_slab(self) -> bool:
        """Whether any room is known to lie on concrete."""
        return any(room.subfloor == "slab" for room in self.each_room)

    @property
    def house_may_hold_asbestos(self) -> bool:
        """Whether the house is old enough, or of unknown age."""
        return self.year_built is None or self.year_built <= LAST_PRESUMED_ASBESTOS_YEAR


def moisture_tests(slab_ft2: Decimal) -> int:
    """Return how many places of a slab to test: 3 for 1000 ft2, one more for each 1000 or part.

    Source: ASTM F2170 (relative humidity) and F1869 (calcium chloride), from memory.
    """
    require_number("slab_ft2", slab_ft2, least=0)
    if not slab_ft2:
        return 0
    beyond = max(ZERO, slab_ft2 - 1000) / 1000
    return 3 + int(beyond.to_integral_value(ROUND_CEILING))


SLAB_METHODS = ("rh", "mver")
"""Methods of which a standard asks for a number of tests; readings of both are not added up."""


def most_by_one_method(facts: VisitFacts) -> int:
    """Return how many tests of a slab were made by that method of which there are most."""
    codes = [reading.code for reading in facts.readings]
    return max(codes.count(method) for method in SLAB_METHODS)


def oldest_year(room: SiteRoom, facts: VisitFacts) -> int | None:
    """Return the earliest year that a room's floor can be from: its own, else the house's."""
    return room.floor_year if room.floor_year is not None else facts.year_built


def oldest_presumed_year(facts: VisitFacts) -> int | None:
    """Return the earliest year of the floors presumed to hold asbestos; None: one is not known.

    What lies below a floor may be as old as the house.
    """
    years = [
        facts.year_built if room.layer_below == "resilient" else oldest_year(room, facts)
        for room in facts.each_room
        if presumed_asbestos(room, facts)
    ]
    return min((year for year in years if year is not None), default=None) if all(years) else None


def presumed_asbestos(room: SiteRoom, facts: VisitFacts) -> bool:
    """Whether the old floor of a room is presumed to hold asbestos, or what lies below it.

    A resilient floor, or one that nobody knows, to 1980; in a house that may be as old also a
    resilient layer below it, and black adhesive.
    """
    year = oldest_year(room, facts)
    as_old = year is None or year <= LAST_PRESUMED_ASBESTOS_YEAR
    if as_old and room.existing_floor in ("resilient", "unknown", "other"):
        return True
    below = room.layer_below == "resilient" or room.adhesive == "black"
    return below and facts.house_may_hold_asbestos


def most_painted(facts: VisitFacts) -> tuple[Decimal, str]:
    """Return the most painted surface disturbed in one room, in ft2, and the name of the room."""
    rooms = facts.each_room
    widest = max(rooms, key=lambda room: room.painted_ft2)
    name = widest.name if widest.painted_ft2 else ""
    return facts.painted_ft2_per_room + widest.painted_ft2, name


def lead_rule_applies(facts: VisitFacts) -> bool:
    """Whether the house counts as target housing: before 1978, or not known."""
    return facts.year_built is None or facts.year_built < FIRST_YEAR_WITHOUT_LEAD_RULE
