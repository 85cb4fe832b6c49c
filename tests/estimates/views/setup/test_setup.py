"""The set-up page: parts saved on their own, refused at the field, nothing typed lost."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import time
from decimal import Decimal
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image

from estimates.models import PriceTerms, SalesTerms, StateNotice
from jobs.models import Company, Role, User
from tests.builders import make_company, make_person
from tests.estimates.a_job import company_of
from tests.reading import words

pytestmark = pytest.mark.django_db

PAGE = "/company/setup"
CONTACT = {
    "name": "Fernwood Floors",
    "address": "18 Mill Race Road",
    "phone": "555-0100",
    "email": "",
    "time_zone": "America/Denver",
}
PAYMENT = {
    "deposit_percent": "30",
    "deposit_dollars": "",
    "payment_stages": "deposit_rest",
    "progress_percent": "",
    "payment_ways": "Check",
    "late_fee_percent": "1.5",
    "late_fee_words": "",
}
TERMS = {
    "valid_days": "21",
    "arrives_at": "07:45",
    "terms": "Net.",
    "exclusions": "Paint.",
    "changes_words": "In writing.",
    "warranty_months": "24",
    "warranty_words": "Seams that open.",
}


def part_of(
    part: str, values: Mapping[str, object], key: str = "k", **versions: int
) -> dict[str, object]:
    """A part as the browser sends it."""
    known = {"contact": "company", "license": "company", "law": "sales", "numbers": "sales"}
    rows = [known[part]] if part in known else ["sales", "price"]
    sent: dict[str, object] = {f"{row}_version": versions.get(row, 1) for row in rows}
    sent |= {**values, "key": key}
    return {f"{part}-{name}": value for name, value in sent.items()} | {"part": part}


def test_a_part_is_saved_and_leads_to_the_next(visitor: Visitor, owner: User) -> None:
    answer = visitor.post(PAGE, part_of("contact", CONTACT))
    assert answer.url == f"{PAGE}?open=license#license"  # type: ignore[attr-defined]
    company = Company.objects.get(pk=company_of(owner).pk)
    assert (company.address, company.time_zone) == ("18 Mill Race Road", "America/Denver")


def test_what_a_quote_waits_for_is_named_until_it_is_typed(visitor: Visitor) -> None:
    Company.objects.update(address="", phone="", email="")
    page = words(visitor.get(PAGE))
    assert "Needed before a quote can be sent" in page
    assert 'href="#id_contact-address">The company\'s address' in page
    visitor.post(PAGE, part_of("contact", CONTACT))
    page = words(visitor.get(PAGE))
    assert "A quote can be sent" in page
    assert "?open=law#id_law-state" in page


def test_law_payment_terms_and_numbers_reach_their_rows(visitor: Visitor) -> None:
    law = {"state": "PA", "lead_certificate": "NAT-1", "lead_pamphlet": "Renovate Right"}
    for part, values in (("law", law), ("payment", PAYMENT), ("terms", TERMS)):
        sales = SalesTerms.objects.first()
        price = PriceTerms.objects.first()
        versions = {"sales": sales.version if sales else 1, "price": price.version if price else 1}
        assert visitor.post(PAGE, part_of(part, values, part, **versions)).status_code == 303
    row, price = SalesTerms.objects.get(), PriceTerms.objects.get()
    assert (row.state, row.cancel_right, row.lead_certificate) == ("PA", False, "NAT-1")
    assert (row.late_fee_percent, row.deposit_dollars) == (Decimal("1.50"), None)
    assert (row.arrives_at, row.warranty_months) == (time(7, 45), 24)
    assert (price.valid_days, price.terms, price.exclusions) == (21, "Net.", "Paint.")


def test_the_next_job_number_is_refused_where_it_is_typed(visitor: Visitor, owner: User) -> None:
    Company.objects.filter(pk=company_of(owner).pk).update(next_job_number=5)
    page = words(visitor.get(PAGE))
    assert "numbers go on, 5 comes next" in page
    sent = {"numbering": "year", "next_job": "0"}
    answer = visitor.post(PAGE, part_of("numbers", sent))
    assert answer.status_code == 422
    assert "0 can't be used; accepted: a whole number from 1" in words(answer)


@pytest.mark.parametrize(
    ("part", "values", "message"),
    [
        (
            "contact",
            CONTACT | {"name": "x" * 200},
            "200 characters are too many; accepted: up to 120.",
        ),
        ("contact", CONTACT | {"name": "  "}, "Nothing was typed"),
        ("contact", CONTACT | {"email": "mara"}, "“mara” is no address"),
        ("contact", CONTACT | {"time_zone": "Mars/Base"}, "Mars/Base"),
        ("law", {"state": "ZZ"}, "ZZ"),
        ("payment", PAYMENT | {"deposit_percent": "130"}, "“130” can't be used"),
        ("payment", PAYMENT | {"deposit_dollars": "a lot"}, "“a lot” can't be used"),
        ("payment", PAYMENT | {"late_fee_percent": "11"}, "a number from 0 to 10"),
        (
            "payment",
            PAYMENT | {"payment_stages": "deposit_progress_rest"},
            "Nothing is paid half way",
        ),
        (
            "payment",
            PAYMENT | {"payment_stages": "deposit_progress_rest", "progress_percent": "71"},
            "71% can't be used; accepted: up to 70%, what a deposit of 30% leaves.",
        ),
        ("terms", TERMS | {"arrives_at": "late"}, "an hour written as 08:30"),
        ("terms", TERMS | {"warranty_months": "-1"}, "-1 can't be used"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field_and_stays_typed(
    visitor: Visitor, part: str, values: dict[str, object], message: str
) -> None:
    answer = visitor.post(PAGE, part_of(part, values))
    page = words(answer)
    assert answer.status_code == 422
    assert message in page
    assert f'id="{part}" open' in page
    typed = [str(value).strip() for name, value in values.items() if name != "state"]
    assert all(text in page for text in typed if text and text != "Mars/Base")
    assert not SalesTerms.objects.exists()


def test_a_percent_for_two_stages_is_not_kept(visitor: Visitor) -> None:
    visitor.post(PAGE, part_of("payment", PAYMENT | {"progress_percent": "40"}))
    assert SalesTerms.objects.get().progress_percent == 0


def test_words_are_shown_as_words_never_as_markup(visitor: Visitor) -> None:
    evil = "<script>alert(1)</script><img src=http://example.com/x>"
    visitor.post(PAGE, part_of("contact", CONTACT | {"address": evil}))
    sent = {"notices-key": "n", "notices-version": 1, "part": "notices"}
    visitor.post(PAGE, sent | {"notices-title": evil[:100], "notices-text": evil})
    page = words(visitor.get(PAGE))
    assert "<script>alert" not in page
    assert "<img src=http" not in page
    assert page.count("&lt;script&gt;alert(1)") >= 3


def test_who_is_overtaken_reads_what_stands_and_saves_the_second_time(visitor: Visitor) -> None:
    visitor.post(PAGE, part_of("contact", CONTACT))
    answer = visitor.post(PAGE, part_of("contact", CONTACT | {"phone": "555-0199"}, "other"))
    assert answer.status_code == 409
    assert "Phone is now “555-0100”; you have “555-0199”." in words(answer)
    assert 'name="contact-company_version" value="2"' in words(answer)
    again = part_of("contact", CONTACT | {"phone": "555-0199"}, "third", company=2)
    assert visitor.post(PAGE, again).status_code == 303


def a_logo() -> SimpleUploadedFile:
    out = BytesIO()
    Image.new("RGB", (90, 30), "navy").save(out, "PNG")
    return SimpleUploadedFile("ours.png", out.getvalue(), "image/png")


def logo_sent(upload: SimpleUploadedFile, **more: object) -> dict[str, object]:
    return {"part": "logo", "logo-key": "k", "logo-version": 1, "logo-logo": upload} | more


def test_a_logo_is_kept_shown_and_removed(visitor: Visitor, owner: User) -> None:
    visitor.post(PAGE, logo_sent(a_logo()))
    company = Company.objects.get(pk=company_of(owner).pk)
    assert company.logo is not None
    url = reverse("company-logo", args=[company.logo.pk])
    shown = visitor.get(url)
    assert shown["Content-Type"] == "image/png"
    assert Image.open(BytesIO(shown.getvalue())).size == (90, 30)
    assert f'src="{url}"' in words(visitor.get(PAGE))
    visitor.post(PAGE, {"part": "logo", "logo-key": "r", "do": "remove"})
    assert url not in words(visitor.get(PAGE))
    assert not Company.objects.filter(logo__isnull=False).exists()
    assert visitor.get(url).status_code == 200
    assert Visitor().get(url).status_code == 302
    stranger = Visitor()
    stranger.force_login(make_person(make_company("Other Floors")))
    assert stranger.get(url).status_code == 404


@pytest.mark.parametrize(
    ("upload", "message"),
    [
        (
            SimpleUploadedFile("plan.pdf", b"%PDF-1.7", "application/pdf"),
            "“plan.pdf” can't be a logo; accepted: a picture that can be opened: PNG,",
        ),
        (SimpleUploadedFile("a.svg", b"<svg onload=alert(1)>"), "“a.svg” can't be a logo"),
        (SimpleUploadedFile("a.png", b""), "This file is empty"),
        (
            SimpleUploadedFile("big.png", bytes(40 * 2**20)),
            "“40 MB” can't be a logo; accepted: up to 8 MB.",
        ),
        (SimpleUploadedFile("<b>.png", b"x"), "“&lt;b&gt;.png” can't be a logo"),
    ],
)
def test_what_is_no_logo_is_refused(
    visitor: Visitor, owner: User, upload: SimpleUploadedFile, message: str
) -> None:
    answer = visitor.post(PAGE, logo_sent(upload))
    assert answer.status_code == 422
    assert message in words(answer)
    assert company_of(owner).logo_id is None


def test_no_file_at_all_is_said(visitor: Visitor) -> None:
    answer = visitor.post(PAGE, {"part": "logo", "logo-key": "k", "logo-version": 1})
    assert "No file was chosen" in words(answer)


def test_notices_are_added_changed_and_removed(visitor: Visitor) -> None:
    sent = {"part": "notices", "notices-key": "n", "notices-version": 1}
    visitor.post(PAGE, sent | {"notices-title": "Liens", "notices-text": "Read this."})
    notice = StateNotice.objects.get()
    assert (notice.title, notice.place) == ("Liens", 1)
    url = reverse("state-notice", args=[notice.pk])
    visitor.post(url, {"key": "c", "version": 1, "title": "Mechanics' liens", "text": "Read it."})
    assert "Mechanics' liens" in words(visitor.get(PAGE))
    remove = reverse("notice-remove", args=[notice.pk])
    assert "no longer printed" in words(visitor.get(remove))
    assert visitor.post(remove).status_code == 303
    assert not StateNotice.objects.exists()


def test_a_thirteenth_notice_is_refused_and_stays_typed(visitor: Visitor, owner: User) -> None:
    for place in range(1, 13):
        values = {"title": f"Notice {place}", "text": "Read.", "place": place}
        StateNotice.objects.create(company=company_of(owner), **values)
    sent = {"part": "notices", "notices-key": "n", "notices-version": 1}
    answer = visitor.post(PAGE, sent | {"notices-title": "More", "notices-text": "Long words"})
    assert answer.status_code == 422
    assert "up to 12 notices" in words(answer)
    assert "Long words" in words(answer)


def test_the_set_up_is_the_owners_alone(owner: User) -> None:
    estimator = Visitor()
    estimator.force_login(make_person(company_of(owner), Role.ESTIMATOR))
    assert estimator.get(PAGE).status_code == 403
    notice = StateNotice.objects.create(company=make_company("Other"), title="A", text="B", place=1)
    stranger = Visitor()
    stranger.force_login(owner)
    assert stranger.get(reverse("state-notice", args=[notice.pk])).status_code == 404


def test_an_empty_home_and_the_company_lead_to_the_set_up(visitor: Visitor, owner: User) -> None:
    link = f'href="{PAGE}">Set up the company</a>'
    assert link in words(visitor.get(reverse("job-list")))
    assert link in words(visitor.get(reverse("company")))
    estimator = Visitor()
    estimator.force_login(make_person(company_of(owner), Role.ESTIMATOR))
    assert link not in words(estimator.get(reverse("job-list")))


def test_deposits_are_held_against_the_states_cap(visitor: Visitor, owner: User) -> None:
    SalesTerms.objects.create(company=company_of(owner), state="CA")
    page = words(visitor.get(PAGE))
    assert "Of $12,000.00 the deposit is $1,000.00, as the state caps it." in page
    assert "Cal. Bus. &amp; Prof. Code 7159.5" in page
