"""Pages of change orders: the office writes and sends, the client answers by link."""

from __future__ import annotations

import re

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import ChangeDraft, ChangeOffer
from jobs.models import Job, Role, User
from tests.builders import make_crew, make_day, make_person
from tests.estimates.a_job import LATER, set_price
from tests.orders.a_change import make_change
from tests.orders.two_rooms import (
    hall_of,
    learn,
    make_dearer,
    plan_hall,
    two_rooms,
    widen,
)
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    agreed = two_rooms(owner)
    learn(agreed.company)
    make_dearer(agreed.company, LATER)
    return Job.objects.get(pk=agreed.pk)


def key_of(page: str, name: str = "key") -> str:
    match = re.search(rf'name="{name}" value="([^"]+)"', page)
    assert match is not None
    return match[1]


def post(visitor: Visitor, name: str, pk: int, **fields: str) -> str:
    """Send a form with a key of its own, and return the page that follows."""
    prefix = next((each.split("-")[0] + "-" for each in fields if "-" in each), "")
    data = {f"{prefix}key": f"{name}{len(fields)}"} | fields
    return words(visitor.post(reverse(name, args=[pk]), data, follow=True))


def a_sent_shelf(visitor: Visitor, job: Job) -> ChangeOffer:
    """Written, priced at two hours and sent, by the pages alone."""
    form = {"text": "Take the shelf down", "noted_on": "2027-03-09", "version": "1"}
    post(visitor, "change-add", job.pk, **form, order_number="PO 88-2")
    draft = ChangeDraft.objects.get()
    line = {"line-label": "Take the shelf down", "line-kind": "hours", "line-quantity": "2"}
    post(visitor, "change-line-add", draft.pk, **line)
    page = visitor.get(reverse("change-draft", args=[draft.pk])).content.decode()
    sending = {"send-amount": "143.36", "send-seen": key_of(page, "send-seen")}
    assert "is ready to be sent" in post(visitor, "change-send", draft.pk, **sending)
    return ChangeOffer.objects.get()


def link_of(visitor: Visitor, offer: ChangeOffer) -> str:
    page = visitor.get(reverse("change-offer", args=[offer.pk])).content.decode()
    match = re.search(r'href="http://[^/"]+(/c/[^"]+)"', page)
    assert match is not None
    return match[1]


def test_two_hours_are_written_sent_and_accepted_by_link(visitor: Visitor, job: Job) -> None:
    offer = a_sent_shelf(visitor, job)
    link, client = link_of(visitor, offer), Visitor()
    page = words(client.get(link))
    assert "Fernwood Floors" in page
    # Two hours at 48 with 12 % overhead and a margin of 25 %: 143.36, not the 390.00 of today's.
    for said in ("Take the shelf down", "$143.36", "$903.21", "$1,046.57", "PO 88-2"):
        assert said in page
    assert "2 h" not in page
    answer = client.post(link, {"name": "Ines Okafor", "read": "on"}, follow=True)
    assert "accepted this change" in words(answer)
    assert job.change_orders.get().agreed_by == "Ines Okafor"
    assert "by Ines Okafor," in words(visitor.get(reverse("job-changes", args=[job.pk])))


def test_without_a_name_or_a_tick_nothing_is_agreed(visitor: Visitor, job: Job) -> None:
    link, client = link_of(visitor, a_sent_shelf(visitor, job)), Visitor()
    answer = client.post(link, {"name": "Ines Okafor"})
    assert answer.status_code == 422
    assert 'value="Ines Okafor"' in answer.content.decode()
    assert not job.change_orders.exists()


def test_declined_with_a_reason_it_stays_as_agreed(visitor: Visitor, job: Job) -> None:
    offer = a_sent_shelf(visitor, job)
    link, client = link_of(visitor, offer), Visitor()
    answer = client.post(f"{link}/decline", {"reason": "Too <b>dear</b>"}, follow=True)
    assert "Declined" in words(answer)
    assert 'name="name"' not in answer.content.decode()
    page = visitor.get(reverse("change-offer", args=[offer.pk])).content.decode()
    assert "Too &lt;b&gt;dear&lt;/b&gt;" in page


def test_a_guessed_link_and_the_one_before_a_new_one_open_nothing(
    visitor: Visitor, job: Job
) -> None:
    offer = a_sent_shelf(visitor, job)
    link, client = link_of(visitor, offer), Visitor()
    assert client.get("/c/guessed").status_code == 404
    post(visitor, "change-relink", offer.pk)
    assert client.get(link).status_code == 404
    assert client.get(link_of(visitor, offer)).status_code == 200


def test_a_withdrawn_one_shows_no_accept(visitor: Visitor, job: Job) -> None:
    offer = a_sent_shelf(visitor, job)
    link, client = link_of(visitor, offer), Visitor()
    post(visitor, "change-withdraw", offer.pk)
    page = client.get(link).content.decode()
    assert "Withdrawn" in page
    assert 'name="name"' not in page
    assert client.post(link, {"name": "Ines Okafor", "read": "on"}).status_code == 422


def test_the_words_of_a_client_are_no_code(visitor: Visitor, job: Job) -> None:
    form = {"text": "<script>alert(1)</script>", "noted_on": "2027-03-09", "version": "1"}
    post(visitor, "change-add", job.pk, **form)
    draft = ChangeDraft.objects.get()
    page = visitor.get(reverse("change-draft", args=[draft.pk])).content.decode()
    assert "<script>alert" not in page


def test_the_draft_of_an_outdated_plan_leads_to_the_floor(visitor: Visitor, job: Job) -> None:
    form = {"text": "A longer hall", "noted_on": "2027-03-09", "version": "1", "with_plan": "on"}
    post(visitor, "change-add", widen(job).pk, **form)
    url = reverse("change-draft", args=[ChangeDraft.objects.get().pk])
    page = visitor.get(url).content.decode()
    assert f'<a href="{reverse("zone", args=[hall_of(job).zone_id])}">Hall</a>' in page
    assert "Make the change order" not in page
    plan_hall(job)
    page = visitor.get(url).content.decode()
    assert "Make the change order" in page
    assert "$174.19" in page


def test_material_without_a_price_is_refused_at_its_field(visitor: Visitor, job: Job) -> None:
    draft = make_change(job).draft
    line = {"line-label": "Brackets", "line-kind": "material", "line-quantity": "4"}
    page = post(visitor, "change-line-add", draft.pk, **line)
    assert "accepted: what one costs or is charged at" in page
    assert 'value="Brackets"' in page


def test_the_crew_notes_extra_work_and_the_office_finds_its_draft(
    visitor: Visitor, job: Job
) -> None:
    member = make_person(job.company, Role.CREW, name="Bo Crew")
    make_day(job, make_crew(job.company, member))
    phone = Visitor()
    phone.force_login(member)
    form = {"text": "Take the shelf down", "asked_by": "Ines Okafor", "hours": "2"}
    assert "The extra work is noted" in post(phone, "extra-ask", job.pk, **form)
    log_page = words(phone.get(reverse("job-log", args=[job.pk])))
    assert "Take the shelf down" in log_page
    assert "Open the change orders" not in log_page
    page = words(visitor.get(reverse("job-changes", args=[job.pk])))
    assert "noted by Bo Crew" in page
    draft = ChangeDraft.objects.get()
    assert "$143.36" in words(visitor.get(reverse("change-draft", args=[draft.pk])))


@pytest.mark.usefixtures("set_paper")
def test_the_pdf_is_the_one_that_was_sent(visitor: Visitor, job: Job) -> None:
    offer = a_sent_shelf(visitor, job)
    link = link_of(visitor, offer)
    set_price(job.company, "pad", "99", LATER)
    ours = b"".join(visitor.get(reverse("change-file", args=[offer.pk])))
    theirs = b"".join(Visitor().get(f"{link}/file"))
    assert ours == theirs
    assert ours.startswith(b"%PDF")
