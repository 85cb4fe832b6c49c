"""The table of treatments: every row at its limits, in the tests and in the documentation."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.openings.treatments import TABLE as CODE
from jobs.domain.openings.treatments import (
    Meeting,
    bevel_run_in,
    in_words,
    joint_words,
    level_words,
    propose,
)
from tests.conftest import ROOT

# Opening, floor beyond, height of that floor, treatment; then heights in inches that get this row
# from an opening and a floor that it is for, limits included. Common practice, no source.
TABLE = [
    ("top of a stair | any | any | stair nose", "stairs", "", "-7 0 0.25"),
    ("any | stair going down | any | stair nose", "cased", "stairs", "-7 0"),
    (
        "outside door or sliding door | any | 1/8 in lower, or higher | end cap",
        "exterior",
        "outside",
        "-0.125 0 1.5",
    ),
    ("outside door or sliding door | any | any | threshold", "slider", "", "-0.126 -2"),
    ("any | outside sill | 1/8 in lower, or higher | end cap", "door", "outside", "-0.125 0 3"),
    ("any | outside sill | any | threshold", "cased", "outside", "-0.126"),
    ("any | this floor | level | carry through", "door", "same", "0"),
    ("closet door | not known | level | carry through", "closet", "", "0"),
    (
        "any | carpet | 1/8 in lower to 1/2 in higher | end cap",
        "door",
        "carpet",
        "-0.125 0 0.126 0.5",
    ),
    ("any | bare slab | up to 1/8 in either way | end cap", "cased", "slab", "-0.125 0 0.125"),
    ("any | any | up to 1/8 in either way | T-molding", "door", "tile", "-0.125 0 0.125"),
    ("any | any | up to 1/2 in either way | reducer", "door", "wood", "-0.5 -0.126 0.126 0.5"),
    ("any | any | 1/2 in lower, or higher | threshold", "door", "plank", "0.501 2"),
    ("any | any | any | threshold", "cased", "resilient", "-0.501 -2"),
]


def proposed(opening: Any, beyond: Any, rise: str) -> str:
    """The treatment of an opening to a floor that stands so much higher."""
    return propose(Meeting(opening=opening, beyond=beyond, rise_in=Decimal(rise))).treatment


@pytest.mark.parametrize(("row", "opening", "beyond", "rises"), TABLE)
def test_every_row_is_taken_up_to_its_limits(
    row: str, opening: str, beyond: str, rises: str
) -> None:
    treatment = row.split(" | ")[-1]
    assert {proposed(opening, beyond, rise) for rise in rises.split()} == {treatment}


def test_the_program_goes_by_the_table_of_the_tests() -> None:
    assert [" | ".join(in_words(row)) for row in CODE] == [row for row, *_ in TABLE]


def test_the_documentation_has_the_table_of_the_tests() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text()
    section = page.split("## What is done in an opening", 1)[1].split("\n## ", 1)[0]
    rows = re.findall(r"^\| (.+) \|$", section, re.MULTILINE)[1:]
    assert rows == [row for row, *_ in TABLE]


@pytest.mark.parametrize(
    ("opening", "beyond", "rise", "treatment"),
    [
        ("closet", "tile", "0.1", "T-molding"),
        ("closet", "", "0.01", "T-molding"),
        ("door", "same", "0.0625", "T-molding"),
        ("door", "same", "0.25", "reducer"),
        ("door", "carpet", "-0.126", "reducer"),
        ("door", "carpet", "0.501", "threshold"),
        ("door", "slab", "-0.3", "reducer"),
        ("door", "", "0", "T-molding"),
        ("stairs", "carpet", "0", "stair nose"),
    ],
)
def test_what_just_misses_a_row_falls_to_the_next_one(
    opening: str, beyond: str, rise: str, treatment: str
) -> None:
    assert proposed(opening, beyond, rise) == treatment


def test_a_proposal_says_why_and_that_it_is_practice() -> None:
    proposal = propose(Meeting(beyond="tile"))
    assert proposal.reason == "Two floors meet level, and each must be free to move."
    assert proposal.source == "common practice, no source"


@pytest.mark.parametrize(
    ("rise", "run"),
    [
        ("0", "0"),
        ("0.25", "0"),
        ("0.251", "0.502"),
        ("0.5", "1.0"),
        ("-0.5", "1.0"),
        ("0.51", None),
    ],
)
def test_a_bevel_is_twice_as_long_as_high(rise: str, run: str | None) -> None:
    # 2010 ADA Standards 303.2 to 303.4: 1/4 in vertical, 1/2 in beveled 1:2, then a ramp.
    assert bevel_run_in(Decimal(rise)) == (None if run is None else Decimal(run))


def test_more_than_half_an_inch_asks_for_a_ramp() -> None:
    assert "needs a ramp" in level_words(Decimal("-0.75"))


def test_a_level_floor_has_nothing_to_say_of_levels() -> None:
    assert level_words(Decimal(0)) == ""


@pytest.mark.parametrize(
    ("meeting", "place"),
    [
        (Meeting(opening="door"), "In the middle of the wall's depth, under the strip"),
        (Meeting(opening="door", swing="in"), "In the middle of the wall's depth"),
        (Meeting(opening="door", swing="out"), "In the middle of the wall's depth"),
        (Meeting(opening="closet"), "In the middle of the wall's depth"),
        (Meeting(opening="cased"), "In the middle of the wall's depth"),
        (Meeting(opening="slider"), "At the track"),
        (Meeting(opening="exterior"), "At the sill"),
    ],
)
def test_the_joint_lies_where_the_plan_ends_the_floor(meeting: Meeting, place: str) -> None:
    assert place in joint_words(meeting, "T-molding")
