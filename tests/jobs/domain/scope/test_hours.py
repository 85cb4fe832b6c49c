"""Hours follow from what is counted and from rates that say where they come from."""

from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG, in_units, quantity
from jobs.domain.scope.hours import (
    MissingRatesError,
    SiteWork,
    Work,
    tasks_from,
    trips_for,
    work_from,
)
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.rates import (
    STARTING_RATES,
    ProductionRate,
    delay_factor,
    duration_days,
    hours_for,
    man_days,
)
from jobs.domain.scope.takeoff import take_off
from jobs.domain.tasks import TASKS, Task
from tests.jobs.floors import a_doorway, a_job, a_plan, a_room, a_zone


def work(job: JobTake | None = None, site: SiteWork | None = None) -> Work:
    return work_from(take_off(job or a_job()), STARTING_RATES, site or SiteWork())


def the_task(made: Work, key: str) -> Task:
    return next(task for task in made.tasks if task.key == key)


def rate(**changes: object) -> ProductionRate:
    given_: dict[str, object] = {
        "task_code": "lay",
        "driver": "floor_area",
        "hours": Decimal(2),
        "per": Decimal(100),
    }
    return ProductionRate(**given_ | changes)  # type: ignore[arg-type]


def test_man_days_of_the_published_example() -> None:
    # NAVEDTRA 14045, Builder Advanced, p. 2-27: 16 000 ft2 of drywall at 33 man-hours per 1000 ft2.
    drywall = rate(hours=Decimal(33), per=Decimal(1000))

    assert man_days(hours_for(Decimal(16000), drywall)) == 66


@pytest.mark.parametrize(("crew", "days"), [(5, "15.644"), (10, "7.822")])
def test_duration_of_the_published_example(crew: int, days: str) -> None:
    # NAVEDTRA 14045, ch. 2: availability 0.75, a nine-hour day is 1.125 man-days.
    days_needed = duration_days(
        Decimal(66), crew=crew, availability=Decimal("0.75"), workday_hours=Decimal(9)
    )

    assert days_needed.quantize(Decimal("0.001")) == Decimal(days)


@pytest.mark.parametrize(("efficiency", "factor"), [("0.67", "1.000"), ("0.59", "1.136")])
def test_the_average_crew_has_a_delay_factor_of_one(efficiency: str, factor: str) -> None:
    # NAVEDTRA 14045, table 2-4: 67 % is average; 0.67 / efficiency from memory.
    assert delay_factor(Decimal(efficiency)).quantize(Decimal("0.001")) == Decimal(factor)


def test_efficiency_below_a_quarter_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"efficiency is 0.24; accepted: .* at least 0.25"):
        delay_factor(Decimal("0.24"))


def test_laying_hours_are_the_hand_sum() -> None:
    # 120 ft2 at 2 h per 100, 63 pieces at 0.01, 20 crosscuts at 0.03, 4 rips at 0.08, 2 notches
    # at 0.2: 2.40 + 0.63 + 0.60 + 0.32 + 0.40.
    assert the_task(work(), "lay:upstairs").hours == Decimal("4.35")


def test_the_starting_rates_lay_what_one_installer_is_known_to_lay() -> None:
    # Common practice, no source: one installer lays 150 to 300 ft2 of click plank in eight hours.
    per_day = 120 / the_task(work(), "lay:upstairs").hours * 8

    assert 150 <= per_day <= 300


def test_the_starting_base_rate_is_within_what_is_known() -> None:
    # Common practice, no source: 100 to 200 lf of base a day.
    base = next(entry for entry in STARTING_RATES if entry.task_code == "base")

    assert 100 <= 8 * base.per / base.hours <= 200


def test_starting_rates_own_up_to_having_no_source() -> None:
    assert {entry.source for entry in STARTING_RATES} == {"common practice, no source"}


def test_laying_has_the_rows_of_the_plan() -> None:
    assert the_task(work(), "lay:upstairs").rows == (1, 18)
    assert the_task(work(), "lay:upstairs").row_count == 18
    assert the_task(work(), "setup").row_count == 0


def test_more_cuts_cost_more_hours_on_the_same_floor() -> None:
    busy = a_job(zones=(a_zone(plan=a_plan(notches=12)),))

    more = the_task(work(busy), "lay:upstairs").hours - the_task(work(), "lay:upstairs").hours
    assert more == Decimal("2.00")


def test_tile_takes_longer_to_take_out_than_carpet() -> None:
    tile, carpet = (
        the_task(work(a_job(rooms=(a_room(old_floor=floor),))), "tear_out:upstairs").hours
        for floor in ("tile", "carpet")
    )

    assert (tile, carpet) == (Decimal("7.20"), Decimal("0.72"))


def test_an_old_floor_without_a_rate_of_its_own_takes_the_general_one() -> None:
    made = work(a_job(rooms=(a_room(old_floor="resilient"),)))

    assert the_task(made, "tear_out:upstairs").hours == Decimal("1.80")


def test_flights_add_to_the_carrying() -> None:
    # 216 lb at 0.25 h per 100 lb = 0.54; two flights at 0.15 h per 100 lb and flight = 0.648.
    assert the_task(work(), "carry").hours == Decimal("0.54")
    assert the_task(work(site=SiteWork(flights=2)), "carry").hours == Decimal("1.19")


def test_the_delay_factor_stretches_the_work_but_not_the_road() -> None:
    long_day = Decimal(40)
    slow = work(site=SiteWork(delay_factor=Decimal(2), crew_hours_per_day=long_day))

    assert the_task(slow, "lay:upstairs").hours == Decimal("8.70")
    assert the_task(slow, "travel").hours == 1


@pytest.mark.parametrize(("hours", "trips"), [("15", 1), ("15.01", 2), ("30", 2), ("0", 0)])
def test_trips_are_the_days_that_the_work_fills_beside_the_road(hours: str, trips: int) -> None:
    # 16 man-hours a day less 1 on the road.
    assert trips_for(Decimal(hours), SiteWork()) == trips


def test_travel_stands_in_the_quantities_and_in_the_hours() -> None:
    made = work(site=SiteWork(crew_hours_per_day=Decimal(6), trip_hours=Decimal(2)))

    trips = next(entry for entry in made.quantities if entry.code == "trips")
    assert the_task(made, "travel").hours == trips.amount * 2
    assert the_task(made, "travel").per_day == 2


def test_the_flooring_is_picked_up_once_and_loaded_by_weight() -> None:
    # One pick-up of an hour; 216 lb at 0.1 h per 100 lb.
    assert the_task(work(), "pick_up").hours == 1
    assert the_task(work(), "load").hours == Decimal("0.22")
    assert the_task(work(), "setup").after == ("load",)


@pytest.mark.parametrize(("area_ft2", "runs"), [(120, 1), (400, 1), (401, 2)])
def test_the_old_floor_goes_to_the_dump_by_the_load(area_ft2: int, runs: int) -> None:
    room = a_room(old_floor="carpet", area_in2=Decimal(area_ft2 * 144))
    made = work(a_job(rooms=(room,)))

    assert the_task(made, "dump_run").hours == runs * Decimal("1.5")
    assert the_task(made, "dump_run").after == ("dispose:upstairs",)


def test_nothing_is_hauled_where_nothing_was_counted_as_hauled_before() -> None:
    made = work(a_job(rooms=(a_room(old_floor="tile"),)), SiteWork(scheduled=False))

    assert {task.code for task in made.tasks}.isdisjoint({"pick_up", "load", "dump_run"})
    assert made.schedule is None


def test_hauling_is_not_stretched_by_the_site() -> None:
    assert the_task(work(site=SiteWork(delay_factor=Decimal(2))), "pick_up").hours == 1


def test_a_day_that_the_road_eats_up_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"site.trip_hours is 16; .* less than 16"):
        SiteWork(trip_hours=Decimal(16))


def test_leveler_makes_the_floor_wait() -> None:
    made = work(a_job(rooms=(a_room(leveler_bags=3),)), SiteWork(level_cure_hours=Decimal(16)))

    assert the_task(made, "level:upstairs").wait_hours_after == 16
    assert "level:upstairs" in the_task(made, "lay:upstairs").after


def test_cartons_that_must_lie_make_the_floor_wait() -> None:
    made = work(site=SiteWork(acclimatize_hours={"upstairs": Decimal(48)}))

    lying = the_task(made, "acclimatise:upstairs")
    assert lying.hours == 0
    assert lying.wait_hours_after == 48
    assert lying.after == ("carry",)
    assert lying.key in the_task(made, "lay:upstairs").after


def test_painting_by_others_keeps_its_place_at_no_hours() -> None:
    made = work(a_job(rooms=(a_room(paint_in2=Decimal(57600)),)), SiteWork(painted_by_crew=False))

    paint = the_task(made, "paint:upstairs")
    assert paint.label == "Paint (by others)"
    assert paint.hours == 0
    assert paint.key in the_task(made, "lay:upstairs").after


def test_base_comes_after_the_floor_and_its_transitions() -> None:
    made = work(a_job(rooms=(a_room(base_treatment="replace"),), doorways=(a_doorway(),)))

    assert the_task(made, "base:upstairs").after == ("lay:upstairs", "transitions:upstairs")


def test_a_zone_waits_for_its_own_work_and_not_for_another_zone() -> None:
    zones = (a_zone(), a_zone(name="hall", rooms=("hall",)))
    made = work(a_job(rooms=(a_room(), a_room(name="hall")), zones=zones))

    assert the_task(made, "lay:hall").after == ("setup", "carry", "prep:hall")
    assert {"lay:hall", "lay:upstairs"} <= set(the_task(made, "clean").after)


def test_every_task_but_the_first_and_the_road_comes_after_another() -> None:
    made = work(a_job(rooms=(a_room(base_treatment="replace", old_floor="tile", toilets=1),)))

    alone = [task.key for task in made.tasks if not task.after]
    assert alone == ["pick_up", "travel"]


def test_helpers_tasks_are_marked() -> None:
    marked = {code for code, kind in TASKS.items() if kind.helper}

    assert marked == {*("load", "carry", "furniture", "tear_out", "dispose", "dump_run", "clean")}


def test_a_hold_point_stands_on_its_task() -> None:
    job = a_job(rooms=(a_room(old_floor="resilient"),))
    made = work_from(take_off(job), STARTING_RATES, SiteWork(), holds=[("tear_out", "asbestos")])

    assert the_task(made, "tear_out:upstairs").hold_points == ("asbestos",)
    assert the_task(made, "lay:upstairs").hold_points == ()


def test_every_missing_rate_is_named_at_once() -> None:
    rates = [entry for entry in STARTING_RATES if entry.driver not in ("casings", "rips")]
    counted = take_off(a_job(doorways=(a_doorway(casings=2),)))

    with pytest.raises(MissingRatesError) as refused:
        work_from(counted, rates, SiteWork())
    assert refused.value.missing == (
        "Lay the floor: Rips, per each",
        "Undercut casings: Casings undercut, per each",
    )


def test_two_rates_for_the_same_thing_are_refused() -> None:
    with pytest.raises(BadValueError, match=r"rate lay.floor_area is '2 rates'"):
        work_from(take_off(a_job()), (*STARTING_RATES, rate()), SiteWork())


def test_every_work_quantity_drives_a_task_that_a_starting_rate_covers() -> None:
    counted = [
        quantity(code, 1, "one of each")
        for code, entry in CATALOG.items()
        if entry.kind == "work" and code not in ("trips", "rows")
    ]

    driven = {driver for kind in TASKS.values() for driver in kind.drivers}
    assert {entry.code for entry in counted} <= driven
    assert tasks_from(counted, STARTING_RATES, SiteWork())


def test_a_basis_tells_amount_rate_and_source() -> None:
    made = work(a_job(doorways=(a_doorway(casings=2),)))

    assert the_task(made, "undercut:upstairs").basis == (
        "Casings undercut: 2 at 0.2 h each (common practice, no source)"
    )


@pytest.mark.parametrize(
    ("amount", "unit", "said"),
    [("1", "carton", "1 carton"), ("2", "bag", "2 bags"), ("12.50", "ft2", "12.5 ft2")],
)
def test_amounts_are_said_with_their_unit(amount: str, unit: str, said: str) -> None:
    assert in_units(Decimal(amount), unit) == said


def test_a_task_with_a_third_decimal_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"task lay.hours is 1.005; accepted: hours to two"):
        Task(code="lay", label="Lay", hours=Decimal("1.005"), basis="guess")


def test_a_rate_of_a_driver_that_its_task_has_not_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"rate lay.driver is 'casings'; accepted: one of"):
        rate(driver="casings")
