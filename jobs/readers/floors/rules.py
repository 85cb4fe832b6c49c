"""The rules that a floor is laid by: its product's, but for those set for this floor only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.floors.rule_sources import RULES, floor_rule_source, is_practice
from jobs.domain.floors.suitability import GROUNDS, WET_WORDS
from jobs.domain.lengths import length_words
from jobs.models import FloorZone, Product, StaggerRule

FLOOR_LENGTHS = ("gap_mm", "min_end_mm", "min_offset_mm", "min_row_mm")
"""The lengths that a floor may set for itself; it may also set the step of its end joints."""
LENGTHS = ("gap_mm", "saw_kerf_mm", "rip_kerf_mm", "min_end_mm", "min_offset_mm", "min_row_mm")
_MOST_GAP_MM = Decimal("152.4")
PARTS = {StaggerRule.FREE: 2, StaggerRule.HALF: 2, StaggerRule.THIRD: 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleLine:
    """A rule as a page shows it: what it is, how it stands, where it comes from."""

    label: str
    value: str
    source: str


def rule_mm(zone: FloorZone, field: str) -> Decimal:
    """Return a length rule of a floor in mm."""
    set_here, product = zone.own_rules.get(field), zone.product
    if set_here is not None:
        return Decimal(set_here)
    return Decimal(product.rip_mm if field == "rip_kerf_mm" else getattr(product, field))


def stagger_of(zone: FloorZone) -> str:
    """Return the step of end joints of a floor."""
    return str(zone.own_rules.get("stagger") or zone.product.stagger)


def bounds_mm(product: Product, field: str, stagger: str) -> tuple[Decimal, Decimal]:
    """Return the least and the most that a floor may set for a length rule, in mm.

    Not less than the product's own, unless that is only common practice; not more than its boards
    allow.
    """
    least = Decimal(0) if is_practice(product, field) else Decimal(getattr(product, field))
    narrowest = min(width for width, _ in product.sizes)
    most = {
        "gap_mm": _MOST_GAP_MM,
        "min_end_mm": product.length_mm,
        "min_offset_mm": product.length_mm / PARTS[StaggerRule(stagger)],
        "min_row_mm": narrowest,
    }
    return least, most[field]


def rule_lines(zone: FloorZone) -> list[RuleLine]:
    """Return every rule of a floor that is known, with where it comes from."""
    return [
        RuleLine(label=RULES[field], value=value, source=floor_rule_source(zone, field))
        for field, value in _values(zone)
        if value
    ]


def _values(zone: FloorZone) -> Iterator[tuple[str, str]]:
    product, system = zone.product, zone.job.units
    for field in LENGTHS:
        yield field, length_words(rule_mm(zone, field), system)
    yield "stagger", StaggerRule(stagger_of(zone)).label
    for field in ("max_run_mm", "max_run_width_mm"):
        mm = getattr(product, field)
        yield field, length_words(mm, system) if mm is not None else ""
    yield "laid_over", _listed(GROUNDS.get(each, each) for each in product.laid_over)
    yield "wettest", WET_WORDS.get(product.wettest, "")
    yield "heated_floor", product.get_heated_floor_display() if product.heated_floor else ""
    yield "separate_pad", _pad(product)
    yield "flatness", product.flatness
    yield "acclimate_hours", f"{product.acclimate_hours} h"
    for field, unit in (("most_rh_pct", "%"), ("most_wood_mc_pct", "%")):
        limit = getattr(product, field)
        yield field, f"up to {limit.normalize():f}{unit}" if limit is not None else ""
    mver = product.most_mver
    limit = f"up to {mver.normalize():f} lb per 1000 ft² in 24 h" if mver is not None else ""
    yield "most_mver", limit


def _pad(product: Product) -> str:
    if product.attached_pad:
        return "None: one is attached"
    return product.get_separate_pad_display() if product.separate_pad else ""


def _listed(words: Iterable[str]) -> str:
    listed = ", ".join(words)
    return f"{listed[:1].upper()}{listed[1:]}"
