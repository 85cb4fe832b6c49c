"""Options of a planned job: each worked out from its own plan, by the hour and in half days."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.models import PriceItem, PriceTerms
from estimates.readers.options.options import Choice, Options, PricedWay, options_of
from jobs.domain.scope.inputs import PlanCounts, plan_counts
from jobs.models import ExistingFloor, FloorZone, Job, Product, Room, SiteFacts, TrimRun, User
from jobs.readers.stored_plan import stored_plan
from jobs.services.floors.comparison import ask_to_compare, compared, comparison_of
from jobs.worker import worker
from tests.builders import make_plan, make_planned_job, make_product
from tests.estimates.a_job import TODAY, company_of, set_price

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job of 20.42 ft2, 20.04 ft2 of it laid, on a separate pad; its base is kept."""
    job = make_planned_job(company_of(owner))
    FloorZone.objects.update(pad=True)
    return job


def floor(job: Job, **facts: object) -> None:
    SiteFacts.objects.filter(job=job).update(**facts)


def with_base(job: Job) -> None:
    """Five feet of new base along the first wall."""
    Room.objects.update(base="replace")
    TrimRun.objects.create(room=job.rooms.get(), wall=0, kind="base", length_mm=Decimal(1524))


def compared_with(job: Job, owner: User, **values: object) -> Product:
    """Another product in which the floor of the job was planned, to be compared."""
    product = make_product(job.company, **values)
    zone = job.zones.get()
    ask_to_compare(zone=zone, products=[product], directions=[0.0], user=owner)
    worker.carry_out_waiting()
    return product


def choice(options: Options, key: str) -> Choice:
    return next(each for each in options.choices if each.way.key == key)


def priced(job: Job, key: str) -> PricedWay:
    shown = choice(options_of(job, TODAY), key).priced
    assert shown is not None
    return shown


def keys(job: Job) -> list[str]:
    return [each.way.key for each in options_of(job, TODAY).choices]


def test_an_attached_pad_saves_rolling_one_out(job: Job) -> None:
    saving = priced(job, "pad_attached").saving
    # 20.4 ft2 at 0.3 h per 100 ft2 are 0.06 h; at 48 an hour 2.88.
    assert (saving.hours_saved, saving.worth_by_the_hour) == (Decimal("0.06"), Decimal("2.88"))


def test_hours_inside_a_half_day_are_worth_nothing(job: Job) -> None:
    way = priced(job, "pad_attached")
    assert way.saving.half_days_saved == 0
    assert (way.saved_by_the_hour, way.saved_in_half_days) == (Decimal("0.14"), Decimal(0))


def test_the_pad_saved_tells_what_the_boards_may_cost_more(job: Job) -> None:
    way = priced(job, "pad_attached")
    # A roll of pad is 32.00 and one of tape for its seam 9.00, on 20.04 ft2 2.05 a ft2; 2.88 of
    # labor 0.14 more by the hour.
    assert way.gain_in_half_days == Decimal("2.05")
    assert way.gain_by_the_hour == Decimal("2.19")


def test_a_floor_without_a_pad_may_get_one(job: Job) -> None:
    FloorZone.objects.update(pad=False)
    way = priced(job, "pad_separate")
    assert (way.material_saved, way.saving.pays) == (Decimal("-2.05"), "never")


def test_base_is_compared_only_where_base_is_put_on(job: Job) -> None:
    assert keys(job) == ["pad_attached"]
    with_base(job)
    assert keys(job) == ["pad_attached", "base_old"]


def test_base_put_back_saves_stick_and_caulk(job: Job) -> None:
    with_base(job)
    saving = priced(job, "base_old").saving
    # 5 ft of new base are one stick at 14.00 and a tube of caulk at 4.00; the hours are the same.
    assert saving.dearer_material == Decimal("-18.00")
    assert saving.hours_saved == 0
    assert saving.pays == "always"


def test_a_run_with_its_own_word_is_put_back_too(job: Job) -> None:
    with_base(job)
    TrimRun.objects.update(action="replace")
    assert priced(job, "base_old").saving.dearer_material == Decimal("-18.00")


def test_old_base_may_be_new_base_instead(job: Job) -> None:
    with_base(job)
    Room.objects.update(base="reinstall")
    assert priced(job, "base_new").saving.dearer_material == Decimal("18.00")


def test_tearing_out_is_held_against_laying_over(job: Job) -> None:
    floor(job, existing_floor=ExistingFloor.TILE, tear_out=False)
    saving = priced(job, "tear_out").saving
    # 20.42 ft2 of tile at 6 h out and 2 h away per 100 ft2: 1.23 and 0.41 h, and a run to the dump
    # 1.5 h: 3.14 x 48. What it costs at the dump: 20.42 x 0.35 = 7.15.
    assert saving.hours_saved == Decimal("-3.14")
    assert saving.worth_by_the_hour == Decimal("-150.72")
    assert saving.dearer_material == Decimal("7.15")


def test_laying_over_saves_what_tearing_out_takes(job: Job) -> None:
    floor(job, existing_floor=ExistingFloor.TILE, tear_out=True)
    saving = priced(job, "lay_over").saving
    assert (saving.hours_saved, saving.dearer_material) == (Decimal("3.14"), Decimal("-7.15"))


def test_a_question_on_the_old_floor_is_named_before_it_comes_out(job: Job) -> None:
    floor(job, existing_floor=ExistingFloor.RESILIENT, floor_year=1970, tear_out=False)
    (caution,) = choice(options_of(job, TODAY), "tear_out").way.cautions
    assert caution.startswith("The old floor may hold asbestos: nobody takes it out")


@pytest.mark.parametrize(
    ("old", "over", "reason"),
    [
        (ExistingFloor.CARPET, [], "A floating floor is not laid over carpet.†"),
        (ExistingFloor.TILE, ["slab", "wood subfloor"], "is not laid over ceramic or stone tile"),
    ],
)
def test_what_nothing_is_laid_over_is_no_option(
    job: Job, old: str, over: list[str], reason: str
) -> None:
    Product.objects.update(laid_over=over)
    floor(job, existing_floor=old, tear_out=True)
    options = options_of(job, TODAY)
    assert any(reason in each.reason for each in options.not_compared)
    assert "lay_over" not in {each.way.key for each in options.choices}


def test_a_thicker_core_is_held_against_the_leveler(job: Job) -> None:
    Room.objects.update(leveler_bags=2)
    way = priced(job, "no_leveler")
    # Two bags at 38.00 and half an hour each: 76.00 of material and 1 h; their 100 lb loaded at
    # 0.1 h and carried in at 0.25 h per 100 lb; and the second drive, out and home, 1 h.
    assert way.saving.dearer_material == Decimal("-76.00")
    assert way.saving.hours_saved == Decimal("2.35")
    # The leveler cures for a day: two half days on site become one, 8 h at 48.00 less.
    assert (way.saving.half_days_saved, way.saving.worth_in_half_days) == (1, Decimal("384.00"))


def test_another_product_is_priced_from_its_own_plan(job: Job, owner: User) -> None:
    wide = compared_with(job, owner, name="Wide plank", width_mm=Decimal("228.6"))
    set_price(job.company, "cartons", "80.00", TODAY)
    PriceItem.objects.filter(amount=80).update(item="Wide plank")
    way = choice(options_of(job, TODAY), f"product-{wide.pk}").way
    assert way.instead.startswith("wider boards in place of")
    saving = priced(job, f"product-{wide.pk}").saving
    # Two cartons at 80.00 in place of two at 60.00.
    assert saving.dearer_material == Decimal("40.00")
    zone = job.zones.get()
    (row,) = compared(comparison_of(zone))
    assert row.plan_counts is not None
    now = plan_counts(stored_plan(zone.plans.get()).plan_form)
    assert saving.hours_saved == laid_in(now) - laid_in(row.plan_counts)


def laid_in(plan: PlanCounts) -> Decimal:
    """Hours to lay 20.42 ft2 by a plan at the starting rates, from its counts."""
    cut = plan.crosscuts * Decimal("0.03") + plan.rips * Decimal("0.08")
    slow = plan.notches * Decimal("0.2") + plan.trapped * Decimal("0.15")
    area = Decimal("20.42") / 100 * 2
    return round(area + plan.pieces * Decimal("0.01") + cut + slow, 2)


def test_at_the_break_even_rate_both_are_priced_alike(job: Job, owner: User) -> None:
    narrow = compared_with(job, owner, name="Narrow plank", width_mm=Decimal(89), per_carton=25)
    set_price(job.company, "cartons", "55.00", TODAY)
    PriceItem.objects.filter(amount=55).update(item="Narrow plank")
    key = f"product-{narrow.pk}"
    saving = priced(job, key).saving
    rate = saving.break_even_rate
    assert rate is not None
    assert saving.pays == "below"
    # A second way: both jobs priced whole with an hour at that rate, then a dollar dearer.
    at_cost = {"overhead_percent": 0, "margin_percent": 0, "minimum_charge": 0}
    terms = PriceTerms.objects.create(company=job.company, burdened_rate=rate, **at_cost)
    assert abs(priced(job, key).price_rise) <= Decimal("0.02")
    terms.burdened_rate = rate + 1
    terms.save()
    assert priced(job, key).price_rise > Decimal("0.02")


def test_a_comparison_of_an_older_outline_is_left_out(job: Job, owner: User) -> None:
    compared_with(job, owner, name="Wide plank")
    zone = job.zones.get()
    Room.objects.update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])
    make_plan(FloorZone.objects.get(pk=zone.pk))
    assert not [key for key in keys(job) if key.startswith("product-")]


def test_a_thicker_product_stands_with_and_without_leveling(job: Job, owner: User) -> None:
    Room.objects.update(leveler_bags=2)
    thick = compared_with(job, owner, name="Thick plank", thickness_mm=Decimal(8))
    assert keys(job)[-2:] == [f"product-{thick.pk}", f"product-{thick.pk}-no-leveler"]


def test_a_product_that_may_not_lie_there_is_no_option(job: Job, owner: User) -> None:
    Room.objects.update(moisture="wet")
    compared_with(job, owner, name="Dry plank", wettest="dry")
    options = options_of(job, TODAY)
    assert any("Den is wet" in each.reason for each in options.not_compared)


def test_one_floor_has_at_least_four_options(job: Job, owner: User) -> None:
    floor(job, existing_floor=ExistingFloor.TILE, tear_out=True)
    with_base(job)
    Room.objects.update(leveler_bags=2)
    wide = compared_with(job, owner, name="Wide plank", width_mm=Decimal("228.6"))
    options = options_of(job, TODAY)
    assert [each.way.key for each in options.choices] == [
        *("lay_over", "pad_attached", "base_old", "no_leveler"),
        f"product-{wide.pk}",
    ]
    assert all(each.priced is not None for each in options.choices)
    assert options.not_compared == ()


def test_what_has_no_price_is_named_in_place_of_a_saving(job: Job) -> None:
    PriceItem.objects.filter(code="pad").delete()
    options = options_of(job, TODAY)
    shown = choice(options, "pad_attached")
    assert shown.priced is None
    assert "no price per roll" in shown.faults[0]
    assert options.needs[0] == ("pad", "Pad")
