"""Requests that no page of ours would send: other methods, keys of others, other fields."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db.models import Model
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Callback, Client, Company, Crew, Job, Product, Role, Room, Scope, User
from tests.access_world import build_world
from tests.builders import (
    make_client,
    make_company,
    make_crew,
    make_day,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.hostile.two_roots import ties, ways_looked_at
from tests.jobs.agreed import make_scope
from tests.sweeps.knocks.book import WatchedBook
from tests.sweeps.knocks.knocking import Street
from tests.sweeps.knocks.pages import SeenForm

pytestmark = pytest.mark.django_db

OTHER_METHODS = ("PUT", "PATCH", "DELETE", "TRACE", "PROPFIND")
NAMED: dict[str, type[Model]] = {
    "callback": Callback,
    "client": Client,
    "payer": Client,
    "crew": Crew,
    "members": User,
    "person": User,
    "product": Product,
    "products": Product,
    "room": Room,
    "rooms": Room,
    "scope": Scope,
}
"""Fields in which a form says the key of a row, by name."""

TAKEN = {
    "role": "owner",
    "is_superuser": "on",
    "is_staff": "on",
    "is_active": "",
    "company": "2",
    "company_id": "2",
    "groups": "1",
    "log_seal": "x",
    "email": "taken@example.com",
    "number": "777",
    "state": "accepted",
    "token": "guessed",
    "total": "1",
    "closed_at": "2027-01-01",
    "erased_at": "2027-01-01",
    "agreed_scope": "1",
}
"""What a form never offers and a table has."""


@pytest.fixture(name="street")
def the_street(unset_paper: None) -> Street:
    """A company with one of everything, and everybody who knocks."""
    return Street(build_world())


def filled_in(form: SeenForm) -> dict[str, list[str]]:
    """Return a form as it is filled in: each field once, with the first value that it shows."""
    fields: dict[str, list[str]] = {}
    for name, value in form.fields:
        if value or name not in fields:
            fields.setdefault(name, [value])
    return fields


def sent_forms(street: Street) -> Iterator[SeenForm]:
    """Yield the forms that write, without those that end everything for who sends them."""
    ends = {reverse("sign-out"), reverse("session-end-others"), reverse("own-password")}
    return (form for form in street.forms if form.method == "post" and form.action not in ends)


def the_rows_of(company: Company, job: Job) -> dict[type[Model], int]:
    """Return the key of a row of each kind, of this company and job."""
    product, room = make_product(company), make_room(job, name="Nook")
    make_zone(room, product)
    person = make_person(company, Role.CREW)
    crew, scope = make_crew(company, person), make_scope(job)
    day = make_day(job, crew, scope)
    return {
        Callback: Callback.objects.create(job=job, day=day, what="A board clicks").pk,
        Client: make_client(company).pk,
        Crew: crew.pk,
        Product: product.pk,
        Room: room.pk,
        Scope: scope.pk,
        User: person.pk,
    }


def send_forged(street: Street, rows: dict[type[Model], int]) -> int:
    """Send every form once for each field that names a row, naming another's; return how many."""
    browser, sent = street.world.browsers["owner"], 0
    for form in sent_forms(street):
        fields = filled_in(form)
        for name in fields.keys() & NAMED.keys():
            forged = fields | {name: [str(rows[NAMED[name]])], "key": [f"forged-{sent}"]}
            assert browser.post(form.action, forged).status_code < 500
            sent += 1
    return sent


def test_nothing_forged_gets_through(street: Street) -> None:
    # One after the other, since the street takes longer to build than to walk.
    other_methods_and_unmarked_forms_write_nothing(street)
    fields_that_no_form_offers_change_nobody(street)
    no_key_of_another_company_or_job_ties_two_together(street)


def no_key_of_another_company_or_job_ties_two_together(street: Street) -> None:
    """Name rows of another company, then of another job, wherever a form names a row."""
    home = User.objects.filter(role=Role.OWNER).latest("pk").company
    assert home is not None
    elsewhere = make_company("Other Floors")
    of_others = the_rows_of(elsewhere, make_job(elsewhere))
    # Of the same company they may be named where they are the company's: crews, people, products.
    of_another_job = the_rows_of(home, make_job(home))
    assert ways_looked_at(Company) > 100
    assert ways_looked_at(Job) > 20
    before = ties(Company), ties(Job)
    assert before == ([], [])
    assert send_forged(street, of_others) > 20
    assert send_forged(street, of_another_job) > 20
    assert ties(Company) == []
    assert ties(Job) == []


def test_a_tie_between_two_companies_is_seen() -> None:
    job, other = make_job(make_company()), make_job(make_company("Other Floors"))
    Job.objects.filter(pk=job.pk).update(client=other.client)
    assert ties(Company) == [f"Job {job.pk}: company__pk, client__company__pk"]


def other_methods_and_unmarked_forms_write_nothing(street: Street) -> None:
    """Knock at every door by other methods, and with a form that lacks its mark."""
    book, answers = WatchedBook.read(), {}
    unmarked = Visitor(enforce_csrf_checks=True)
    unmarked.cookies = street.world.browsers["owner"].cookies
    with book.watched():
        for path in street.addresses:
            for method in OTHER_METHODS:
                status = street.world.browsers["owner"].generic(method, path, b"a=1").status_code
                answers[method, path] = status
            answers["unmarked", path] = unmarked.post(path, {"key": "k"}).status_code
    assert {key for key, status in answers.items() if status < 300 or status >= 500} == set()
    # A form must not be taken by another method for one without fields: that is 405, never 422.
    taken = {key for key, status in answers.items() if key[0] in OTHER_METHODS and status == 422}
    assert taken == set()
    refused = {
        path for (how, path), status in answers.items() if how == "unmarked" and status == 403
    }
    assert refused == set(street.addresses)
    assert book.changed() == []


def fields_that_no_form_offers_change_nobody(street: Street) -> None:
    """Send along what a table has and a form doesn't offer."""
    kept = _standing()
    for role in ("crew", "estimator"):
        browser = street.world.browsers[role]
        for number, form in enumerate(sent_forms(street)):
            extra = {name: [value] for name, value in TAKEN.items() if not _offers(form, name)}
            sent = filled_in(form) | extra | {"key": [f"mass-{role}-{number}"]}
            assert browser.post(form.action, sent).status_code < 500
    assert _standing() == kept
    assert ties(Company) == []


def _offers(form: SeenForm, name: str) -> bool:
    return any(field == name for field, _ in form.fields)


def _standing() -> list[tuple[object, ...]]:
    """Return what each person may do, which no form of another role changes."""
    names = ("pk", "role", "is_staff", "is_superuser", "is_active", "company", "email", "log_seal")
    return list(User.objects.order_by("pk").values_list(*names))
