"""The steps in which a product is taken down: the carton first, then the maker's sheet. Pure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductStep:
    """A step after the carton: its word in the address, its name, the rules that it answers."""

    number: int
    code: str
    title: str
    rules: tuple[str, ...] = ()


STEPS = (
    ProductStep(
        number=2,
        code="joining",
        title="How it joins",
        rules=("lock", "tilt_deg", "tapping", "both_ways"),
    ),
    ProductStep(
        number=3,
        code="laying",
        title="Rules of laying",
        rules=(
            *("gap_mm", "saw_kerf_mm", "rip_kerf_mm", "min_end_mm", "min_offset_mm", "min_row_mm"),
            *("stagger", "max_run_mm", "max_run_width_mm"),
        ),
    ),
    ProductStep(
        number=4,
        code="place",
        title="Where it may lie",
        rules=("laid_over", "wettest", "heated_floor", "separate_pad", "flatness"),
    ),
    ProductStep(
        number=5,
        code="rest",
        title="Moisture and rest",
        rules=("most_rh_pct", "most_mver", "most_wood_mc_pct", "acclimate_hours"),
    ),
    ProductStep(number=6, code="mix", title="Mixed widths and shades"),
    ProductStep(number=7, code="sheet", title="The maker's sheet"),
)
BY_CODE = {step.code: step for step in STEPS}
STEP_OF_RULE = {rule: step.code for step in STEPS for rule in step.rules}
