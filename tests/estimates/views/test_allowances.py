"""The allowances of a job on its page: offered from evidence, kept, priced with their cap."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import JobAllowance, PriceItem
from estimates.readers.allowances import offers_of
from estimates.readers.prices import priced_of
from estimates.readers.quote import quote_of
from estimates.services.quotes import price_now
from jobs.models import AuditLine, Job, Room, TrimRun, User
from tests.builders import make_person, make_planned_job, make_room, make_run
from tests.estimates.a_job import TODAY, a_quote, an_estimate, an_owner, company_of

pytestmark = pytest.mark.django_db

HALF_AN_INCH = [{"x": "24", "y": "24", "depth": '1/2"'}]
SANDED = {
    "label": "Old glue sanded off",
    "cap": "3",
    "unit": "hour",
    "unit_cost": "48",
    "evidence": "Glue shows at the edge of the carpet.",
}


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job with a price for everything: 48 an hour, overhead 12 %, margin 25 %."""
    return make_planned_job(company_of(owner))


@pytest.fixture
def den(job: Job) -> Room:
    """Its den of 60 by 49 in, half an inch low wherever it was measured.

    2940 in2 x (1/2 -+ 1/16) in are 1286.25 to 1653.75 in3: 0.744 to 0.957 ft3, 2 to 3 bags.
    """
    room = job.rooms.get()
    room.depths = HALF_AN_INCH
    room.save()
    return room


def take(visitor: Visitor, job: Job, kind: str, **typed: str) -> HttpResponse:
    sent = {f"{kind}-{name}": value for name, value in ({"key": "take"} | typed).items()}
    url = reverse("allowance-offer", args=[job.pk, kind])
    return visitor.post(url, {f"{kind}-evidence": "as offered"} | sent)  # type: ignore[return-value]


def add(visitor: Visitor, job: Job, **typed: str) -> HttpResponse:
    sent = {f"new-{name}": value for name, value in ({"key": "add"} | SANDED | typed).items()}
    return visitor.post(reverse("allowance-add", args=[job.pk]), sent)  # type: ignore[return-value]


def change(visitor: Visitor, row: JobAllowance, **typed: str) -> HttpResponse:
    fields = ("label", "unit", "unit_cost", "unit_price", "evidence")
    stands = {name: str(getattr(row, name)) for name in fields} | {"cap": str(row.units)}
    sent = {"key": "change", "version": str(row.version)} | stands | typed
    prefixed = {f"allowance{row.pk}-{name}": value for name, value in sent.items()}
    return visitor.post(reverse("allowance", args=[row.pk]), prefixed)  # type: ignore[return-value]


def page(visitor: Visitor, job: Job) -> str:
    return visitor.get(reverse("job-allowances", args=[job.pk])).content.decode()


def test_bags_are_offered_from_the_survey_with_hours_as_a_range(
    visitor: Visitor, job: Job, den: Room
) -> None:
    offer = offers_of(job, TODAY).of("bags")
    assert offer is not None
    assert (offer.units, offer.price, offer.at_most) == (
        Decimal(3),
        Decimal("92.59"),
        Decimal("277.77"),
    )
    assert "Depth survey of Den: 2 to 3 bags, 1 to 1.5 h" in page(visitor, job)


def test_an_offer_is_on_the_price_at_once_as_the_most_it_comes_to(
    visitor: Visitor, job: Job, den: Room
) -> None:
    before = price_now(job, TODAY)[1]
    take(visitor, job, "bags", cap="3", unit_price="92.59")
    after = price_now(job, TODAY)[1]
    # 3 x 92.59 = 277.77, which cost 3 x 62 = 186.
    assert after.subtotal - before.subtotal == Decimal("277.77")
    assert after.allowance_cost == Decimal(186)
    assert after.allowance_lines[0].basis == "up to 3 bags; more by change order. as offered"


def test_without_a_survey_bags_are_offered_with_a_cap_to_be_typed(
    visitor: Visitor, job: Job
) -> None:
    assert "No depth survey of Den yet." in page(visitor, job)
    refused = take(visitor, job, "bags", unit_price="92.59")
    assert refused.status_code == 422
    assert "accepted: the most units, such as 4." in refused.content.decode()
    take(visitor, job, "bags", cap="4", unit_price="")
    row = job.allowances.get()
    assert (row.units, row.unit_cost, row.unit_price) == (Decimal(4), Decimal(62), Decimal("92.59"))


def test_bags_that_the_scope_counts_are_not_charged_twice(
    visitor: Visitor, job: Job, den: Room
) -> None:
    Room.objects.update(leveler_bags=2)
    offer = offers_of(job, TODAY).of("bags")
    assert offer is not None
    assert offer.units == 1
    assert "The scope counts 2; the cap is what lies beyond." in offer.evidence
    Room.objects.update(leveler_bags=3)
    assert offers_of(job, TODAY).of("bags") is None
    assert "nothing is offered beyond them" in page(visitor, job)


def test_an_allowance_says_when_the_scope_counts_its_bags_by_now(
    visitor: Visitor, job: Job, den: Room
) -> None:
    take(visitor, job, "bags", cap="3", unit_price="92.59")
    assert "above the evidence" not in page(visitor, job)
    Room.objects.update(leveler_bags=2)
    assert "The cap would be 1\u00a0bag." in page(visitor, job)
    Room.objects.update(leveler_bags=3)
    assert "the scope may count it already" in page(visitor, job)


def test_an_allowance_says_what_one_costs_today(visitor: Visitor, job: Job, den: Room) -> None:
    take(visitor, job, "bags", cap="3", unit_price="92.59")
    PriceItem.objects.filter(code="leveller").update(amount=40)
    said = page(visitor, job)
    # 40 + 24 = 64; x 1.12 / 0.75 = 95.57.
    assert "Today one costs $64.00" in said
    assert "sold for $95.57" in said


def test_a_level_room_is_offered_no_bags(visitor: Visitor, job: Job, den: Room) -> None:
    Room.objects.update(depths=[{"x": "24", "y": "24", "depth": "0"}])
    assert offers_of(job, TODAY).of("bags") is None
    assert "read level" in page(visitor, job)


def test_a_survey_that_no_longer_fits_its_room_counts_as_none(job: Job, den: Room) -> None:
    Room.objects.update(depths=[{"x": "900", "y": "24", "depth": '1/2"'}])
    offer = offers_of(job, TODAY).of("bags")
    assert offer is not None
    assert (offer.units, offer.evidence) == (None, "No depth survey of Den yet.")


def test_old_base_is_offered_by_the_foot_where_it_goes_back(
    visitor: Visitor, job: Job, den: Room
) -> None:
    make_run(den, length_mm=Decimal("1524"))
    make_run(den, wall=1, length_mm=Decimal("1244.6"))
    make_run(den, wall=2, length_mm=Decimal("1524"), action="replace")
    offer = offers_of(job, TODAY).of("base")
    assert offer is not None
    # 60 in and 49 in are 9.08 ft: ten whole feet at most; new base is counted by the scope.
    assert (offer.units, offer.price) == (Decimal(10), Decimal("1.92"))
    assert offer.evidence == "9.1 ft of old base come off and go back in Den."
    TrimRun.objects.update(action="replace")
    assert offers_of(job, TODAY).of("base") is None


def test_loose_spots_are_sold_by_the_screw(visitor: Visitor, job: Job) -> None:
    take(visitor, job, "screws", cap="40", evidence="Hall squeaks at the bath door.")
    row = job.allowances.get()
    # 0.338 a screw; 40 are 13.52. 40 x 0.50 = 20.00.
    assert (row.unit_cost, row.unit_price) == (Decimal("0.3380"), Decimal("0.50"))
    assert price_now(job, TODAY)[1].allowance_cost == Decimal("13.52")


def test_one_of_your_own_is_sold_at_the_margin(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    # 48 x 1.12 / 0.75 = 71.68; three hours 215.04.
    assert job.allowances.get().unit_price == Decimal("71.68")
    assert price_now(job, TODAY)[1].allowance_lines[0].amount == Decimal("215.04")
    assert "$215.04" in page(visitor, job)


def test_an_allowance_is_changed_and_taken_off(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    row = job.allowances.get()
    change(visitor, row, cap="2", unit_price="80")
    row.refresh_from_db()
    assert (row.units, row.unit_price, row.version) == (Decimal(2), Decimal(80), 2)
    visitor.post(reverse("allowance", args=[row.pk]), {"do": "remove"})
    assert not job.allowances.exists()
    assert AuditLine.objects.filter(act__startswith="Took off the allowance").exists()


def test_who_comes_second_is_told_what_changed(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    row = job.allowances.get()
    change(visitor, row, cap="2")
    late = change(visitor, row, cap="9", key="late")
    assert late.status_code == 409
    assert "Somebody else saved this meanwhile" in late.content.decode()


def test_the_same_form_sent_twice_adds_one(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    add(visitor, job)
    assert job.allowances.count() == 1


def test_an_offer_is_taken_once_a_job(visitor: Visitor, job: Job) -> None:
    take(visitor, job, "screws", cap="40")
    refused = take(visitor, job, "screws", cap="50", key="other")
    assert refused.status_code == 422
    assert job.allowances.get().units == 40


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"cap": "0"}, "“0” can't be used; accepted: more than 0."),
        ({"cap": "-3"}, "“-3” can't be used"),
        ({"cap": "many"}, "“many” can't be used"),
        ({"cap": "10000"}, "accepted: up to 9,999."),
        ({"unit_cost": "", "unit_price": ""}, "a cost that the margin is put on"),
        ({"unit_cost": "1.00001"}, "up to 4 decimal places"),
        ({"label": ""}, "Nothing was typed"),
        ({"evidence": " "}, "accepted: what was seen, or why nobody can count it."),
    ],
)
def test_what_cannot_be_sold_is_refused_at_its_field(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    refused = add(visitor, job, **typed)
    assert refused.status_code == 422
    text = refused.content.decode().replace("&#x27;", "'")
    assert said in text
    assert "Glue shows" in text or "evidence" in typed
    assert not job.allowances.exists()


def test_a_bag_without_a_price_in_the_book_needs_one_typed(visitor: Visitor, job: Job) -> None:
    PriceItem.objects.filter(code="leveller").delete()
    assert "The price book has no price for it yet" in page(visitor, job)
    assert take(visitor, job, "bags", cap="4").status_code == 422
    take(visitor, job, "bags", cap="4", unit_price="90")
    assert job.allowances.get().unit_price == 90


def test_markup_in_a_name_is_shown_as_typed(visitor: Visitor, job: Job) -> None:
    add(visitor, job, label="<script>alert(1)</script>")
    text = page(visitor, job)
    assert "&lt;script&gt;alert(1)" in text
    assert "<script>alert" not in text


def test_an_estimate_keeps_an_allowance_with_its_evidence(
    visitor: Visitor, owner: User, job: Job
) -> None:
    add(visitor, job)
    estimate = an_estimate(owner, job)
    JobAllowance.objects.all().delete()
    (line,) = priced_of(estimate).allowance_lines
    assert line.basis == (
        "up to 3 hour; more by change order. Glue shows at the edge of the carpet."
    )


def test_the_quote_says_what_one_is_sold_for_and_the_most(
    visitor: Visitor, owner: User, job: Job
) -> None:
    add(visitor, job)
    quote = quote_of(a_quote(owner, job).document)
    (allowance,) = quote.allowances
    assert (allowance.name, allowance.each) == ("Old glue sanded off", Decimal("71.68"))
    assert (allowance.units, allowance.unit, allowance.most) == (
        Decimal(3),
        "hour",
        Decimal("215.04"),
    )
    assert "Glue shows" not in str(quote)


def test_rooms_of_no_floor_are_left_out(job: Job) -> None:
    make_room(job, name="Garage", depths=HALF_AN_INCH)
    offer = offers_of(job, TODAY).of("bags")
    assert offer is not None
    assert offer.units is None


def test_a_stranger_sees_no_allowance(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    row = job.allowances.get()
    stranger = Visitor()
    stranger.force_login(an_owner(name="Other Floors"))
    assert stranger.get(reverse("job-allowances", args=[job.pk])).status_code == 404
    assert stranger.post(reverse("allowance", args=[row.pk]), {"do": "remove"}).status_code == 404
    crew = Visitor()
    crew.force_login(make_person(job.company, "crew"))
    assert crew.post(reverse("allowance", args=[row.pk]), {"do": "remove"}).status_code == 403
