"""The ballpark at the phone: worked out, kept as it was said, started as a job."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import Ballpark, PriceItem, PriceTerms
from jobs.models import Client, Job, User
from tests.builders import make_client, make_person, make_product
from tests.estimates.a_job import an_owner, company_of

pytestmark = pytest.mark.django_db

TEN_BY_TEN = {"size": "10 x 10", "old_floor": "none", "base": "keep", "flooring_ft2": "3"}


@pytest.fixture
def owner() -> User:
    """The owner of a company at 50 an hour, overhead 10 %, margin 20 %, with starting prices."""
    owner = an_owner()
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company_of(owner), burdened_rate=50, **shares)
    return owner


def say(visitor: Visitor, do: str = "show", **typed: str) -> HttpResponse:
    sent = {"key": "call", "do": do} | TEN_BY_TEN | typed
    return visitor.post(reverse("ballpark"), sent)  # type: ignore[return-value]


def keep(visitor: Visitor, **typed: str) -> Ballpark:
    say(visitor, "keep", **{"name": "Ines Okafor", "phone": "555-0142"} | typed)
    return Ballpark.objects.get()


def start(visitor: Visitor, row: Ballpark, **typed: str) -> HttpResponse:
    sent = {"key": "start", "name": row.name, "phone": row.phone, "title": "Den"} | typed
    url = reverse("ballpark-start", args=[row.pk])
    return visitor.post(url, {"address": "4 Cooper Lane"} | sent)  # type: ignore[return-value]


def text(answer: HttpResponse) -> str:
    return answer.content.decode()


def test_a_range_is_worked_out_and_nothing_is_kept(visitor: Visitor) -> None:
    page = text(say(visitor))
    # 433.13 + 447.23 + 68.75 and 508.20 + 585.93 + 68.75, to the nearest 10: see the arithmetic.
    assert "$960.00 to $1,180.00" in page
    assert "Ballpark, not a quote" in page
    assert "leveling and repair of the subfloor" in page
    assert "no rate card yet" in page
    assert not Ballpark.objects.exists()


def test_the_rate_card_sets_the_range_where_there_is_one(visitor: Visitor, owner: User) -> None:
    card = {"label": "Floor laid", "unit": "ft2", "kind": "adder", "amount": Decimal("3.25")}
    PriceItem.objects.create(
        company=company_of(owner), code="floor_area", effective_from=date(2020, 1, 1), **card
    )
    page = text(say(visitor))
    # Laying 325.00 to 357.50, planks 433.13 to 508.20, the drive 68.75: 826.88 and 934.45.
    assert "$830.00 to $930.00" in page
    assert "Your rate card" in page


def test_a_product_of_the_book_is_priced_by_the_square_foot(visitor: Visitor, owner: User) -> None:
    make_product(company_of(owner), name="Larch 7")
    PriceItem.objects.filter(code="cartons").update(item="Larch 7")
    # Ten planks of 48 by 7 in cover 23.333 ft2 a carton: 2.571429 a square foot.
    page = text(say(visitor, flooring="Larch 7", flooring_ft2=""))
    # 105 x 2.571429 x 1.375 = 371.25.
    assert "$371.25" in page


def test_a_plank_is_chosen_or_typed_and_not_both(visitor: Visitor, owner: User) -> None:
    make_product(company_of(owner), name="Larch 7")
    PriceItem.objects.filter(code="cartons").update(item="Larch 7")
    refused = say(visitor, flooring="Larch 7")
    assert refused.status_code == 422
    assert "A plank is chosen above" in text(refused)


def test_a_ballpark_is_kept_as_it_was_said(visitor: Visitor) -> None:
    row = keep(visitor, doors="2")
    assert (row.size, row.area_ft2, row.name) == ("10 x 10", Decimal(100), "Ines Okafor")
    PriceTerms.objects.update(burdened_rate=90)
    page = text(visitor.get(reverse("ballpark-kept", args=[row.pk])))  # type: ignore[arg-type]
    for words in ("Ines Okafor", "555-0142", "10 x 10", "$3.00 a ft²", "Ballpark, not a quote"):
        assert words in page
    assert row.lines[0] == {"label": "Planks", "least": "433.13", "most": "508.20"}


def test_the_same_call_sent_twice_is_kept_once(visitor: Visitor) -> None:
    keep(visitor)
    keep(visitor)
    assert Ballpark.objects.count() == 1


def test_a_ballpark_becomes_a_job_of_a_new_client(visitor: Visitor) -> None:
    row = keep(visitor)
    page = text(visitor.get(reverse("ballpark-start", args=[row.pk])))  # type: ignore[arg-type]
    assert 'value="Floor, 100 ft²"' in page
    start(visitor, row)
    job = Job.objects.get()
    assert (job.title, job.address, job.client.name) == ("Den", "4 Cooper Lane", "Ines Okafor")
    assert job.client.phone == "555-0142"
    assert "not a quote: $960.00 to $1,180.00 for 100\u00a0ft²" in job.client.note
    row.refresh_from_db()
    assert row.job == job
    assert not job.rooms.exists()
    assert not job.estimates.exists()


def test_who_called_before_stays_one_client(visitor: Visitor, owner: User) -> None:
    make_client(company_of(owner), "Ines Okafor", phone="555-0142")
    start(visitor, keep(visitor))
    assert Client.objects.count() == 1
    assert Job.objects.get().client.name == "Ines Okafor"


def test_a_namesake_with_another_phone_is_another_client(visitor: Visitor, owner: User) -> None:
    make_client(company_of(owner), "Ines Okafor", phone="555-0143")
    start(visitor, keep(visitor))
    assert Client.objects.count() == 2


def test_a_ballpark_becomes_one_job(visitor: Visitor) -> None:
    row = keep(visitor)
    start(visitor, row)
    refused = start(visitor, row, title="Another", key="later")
    assert refused.status_code == 422
    assert Job.objects.count() == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"size": ""}, "Nothing was typed; accepted: 370, or 12 x 14 + 10 x 11."),
        ({"size": "0"}, "“0” can't be used; accepted: square feet"),
        ({"size": "ten by ten"}, "“ten by ten” can't be used"),
        ({"size": "10000000"}, "more than 0, up to 20,000"),
        ({"size": "-12 x 10"}, "“-12 x 10” can't be used"),
        ({"doors": "two"}, "“two” can't be used; accepted: a whole number from 0 to 200."),
        ({"steps": "-1"}, "-1 can't be used"),
        ({"doors": "9" * 400}, "can't be used"),
        ({"flooring_ft2": "cheap"}, "“cheap” can't be used"),
        ({"old_floor": "lava"}, "lava"),
        ({"flooring": "No such plank"}, "No such plank"),
    ],
)
def test_what_cannot_be_reckoned_is_refused_at_its_field(
    visitor: Visitor, typed: dict[str, str], said: str
) -> None:
    refused = say(visitor, "keep", name="Ines Okafor", **typed)
    assert refused.status_code == 422
    page = text(refused).replace("&#x27;", "'")
    assert said in page
    assert "Ines Okafor" in page
    assert not Ballpark.objects.exists()


def test_an_empty_book_still_gives_a_range_and_says_what_it_lacks(visitor: Visitor) -> None:
    PriceItem.objects.all().delete()
    page = text(say(visitor, old_floor="carpet", pad="on"))
    assert "pad: no price in the book" in page
    assert "disposal of the old floor: no price in the book" in page


def test_markup_in_a_caller_is_shown_as_typed(visitor: Visitor) -> None:
    row = keep(visitor, name="<i>Ines</i>")
    for url in (reverse("ballpark"), reverse("ballpark-kept", args=[row.pk])):
        page = text(visitor.get(url))  # type: ignore[arg-type]
        assert "&lt;i&gt;Ines&lt;/i&gt;" in page
        assert "<i>Ines" not in page


def test_a_stranger_and_the_crew_see_none(visitor: Visitor, owner: User) -> None:
    row = keep(visitor)
    stranger = Visitor()
    stranger.force_login(an_owner(name="Other Floors"))
    assert stranger.get(reverse("ballpark-kept", args=[row.pk])).status_code == 404
    assert stranger.post(reverse("ballpark-start", args=[row.pk])).status_code == 404
    assert "Ines Okafor" not in text(stranger.get(reverse("ballpark")))  # type: ignore[arg-type]
    crew = Visitor()
    crew.force_login(make_person(company_of(owner), "crew"))
    assert crew.get(reverse("ballpark")).status_code == 403
