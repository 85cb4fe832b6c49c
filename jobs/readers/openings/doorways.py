"""Doorways read as the values that treatments and strips are chosen from, and told in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import cast

from jobs.domain.lengths import MM_PER_IN, length_words
from jobs.domain.openings import transitions, treatments
from jobs.domain.openings.said import beyond_words, door_words
from jobs.domain.openings.transitions import (
    PASSES_IN,
    Fixing,
    FlooredOpening,
    TightDoor,
    TrappedAppliance,
    blade_words,
    door_trim_in,
    fixing_of,
    fixing_words,
    saw_cut_in,
    strip_in,
    track_in,
    traps_appliance,
    under_door_in,
)
from jobs.domain.openings.treatments import (
    VERTICAL_IN,
    Meeting,
    ProposedTreatment,
    joint_words,
    level_words,
    propose,
)
from jobs.models import (
    Doorway,
    FloorKind,
    FloorZone,
    Job,
    Room,
    SiteFacts,
    Treatment,
)
from jobs.readers.openings.openings import near_side, wall_name

PAD_MM = Decimal("3.175")
"""A separate pad is reckoned at 1/8 in: common practice, no source."""
_MICRO = Decimal("0.000001")


def inches_of(mm: Decimal) -> Decimal:
    """Return millimeters as inches, fine enough that a limit itself stays a limit."""
    return (Decimal(mm) / MM_PER_IN).quantize(_MICRO)


def floor_height_mm(zone: FloorZone | None) -> Decimal | None:
    """Return plank and pad of a floor; None where no floor is chosen."""
    if zone is None:
        return None
    pad = PAD_MM if zone.pad and not zone.product.attached_pad else Decimal(0)
    return Decimal(zone.product.thickness_mm) + pad


def step_of(doorway: Doorway) -> Decimal:
    """Return how much higher the floor beyond stands than this one will, in mm.

    From the height measured there, else from the step as told, else from the two floors' products;
    0 where none of these is known.
    """
    here = floor_height_mm(doorway.room.zone)
    if doorway.beyond_high_mm is not None and here is not None:
        return Decimal(doorway.beyond_high_mm) - here
    if doorway.step_mm or here is None or doorway.beyond is None:
        return Decimal(doorway.step_mm)
    there = floor_height_mm(doorway.beyond.zone)
    return Decimal(0) if there is None else there - here


def beyond_of(doorway: Doorway) -> str:
    """Return what kind of floor lies beyond: as told, else this one in a room of the job.

    In a room of another floor of the job lies another floating floor.
    """
    if doorway.beyond_kind or doorway.beyond is None:
        return str(doorway.beyond_kind)
    here, there = doorway.room.zone_id, doorway.beyond.zone_id
    apart = here is not None and there is not None and here != there
    return str(FloorKind.PLANK if apart else FloorKind.SAME)


def meeting_of(doorway: Doorway) -> Meeting:
    """Return a doorway as the table of treatments sees it."""
    return Meeting(
        opening=cast(treatments.OpeningKind, str(doorway.kind)),
        beyond=cast(treatments.BeyondKind, beyond_of(doorway)),
        rise_in=inches_of(step_of(doorway)),
        swing=cast(treatments.Swing, str(doorway.swing)),
    )


def proposal_of(doorway: Doorway) -> ProposedTreatment:
    """Return what is proposed for a doorway."""
    return propose(meeting_of(doorway))


def opening_of(doorway: Doorway, site: SiteFacts | None) -> FlooredOpening:
    """Return a doorway with its floor as strips and saw cuts are made for it."""
    floor_mm = floor_height_mm(doorway.room.zone)
    clear = doorway.clearance_mm
    return FlooredOpening(
        treatment=doorway.treatment,
        width_in=inches_of(doorway.width_mm),
        floor_in=None if floor_mm is None else inches_of(floor_mm),
        rise_in=inches_of(step_of(doorway)),
        casings=doorway.casings,
        metal_frame=doorway.metal_frame,
        clearance_in=None if clear is None else inches_of(clear),
        subfloor=cast(transitions.Subfloor, str(site.subfloor)) if site else "unknown",
        heated=bool(site and site.heated_floor),
    )


def fixing_for(doorway: Doorway, site: SiteFacts | None) -> Fixing:
    """Return what holds the strip of a doorway."""
    return fixing_of(opening_of(doorway, site))


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorwayWords:
    """What a page and the packet say of a doorway, every figure in words."""

    pk: int | None
    where: str
    leads: str
    treatment: str
    by_hand: bool
    proposal: ProposedTreatment
    proposed: str
    agrees: bool
    joint: str
    level: str
    step: str
    width: str
    saw_cut: str
    blade: str
    strip: str
    track: str
    fixing: str
    warnings: tuple[str, ...]
    appliance: str

    @property
    def facts(self) -> list[tuple[str, str]]:
        """The figures with their names, those that there are none of left out."""
        pairs = (
            ("Beyond", self.step),
            ("Change in level", self.level),
            ("Joint", self.joint),
            ("Undercut of the casing", self.saw_cut and f"{self.saw_cut} above the subfloor"),
            ("Frame", self.blade),
            ("Transition", self.strip and f"{self.treatment}, {self.strip}"),
            ("Track", self.track),
            ("Fixing", self.fixing),
        )
        return [(name, value) for name, value in pairs if value]


def doorway_words(doorway: Doorway, site: SiteFacts | None) -> DoorwayWords:
    """Return a doorway in words; one that is not saved yet may be put so too."""
    system, meeting = doorway.room.job.units, meeting_of(doorway)
    opening, proposal = opening_of(doorway, site), propose(meeting)
    seen = near_side(doorway)
    return DoorwayWords(
        pk=doorway.pk,
        where=_where(doorway),
        leads=seen.leads,
        treatment=Treatment(doorway.treatment).label,
        by_hand=doorway.chosen_by_hand,
        proposal=proposal,
        proposed=Treatment(proposal.treatment).label,
        agrees=proposal.treatment == doorway.treatment,
        joint=joint_words(meeting, doorway.treatment),
        level=level_words(meeting.rise_in),
        step=stands_words(doorway),
        width=length_words(doorway.width_mm, system),
        saw_cut=_words(saw_cut_in(opening), system),
        blade=blade_words(opening),
        strip=_words(strip_in(opening), system),
        track=_words(track_in(opening), system),
        fixing=fixing_words(opening),
        warnings=tuple(_warnings(doorway, opening, site)),
        appliance=trapped_words(doorway.room),
    )


def step_words(doorway: Doorway) -> str:
    """Return how the floor beyond stands against this one once it is laid."""
    step = step_of(doorway)
    if doorway.beyond_high_mm is not None and doorway.room.zone is None:
        return "the step follows once a floor is chosen for this room"
    if not step:
        return "level"
    word = "higher" if step > 0 else "lower"
    return f"{length_words(abs(step), doorway.room.job.units)} {word}"


def _where(doorway: Doorway) -> str:
    """Return which doorway it is by where it leads; by its wall where nobody knows that."""
    beyond = doorway.beyond.name if doorway.beyond else doorway.beyond_floor
    if not beyond:
        return f"{doorway.room.name}, wall {wall_name(doorway.room, doorway.wall)}"
    return door_words(doorway.room.name, str(doorway.kind), beyond)


def stands_words(doorway: Doorway) -> str:
    """Return how the floor beyond stands against this one once it is laid, a short sentence."""
    if doorway.beyond_high_mm is not None and doorway.room.zone is None:
        return "The step follows once a floor is chosen for this room"
    step = step_of(doorway)
    words = length_words(abs(step), doorway.room.job.units) if step else ""
    return beyond_words(beyond_of(doorway), words, up=step > 0)


def _warnings(doorway: Doorway, opening: FlooredOpening, site: SiteFacts | None) -> Iterable[str]:
    """Yield what has to be settled before this doorway is done, a sentence each."""
    system = doorway.room.job.units
    if trim := door_trim_in(opening):
        left = under_door_in(opening) or Decimal(0)
        words = _words(abs(left), system)
        clears = (
            f"Only {words} is left under the door" if left else "Nothing is left under the door"
        )
        if left < 0:
            clears = f"The door hangs {words} too low to close"
        yield (
            f"{clears} over floor and strip: take {_words(trim, system)} off it, so that "
            f"{_words(PASSES_IN, system)} is left. "
            "A fire-rated or self-closing door is not trimmed on site."
        )
    if abs(opening.rise_in) > VERTICAL_IN:
        if site and site.accessible_route:
            yield f"An accessible route passes here. {level_words(opening.rise_in)}"
        else:
            yield f"{stands_words(doorway)}: a step that trips people."


def trapped_words(room: Room) -> str:
    """Return a sentence where an appliance of a room would be trapped, else nothing."""
    trapped = trapped_of(room)
    if trapped is None:
        return ""
    return (
        f"An appliance in {trapped.where} would be trapped: {trapped.clear} above it, and the "
        f"floor comes up {trapped.gained}."
    )


def trapped_of(room: Room) -> TrappedAppliance | None:
    """Return the room as one whose appliance could not come out any more, None if it could."""
    clear, gained = room.appliance_clear_mm, floor_height_mm(room.zone)
    if clear is None or gained is None or not traps_appliance(inches_of(clear), inches_of(gained)):
        return None
    clear_words, gained_words = (length_words(mm, room.job.units) for mm in (clear, gained))
    return TrappedAppliance(where=room.name, clear=clear_words, gained=gained_words)


def tight_door_of(doorway: Doorway, site: SiteFacts | None) -> TightDoor | None:
    """Return a doorway as one whose door does not clear, None where it does or nobody knows."""
    opening, system = opening_of(doorway, site), doorway.room.job.units
    trim, left = door_trim_in(opening), under_door_in(opening)
    if not trim or left is None:
        return None
    words = _words(abs(left), system)
    return TightDoor(
        where=place_of_doorway(doorway),
        left=words if left >= 0 else f"minus {words}",
        trim=_words(trim, system),
    )


def place_of_doorway(doorway: Doorway) -> str:
    """Return where a doorway is, told apart from the others of its job."""
    along = length_words(doorway.offset_mm, doorway.room.job.units)
    return f"{doorway.room.name}, wall {wall_name(doorway.room, doorway.wall)}, {along} along"


def doorways_of(job: Job) -> list[Doorway]:
    """Return every doorway of a job with what its figures are read from."""
    rows = Doorway.objects.filter(room__job=job)
    return list(
        rows.select_related("room__job", "room__zone__product", "beyond__zone__product").order_by(
            "room__order", "room__pk", "wall", "offset_mm"
        )
    )


def doorways_between(doorways: list[Doorway], zones: Collection[FloorZone]) -> list[Doorway]:
    """Return doorways as they are with these floors in place of their rows'; none is saved.

    A treatment that nobody chose by hand follows the heights then, as it does once they are saved.
    """
    floors = {zone.pk: zone for zone in zones}
    for doorway in doorways if floors else ():
        for room in filter(None, (doorway.room, doorway.beyond)):
            room.zone = floors.get(room.zone_id or 0, room.zone)
        if not doorway.chosen_by_hand:
            doorway.treatment = proposal_of(doorway).treatment
    return doorways


def _words(length_in: Decimal | None, system: str) -> str:
    return "" if length_in is None else length_words(length_in * MM_PER_IN, system)
