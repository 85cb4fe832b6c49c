"""The table of cautions: which fact raises which, stop or note, its source; as the docs have it."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.openings.stairs import Flight
from jobs.domain.openings.transitions import TightDoor, TrappedAppliance
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import Caution, LevelChange, MoistureReading, SiteRoom, VisitFacts
from jobs.domain.site.moisture_gates import MoistureGates
from tests.conftest import ROOT

D = Decimal
DEFERS = "Local codes and licensed people go before this note."
DEFER_TO_CODE = "Local amendments differ; the code of the place decides."
OLD: dict[str, Any] = {"year_built": 1968, "tear_out": True}
CLEAN: dict[str, Any] = {
    "layer_below": "none",
    "adhesive": "none",
    "painted_base": "no",
    "existing_floor": "carpet",
}
HIGH = Flight(name="Stair", risers_in=(D("7.5"), D("8")), tread_in=D("9.5"))
WET = MoistureReading(method="RH", code="rh", value=D(92), limit=D(85))
UNLIMITED = MoistureReading(method="RH", code="rh", value=D(70), limit=None)
STEP = LevelChange(where="Hall", rise_in=D("0.375"))
SILL = LevelChange(where="Front door", rise_in=D("1.51"), beyond="the sill")
DOOR = TightDoor(where="Hall", left="0", trim="1/8")
TRAP = TrappedAppliance(where="Kitchen", clear="1/4", gained="1/2")

# Code; fact in the words of the docs; house; its one room; stop, caution or note; source; whether
# it ends by deferring to local codes and licensed people.
TABLE: list[tuple[str, str, dict[str, Any], dict[str, Any], str, str, bool]] = [
    (
        "asbestos",
        (
            "resilient or unknown floor of 1980 or before, or such a layer or black adhesive in a "
            "house as old, disturbed"
        ),
        OLD,
        {"layer_below": "resilient"},
        "stop",
        "29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997",
        True,
    ),
    (
        "asbestos-evidence",
        "resilient or unknown floor after 1980",
        {"year_built": 1999},
        {"existing_floor": "resilient"},
        "note",
        "29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997",
        False,
    ),
    (
        "hidden-floor",
        "any floor taken out in a house to 1980, layer below not known",
        OLD,
        {"layer_below": "unknown"},
        "caution",
        "29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997",
        True,
    ),
    (
        "old-adhesive",
        "grinding in a house to 1980, adhesive not known; black adhesive in a newer one",
        {"year_built": 1990, "tear_out": True},
        {"adhesive": "black"},
        "caution",
        "RFCI work practices; 29 CFR 1926.1101(k)",
        True,
    ),
    (
        "lead",
        "house before 1978, more than 6 ft2 of paint disturbed in a room",
        {"year_built": 1977},
        {"painted_base": "yes", "base_off_in": D(252), "base_height_in": D("3.5")},
        "stop",
        "40 CFR 745.83",
        True,
    ),
    (
        "lead-minor",
        "house before 1978, up to 6 ft2",
        {"year_built": 1977},
        {"painted_base": "yes", "base_off_in": D(240), "base_height_in": D("3.5")},
        "caution",
        "40 CFR 745.83",
        True,
    ),
    (
        "silica",
        "concrete, stone or tile ground or cut; tile taken out",
        {"year_built": 1999, "tear_out": True},
        {"existing_floor": "tile"},
        "caution",
        "29 CFR 1926.1153(c), Table 1",
        True,
    ),
    (
        "moisture",
        "reading over the maker's limit",
        {"readings": (WET,)},
        {},
        "stop",
        "maker",
        False,
    ),
    (
        "moisture-limit",
        "reading without a limit",
        {"readings": (UNLIMITED,)},
        {},
        "caution",
        "practice",
        False,
    ),
    (
        "moisture-tests",
        "slab with fewer tests of one method than its size asks for",
        {"slab_ft2": D(400)},
        {"subfloor": "slab"},
        "caution",
        "ASTM F2170, F1869 (from memory)",
        False,
    ),
    ("heated-floor", "heated floor", {"heated_floor": True}, {}, "caution", "practice", False),
    (
        "fire-door",
        "fire-rated or self-closing door",
        {"fire_door": True},
        {},
        "caution",
        "practice",
        True,
    ),
    ("gas", "gas appliance", {"gas_appliance": True}, {}, "caution", "practice", True),
    ("toilet", "toilet to lift", {"toilets": 1}, {}, "caution", "practice", True),
    (
        "level-change",
        "floors that meet more than 1/4 in apart",
        {"level_changes": (STEP,), "accessible_route": True},
        {},
        "caution",
        "2010 ADA Standards 303.2 to 303.4, 404.2.5",
        True,
    ),
    (
        "door-clearance",
        "door that would not clear the floor",
        {"tight_doors": (DOOR,)},
        {},
        "caution",
        "practice",
        True,
    ),
    (
        "appliance-trapped",
        "appliance that could not be pulled out",
        {"trapped_appliances": (TRAP,)},
        {},
        "caution",
        "practice",
        True,
    ),
    (
        "risers",
        "risers more than 3/8 in apart in a flight",
        {"stairs": (HIGH,)},
        {},
        "stop",
        "IRC 2021 R311.7.5",
        True,
    ),
    (
        "riser-height",
        "riser over 7-3/4 in",
        {"stairs": (HIGH,)},
        {},
        "caution",
        "IRC 2021 R311.7.5",
        True,
    ),
    (
        "tread-depth",
        "tread under 10 in",
        {"stairs": (HIGH,)},
        {},
        "caution",
        "IRC 2021 R311.7.5",
        True,
    ),
    (
        "lifting",
        "carton of 25 lb or more, or flights to carry",
        {"flights": 1},
        {},
        "note",
        "practice",
        False,
    ),
    (
        "way-out",
        "sill to the outside more than 1-1/2 in from the floor",
        {"level_changes": (SILL,)},
        {},
        "caution",
        "IRC R311.3.1, from memory",
        True,
    ),
    (
        "route-stairs",
        "accessible route: riser outside 4 to 7 in, or tread under 11 in",
        {"stairs": (HIGH,), "accessible_route": True},
        {},
        "caution",
        "2010 ADA Standards 504.2",
        True,
    ),
    (
        "work",
        "every site: eyes, ears, lungs, knees, hands",
        {},
        {},
        "note",
        "29 CFR 1926.52 and 1926.102; 29 CFR 1910.95; OSHA/NIOSH 2011-202; practice",
        False,
    ),
]
# How a source of the table is told in a caution.
IN_FULL = {
    "practice": "common practice, no source",
    "29 CFR 1926.52 and 1926.102; 29 CFR 1910.95; OSHA/NIOSH 2011-202; practice": (
        "29 CFR 1926.52, Table D-2"
    ),
    "maker": "limit of the floor's maker",
    "ASTM F2170, F1869 (from memory)": "ASTM F2170 and F1869",
    "29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997": (
        "29 CFR 1910.1001(j) and 1926.1101(k)"
    ),
    "RFCI work practices; 29 CFR 1926.1101(k)": "RFCI, Recommended Work Practices",
}
WORDS = {"hold": "stop", "caution": "caution", "note": "note"}


def raised(site: dict[str, Any], room: dict[str, Any]) -> dict[str, Caution]:
    """The cautions of a house of 1999 with one clean room, but for what is told."""
    facts = VisitFacts(**{"year_built": 1999} | site, rooms=(SiteRoom(name="Den", **CLEAN | room),))
    return {caution.code: caution for caution in cautions_for(facts)}


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row[0])
def test_a_fact_raises_its_caution(row: tuple[Any, ...]) -> None:
    code, _, site, room, weight, source, defers = row
    caution = raised(site, room)[code]
    assert WORDS[caution.severity] == weight
    assert caution.source.startswith(IN_FULL.get(source, source))
    assert (DEFERS in caution.text or DEFER_TO_CODE in caution.text) == defers


def test_the_table_is_the_one_of_the_docs() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text()
    section = text[text.index("## What a fact of the site raises") :]
    rows = re.findall(r"^\| (.+) \| `([a-z-]+)` \| (\w+) \| (.+) \|$", section, re.MULTILINE)
    assert rows == [(words, code, weight, source) for code, words, _, _, weight, source, _ in TABLE]


def test_no_caution_is_missing_from_the_table() -> None:
    gates = {"moisture-open", "moisture-row-one", "moisture-boards", "risers-unmeasured"}
    everything = VisitFacts(
        tear_out=True,
        grinding=True,
        heated_floor=True,
        fire_door=True,
        gas_appliance=True,
        toilets=1,
        flights=2,
        painted_ft2_per_room=D(20),
        readings=(WET, UNLIMITED),
        stairs=(HIGH, Flight(name="Other")),
        level_changes=(STEP,),
        tight_doors=(DOOR,),
        trapped_appliances=(TRAP,),
        rooms=(
            SiteRoom(name="Den", subfloor="slab"),
            SiteRoom(name="Hall", existing_floor="resilient", floor_year=1990),
        ),
    )
    codes = {one.code for one in cautions_for(everything, MoistureGates())} - gates
    assert codes <= {row[0] for row in TABLE}
    assert len(codes) >= 20


@pytest.mark.parametrize(
    ("site", "words"),
    [
        ({"grinding": True}, "filter holds 99 % or more, 25 cubic feet"),
        ({"grinding": True}, "25 cubic feet of air a minute for each inch"),
        ({"grinding": True}, "wet, or with a shroud"),
        ({"tear_out": True}, "taken up with a HEPA vacuum, never dry swept"),
    ],
)
def test_the_usual_controls_of_dust_are_said(site: dict[str, Any], words: str) -> None:
    # 29 CFR 1926.1153(c), Table 1: grinders (xi), (xii); chipping tools (x) from memory.
    assert words in raised(site, {"existing_floor": "tile"})["silica"].text
