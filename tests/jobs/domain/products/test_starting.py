"""What stands in a product until its sheet is read, and goes along with its carton."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.products.joining import JOINING, cutting_words
from jobs.domain.products.starting import followed_rules, starting_rules
from jobs.models import LockType

INCH = Decimal("25.4")


def rules(core: str = "rigid", length: int = 48, width: int = 7) -> dict[str, object]:
    """Return the starting rules of a plank in inches."""
    return starting_rules(
        core=core, units="imperial", length_mm=length * INCH, width_mm=width * INCH
    )


@pytest.mark.parametrize(
    ("core", "saw", "rip", "lock", "rest"),
    [
        ("rigid", 0, "3.175", "angle-drop", 0),
        ("laminate", "3.175", "3.175", "angle-angle", 48),
        ("wood", "3.175", "3.175", "angle-angle", 0),
    ],
)
def test_kerf_lock_and_rest_go_by_the_core(
    core: str, saw: object, rip: str, lock: str, rest: int
) -> None:
    start = rules(core)
    assert (start["saw_kerf_mm"], start["rip_kerf_mm"]) == (Decimal(str(saw)), Decimal(rip))
    assert (start["lock"], start["acclimate_hours"]) == (lock, rest)


def test_a_short_board_keeps_a_third_of_its_length_and_half_of_its_width() -> None:
    start = rules(length=18, width=3)
    assert (start["min_end_mm"], start["min_offset_mm"]) == (6 * INCH, 6 * INCH)
    assert start["min_row_mm"] == Decimal("1.5") * INCH


def test_a_long_board_keeps_8_inches_and_2() -> None:
    start = rules()
    assert (start["min_end_mm"], start["min_row_mm"]) == (8 * INCH, 2 * INCH)


def test_what_nobody_changed_goes_along_with_a_corrected_core() -> None:
    before, after = rules("rigid"), rules("laminate")
    moved = followed_rules(now=before, before=before, after=after, is_ours=lambda _: True)
    assert set(moved) == {"saw_kerf_mm", "lock", "acclimate_hours"}


def test_what_was_changed_or_comes_from_the_sheet_stays() -> None:
    before, after = rules("rigid"), rules("laminate")
    now = before | {"lock": "tap"}
    moved = followed_rules(
        now=now, before=before, after=after, is_ours=lambda name: name != "saw_kerf_mm"
    )
    assert set(moved) == {"acclimate_hours"}


def test_every_lock_has_its_words() -> None:
    assert set(JOINING) == set(LockType.values)


@pytest.mark.parametrize(
    ("saw", "rip", "words"),
    [
        (0, 0, "Scored and snapped across, ripped along a guide: a cut takes nothing."),
        (0, 3, "Scored and snapped across, which takes nothing; ripped by saw, which takes R."),
        (3, 3, "Sawn across, which takes S; ripped by saw, which takes R."),
    ],
)
def test_a_cut_is_described_by_what_it_takes(saw: int, rip: int, words: str) -> None:
    assert cutting_words(saw, rip, "S", "R") == words
