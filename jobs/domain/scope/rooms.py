"""The takeoff of rooms, doorways and stairs, and of what the whole job shares."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from decimal import Decimal

from jobs.domain.checks import ONE, ZERO
from jobs.domain.lengths import IN2_PER_FT2, IN_PER_FT
from jobs.domain.quantities import MEASURED, Quantity, quantity
from jobs.domain.scope.flooring import ProductCount
from jobs.domain.scope.inputs import DoorwayTake, JobTake, RoomTake, StairTake
from jobs.domain.scope.rules import TakeoffRules, in_ft, sticks_for, up


def doorway_quantities(doorways: tuple[DoorwayTake, ...], rules: TakeoffRules) -> list[Quantity]:
    """Return what the doorways take: work by doorway, profile, track and screws by profile."""
    taken: list[Quantity] = []
    by_profile: dict[str, list[DoorwayTake]] = defaultdict(list)
    for doorway in doorways:
        taken += _doorway_work(doorway)
        if doorway.treatment != "carry through":
            by_profile[doorway.profile or doorway.treatment].append(doorway)
    for profile, meeting in by_profile.items():
        taken += _profile(profile, meeting, rules)
    return taken


def _doorway_work(doorway: DoorwayTake) -> list[Quantity]:
    zone, name = doorway.zone, doorway.name
    strips = 0 if doorway.treatment == "carry through" else 1
    strip = f"{doorway.treatment}, {doorway.width_in} in"
    counts = (
        ("casings", doorway.casings, "casings the floor runs under", ""),
        ("doors_off", doorway.doors_off, "doors in the way, test-swung afterwards", ""),
        ("doors_trimmed", doorway.doors_trimmed, "doors that would not clear the new floor", ""),
        ("transitions", strips, strip, doorway.treatment),
    )
    return [
        quantity(code, amount, basis, source=MEASURED, zone=zone, room=name, item=item)
        for code, amount, basis, item in counts
    ]


def _profile(profile: str, meeting: list[DoorwayTake], rules: TakeoffRules) -> list[Quantity]:
    lengths = [doorway.width_in for doorway in meeting]
    on_track = [doorway.width_in for doorway in meeting if doorway.fixing == "track"]
    screwed = [doorway.width_in for doorway in meeting if doorway.fixing != "adhesive"]
    stick, kerf = rules.profile_stick_in, rules.saw_kerf_in
    cut = f"{in_ft(sum(lengths, ZERO))} ft at {len(lengths)} doorways from {stick} in sticks"
    screws = sum(up(length / rules.screw_spacing_in) + 1 for length in screwed)
    return [
        quantity("transition_profile", sticks_for(lengths, stick, kerf), cut, item=profile),
        quantity(
            "transition_track",
            sticks_for(on_track, stick, kerf),
            f"{in_ft(sum(on_track, ZERO))} ft where a track holds the profile",
            item=profile,
        ),
        quantity(
            "transition_screws",
            screws,
            f"one every {rules.screw_spacing_in} in and one at the end, by doorway",
            item=profile,
        ),
    ]


def stair_quantities(stair: StairTake) -> list[Quantity]:
    """Return the steps of one flight."""
    named = {"zone": stair.zone, "room": stair.name}
    return [
        quantity("treads", stair.treads, "counted", source=MEASURED, **named),
        quantity("risers", stair.risers, "counted", source=MEASURED, **named),
        quantity("nosings", stair.nosings, "counted", source=MEASURED, **named),
    ]


def nosing_stock(
    products: Sequence[ProductCount], stairs: Sequence[StairTake], rules: TakeoffRules
) -> list[Quantity]:
    """Return the sticks of nosing, those of all flights of a product cut together.

    They are of the product's own make, so they name it where flights are of several.
    """
    stick, kerf = rules.nosing_stick_in, rules.saw_kerf_in
    of_product: dict[str, list[StairTake]] = {}
    for count in products:
        names = {zone.name for zone in count.zones}
        flights = [stair for stair in stairs if stair.zone in names and stair.nosings]
        if flights:
            of_product[count.item] = flights
    several = len(of_product) > 1
    taken: list[Quantity] = []
    for item, flights in of_product.items():
        lengths = [stair.width_in for stair in flights for _ in range(stair.nosings)]
        widths = Counter(lengths).items()
        cut = " and ".join(f"{number} of {width} in" for width, number in widths)
        basis = f"{cut} from {stick} in sticks"
        sticks = sticks_for(lengths, stick, kerf)
        taken.append(quantity("nosing_stock", sticks, basis, item=item if several else ""))
    return taken


def room_quantities(room: RoomTake, zone: str, rules: TakeoffRules) -> list[Quantity]:
    """Return the work and the fasteners of one room."""
    handled = room.base_treatment in ("reinstall", "replace")
    put_on = room.base_run_in if handled else ZERO
    shoe_run = room.base_run_in if room.shoe_run_in is None else room.shoe_run_in
    shoe = shoe_run if room.shoe_treatment != "none" else ZERO
    torn = ZERO if room.old_floor == "none" else room.area_in2
    furniture = {"empty": ZERO, "some": Decimal("0.5"), "full": ONE}[room.furniture]
    measured = (
        ("base_off", put_on / IN_PER_FT, "wall length with base, doorways left out", ""),
        ("base_on", put_on / IN_PER_FT, f"base: {room.base_treatment}", ""),
        ("shoe_on", shoe / IN_PER_FT, f"shoe: {room.shoe_treatment}", ""),
        ("tear_out", torn / IN2_PER_FT2, "area of the room", room.old_floor),
        ("disposal", torn / IN2_PER_FT2, "area of the old floor", room.old_floor),
        ("furniture", furniture, f"furniture: {room.furniture}", ""),
        ("toilets", Decimal(room.toilets), "counted", ""),
        ("appliances", Decimal(room.appliances), "counted", ""),
        ("leveller", Decimal(room.leveler_bags), "from the depth survey", ""),
        ("primer", room.primer_in2 / IN2_PER_FT2, "area to prime", ""),
        ("subfloor_screws", Decimal(room.subfloor_screws), "counted", ""),
        ("paint_area", room.paint_in2 / IN2_PER_FT2, "walls painted before the floor", ""),
    )
    work = [
        quantity(code, amount, basis, source=MEASURED, zone=zone, room=room.name, item=item)
        for code, amount, basis, item in measured
    ]
    return [*work, *_nails(room, zone, put_on, shoe, rules)]


def _nails(
    room: RoomTake, zone: str, base_in: Decimal, shoe_in: Decimal, rules: TakeoffRules
) -> list[Quantity]:
    base = 2 * (up(base_in / rules.stud_spacing_in) + 1) if base_in else 0
    shoe = up(shoe_in / rules.shoe_nail_spacing_in) + 1 if shoe_in else 0
    at_studs = f"two at each stud, {rules.stud_spacing_in} in apart"
    into_base = f"one every {rules.shoe_nail_spacing_in} in, into the base and never the floor"
    return [
        quantity("base_nails", base, at_studs, zone=zone, room=room.name),
        quantity("shoe_nails", shoe, into_base, zone=zone, room=room.name),
    ]


def whole_job(
    job: JobTake,
    products: Sequence[ProductCount],
    quantities: Sequence[Quantity],
    rules: TakeoffRules,
) -> list[Quantity]:
    """Return what the whole job shares: spacers, adhesive and the weight carried in."""
    longest = max((zone.perimeter_in for zone in job.zones), default=ZERO)
    spacers = up(longest / rules.spacer_spacing_in)
    spaced = f"one every {rules.spacer_spacing_in} in of the longest zone's walls, then moved on"
    glued = [d.width_in for d in job.doorways if _is_glued(d)]
    stairs = [s.width_in * (2 * s.treads + s.risers) for s in job.stairs if s.glued]
    bead = sum((*glued, *stairs), ZERO)
    beads = f"{in_ft(bead)} ft of bead (glued doorways, two a tread, one a riser)"
    return [
        quantity("spacers", spacers, spaced),
        quantity("adhesive", up(bead / rules.bead_per_tube_in), beads),
        _weight(products, quantities, rules),
    ]


def _is_glued(doorway: DoorwayTake) -> bool:
    return doorway.fixing == "adhesive" and doorway.treatment != "carry through"


def _weight(
    products: Sequence[ProductCount], quantities: Sequence[Quantity], rules: TakeoffRules
) -> Quantity:
    bags = sum((entry.amount for entry in quantities if entry.code == "leveller"), ZERO)
    weight = sum((count.cartons * count.product.carton_weight_lb for count in products), ZERO)
    basis = f"cartons by their weight, {bags} bags of {rules.bag_weight_lb} lb"
    return quantity("carry", weight + bags * rules.bag_weight_lb, basis)
