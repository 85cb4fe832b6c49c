"""What a floor passport says of an agreed job: floors, what is left, readings, warranty, since."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.passport.content import FloorTold
from estimates.models import FloorPassport, PurchaseOf, SalesTerms
from estimates.readers.passport.floors import (
    PassportFloor,
    map_of,
    picked_plank,
)
from estimates.readers.passport.page import PassportPage, passport_page
from estimates.services.passport.editions import tell_passport
from jobs.domain.plans.stored import StoredPlan
from jobs.models import Document, Job, SiteFacts, User
from tests.builders import make_job
from tests.estimates.a_job import TODAY, a_quote, accepted, company_of
from tests.estimates.a_passport import a_passport_of
from tests.layout import three_rows

pytestmark = pytest.mark.django_db


def left_in_the_attic(job: Job, quantity: str, unit: str, **values: object) -> None:
    fields = {"kind": PurchaseOf.ATTIC, "code": "cartons", "label": "Flooring", "amount": 0}
    fields |= {"quantity": Decimal(quantity), "unit": unit, "bought_on": TODAY}
    job.purchases.create(**fields | values)


def page_of(job: Job) -> PassportPage:
    page = passport_page(FloorPassport.objects.filter(job=job).first() or a_passport_of(job))
    assert page is not None
    return page


def test_the_floor_is_told_with_product_and_lot(job: Job) -> None:
    product = job.zones.get().product
    # A carton of ten and three planks of another lot: thirteen.
    left_in_the_attic(job, "1", "carton", lot="A12")
    left_in_the_attic(job, "3", "plank", lot="B7", product=product)
    (floor,) = page_of(job).floors
    facts = floor.facts
    assert (facts.name, facts.product) == ("Den", product.name)
    assert (facts.lots, product.carton_boards) == (("A12", "B7"), 10)
    assert [(left.planks, left.lot) for left in facts.attic] == [(10, "A12"), (3, "B7")]
    assert facts.attic_planks == 13


def test_what_is_not_noted_is_not_said_to_be_there(job: Job) -> None:
    (floor,) = page_of(job).floors
    facts = floor.facts
    assert (facts.lots, facts.attic, facts.planned_spares) == ((), (), 3)


def test_cartons_of_another_product_are_none_of_this_floor(job: Job) -> None:
    from tests.builders import make_product

    left_in_the_attic(job, "1", "carton", product=make_product(job.company, name="Harbor Oak"))
    (floor,) = page_of(job).floors
    assert floor.facts.attic == ()


def test_every_plank_of_the_map_can_be_picked(job: Job) -> None:
    (floor,) = page_of(job).floors
    assert floor.stored is not None
    pieces = floor.stored.plan.pieces
    picked = [
        picked_plank(floor, row=one.row, plank=one.place, leftovers_stay=True) for one in pieces
    ]
    assert [one.plank.name for one in picked if one] == [one.id for one in pieces]
    assert picked_plank(floor, row=99, plank=1, leftovers_stay=True) is None
    assert map_of(floor).count("<a href=") == len(pieces)


def test_leftovers_are_named_only_where_they_stay() -> None:
    # 35 7/8 in with a right end is left over on three rows worked out by hand.
    plan = StoredPlan(
        request=three_rows.request(), plan=three_rows.plan(), request_form={}, plan_form={}
    )
    facts = FloorTold(
        name="Den",
        product="Slate Oak",
        kind="",
        glued=False,
        lots=(),
        attic=(),
        planned_spares=0,
        care=(),
        plan="",
        request="",
    )
    floor = PassportFloor(place=1, facts=facts, stored=plan)
    kept, gone = (
        picked_plank(floor, row=3, plank=1, leftovers_stay=stay) for stay in (True, False)
    )
    assert kept is not None
    assert gone is not None
    (leftover,) = kept.leftovers
    assert leftover.replace("\xa0", " ") == 'F3, 2\' 11⅞" long, 7" wide'
    assert gone.leftovers == ()
    assert kept.size.replace("\xa0", " ") == '1\' 7⅞" long, 7" wide'


def test_the_maker_comes_before_common_practice(job: Job) -> None:
    product = job.zones.get().product
    product.wettest = "wet"
    product.save()
    (floor,) = page_of(job).floors
    assert floor.facts.care[0].text == "For wet rooms too."
    assert {line.source for line in floor.facts.care[1:]} == {"Common practice, no source"}
    assert "No rubber-backed mats: rubber stains vinyl." in [line.text for line in floor.facts.care]


def test_readings_in_words(job: Job) -> None:
    noted = {"method": "rh", "value": "78", "where": "By the door", "on": "2027-02-20"}
    SiteFacts.objects.filter(job=job).update(readings=[noted])
    (reading,) = page_of(job).readings
    assert (reading.value, reading.where) == ("78%", "By the door")
    assert reading.method == "Relative humidity in the slab, ASTM F2170"


def test_the_warranty_is_what_the_accepted_quote_promised(owner: User) -> None:
    SalesTerms.objects.update_or_create(company=company_of(owner), defaults={"warranty_months": 24})
    quote = a_quote(owner)
    accepted(quote)
    SalesTerms.objects.update(warranty_months=12)
    assert "for 2 years" in page_of(Job.objects.get(pk=quote.job_id)).warranty


def test_it_counts_from_the_slip_or_else_from_closing(job: Job) -> None:
    assert page_of(job).since is None
    Job.objects.filter(pk=job.pk).update(closed_at=f"{TODAY}T12:00:00Z")
    tell_passport(passport=FloorPassport.objects.get(), user=None)
    assert page_of(Job.objects.get(pk=job.pk)).since == TODAY


def test_without_an_agreed_scope_there_is_no_floor(owner: User) -> None:
    made = page_of(make_job(company_of(owner)))
    assert (made.floors, made.warranty, made.since) == ((), "", None)


def test_a_plan_that_cannot_be_read_leaves_the_rest(job: Job) -> None:
    Document.objects.filter(kind="plan").update(text="{")
    (floor,) = page_of(job).floors
    assert (floor.stored, floor.facts.product != "", map_of(floor)) == (None, True, "")
