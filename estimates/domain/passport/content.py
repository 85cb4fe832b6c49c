"""A floor passport as it was told on a day: floors, what is left, readings, warranty. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import require_text
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields
from jobs.domain.passport.care import CareLine

PASSPORT = DocumentForm(kind="passport", word="passport")

Corner = tuple[Decimal, Decimal]


@stored("planks lot")
@dataclass(frozen=True, kw_only=True, slots=True)
class LeftPlanks:
    """Whole planks in the attic, of one lot: how many, and how it was noted."""

    planks: int
    lot: str


@stored("name ring")
@dataclass(frozen=True, kw_only=True, slots=True)
class RoomOnMap:
    """A room's name and where its floor lies on the map."""

    name: str
    ring: tuple[Corner, ...]


@stored("name product kind glued lots attic planned_spares care plan request rooms")
@dataclass(frozen=True, kw_only=True, slots=True)
class FloorTold:
    """One floor as it lay: ``plan`` and ``request`` are the digests of the documents of its plan.

    ``request`` is empty where no map of it could be drawn. ``kind``: size and core of the planks.
    ``planned_spares``: planks that were bought beyond the plan.
    """

    name: str
    product: str
    kind: str
    glued: bool
    lots: tuple[str, ...]
    attic: tuple[LeftPlanks, ...]
    planned_spares: int
    care: tuple[CareLine, ...]
    plan: str
    request: str
    rooms: tuple[RoomOnMap, ...] = ()

    @property
    def attic_planks(self) -> int:
        """Whole planks of it in the attic."""
        return sum(left.planks for left in self.attic)


@stored("method value where", read_on="on")
@dataclass(frozen=True, kw_only=True, slots=True)
class ReadingTold:
    """A moisture reading in words; ``read_on`` is empty where the day was not noted."""

    method: str
    value: str
    where: str
    read_on: str


@stored("frozen_on done_on site floors readings warranty")
@dataclass(frozen=True, kw_only=True, slots=True)
class PassportContent:
    """All that a passport tells of a house. ``done_on``: the work was signed off; empty before."""

    frozen_on: str
    done_on: str
    site: str
    floors: tuple[FloorTold, ...]
    readings: tuple[ReadingTold, ...]
    warranty: str

    def __post_init__(self) -> None:
        """Refuse a telling without a day."""
        require_text("passport.frozen_on", self.frozen_on)


def passport_document(content: PassportContent) -> Fields:
    """Return what a passport tells as a document."""
    return {**PASSPORT.head, **plain(content)}


def passport_from(fields: Fields) -> PassportContent:
    """Return what the fields of a document tell. Raises BadValueError."""
    return restore(PassportContent, dict(fields), "passport")
