"""The draft of a quote in the browser of the office: typed, previewed, issued."""

from __future__ import annotations

from datetime import timedelta
from html import unescape
from io import BytesIO

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from estimates.models import PriceItem, Quote, QuoteDraft
from estimates.readers.draft.page import said_of
from estimates.readers.draft.rows import draft_row
from estimates.readers.quote import stored_quote
from estimates.services.quotes import accept_quote
from jobs.clock import today_of
from jobs.models import Company, ExistingFloor, Job, SiteFacts, User
from jobs.services.files import read_file
from tests.builders import make_company, make_job, make_person, make_planned_job, make_run
from tests.estimates.a_job import company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def drafted_job(owner: User) -> Job:
    """A planned room whose base comes off and goes back, with tile that comes out."""
    job = make_planned_job(company_of(owner))
    make_run(job.rooms.get())
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    return job


def see(visitor: Visitor, name: str, job: Job) -> str:
    return unescape(visitor.get(reverse(name, args=[job.pk])).content.decode())


def send(visitor: Visitor, job: Job, by_htmx: bool = False, /, **typed: str) -> HttpResponse:
    """Send the form of the draft as it is shown, with what is typed."""
    address = reverse("quote-draft", args=[job.pk])
    form = visitor.get(address).context["form"]
    shown = {
        field.html_name: field.value()
        for field in form
        if field.value() not in (None, "") and field.html_name != "photos"
    }
    headers = {"HX-Request": "true"} if by_htmx else {}
    return visitor.post(address, shown | typed, headers=headers)  # type: ignore[return-value]


def issue(visitor: Visitor, job: Job) -> HttpResponse:
    """Issue what the preview shows."""
    shown = visitor.get(reverse("quote-preview", args=[job.pk])).context["issue"]
    typed = {field.html_name: field.value() for field in shown}
    return visitor.post(reverse("quote-issue-draft", args=[job.pk]), typed)  # type: ignore[return-value]


def words(response: object) -> str:
    return unescape(getattr(response, "content", b"").decode())


def test_the_price_leads_to_the_draft(visitor: Visitor, drafted_job: Job) -> None:
    page = see(visitor, "job-price", drafted_job)
    assert f'href="{reverse("quote-draft", args=[drafted_job.pk])}">Write the quote' in page


def test_the_draft_shows_what_the_quote_will_say(visitor: Visitor, drafted_job: Job) -> None:
    page = see(visitor, "quote-draft", drafted_job)
    quote = said_of(draft_row(drafted_job), today_of(drafted_job.company)).quote
    assert quote is not None
    for said in (f"${quote.total:,.2f}", quote.rooms[0].text, quote.days[0].text):
        assert said in page


def test_a_draft_is_kept_and_previewed_with_its_choices(visitor: Visitor, drafted_job: Job) -> None:
    answer = send(
        visitor,
        drafted_job,
        color="Demo Sand",
        second_way="base_new",
        second_name="New baseboard, 3¼ in",
        then="preview",
    )
    assert answer.headers["Location"] == reverse("quote-preview", args=[drafted_job.pk])
    page = see(visitor, "quote-preview", drafted_job)
    assert "color Demo Sand" in page
    assert "New baseboard, 3¼ in" in page
    assert "Your baseboard back" in page
    assert "checked" not in page


def test_what_is_typed_is_shown_before_it_is_saved(visitor: Visitor, drafted_job: Job) -> None:
    answer = send(visitor, drafted_job, True, color="Demo Sand", do="propose")
    assert "color Demo Sand" in words(answer)
    assert "<h1" not in words(answer)
    refused = send(visitor, drafted_job, True, color="x" * 81, do="propose")
    assert "81 characters are too many" in words(refused)
    assert not QuoteDraft.objects.exists()


@pytest.mark.usefixtures("set_paper")
def test_the_preview_is_what_is_issued(visitor: Visitor, drafted_job: Job) -> None:
    send(visitor, drafted_job, detail="room", second_way="base_new")
    page = see(visitor, "quote-preview", drafted_job)
    pdf = visitor.get(reverse("quote-preview-file", args=[drafted_job.pk]))
    assert issue(visitor, drafted_job).status_code == 303
    quote = stored_quote(Quote.objects.get())
    for choice in quote.choices:
        assert f"${choice.total:,.2f}" in page
    texts = [
        "".join(each.extract_text() for each in PdfReader(BytesIO(content)).pages)
        for content in (pdf.content, _issued_pdf())
    ]
    assert texts[0] == texts[1]


def _issued_pdf() -> bytes:
    return read_file(Quote.objects.get().pdf)


def test_nothing_is_issued_that_changed_since_the_preview(
    visitor: Visitor, drafted_job: Job
) -> None:
    shown = visitor.get(reverse("quote-preview", args=[drafted_job.pk])).context["issue"]
    typed = {field.html_name: field.value() for field in shown}
    PriceItem.objects.filter(code="cartons").update(amount="99.00")
    address = reverse("quote-issue-draft", args=[drafted_job.pk])
    answer = visitor.post(address, typed, follow=True)
    assert "changed since you looked" in words(answer)
    assert not Quote.objects.exists()


def test_what_is_missing_for_sending_is_linked_and_nothing_else_blocks(
    visitor: Visitor, drafted_job: Job
) -> None:
    Company.objects.update(address="", phone="", email="")
    page = see(visitor, "quote-preview", drafted_job)
    assert "Issue the quote</button>" not in page
    assert f"{reverse('company-setup')}#id_contact-address" in page
    assert "Total" in see(visitor, "quote-draft", drafted_job)


def test_a_job_without_a_price_says_why_and_keeps_what_was_typed(
    visitor: Visitor, owner: User
) -> None:
    job = make_job(company_of(owner))
    page = see(visitor, "quote-draft", job)
    assert "Not ready yet" in page
    send(visitor, job, color="Demo Sand")
    assert draft_row(job).color == "Demo Sand"
    answer = visitor.get(reverse("quote-preview", args=[job.pk]), follow=True)
    assert "planned floor" in words(answer)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"detail": "unit"}, "This job has no price by the unit"),
        ({"second_way": "base_new", "third_way": "base_new"}, "That is the second choice already"),
        ({"second_way": "no_leveler"}, "This job doesn't offer that any more"),
        ({"sample_on": "2999-01-01"}, "is still to come"),
        ({"start_week": "2001-01-01"}, "is over"),
        ({"color": "x" * 81}, "81 characters are too many"),
        ({"days_note": "x" * 401}, "401 characters are too many"),
    ],
)
def test_what_can_not_be_is_refused_at_its_field(
    visitor: Visitor, drafted_job: Job, typed: dict[str, str], said: str
) -> None:
    answer = send(visitor, drafted_job, **typed)
    assert answer.status_code == 422
    assert said in words(answer)
    assert not QuoteDraft.objects.exists()


def test_a_third_choice_without_a_second_is_the_second(visitor: Visitor, drafted_job: Job) -> None:
    send(visitor, drafted_job, third_way="base_new", third_name="All new")
    row = draft_row(drafted_job)
    assert (row.second_way, row.second_name, row.third_way) == ("base_new", "All new", "")


def test_exclusions_that_are_the_company_s_follow_the_company(
    visitor: Visitor, drafted_job: Job
) -> None:
    send(visitor, drafted_job)
    assert draft_row(drafted_job).exclusions == ""
    send(visitor, drafted_job, exclusions="Moving the piano\nPainting")
    quote = said_of(draft_row(drafted_job), today_of(drafted_job.company)).quote
    assert quote is not None
    assert quote.exclusions == ("Moving the piano", "Painting")


def test_what_is_typed_is_shown_as_words(visitor: Visitor, drafted_job: Job) -> None:
    evil = "<script>alert(1)</script><img src='file:///etc/passwd'>"
    send(visitor, drafted_job, color=evil[:80], days_note=evil, exclusions=evil)
    page = visitor.get(reverse("quote-preview", args=[drafted_job.pk])).content.decode()
    assert "<script>alert" not in page
    assert "<img src='file" not in page
    assert "&lt;script&gt;" in page
    assert visitor.get(reverse("quote-preview-file", args=[drafted_job.pk])).status_code == 200


def test_work_that_would_begin_while_the_sale_may_be_canceled_is_flagged(
    visitor: Visitor, drafted_job: Job
) -> None:
    today = today_of(drafted_job.company)
    send(visitor, drafted_job, start_week=today.isoformat())
    assert "while the sale may still be canceled" in see(visitor, "quote-draft", drafted_job)
    send(visitor, drafted_job, start_week=(today + timedelta(days=21)).isoformat())
    assert "while the sale may still be canceled" not in see(visitor, "quote-draft", drafted_job)


def test_an_agreed_job_says_that_a_change_goes_by_change_order(
    visitor: Visitor, drafted_job: Job
) -> None:
    issue(visitor, drafted_job)
    quote = Quote.objects.get()
    accept_quote(quote=quote, name="Ines Okafor", today=quote.valid_until, by_link=False)
    assert "goes by change order" in see(visitor, "quote-draft", drafted_job)
    assert "Issue the quote</button>" not in see(visitor, "quote-preview", drafted_job)


def test_a_preview_that_cant_be_made_leads_to_the_draft_that_says_why(
    visitor: Visitor, drafted_job: Job
) -> None:
    drafted_job.zones.all().delete()
    for name in ("quote-preview", "quote-preview-file"):
        answer = visitor.get(reverse(name, args=[drafted_job.pk]))
        assert answer.headers["Location"] == reverse("quote-draft", args=[drafted_job.pk])
    assert "alert" in see(visitor, "quote-draft", drafted_job)


def test_a_stranger_sees_no_draft(drafted_job: Job) -> None:
    stranger = Visitor()
    stranger.force_login(make_person(make_company("Other Floors")))
    for name in ("quote-draft", "quote-preview", "quote-preview-file"):
        assert stranger.get(reverse(name, args=[drafted_job.pk])).status_code == 404


def test_words_of_choices_are_folded_until_some_are_typed(
    visitor: Visitor, drafted_job: Job
) -> None:
    folded, unfolded = "<details><summary>Name the", "<details open><summary>Name the"
    assert folded in see(visitor, "quote-draft", drafted_job)
    send(visitor, drafted_job, second_way="base_new", second_name="White baseboard")
    assert unfolded in see(visitor, "quote-draft", drafted_job)
