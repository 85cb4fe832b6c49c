"""What one phone says of a day at once, as plain values; nothing in it is written yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from jobs.domain.site.moisture import Reading
from jobs.models import User
from jobs.services.log import LogLine, Photo


@dataclass(frozen=True, kw_only=True, slots=True)
class ExtraWanted:
    """Work beyond what was agreed, as it was noted in the log."""

    text: str
    asked_by: str = ""
    hours: Decimal | None = None
    photo: Photo | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class GateCleared:
    """A hold that somebody cleared on site: who, and by what paper."""

    by: str
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pictures:
    """Photographs of a day: from before, from after at the same spot, and others."""

    before: tuple[Photo, ...] = ()
    after: tuple[Photo, ...] = ()
    beside: tuple[Photo, ...] = ()
    after_of: int | None = None

    def __bool__(self) -> bool:
        """Whether there is any."""
        return bool(self.before or self.after or self.beside)


@dataclass(frozen=True, kw_only=True, slots=True)
class Telling:
    """A day's log for the whole crew: hours, rows and planks by person, and what stands beside."""

    lines: tuple[tuple[User, LogLine], ...] = ()
    note: str = ""
    in_the_way: tuple[str, ...] = ()
    cartons: int | None = None
    lot: str = ""
    last_width: str = ""
    broken: int = 0
    pictures: Pictures = field(default_factory=Pictures)
    readings: tuple[Reading, ...] = ()
    gates: Mapping[str, GateCleared] = field(default_factory=dict)
    punch: tuple[str, ...] = ()
    punch_done: tuple[int, ...] = ()
    signed_by: str = ""
    signature: Photo | None = None
    extra: ExtraWanted | None = None
    phone: str = ""
    phone_at: datetime | None = None
