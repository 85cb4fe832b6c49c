"""Every gate of a job stands on the cover; a job without a reading is held."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from jobs.domain.packet.cover import (
    NO_READING,
    MadeReading,
    ReadingRule,
    carry_words,
    gate_contents,
    readings_of_room,
)
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import MoistureReading, VisitFacts

ASBESTOS = VisitFacts(existing_floor="resilient", floor_year=1970, tear_out=True)


def rule(*made: MadeReading, limit: Decimal | None = Decimal(12)) -> ReadingRule:
    """How the moisture of two rooms is read."""
    return ReadingRule(
        subfloor="wood subfloor",
        method="Moisture content of a wood subfloor",
        unit="%",
        limit=limit,
        places=("hall", "bedroom"),
        made=made,
    )


def test_a_job_without_a_reading_is_held_with_limit_method_and_places() -> None:
    (gate,) = gate_contents([], {}, rule())
    assert (gate["code"], gate["held"]) == (NO_READING, True)
    assert gate["title"] == "No moisture reading of the wood subfloor"
    assert (gate["limit"], gate["places"]) == ("12 % or less", ["hall", "bedroom"])
    assert gate["method"] == "Moisture content of a wood subfloor"


def test_a_reading_is_told_and_taken_again_on_the_morning_of_row_one() -> None:
    made = MadeReading(method="Pin meter", figure="10 %", where="hall", on="Nov 25")
    (gate,) = gate_contents([], {}, rule(made))
    assert not gate["held"]
    assert gate["made"] == ["Pin meter, 10 %, hall, Nov 25"]
    assert "again on the morning of row one" in gate["title"]


def test_a_limit_that_nobody_entered_is_asked_for() -> None:
    (gate,) = gate_contents([], {}, rule(limit=None))
    assert "maker's sheet" in gate["limit"]


def test_every_hold_is_a_gate_open_or_cleared() -> None:
    cautions = cautions_for(ASBESTOS)
    holds = {caution.code for caution in cautions if caution.severity == "hold"}
    cleared = {"asbestos": {"by": "Ada Brandt", "note": "Report 1182", "on": "2026-11-20"}}
    open_gates, cleared_gates = (gate_contents(cautions, known, rule()) for known in ({}, cleared))
    assert holds
    assert holds | {NO_READING} == {gate["code"] for gate in open_gates}
    assert all(gate["held"] for gate in open_gates)
    asbestos = next(gate for gate in cleared_gates if gate["code"] == "asbestos")
    assert (asbestos["held"], asbestos["cleared"]["by"]) == (False, "Ada Brandt")


def test_a_subfloor_too_wet_is_one_gate_and_says_where_to_read() -> None:
    wet = MoistureReading(method="Meter", value=Decimal(16), limit=Decimal(12))
    gates = gate_contents(cautions_for(VisitFacts(readings=(wet,))), {}, rule())
    of_moisture = [gate for gate in gates if "moist" in gate["code"] or gate["places"]]
    assert [(gate["code"], gate["places"]) for gate in of_moisture] == [
        ("moisture", ["hall", "bedroom"])
    ]


def test_where_we_lay_nothing_no_reading_is_asked_for() -> None:
    assert gate_contents([], {}, None) == []


def test_what_is_carried_is_told_in_one_way() -> None:
    words = carry_words(flights=1, cartons=17, weight_lb=Decimal("32.00"))
    assert words == "1 flight of stairs, 17 cartons of 32 lb"
    assert carry_words(flights=0, cartons=1, weight_lb=Decimal(0)) == "No stairs, 1 carton"


def test_a_wood_subfloor_is_read_by_area_three_times_at_least() -> None:
    # 254 x 46 in is 81 ft2: two by area; 184 1/2 x 224 in is 287 ft2: 5.74, so six.
    assert [readings_of_room(Decimal(area)) for area in (81, 287, 300, 1000)] == [3, 6, 6, 20]
    (gate,) = gate_contents([], {}, replace(rule(), counts=(3, 6)))
    assert [len(read["boxes"]) for read in gate["reads"]] == [3, 6]
    assert "NWFA" in gate["source"]


def test_a_limit_that_is_not_known_has_a_place_to_be_written() -> None:
    (gate,) = gate_contents([], {}, rule(limit=None))
    assert gate["limit_open"]
    assert not gate_contents([], {}, rule())[0]["limit_open"]
