"""Requests that once were answered with a fault of the program: each has a clear answer now."""

from __future__ import annotations

import pytest
from django.forms import BaseForm
from django.test import Client as Visitor
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.urls.converters import IntConverter

from estimates.models import JobPrice, JobTax
from jobs.domain.numerals import whole_number
from jobs.forms.versions import HIGHEST_VERSION
from jobs.http import MOST_SENT_MB
from jobs.models import Client, Crew, ExistingFloor, Job, Room, SiteFacts, User
from tests.jobs.room_sheets import FOUR, sheet
from tests.reading import words

pytestmark = pytest.mark.django_db

NO_NUMBERS = ["undefined", "²", "٣", "-1", "1.5", "9" * 19, "9" * 5000, " 1", "1_0", "\u0661"]


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_only_plain_digits_are_a_number(text: str) -> None:
    assert whole_number(text) is None


def test_plain_digits_are_read() -> None:
    assert [whole_number(text) for text in ("0", "007", "9" * 18)] == [0, 7, 10**18 - 1]


@pytest.mark.parametrize("number", NO_NUMBERS[:7])
@pytest.mark.parametrize(
    "address",
    [
        "/jobs/add?client=",
        "/prices/set?job=",
        "/prices/export?part=",
        "/products/add?job=",
        "/rates/set?job=",
        "/prices/card/floor_area?job=",
    ],
)
def test_a_number_that_is_none_opens_the_page_without_it(
    visitor: Visitor, job: Job, address: str, number: str
) -> None:
    assert visitor.get(address + number[:50]).status_code == 200


@pytest.mark.parametrize("week", ["0001-01-01", "9999-12-31", "9999-12-27", "2026-99-99", "²"])
@pytest.mark.parametrize("address", ["/days?week=", "/board?from="])
def test_the_first_and_the_last_week_of_the_calendar(
    visitor: Visitor, job: Job, address: str, week: str
) -> None:
    assert visitor.get(address + week).status_code == 200


@pytest.mark.parametrize("address", ["/q/a%00b", "/c/%00", "/jobs?page=%00", "/search?q=a%00b"])
def test_a_nul_in_an_address_is_refused_in_words(visitor: Visitor, address: str) -> None:
    answer = visitor.get(address)
    assert answer.status_code == 400
    assert "The request could not be read" in words(answer)


@pytest.mark.parametrize("path", ["/clients/add", "/sign-in"])
def test_a_request_that_brings_too_much_is_refused_unread(visitor: Visitor, path: str) -> None:
    most = MOST_SENT_MB * 2**20
    kind = "application/x-www-form-urlencoded"
    answers = [
        visitor.generic("POST", path, b"name=Ada", kind, CONTENT_LENGTH=str(size))
        for size in (most, most + 1)
    ]
    assert answers[0].status_code != 413
    assert answers[1].status_code == 413
    assert f"larger than {MOST_SENT_MB} MB" in words(answers[1])


def posting_addresses() -> list[str]:
    """Return every address of ours, with 1 or a word where it takes something."""
    addresses: list[str] = []
    for part in get_resolver().url_patterns:
        inner = part.url_patterns if isinstance(part, URLResolver) else [part]
        if "admin" not in str(part.pattern):
            addresses += [_address(one) for one in inner if isinstance(one, URLPattern)]
    return addresses


def _address(pattern: URLPattern) -> str:
    converters = pattern.pattern.converters.items()
    values = {name: 1 if isinstance(kind, IntConverter) else "x" for name, kind in converters}
    return reverse(str(pattern.name), kwargs=values)


@pytest.mark.parametrize("charset", ["undefined", "base64", "x\u00e9"])
def test_a_charset_that_is_none_is_refused_at_every_address(
    visitor: Visitor, job: Job, charset: str
) -> None:
    kind = f"multipart/form-data; charset={charset}; boundary=b"
    body = b'--b\r\nContent-Disposition: form-data; name="name"\r\n\r\nx\r\n--b--\r\n'
    addresses = posting_addresses()
    answers = {one: visitor.generic("POST", one, body, kind).status_code for one in addresses}
    assert len(addresses) > 200
    assert {one: status for one, status in answers.items() if status != 400} == {}


@pytest.mark.parametrize("number", ["9" * 19, "9" * 30, "²", "x"])
@pytest.mark.parametrize(
    ("name", "field"),
    [("crew-add", "members"), ("zone-add", "rooms"), ("zone-compare", "products")],
)
def test_a_number_no_database_holds_is_refused_among_the_choices(
    visitor: Visitor, job: Job, name: str, field: str, number: str
) -> None:
    about = {"crew-add": [], "zone-add": [job.pk], "zone-compare": [job.zones.get().pk]}[name]
    answer = visitor.post(reverse(name, args=about), {"key": "k1", "name": "Two", field: [number]})
    assert answer.status_code == 422
    assert not Crew.objects.filter(name="Two").exists()


@pytest.mark.parametrize("doing", ["save", "nothing", "../base", "add-", "add-roof", "drawing"])
def test_a_part_of_a_room_that_is_none_is_the_whole_page(
    visitor: Visitor, job: Job, doing: str
) -> None:
    sent = sheet("", *FOUR[1:], do=doing)
    url = reverse("room-add", args=[job.pk])
    answer = visitor.post(url, sent, headers={"HX-Request": "true"})
    assert answer.status_code in (200, 422)
    assert "</html>" in words(answer)


def test_a_form_sent_again_after_what_it_saved_was_removed_says_so(
    visitor: Visitor, owner: User
) -> None:
    sent = {"key": "k1", "version": "1", "name": "Ada Lind", "net_days": "30", "retainage": "0"}
    visitor.post(reverse("client-add"), sent)
    Client.objects.get(name="Ada Lind").delete()
    answer = visitor.post(reverse("client-add"), sent)
    assert answer.status_code == 422
    assert "was removed since" in words(answer)
    assert "Ada Lind" in words(answer)
    assert not Client.objects.filter(name="Ada Lind").exists()


def test_a_room_sent_again_after_it_was_removed_says_so(visitor: Visitor, job: Job) -> None:
    before = Room.objects.count()
    sent = sheet(*FOUR, name="Attic")
    visitor.post(reverse("room-add", args=[job.pk]), sent)
    Room.objects.get(name="Attic").delete()
    answer = visitor.post(reverse("room-add", args=[job.pk]), sent)
    assert answer.status_code == 422
    assert Room.objects.count() == before


def test_the_changes_of_a_job_whose_carpet_stays_after_all(visitor: Visitor, job: Job) -> None:
    facts, _ = SiteFacts.objects.get_or_create(job=job)
    facts.existing_floor, facts.tear_out = ExistingFloor.CARPET, False
    facts.save()
    assert visitor.get(reverse("job-changes", args=[job.pk])).status_code == 200


@pytest.mark.parametrize("version", [2**31 - 1, 2**31, 2**63, 9 * 10**39])
@pytest.mark.parametrize("name", ["price-tax", "price-adjust"])
def test_a_version_that_no_column_holds_is_refused_where_no_row_is_yet(
    visitor: Visitor, job: Job, name: str, version: int
) -> None:
    part = "tax" if name == "price-tax" else "adjust"
    fields = {"tax_mode": "all", "state_percent": "0", "county_percent": "0", "city_percent": "0"}
    sent = fields | {"certificate": "", "key": "k1", "version": str(version), "round_to": "none"}
    JobTax.objects.filter(job=job).delete()
    JobPrice.objects.filter(job=job).delete()
    address = reverse(name, args=[job.pk])
    answer = visitor.post(address, {f"{part}-{field}": value for field, value in sent.items()})
    assert answer.status_code == 422
    assert not JobTax.objects.filter(job=job).exists()
    assert not JobPrice.objects.filter(job=job).exists()


def test_no_form_takes_a_version_without_a_limit() -> None:
    """Whoever adds a form with a version takes the field that knows its limit."""
    assert get_resolver().url_patterns  # every page is read in, and with it every form
    bare = [
        f"{kind.__module__}.{kind.__name__}.{name}"
        for kind in _all_forms(BaseForm)
        for name, field in getattr(kind, "base_fields", {}).items()
        if name.endswith("version") and getattr(field, "max_value", None) != HIGHEST_VERSION
    ]
    assert bare == []


def _all_forms(kind: type) -> set[type]:
    below: list[type] = kind.__subclasses__()
    return set(below).union(*(_all_forms(one) for one in below))
