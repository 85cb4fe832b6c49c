"""The pages of options and of the work split: compared, taken, ticked, refused."""

from __future__ import annotations

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem, WorkSplit
from estimates.services.quotes import make_estimate, price_now
from jobs.domain.checks import BadValueError
from jobs.domain.tasks import TASKS
from jobs.models import Errand, ExistingFloor, FloorZone, Job, Room, SiteFacts, TrimRun, User
from tests.builders import make_job, make_planned_job, make_product
from tests.estimates.a_job import TODAY, accepted, an_estimate, company_of
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job of 20.42 ft2 on a separate pad, whose tile comes out."""
    job = make_planned_job(company_of(owner))
    FloorZone.objects.update(pad=True)
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    return job


def send(visitor: Visitor, page: str, job: Job, **fields: object) -> HttpResponse:
    sent = {"key": "k" * 20, "version": 1} | fields
    url = reverse(page, args=[job.pk])
    return visitor.post(url, sent, follow=True)  # type: ignore[return-value]


def see(visitor: Visitor, page: str, job: Job) -> str:
    return words(visitor.get(reverse(page, args=[job.pk])))


def presume_asbestos(job: Job) -> None:
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970, tear_out=True)


def test_the_page_holds_options_against_this_floor(visitor: Visitor, job: Job) -> None:
    page = see(visitor, "job-options", job)
    assert "Lay over: ceramic or stone tile" in page
    assert "in place of tearing it out" in page
    assert "It costs less at any labor rate." in page
    assert "Attached pad" in page
    assert "No leveler is counted in these rooms." in page


def test_a_job_without_a_floor_says_what_is_needed(visitor: Visitor, owner: User) -> None:
    job = make_job(company_of(owner))
    for page in ("job-options", "job-work-split"):
        assert "Floor: none. Needed: a planned floor" in see(visitor, page, job)


def test_missing_prices_are_answered_in_place_and_lead_back(visitor: Visitor, job: Job) -> None:
    PriceItem.objects.filter(code="pad").delete()
    page = visitor.get(reverse("job-options", args=[job.pk])).content.decode()
    assert f"{reverse('price-answer')}?job={job.pk}&amp;to=options" in page
    sent = {"key": "k" * 20, "count": 1, "need0-code": "pad", "need0-item": "Pad"}
    answer = f"{reverse('price-answer')}?job={job.pk}&to=options"
    refused = visitor.post(answer, sent | {"need0-amount": "much"}).content.decode()
    assert "&amp;to=options" in refused
    more = {"need0-amount": "40", "need0-per": "pack", "need0-covers": "100"}
    response = visitor.post(answer, sent | more)
    assert response.headers["Location"] == reverse("job-options", args=[job.pk])


def test_an_option_is_taken_into_the_facts_of_the_job(visitor: Visitor, job: Job) -> None:
    page = words(send(visitor, "option-take", job, way="lay_over"))
    assert "The price is made with this option now." in page
    assert "Tear out: ceramic or stone tile" in page
    assert not SiteFacts.objects.get(job=job).tear_out
    assert job.company.audit_lines.filter(act="Priced over the old floor").exists()


def test_old_base_is_taken_room_by_room(visitor: Visitor, job: Job) -> None:
    Room.objects.update(base="replace")
    TrimRun.objects.create(room=job.rooms.get(), wall=0, kind="base", length_mm=1524)
    TrimRun.objects.update(action="replace")
    send(visitor, "option-take", job, way="base_old")
    assert (job.rooms.get().base, TrimRun.objects.get().action) == ("reinstall", "reinstall")


def test_a_separate_pad_is_taken_for_floors_that_have_none(visitor: Visitor, job: Job) -> None:
    FloorZone.objects.update(pad=False)
    send(visitor, "option-take", job, way="pad_separate")
    assert job.zones.get().pad


def test_a_floor_that_is_begun_keeps_its_pad(visitor: Visitor, job: Job) -> None:
    FloorZone.objects.update(pad=False, going_on={"plan": 1, "laid": ["1-1"], "planks": 9})
    page = words(send(visitor, "option-take", job, way="pad_separate"))
    assert "a floor of which nothing is down yet" in page
    assert not job.zones.get().pad


@pytest.mark.parametrize("way", ["", "paint it", "<b>x</b>"])
def test_an_option_that_is_none_is_refused(visitor: Visitor, job: Job, way: str) -> None:
    response = send(visitor, "option-take", job, way=way)
    assert response.status_code == 422
    assert "<b>x</b>" not in response.content.decode()


def test_another_product_is_planned_by_the_worker(visitor: Visitor, job: Job) -> None:
    other = make_product(job.company, name="Ash <i>wide</i>")
    page = send(visitor, "option-plan", job, product=other.pk).content.decode()
    assert "Ash &lt;i&gt;wide&lt;/i&gt; is being planned." in page
    assert "Being planned" in page
    (errand,) = Errand.objects.filter(kind="compare-floor")
    assert f'"product":{other.pk}' in errand.payload


def test_a_product_planned_later_keeps_the_ones_before(visitor: Visitor, job: Job) -> None:
    first, second = (make_product(job.company) for _ in range(2))
    from jobs.worker import worker

    send(visitor, "option-plan", job, product=first.pk)
    worker.carry_out_waiting()
    send(visitor, "option-plan", job, product=second.pk)
    newest = Errand.objects.filter(kind="compare-floor").latest("pk")
    assert f'"product":{first.pk}' in newest.payload
    assert f'"product":{second.pk}' in newest.payload


def test_no_product_is_a_refusal_at_the_field(visitor: Visitor, job: Job) -> None:
    response = send(visitor, "option-plan", job)
    assert response.status_code == 422
    assert "Nothing was chosen; accepted: one of your products." in words(response)
    laid = send(visitor, "option-plan", job, product=job.zones.get().product_id)
    assert "That product is not on offer" in words(laid)


def test_the_split_says_what_each_takes_off(visitor: Visitor, job: Job) -> None:
    page = see(visitor, "job-work-split", job)
    for work in ("Take the old floor out", "Load and dispose", "All the work, the laying too"):
        assert work in page


def test_a_split_is_saved_and_the_price_made_with_it(visitor: Visitor, job: Job) -> None:
    before = price_now(job, TODAY)[1].direct_cost
    page = words(send(visitor, "job-work-split", job, tear_out="on", dispose="on"))
    assert "The work split is saved; the price is made with it." in page
    assert WorkSplit.objects.get(job=job).left_out == ["tear_out", "dispose"]
    after = price_now(job, TODAY)[1].direct_cost
    # 1.23 and 0.41 h of tile and 1.5 h to the dump at 48.00 are 150.72; 20.42 ft2 at 0.35 are 7.15.
    assert str(before - after) == "157.87"
    job.refresh_from_db()
    assert job.left_to_homeowner == ["tear_out", "dispose", "dump_run"]


def test_the_price_page_says_who_does_it(visitor: Visitor, job: Job) -> None:
    send(visitor, "job-work-split", job, tear_out="on")
    assert "done by the client" in see(visitor, "job-price", job)


def test_all_the_work_may_be_left_and_taken_back(visitor: Visitor, job: Job) -> None:
    send(visitor, "job-work-split", job, everything="on", paint="on")
    split = WorkSplit.objects.get(job=job)
    assert (split.everything, split.left_out) == (True, [])
    job.refresh_from_db()
    assert job.left_to_homeowner == list(TASKS)
    assert visitor.get(reverse("job-price", args=[job.pk])).status_code == 200
    send(visitor, "job-work-split", job, key="j" * 20, version=split.version)
    split.refresh_from_db()
    job.refresh_from_db()
    assert job.left_to_homeowner == []
    assert (split.everything, split.left_out) == (False, [])


@pytest.mark.parametrize("work", ["tear_out", "dispose", "everything"])
def test_no_removal_while_asbestos_is_open(visitor: Visitor, job: Job, work: str) -> None:
    presume_asbestos(job)
    response = send(visitor, "job-work-split", job, **{work: "on"})
    assert response.status_code == 422
    assert "once asbestos in the old floor is cleared" in words(response)
    assert not WorkSplit.objects.exists()


def test_no_removal_while_lead_is_open(visitor: Visitor, job: Job) -> None:
    SiteFacts.objects.filter(job=job).update(year_built=1950, painted_ft2_per_room=20)
    response = send(visitor, "job-work-split", job, tear_out="on")
    assert "once lead in the old paint is cleared" in words(response)
    assert reverse("hold-clear", args=[job.pk, "lead"]) in response.content.decode()


def test_a_stale_split_keeps_what_was_ticked(visitor: Visitor, job: Job) -> None:
    WorkSplit.objects.create(job=job, left_out=["dispose"], version=3)
    response = send(visitor, "job-work-split", job, tear_out="on")
    assert response.status_code == 409
    assert WorkSplit.objects.get(job=job).left_out == ["dispose"]


def test_the_quote_promises_no_work_that_the_homeowner_does(visitor: Visitor, owner: User) -> None:
    from estimates.readers.quote import stored_quote
    from estimates.services.quotes import issue_quote

    job = make_planned_job(company_of(owner))
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    send(visitor, "job-work-split", job, tear_out="on")
    estimate = an_estimate(owner, job)
    quote = issue_quote(estimate=estimate, user=owner, key="q", today=TODAY)
    content = stored_quote(quote)
    assert "You take up the old tile." in content.rooms[0].text
    assert "We take up" not in content.rooms[0].text
    assert "Done by you, no charge: take the old floor out." in content.inclusions
    assert accepted(quote).quote == quote


def test_no_estimate_while_a_question_stands_on_the_split(
    visitor: Visitor, job: Job, owner: User
) -> None:
    send(visitor, "job-work-split", job, tear_out="on")
    presume_asbestos(job)
    page = see(visitor, "job-work-split", job)
    assert "A question is open" in page
    assert "Left to the homeowner while asbestos in the old floor is not cleared" in page
    with pytest.raises(BadValueError, match="asbestos in the old floor"):
        make_estimate(job=job, user=owner, key="e", today=TODAY)
