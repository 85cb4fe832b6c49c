"""Cartons of three floors in two products, from the plans to the price and onto the truck.

den     60 x 49 in   oak     9 planks + 3 spares = 12    by floor  2 cartons
parlor 100 x 90 in   oak    28 planks + 3 spares = 31    by floor  4 cartons
attic   84 x 56 in   slate  14 planks + 3 spares = 17    by floor  2 cartons   -> 8

oak    9 + 28 + 6 = 43 of 10 a carton -> 5 at 60.00 = 300.00
slate     14 + 3 = 17 of 10 a carton  -> 2 at 41.50 =  83.00                   -> 7
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.domain.priced import Priced
from estimates.models import PriceItem
from estimates.readers.prices import priced_of
from estimates.services.orders.pending import pending_change
from estimates.services.quotes import price_now
from jobs.domain.formats import Fields
from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope, scope_document
from jobs.models import Company, FloorPlan, FloorZone, Job, Scope, User
from jobs.readers.packets.gather import gather
from jobs.readers.scope import scope_value
from jobs.services.records import freeze
from jobs.services.scope import changes_since_agreed, freeze_scope
from tests.builders import make_job, make_product, make_room, make_zone
from tests.estimates.a_job import TODAY, a_quote, accepted, company_of, set_price
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db

FLOORS = (("Den", "Oak", (60, 49)), ("Parlor", "Oak", (100, 90)), ("Attic", "Slate", (84, 56)))


@pytest.fixture
def job(owner: User) -> Job:
    """Three floors, two of oak and one of slate, all planned; every other price is known."""
    company = company_of(owner)
    job = make_job(company, title="Three floors")
    products = {name: make_product(company, name=name) for name in ("Oak", "Slate")}
    for name, product, size in FLOORS:
        planned(make_zone(make_room(job, name, size=size), products[product]))
    slate_at(company, "41.50")
    return job


def slate_at(company: Company, amount: str) -> None:
    row = set_price(company, "cartons", amount, date(2021, 1, 1))
    PriceItem.objects.filter(pk=row.pk).update(item="Slate")


def flooring(priced: Priced) -> dict[str, tuple[Decimal, Decimal]]:
    """Cartons and what they cost, by product."""
    lines = [line for line in priced.lines if line.code == "cartons"]
    return {line.item: (line.quantity, line.cost) for line in lines}


BY_HAND = {"Oak": (Decimal(5), Decimal("300.00")), "Slate": (Decimal(2), Decimal("83.00"))}


def test_the_plans_by_themselves_would_buy_eight(job: Job) -> None:
    plans = FloorPlan.objects.filter(zone__job=job).order_by("pk")

    assert [(plan.planks, plan.cartons) for plan in plans] == [(9, 2), (28, 4), (14, 2)]


def test_the_price_of_the_job_buys_seven(job: Job) -> None:
    assert flooring(price_now(job, TODAY)[1]) == BY_HAND


def test_the_price_page_shows_cartons_by_product(visitor: Visitor, job: Job) -> None:
    page = words(visitor.get(reverse("job-price", args=[job.pk])))

    assert "$300.00" in page
    assert "$83.00" in page
    assert "$443.00" not in page  # six of oak and two of slate


def test_the_floors_page_says_what_is_bought_for_the_job(visitor: Visitor, job: Job) -> None:
    page = words(visitor.get(reverse("zone-list", args=[job.pk])))

    assert "5 cartons" in page
    assert "37 planks in the plans (Den 9, Parlor 28), 6 spares; 10 in a carton" in page
    assert "2 cartons" in page
    assert "14 planks in the plan, 3 spares" in page


def test_a_plan_says_where_its_cartons_are_not_what_is_bought(visitor: Visitor, job: Job) -> None:
    den, attic = (job.zones.get(name=name) for name in ("Den", "Attic"))

    assert "For this floor alone" in words(visitor.get(reverse("zone", args=[den.pk])))
    assert "For this floor alone" not in words(visitor.get(reverse("zone", args=[attic.pk])))


def test_a_floor_without_a_plan_leaves_the_cartons_open(visitor: Visitor, job: Job) -> None:
    FloorPlan.objects.filter(zone__name="Attic").delete()

    assert "Cartons of the job" not in words(visitor.get(reverse("zone-list", args=[job.pk])))


def test_the_attic_gets_one_carton_though_two_floors_want_it(job: Job) -> None:
    FloorZone.objects.filter(product__name="Oak").update(attic_carton=True)
    oak = flooring(price_now(job, TODAY)[1])["Oak"]

    assert oak == (Decimal(6), Decimal("360.00"))


def agreed(owner: User, job: Job) -> Job:
    accepted(a_quote(owner, job))
    return Job.objects.get(pk=job.pk)


def on_days(job: Job) -> Job:
    laid_out(job, a_crew(job.company))
    return job


def loaded(job: Job) -> list[Fields]:
    """What goes on the truck, all phases together."""
    return [load for phase in gather(job)["phases"] for load in phase["loads"]]


def test_the_truck_takes_the_same_cartons_as_the_price(owner: User, job: Job) -> None:
    loads = loaded(on_days(agreed(owner, job)))

    said = [(load["item"], load["said"]) for load in loads if load["label"] == "Flooring"]
    assert said == [("Oak", "5 cartons, one lot"), ("Slate", "2 cartons, one lot")]


def test_the_crew_is_told_the_planks_of_every_floor(owner: User, job: Job) -> None:
    floors = gather(on_days(agreed(owner, job)))["floors"]

    by_floor = [(floor["name"], floor["planks"], floor["cartons"]) for floor in floors]
    assert by_floor == [("Den", 9, 2), ("Parlor", 28, 4), ("Attic", 14, 2)]


def counted_by_floor(scope: FrozenScope, job: Job) -> FrozenScope:
    """The scope as it was counted before cartons were counted by the job."""
    zones = {plan.zone.name: plan for plan in FloorPlan.objects.filter(zone__job=job)}
    kept = [entry for entry in scope.quantities if not entry.code.startswith(("cartons", "planks"))]
    flooring = {entry.code: entry for entry in scope.quantities}
    older: list[Quantity] = []
    for name, plan in zones.items():
        product = plan.zone.product.name
        counts = (("planks", plan.planks), ("cartons", plan.cartons))
        older += [
            replace(flooring[code], amount=Decimal(count), zone=name, item=product)
            for code, count in counts
        ]
    return replace(scope, quantities=(*older, *kept))


@pytest.fixture
def earlier(owner: User, job: Job) -> Job:
    """The job, agreed on a scope that counted cartons floor by floor: eight."""
    agreed(owner, job)
    scope = counted_by_floor(scope_value(freeze_scope(job=job, user=owner)), job)
    content = scope_document(scope)
    document = freeze(company=job.company, kind="scope", content=content, user=owner)
    row = Scope.objects.create(job=job, number=90, document=document, hours=scope.hours)
    Job.objects.filter(pk=job.pk).update(agreed_scope=row)
    return Job.objects.get(pk=job.pk)


def test_a_job_agreed_floor_by_floor_is_not_changed_by_counting_anew(earlier: Job) -> None:
    assert changes_since_agreed(earlier) == ()
    assert pending_change(earlier, TODAY) is None


def test_more_spares_change_a_job_agreed_floor_by_floor(earlier: Job) -> None:
    FloorZone.objects.filter(name="Parlor").update(spares=23)
    said = [change.text for change in changes_since_agreed(earlier)]

    # 9 + 28 + 26 = 63: seven cartons by job, six were agreed by floor.
    assert "Changed: Flooring (Oak), from 6 cartons to 7 cartons." in said


def test_a_job_agreed_floor_by_floor_is_loaded_with_what_it_says(earlier: Job) -> None:
    loads = loaded(on_days(earlier))

    said = [(load["item"], load["said"]) for load in loads if load["label"] == "Flooring"]
    assert said == [("Oak", "6 cartons"), ("Slate", "2 cartons")]


def test_an_estimate_keeps_the_cartons_it_was_made_with(owner: User, job: Job) -> None:
    quote = a_quote(owner, job)
    PriceItem.objects.filter(item="Slate").update(amount=Decimal(99))

    assert flooring(priced_of(quote.estimate)) == BY_HAND
