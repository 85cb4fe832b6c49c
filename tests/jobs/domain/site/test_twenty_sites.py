"""Twenty sites, and the cautions that a careful inspector would raise at each.

Written from the sources beside them before the rules were, and read by the page's own function. A
stop (!) holds work back until a named person clears it. What every site has (glasses, knees) is
left out. Sources, by the letters in the cases:

    A  29 CFR 1910.1001(j)(8), 1926.1101(k): asphalt and vinyl flooring put in no later than 1980
       is presumed to hold asbestos; OSHA letter of 1 August 1997: after 1980 papers, not age, clear
    B  RFCI, Recommended Work Practices for Removal of Resilient Floor Coverings: older layers and
       black (cutback) adhesive are taken for the same until tested; never sanded or ground
    L  40 CFR 745.83: before 1978; minor work is 6 ft2 of paint in a room, what is removed counted
       whole
    S  29 CFR 1926.1153(c), Table 1: grinding, cutting and chipping concrete, stone, tile, mortar
    M  ASTM F2170 and F1869: three tests of one method for the first 1000 ft2 (from memory)
    P  common practice, no source
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import MoistureReading, SiteRoom, VisitFacts

D = Decimal


def a_room(name: str = "Den", **facts: Any) -> SiteRoom:
    return SiteRoom(name=name, **facts)


def readings(**methods: int) -> tuple[MoistureReading, ...]:
    """So many readings of each method, all dry."""
    return tuple(
        MoistureReading(method=code, code=code, value=D(3), limit=D(85))
        for code, count in methods.items()
        for _ in range(count)
    )


CARPET = {"existing_floor": "carpet", "layer_below": "none", "adhesive": "none"}
NO_PAINT = {"painted_base": "no"}
BARE = {"existing_floor": "none", "layer_below": "none", "adhesive": "none"}

# What it is; house and site; rooms; codes, with ! for a stop.
SITES: dict[str, tuple[dict[str, Any], tuple[SiteRoom, ...], str]] = {
    # A: floor of 1972, taken out.
    "a sheet floor of 1972": (
        {"year_built": 1972, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1972, adhesive="other", **NO_PAINT),),
        "asbestos! lead-minor",
    ),
    # A: the last year that is presumed, and the first that is not.
    "a sheet floor of 1980 in a house of 1979": (
        {"year_built": 1979, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1980, layer_below="none"),),
        "asbestos!",
    ),
    "a sheet floor of 1981 in a house of 1981": (
        {"year_built": 1981, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1981),),
        "asbestos-evidence",
    ),
    # A, B: the floor is new enough, the house is not: what lies below it nobody has seen.
    "a sheet floor of 1984 in a house of 1968": (
        {"year_built": 1968, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1984, **NO_PAINT),),
        "asbestos-evidence hidden-floor lead-minor",
    ),
    "a sheet floor of 1984 over one that shows at the register": (
        {"year_built": 1968, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1984, layer_below="resilient", **NO_PAINT),),
        "asbestos! lead-minor",
    ),
    "a sheet floor of 1984 with nothing below": (
        {"year_built": 1979, "tear_out": True},
        (a_room(existing_floor="resilient", floor_year=1984, layer_below="none", adhesive="none"),),
        "asbestos-evidence",
    ),
    # B: black adhesive is ground; the floor over it is long gone.
    "black adhesive on a slab of 1965 to be ground": (
        {"year_built": 1965, "grinding": True, "readings": readings(rh=3), "slab_ft2": D(400)},
        (a_room(existing_floor="none", adhesive="black", subfloor="slab", **NO_PAINT),),
        "asbestos! silica lead-minor",
    ),
    "a bare slab of 1965 to be ground, adhesive not known": (
        {"year_built": 1965, "grinding": True, "readings": readings(rh=3), "slab_ft2": D(400)},
        (a_room(existing_floor="none", subfloor="slab", **NO_PAINT),),
        "old-adhesive silica lead-minor",
    ),
    "a bare slab of 2005 to be ground": (
        {"year_built": 2005, "grinding": True, "readings": readings(rh=3), "slab_ft2": D(400)},
        (a_room(existing_floor="none", subfloor="slab"),),
        "silica",
    ),
    "black adhesive in a house of 1986": (
        {"year_built": 1986, "tear_out": True},
        (a_room(existing_floor="carpet", layer_below="none", adhesive="black"),),
        "old-adhesive",
    ),
    # S: tile and its mortar are chipped out though nobody grinds.
    "tile of 1999 torn out": (
        {"year_built": 1999, "tear_out": True},
        (a_room(existing_floor="tile"),),
        "silica",
    ),
    "tile of 1999 that stays": ({"year_built": 1999}, (a_room(existing_floor="tile"),), ""),
    "carpet over tile, torn out": (
        {"year_built": 1999, "tear_out": True},
        (a_room(existing_floor="carpet", layer_below="tile"),),
        "silica",
    ),
    # One old floor for the whole house won't do: a kitchen of 1970, a den with carpet.
    "two rooms of one house": (
        {"year_built": 1979, "tear_out": True},
        (
            a_room("Kitchen", existing_floor="resilient", floor_year=1979),
            a_room("Den", **CARPET),
        ),
        "asbestos!",
    ),
    # L: 20 ft of painted base 3-1/2 in high are 5.83 ft2, 21 ft are 6.125 ft2.
    "20 feet of painted base come off in a house of 1977": (
        {"year_built": 1977},
        (a_room(**BARE, painted_base="yes", base_off_in=D(240), base_height_in=D("3.5")),),
        "lead-minor",
    ),
    "21 feet of painted base come off in a house of 1977": (
        {"year_built": 1977},
        (a_room(**BARE, painted_base="yes", base_off_in=D(252), base_height_in=D("3.5")),),
        "lead!",
    ),
    "21 feet of base in each of two rooms, one of them painted": (
        {"year_built": 1950},
        (
            a_room("Den", **BARE, **NO_PAINT, base_off_in=D(252), base_height_in=D("3.5")),
            a_room("Hall", **BARE, painted_base="yes", base_off_in=D(240), base_height_in=D("3.5")),
        ),
        "lead-minor",
    ),
    # Not known errs to caution: an old house, paint and height of its base not known.
    "14 feet of base of which nothing is known, year not known": (
        {},
        (a_room(**BARE, base_off_in=D(168)),),
        "lead!",
    ),
    # M: two of one method and one of another are no three of either.
    "a slab of 400 ft2 read by two methods": (
        {"year_built": 1999, "readings": readings(rh=2, mver=1), "slab_ft2": D(400)},
        (a_room(**BARE, subfloor="slab"),),
        "moisture-tests",
    ),
    # P: gas, a fire door, a toilet, stairs to carry up.
    "a modern house with gas, a fire door and a toilet, upstairs": (
        {"year_built": 2010, "gas_appliance": True, "fire_door": True, "toilets": 1, "flights": 1},
        (a_room(**BARE, subfloor="wood"),),
        "gas fire-door toilet lifting",
    ),
}


def test_there_are_twenty() -> None:
    assert len(SITES) == 20


@pytest.mark.parametrize("name", SITES)
def test_a_careful_inspector_would_raise_just_these(name: str) -> None:
    site, rooms, expected = SITES[name]
    raised = {
        caution.code + "!" * (caution.severity == "hold")
        for caution in cautions_for(VisitFacts(**site, rooms=rooms))
        if caution.code != "work"
    }
    assert raised == set(expected.split())


def test_a_caution_says_which_rooms_it_is_for() -> None:
    site, rooms, _ = SITES["two rooms of one house"]
    (asbestos,) = (
        each for each in cautions_for(VisitFacts(**site, rooms=rooms)) if each.code == "asbestos"
    )
    assert asbestos.text.startswith("Kitchen: ")
    assert "Den" not in asbestos.text


def test_the_area_that_is_disturbed_is_said_with_its_room() -> None:
    # 252 x 3.5 / 144 = 6.125 ft2.
    site, rooms, _ = SITES["21 feet of painted base come off in a house of 1977"]
    (lead,) = (
        each for each in cautions_for(VisitFacts(**site, rooms=rooms)) if "lead" in each.code
    )
    assert "6.13 ft2 of painted surface in Den" in lead.text
