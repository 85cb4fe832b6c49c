"""The chain of figures over a strip: where the floor ends, what the strip covers, what it holds.

Figures by hand: a wall 4 1/2 in deep has its middle at 2 1/4; the floor stops a gap before that.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.openings.profiles import PROFILES, BoughtStrip, Crossing, chain_of, refusal_of
from jobs.domain.openings.treatments import TABLE

GAP = Decimal("0.25")


def crossing(treatment: str, depth: str = "4.5", rise: str = "0", gap: Decimal = GAP) -> Crossing:
    return Crossing(treatment=treatment, depth_in=Decimal(depth), gap_in=gap, rise_in=Decimal(rise))


@pytest.mark.parametrize(
    ("treatment", "start", "end"),
    [
        ("T-molding", "1.375", "3.125"),  # 1 3/4 wide, half of it on either side of 2 1/4
        ("reducer", "1.375", "3.125"),
        ("end cap", "0.875", "2.25"),  # 1 3/8 wide, all of it on this floor's side
        ("threshold", "0.5", "4"),  # 3 1/2 wide
    ],
)
def test_the_chain_starts_at_the_face_of_the_wall(treatment: str, start: str, end: str) -> None:
    chain = chain_of(crossing(treatment))
    assert chain.floor_ends_in == Decimal(2)
    assert (chain.covers_from_in, chain.covers_to_in) == (Decimal(start), Decimal(end))


@pytest.mark.parametrize(
    ("treatment", "rise", "refused"),
    [
        ("T-molding", "0.125", ""),
        ("T-molding", "-0.125", ""),
        ("T-molding", "0.1875", "rise"),
        ("T-molding", "-0.1875", "rise"),
        ("reducer", "0.375", ""),
        ("reducer", "0.5625", "rise"),
        ("end cap", "0.5", ""),
        ("end cap", "-0.25", "rise"),
        ("threshold", "0.875", ""),
        ("threshold", "-1.125", "rise"),
    ],
)
def test_a_strip_is_refused_where_its_range_does_not_hold_the_rise(
    treatment: str, rise: str, refused: str
) -> None:
    assert refusal_of(crossing(treatment, rise=rise)) == refused


def test_a_strip_that_hardly_covers_the_floor_is_refused() -> None:
    # Half of 1 3/4 is 7/8; a gap of 3/4 leaves 1/8 of floor under it.
    assert refusal_of(crossing("T-molding", gap=Decimal("0.75"))) == "narrow"
    assert refusal_of(crossing("T-molding", gap=Decimal("0.625"))) == ""


def test_a_strip_as_bought_goes_before_the_usual_one() -> None:
    # 3 wide round 2 1/4: from 3/4 to 3 3/4; what was not measured of it stays as usual.
    wide = replace(crossing("T-molding"), bought=BoughtStrip(covers_in=Decimal(3)))
    chain = chain_of(wide)
    assert (chain.covers_from_in, chain.covers_to_in) == (Decimal("0.75"), Decimal("3.75"))
    assert refusal_of(replace(wide, rise_in=Decimal("0.25"))) == "rise"
    holds = BoughtStrip(covers_in=Decimal(3), up_in=Decimal("0.25"))
    assert refusal_of(replace(wide, rise_in=Decimal("0.25"), bought=holds)) == ""


@pytest.mark.parametrize(
    "values", [{"covers_in": Decimal(0)}, {"down_in": Decimal(-1)}, {"up_in": Decimal(-1)}]
)
def test_a_strip_that_can_not_be_is_refused(values: dict[str, Decimal]) -> None:
    with pytest.raises(BadValueError, match="strip"):
        BoughtStrip(**values)


def test_no_strip_is_proposed_where_it_would_be_refused() -> None:
    for row in TABLE:
        profile = PROFILES.get(row.treatment)
        if profile is None or row.treatment == "threshold":
            continue
        assert row.low_in is not None
        assert row.low_in >= profile.low_in
        assert row.high_in is None or row.high_in <= profile.high_in or "exterior" in row.openings


def test_a_floor_that_runs_through_has_no_chain() -> None:
    with pytest.raises(BadValueError, match="treatment"):
        crossing("carry through")
