"""The size of a floor as a caller says it: 370, or 12 x 14 + 10 x 11. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.lengths import IN2_PER_FT2, IN_PER_FT, MM2_PER_FT2
from jobs.domain.scope.rules import up
from layout.values.errors import InputError
from layout.values.units import Unit, parse_length

LARGEST_FT2 = Decimal(20_000)
MOST_ROOMS = 20
ROOM_FT2 = Decimal(150)
"""How large a room is taken to be where only square feet were said; common practice, no source."""

ACCEPTED = (
    "square feet, such as 370, or rooms in feet, such as 12 x 14 + 10 x 11; "
    f"more than 0, up to {LARGEST_FT2:,} ft2"
)
_M2_PER_FT2 = Decimal(MM2_PER_FT2.numerator) / MM2_PER_FT2.denominator / 1_000_000
_AREA = re.compile(
    r"(?P<number>(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?)\s*"
    r"(?P<unit>ft2|ft²|sq\.?\s?ft\.?|sf|square feet|feet|m2|m²)?"
)
_PLACES = Decimal("0.01")


@dataclass(frozen=True, kw_only=True, slots=True)
class RoughSize:
    """Square feet of floor and feet of wall around it; `guessed` where the walls are assumed."""

    area_ft2: Decimal
    around_ft: Decimal
    guessed: bool = False


def size_said(text: str) -> RoughSize:
    """Return the size of a floor that was said as an area, or room by room.

    Raises BadValueError with what is accepted.
    """
    plain = text.strip().lower().replace("×", "x").replace("*", "x").replace(" by ", " x ")
    parts = [part.strip() for part in re.split(r"\+|;|\band\b", plain)]
    if len(parts) > MOST_ROOMS:
        raise _refused(text)
    sizes = [_part(part, text) for part in parts]
    area = sum((size.area_ft2 for size in sizes), ZERO).quantize(_PLACES)
    if not 0 < area <= LARGEST_FT2:
        raise _refused(text)
    around = sum((size.around_ft for size in sizes), ZERO).quantize(_PLACES)
    return RoughSize(area_ft2=area, around_ft=around, guessed=any(size.guessed for size in sizes))


def _part(part: str, text: str) -> RoughSize:
    if "x" in part:
        return _room(part.split("x"), text)
    match = _AREA.fullmatch(part)
    if match is None:
        raise _refused(text)
    area = Decimal(match["number"].replace(",", ""))
    if match["unit"] in ("m2", "m²"):
        area /= _M2_PER_FT2
    if area > LARGEST_FT2:
        raise _refused(text)
    return RoughSize(area_ft2=area, around_ft=around_rooms(area), guessed=True)


def _room(sides: list[str], text: str) -> RoughSize:
    if len(sides) != 2:
        raise _refused(text)
    try:
        lengths = [parse_length(side.strip(), bare=Unit.FOOT).inches for side in sides]
    except InputError:
        raise _refused(text) from None
    across, along = (Decimal(side.numerator) / side.denominator for side in lengths)
    return RoughSize(
        area_ft2=across * along / IN2_PER_FT2, around_ft=2 * (across + along) / IN_PER_FT
    )


def around_rooms(area_ft2: Decimal) -> Decimal:
    """Return the feet of wall around a floor of square rooms of about 150 ft2."""
    if not area_ft2:
        return ZERO
    rooms = up(area_ft2 / ROOM_FT2)
    return rooms * 4 * (area_ft2 / rooms).sqrt()


def _refused(text: str) -> BadValueError:
    return BadValueError(field="feet", value=text, accepted=ACCEPTED)
