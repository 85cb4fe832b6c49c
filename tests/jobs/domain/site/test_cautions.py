"""Cautions begin exactly where the published limits say."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.checks import BadValueError
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.takeoff import take_off
from jobs.domain.site.cautions import cautions_for, holds_from
from jobs.domain.site.facts import Caution, LevelChange, MoistureReading, VisitFacts, moisture_tests
from tests.jobs.floors import a_job, a_room

MODERN: dict[str, Any] = {"year_built": 1999, "existing_floor": "none"}


def cautions(**facts: Any) -> dict[str, Caution]:
    """The cautions of a house of 1999 with nothing on the floor, but for what is told."""
    return {caution.code: caution for caution in cautions_for(VisitFacts(**MODERN | facts))}


def severity(code: str, **facts: Any) -> str | None:
    caution = cautions(**facts).get(code)
    return caution.severity if caution else None


def test_a_modern_house_with_nothing_special_has_only_the_note_on_bodies() -> None:
    assert set(cautions()) == {"work"}


@pytest.mark.parametrize(("floor_year", "expected"), [(1980, "hold"), (1979, "hold"), (1981, None)])
def test_a_floor_put_in_by_1980_is_presumed_asbestos(floor_year: int, expected: str | None) -> None:
    # 29 CFR 1910.1001(j), 1926.1101(k); OSHA letter of 1 August 1997: no later than 1980.
    facts = {"existing_floor": "resilient", "floor_year": floor_year, "tear_out": True}

    assert severity("asbestos", **facts) == expected


def test_a_floor_after_1980_asks_for_its_evidence() -> None:
    # The same letter: no automatic clearance after 1980.
    assert severity("asbestos-evidence", existing_floor="resilient", floor_year=1981) == "note"


def test_a_floor_of_unknown_year_is_presumed_until_it_is_known() -> None:
    facts = {"existing_floor": "resilient", "tear_out": True}

    assert severity("asbestos", **facts, year_built=None) == "hold"


def test_a_floor_can_not_be_older_than_its_house() -> None:
    facts = {"existing_floor": "unknown", "tear_out": True}

    assert severity("asbestos", **facts, year_built=1981) is None
    assert severity("asbestos", **facts, year_built=1980) == "hold"


def test_asbestos_blocks_the_tear_out_and_what_follows_it() -> None:
    caution = cautions(existing_floor="resilient", floor_year=1970, tear_out=True)["asbestos"]

    assert caution.blocks == ("tear_out", "dispose", "prep")
    assert caution.shown_on == ("quote", "packet", "job")


def test_an_old_floor_that_stays_whole_is_a_caution() -> None:
    assert severity("asbestos", existing_floor="resilient", floor_year=1970) == "caution"


def test_grinding_makes_it_a_hold() -> None:
    facts = {"existing_floor": "resilient", "floor_year": 1970, "grinding": True}

    assert severity("asbestos", **facts) == "hold"


@pytest.mark.parametrize(("year", "expected"), [(1980, "caution"), (1981, None)])
def test_under_an_old_carpet_an_older_floor_may_lie(year: int, expected: str | None) -> None:
    facts = {"existing_floor": "carpet", "tear_out": True, "year_built": year}

    assert severity("hidden-floor", **facts) == expected


@pytest.mark.parametrize(
    ("area", "code"), [("6", "lead-minor"), ("6.00", "lead-minor"), ("6.01", "lead")]
)
def test_more_than_six_square_feet_of_old_paint_is_no_minor_work(area: str, code: str) -> None:
    # 40 CFR 745.83: 6 square feet or less per room inside.
    warned = cautions(year_built=1950, painted_ft2_per_room=Decimal(area))

    assert {"lead", "lead-minor"} & set(warned) == {code}


@pytest.mark.parametrize(
    ("height", "run"), [("3.25", "22.15"), ("3.5", "20.57"), ("5.25", "13.71")]
)
def test_so_much_base_is_still_minor_work(height: str, run: str) -> None:
    # Computed from the 6 ft2 of 40 CFR 745.83; a piece that is taken off counts whole.
    area = Decimal(run) * Decimal(height) / 12
    more = (Decimal(run) + Decimal("0.01")) * Decimal(height) / 12

    assert severity("lead", year_built=1950, painted_ft2_per_room=area) is None
    assert severity("lead", year_built=1950, painted_ft2_per_room=more) == "hold"


@pytest.mark.parametrize(("year", "expected"), [(1977, "hold"), (1978, None), (None, "hold")])
def test_lead_is_presumed_before_1978_and_where_the_year_is_unknown(
    year: int | None, expected: str | None
) -> None:
    # 40 CFR 745.83, housing built before 1978; presuming it where the year is unknown is ours.
    assert severity("lead", year_built=year, painted_ft2_per_room=Decimal(20)) == expected


def test_the_area_is_said_in_the_caution() -> None:
    caution = cautions(year_built=1950, painted_ft2_per_room=Decimal("12.50"))["lead"]

    assert "built in 1950 and 12.5 ft2 of painted surface" in caution.text


def a_reading(value: str, limit: str | None = "85") -> MoistureReading:
    return MoistureReading(
        method="RH %", value=Decimal(value), limit=Decimal(limit) if limit else None, code="rh"
    )


@pytest.mark.parametrize(("value", "expected"), [("85", None), ("85.1", "hold")])
def test_a_wet_slab_is_a_stop_above_its_limit(value: str, expected: str | None) -> None:
    assert severity("moisture", readings=(a_reading(value),)) == expected


def test_a_wet_slab_blocks_what_would_cover_it() -> None:
    caution = cautions(readings=(a_reading("80"), a_reading("92")))["moisture"]

    assert caution.blocks == ("underlay", "lay")
    assert caution.text.startswith("RH %: 92 read, 85 allowed. Nothing is rolled out or laid")


def test_a_reading_without_a_limit_asks_for_one() -> None:
    assert severity("moisture-limit", readings=(a_reading("92", None),)) == "caution"
    assert severity("moisture", readings=(a_reading("92", None),)) is None


@pytest.mark.parametrize(
    ("area", "tests"),
    [(0, 0), (180, 3), (1000, 3), (1001, 4), (2000, 4), (2001, 5), (5000, 7)],
)
def test_the_number_of_tests_follows_the_area(area: int, tests: int) -> None:
    # ASTM F2170, locations: 3 for the first 1000 ft2 and one for each 1000 or part. From memory.
    assert moisture_tests(Decimal(area)) == tests


@pytest.mark.parametrize(("made", "expected"), [(2, "caution"), (3, None)])
def test_a_slab_with_too_few_readings_is_a_caution(made: int, expected: str | None) -> None:
    readings = tuple(a_reading("70") for _ in range(made))
    facts = {"subfloor": "slab", "slab_ft2": Decimal(180), "readings": readings}

    assert severity("moisture-tests", **facts) == expected


@pytest.mark.parametrize(
    ("methods", "expected"),
    [("rh rh mver", "caution"), ("rh rh other", "caution"), ("mver mver mver rh", None)],
)
def test_tests_of_two_methods_are_not_added_up(methods: str, expected: str | None) -> None:
    readings = tuple(replace(a_reading("70"), code=code) for code in methods.split())
    facts = {"subfloor": "slab", "slab_ft2": Decimal(180), "readings": readings}

    assert severity("moisture-tests", **facts) == expected


def test_wood_needs_no_slab_tests() -> None:
    assert severity("moisture-tests", subfloor="wood", slab_ft2=Decimal(180)) is None


@pytest.mark.parametrize(
    ("rise", "accessible", "expected"),
    [
        ("0.25", True, None),
        ("0.26", True, "caution"),
        ("0.26", False, "note"),
        ("0.5", False, "note"),
        ("0.51", False, "caution"),
    ],
)
def test_level_changes_begin_at_a_quarter_and_at_half_an_inch(
    rise: str, accessible: bool, expected: str | None
) -> None:
    # 2010 ADA Standards 303.2 and 303.3.
    changes = (LevelChange(where="hall door", rise_in=Decimal(rise)),)

    severe = severity("level-change", level_changes=changes, accessible_route=accessible)
    assert severe == expected


@pytest.mark.parametrize(
    ("fact", "code"),
    [
        ({"fire_door": True}, "fire-door"),
        ({"gas_appliance": True}, "gas"),
        ({"toilets": 1}, "toilet"),
        ({"grinding": True}, "silica"),
        ({"heated_floor": True}, "heated-floor"),
    ],
)
def test_what_is_there_has_its_caution(fact: dict[str, Any], code: str) -> None:
    assert severity(code, **fact) == "caution"


@pytest.mark.parametrize(("weight", "shown"), [("24.9", False), ("25", True)])
def test_heavy_cartons_are_noted(weight: str, shown: bool) -> None:
    # Common practice, no source: a carton weighs 25 to 40 lb.
    assert ("lifting" in cautions(carton_weight_lb=Decimal(weight))) == shown


def test_holds_come_first() -> None:
    warned = cautions_for(VisitFacts(grinding=True, tear_out=True, toilets=1))

    ranks = [{"hold": 0, "caution": 1, "note": 2}[caution.severity] for caution in warned]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0


def test_holds_reach_the_tasks_they_block() -> None:
    warned = cautions_for(VisitFacts(existing_floor="resilient", floor_year=1970, tear_out=True))
    job = a_job(rooms=(a_room(old_floor="resilient"),))

    work = work_from(take_off(job), STARTING_RATES, SiteWork(), holds_from(warned))
    held = {task.code for task in work.tasks if "asbestos" in task.hold_points}
    assert held == {"tear_out", "dispose", "prep"}


facts_of_any_kind = st.builds(
    VisitFacts,
    year_built=st.none() | st.integers(1900, 2026),
    existing_floor=st.sampled_from(["unknown", "none", "carpet", "resilient", "tile", "other"]),
    floor_year=st.none() | st.integers(1900, 2026),
    tear_out=st.booleans(),
    grinding=st.booleans(),
    subfloor=st.sampled_from(["unknown", "wood", "slab"]),
    painted_ft2_per_room=st.decimals("0", "50", places=2),
    readings=st.lists(st.builds(a_reading, st.sampled_from(["80", "90"])), max_size=2).map(tuple),
)


@given(facts_of_any_kind)
def test_every_site_gives_each_caution_once_with_a_source(facts: VisitFacts) -> None:
    warned = cautions_for(facts)

    codes = [caution.code for caution in warned]
    assert len(codes) == len(set(codes))
    assert all(caution.source and caution.shown_on for caution in warned)


def test_a_hold_that_blocks_nothing_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"caution x.blocks is 'nothing'; accepted: tasks for"):
        Caution(code="x", title="X", text="X.", source="test", severity="hold")


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ({"year_built": 15}, r"site.year_built is 15; accepted: .* at least 1600"),
        ({"existing_floor": "grass"}, r"site.existing_floor is 'grass'"),
        ({"painted_ft2_per_room": Decimal(-1)}, r"site.painted_ft2_per_room is -1"),
    ],
)
def test_facts_that_cannot_be_are_refused(facts: dict[str, Any], said: str) -> None:
    with pytest.raises(BadValueError, match=said):
        VisitFacts(**facts)


@pytest.mark.parametrize(("flights", "ending"), [(0, "two people."), (2, "Flights of stairs: 2.")])
def test_stairs_are_named_only_where_there_are_some(flights: int, ending: str) -> None:
    lifting = cautions(carton_weight_lb=Decimal(40), flights=flights)["lifting"]
    assert lifting.text.endswith(ending)
