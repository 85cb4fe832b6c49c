"""Where a rule of laying comes from: the maker's sheet, a published standard, or our default. Pure.

A product says it once for all its rules (``rules_source``), for a step of them (``step_sources``:
by the step's code, ``from`` and the ``page`` of the sheet) and for single ones (``rule_sources``:
by the name of the field). Each is `SHEET`, `DEFAULT`, `OTHER` or the name of a standard; the
nearest to the rule counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from jobs.domain.products.steps import STEP_OF_RULE

SHEET, DEFAULT, OTHER = "sheet", "default", "other"
OUR_DEFAULT = "Our default, common practice"
FOR_THIS_FLOOR = "Set for this floor"
STANDARDS = (
    "NWFA Installation Guidelines, 2008",
    "ASTM F710, preparing concrete floors",
    "EN 13329, laminate floor coverings",
)
_NAMED = (
    (SHEET, "Maker's sheet"),
    *((name, name) for name in STANDARDS),
    (OTHER, "Another standard, named below"),
    (DEFAULT, OUR_DEFAULT),
)
RULE_CHOICES = (("", "As the step"), *_NAMED)
STEP_CHOICES = (("", "As the whole product"), *_NAMED)

RULES: Mapping[str, str] = {
    "lock": "How boards join",
    "tilt_deg": "Tilt angle",
    "tapping": "Tapping",
    "both_ways": "Rows both ways",
    "gap_mm": "Expansion gap",
    "saw_kerf_mm": "Saw kerf",
    "rip_kerf_mm": "Rip kerf",
    "min_end_mm": "Minimum end piece",
    "min_offset_mm": "Minimum stagger",
    "min_row_mm": "Minimum row width",
    "stagger": "Stagger pattern",
    "max_run_mm": "Longest run without a break",
    "max_run_width_mm": "Widest floor without a break",
    "laid_over": "What it may be laid over",
    "wettest": "Wettest room it may lie in",
    "heated_floor": "Heated floor",
    "separate_pad": "Separate pad",
    "flatness": "Flatness of the subfloor",
    "acclimate_hours": "Acclimation, hours",
    "most_rh_pct": "Relative humidity in the slab",
    "most_mver": "Moisture emission of the slab",
    "most_wood_mc_pct": "Moisture content of a wood subfloor",
}
"""Every rule a source can be named for, by the name of the product's field, and what it is."""


class Sourced(Protocol):
    """What is asked of a product: its sources and the edition of its sheet."""

    rules_source: str
    rule_sources: Mapping[str, str]
    step_sources: Mapping[str, Mapping[str, str]]
    sheet_edition: str


class OfFloor(Protocol):
    """What is asked of a floor: its product and the rules it has of its own."""

    own_rules: Mapping[str, str]

    @property
    def product(self) -> Sourced:
        """The product of the floor."""


def rule_source(product: Sourced, field: str) -> str:
    """Return where a rule of a product comes from, in words; ``field`` is a name of `RULES`."""
    step = STEP_OF_RULE.get(field, "")
    source = product.rule_sources.get(field) or product.step_sources.get(step, {}).get("from", "")
    return _words(product, source, step)


def step_source(product: Sourced, step: str) -> str:
    """Return where the rules of a step come from that name nothing of their own, in words."""
    return _words(product, product.step_sources.get(step, {}).get("from", ""), step)


def _words(product: Sourced, source: str, step: str) -> str:
    if source == SHEET:
        page = product.step_sources.get(step, {}).get("page", "")
        sheet = f"Maker's sheet, {product.sheet_edition or 'edition not noted'}"
        return f"{sheet}, page {page}" if page else sheet
    if source == DEFAULT:
        return OUR_DEFAULT
    if source == OTHER:
        return str(product.rule_sources.get(OTHER, ""))
    return str(source or product.rules_source)


def floor_rule_source(zone: OfFloor, field: str) -> str:
    """Return where a rule of a floor comes from: set for it, or as its product has it."""
    return FOR_THIS_FLOOR if field in zone.own_rules else rule_source(zone.product, field)


def is_practice(product: Sourced, field: str) -> bool:
    """Whether a rule is only common practice, so that a floor may be less strict."""
    return rule_source(product, field) == OUR_DEFAULT
