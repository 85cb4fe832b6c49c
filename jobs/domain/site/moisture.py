"""Moisture readings by method: unit, standard, number of tests, and the limit. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation

from jobs.domain.checks import BadValueError, require_choice, require_number
from jobs.domain.site.facts import moisture_tests

MOST_VALUE = Decimal(200)
LOG = "log"
"""Under which a reading that came with a day's log names it, where a job keeps its readings."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Method:
    """One way to read moisture: its unit and standard, whether of a slab, the product's field.

    `most` is what no reading by it exceeds: a part of a whole can't, the rest is what meters show.
    """

    label: str
    unit: str
    standard: str
    of_slab: bool
    limit_field: str = ""
    most: Decimal = MOST_VALUE


# Numbers of tests by ASTM F2170 and F1869, from memory; see `moisture_tests` of the site facts.
METHODS: Mapping[str, Method] = {
    "rh": Method(
        label="Relative humidity in the slab",
        unit="%",
        standard="ASTM F2170",
        of_slab=True,
        limit_field="most_rh_pct",
        most=Decimal(100),
    ),
    "mver": Method(
        label="Moisture emission, calcium chloride",
        unit="lb per 1000 ft² in 24 h",
        standard="ASTM F1869",
        of_slab=True,
        limit_field="most_mver",
        most=Decimal(40),
    ),
    "wood": Method(
        label="Moisture content of a wood subfloor",
        unit="%",
        standard="",
        of_slab=False,
        limit_field="most_wood_mc_pct",
        most=Decimal(100),
    ),
    "boards": Method(
        label="Moisture content of the boards, wood",
        unit="%",
        standard="",
        of_slab=False,
        most=Decimal(100),
    ),
    "other": Method(label="Another method", unit="", standard="", of_slab=False),
}


def methods_on(subfloors: Collection[str]) -> tuple[list[str], list[str]]:
    """Return the methods that read what these floors lie on, first the fittest, then all others.

    Where it is not known, or both kinds lie there, all of them fit.
    """
    known = {*subfloors}
    if known == {"wood"}:
        fit = [code for code, method in METHODS.items() if not method.of_slab]
    elif known == {"slab"}:
        fit = [code for code in METHODS if code != "wood"]
    else:
        fit = [*METHODS]
    return fit, [code for code in METHODS if code not in fit]


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """One reading, in the unit of its method; ``on``: the day it was taken, None: not noted."""

    method: str
    value: Decimal
    where: str = ""
    on: date | None = None

    def __post_init__(self) -> None:
        """Refuse an unknown method and a value that no meter shows."""
        require_choice("reading.method", self.method, METHODS)
        require_number("reading.value", self.value, least=0, most=MOST_VALUE)


@dataclass(frozen=True, kw_only=True, slots=True)
class MoistureStanding:
    """How the readings by one method stand: made, asked for, the highest, the product's limit."""

    method: str
    made: int
    wanted: int
    highest: Decimal
    limit: Decimal | None

    @property
    def too_wet(self) -> bool:
        """Whether the highest exceeds a limit that is known; at the limit it does not."""
        return self.limit is not None and self.highest > self.limit

    @property
    def sentence(self) -> str:
        """What to make of it, in a sentence."""
        unit = METHODS[self.method].unit
        said = f"Highest {self.highest.normalize():f} {unit}".strip()
        if self.limit is None:
            limit = "the product's sheet gives no limit for this method"
        else:
            over = "over" if self.too_wet else "within"
            limit = f"{over} the product's limit of {self.limit.normalize():f} {unit}".strip()
        more = self.wanted - self.made
        tests = f"; {more} more to take" if more > 0 else ""
        return f"{said}, {limit}{tests}."


def out_of_range(method: str, value: Decimal) -> str:
    """Return in a sentence why no reading by a method is so high; empty where one may be."""
    known = METHODS[method]
    if value <= known.most:
        return ""
    most = f"{known.most.normalize():f} {known.unit}".strip()
    return f"{value.normalize():f} is more than any reading by this method; accepted: 0 to {most}."


def reading_of(row: Mapping[str, object]) -> Reading:
    """Return a reading as a job keeps it: method, value, where, on (ISO date or empty).

    Raises BadValueError for what is no reading.
    """
    on = str(row.get("on") or "")
    try:
        value = Decimal(str(row.get("value", "")))
        day = date.fromisoformat(on) if on else None
    except (InvalidOperation, ValueError):
        shown = f"{row.get('value')!r} on {on!r}"
        raise BadValueError(field="reading", value=shown, accepted="a number and a date") from None
    method, where = str(row.get("method")), str(row.get("where", ""))
    return Reading(method=method, value=value, where=where, on=day)


def readings_of(rows: Iterable[Mapping[str, object]]) -> tuple[Reading, ...]:
    """Return the readings of a job in the order they were noted."""
    return tuple(reading_of(row) for row in rows)


def reading_row(reading: Reading) -> dict[str, str]:
    """Return a reading in the form in which a job keeps it."""
    on = reading.on.isoformat() if reading.on else ""
    where, value = reading.where, f"{reading.value.normalize():f}"
    return {"method": reading.method, "value": value, "where": where, "on": on}


def readings_wanted(method: str, slab_ft2: Decimal) -> int:
    """Return how many places a standard asks for by this method, 1 where it asks for no number."""
    return moisture_tests(slab_ft2) or 1 if METHODS[method].of_slab else 1


def standings(
    readings: Iterable[Reading], *, limits: Mapping[str, Decimal], slab_ft2: Decimal
) -> tuple[MoistureStanding, ...]:
    """Return how the readings stand method by method, in the order of METHODS.

    ``limits``: the lowest limit among the products of the job, by method.
    """
    by_method: dict[str, list[Reading]] = {method: [] for method in METHODS}
    for reading in readings:
        by_method[reading.method].append(reading)
    return tuple(
        MoistureStanding(
            method=method,
            made=len(taken),
            wanted=readings_wanted(method, slab_ft2),
            highest=max(reading.value for reading in taken),
            limit=limits.get(method),
        )
        for method, taken in by_method.items()
        if taken
    )
