"""Clients, jobs, site facts, people, crews and the company on their pages."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import AuditLine, Client, Company, Job, Role, User
from tests.builders import PASSWORD, make_client, make_company, make_crew, make_job, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db


def test_signing_in_leads_to_the_jobs(owner: User) -> None:
    answer = Visitor().post(
        reverse("sign-in"), {"username": owner.email.upper(), "password": PASSWORD}
    )
    assert answer.headers["Location"] == reverse("job-list")


def test_a_wrong_password_is_told_without_saying_which_half_is_wrong(owner: User) -> None:
    answer = Visitor().post(reverse("sign-in"), {"username": owner.email, "password": "wrong"})
    assert "don&#x27;t go together" in answer.content.decode()


def test_an_empty_book_offers_the_first_client(visitor: Visitor) -> None:
    assert "Add a client" in visitor.get(reverse("job-list")).content.decode()


def test_a_new_client_leads_to_a_job_for_them(visitor: Visitor, owner: User) -> None:
    answer = visitor.post(reverse("client-add"), {"name": "Ines Okafor", "key": "k1", "version": 1})
    client = Client.objects.get(company=owner.company)
    assert answer.headers["Location"] == f"{reverse('job-add')}?client={client.pk}"


def test_a_client_sent_twice_is_added_once(visitor: Visitor) -> None:
    for _ in range(2):
        visitor.post(reverse("client-add"), {"name": "Ines Okafor", "key": "k1", "version": 1})
    assert Client.objects.count() == 1


def test_a_client_without_a_name_keeps_what_was_typed(visitor: Visitor) -> None:
    form = {"name": "", "phone": "555-0142", "key": "k1", "version": 1}
    answer = visitor.post(reverse("client-add"), form)
    assert answer.status_code == 422
    assert 'value="555-0142"' in answer.content.decode()


def job_form(client: Client, **values: object) -> dict[str, object]:
    """A filled-in form of a new job."""
    form = {"client": client.pk, "title": "Den", "address": "4 Cooper Lane"}
    return {**form, "measured_in": "imperial", "key": "k1", "version": 1, **values}


def test_a_new_job_leads_to_a_client_who_is_not_in_the_book(visitor: Visitor) -> None:
    page = visitor.get(reverse("job-add")).content.decode()
    assert f'A new client? <a href="{reverse("client-add")}">Write the client down' in page


def test_jobs_are_numbered_one_after_another(visitor: Visitor, owner: User) -> None:
    assert owner.company
    client = make_client(owner.company)
    visitor.post(reverse("job-add"), job_form(client))
    visitor.post(reverse("job-add"), job_form(client, title="Hall", key="k2"))
    assert list(Job.objects.order_by("number").values_list("number", flat=True)) == [1, 2]


def test_another_companys_client_is_refused_at_the_field(visitor: Visitor) -> None:
    stranger = make_client(make_company("Other Floors"))
    answer = visitor.post(reverse("job-add"), job_form(stranger))
    assert answer.status_code == 422
    assert not Job.objects.exists()


def test_a_stale_save_is_told_what_changed_and_keeps_its_text(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company
    job = make_job(owner.company, title="Two rooms")
    url = reverse("job-edit", args=[job.pk])
    visitor.post(url, job_form(job.client, title="Three rooms", key="k1", version=1))
    answer = visitor.post(url, job_form(job.client, title="Hall", key="k2", version=1))
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Three rooms" in page
    assert 'value="Hall"' in page


def test_site_facts_from_the_future_are_refused_with_the_range(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company
    job = make_job(owner.company)
    form = {"year_built": "2999", "existing_floor": "none", "subfloor": "wood", "flights": 0}
    form |= {"painted_ft2_per_room": 0, "key": "k1", "version": 1}
    answer = visitor.post(reverse("site-edit", args=[job.pk]), form)
    assert "2999 lies ahead; accepted: 1600 to" in answer.content.decode()


def test_an_old_resilient_floor_raises_a_hold_that_a_named_person_clears(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company
    job = make_job(owner.company)
    type(job.site).objects.update(existing_floor="resilient", floor_year=1975, tear_out=True)
    assert "Clear this hold point" in visitor.get(reverse("job", args=[job.pk])).content.decode()
    form = {"by": "A. Quist, inspector", "note": "Report 31", "key": "k1"}
    visitor.post(reverse("hold-clear", args=[job.pk, "asbestos"]), form)
    assert "A. Quist, inspector" in visitor.get(reverse("job", args=[job.pk])).content.decode()


def test_a_hold_point_that_does_not_stand_is_not_found(visitor: Visitor, owner: User) -> None:
    assert owner.company
    job = make_job(owner.company)
    assert visitor.get(reverse("hold-clear", args=[job.pk, "asbestos"])).status_code == 404


def test_a_person_is_added_once_for_an_address(visitor: Visitor, owner: User) -> None:
    form = {"name": "Noor Haddad", "email": owner.email.upper(), "role": Role.CREW}
    form |= {"password": "birch-and-chalk-7", "is_active": "on", "key": "k1"}
    answer = visitor.post(reverse("person-add"), form)
    assert "signs in with" in answer.content.decode()


def test_a_crew_holds_only_people_of_the_company(visitor: Visitor, owner: User) -> None:
    stranger = make_person(make_company("Other Floors"), Role.CREW)
    form = {"name": "North", "hours_per_day": 8, "members": [stranger.pk], "key": "k", "version": 1}
    assert visitor.post(reverse("crew-add"), form).status_code == 422


def test_a_second_crew_of_the_same_name_is_refused(visitor: Visitor, owner: User) -> None:
    assert owner.company
    crew = make_crew(owner.company)
    form = {"name": crew.name, "hours_per_day": 8, "key": "k1", "version": 1}
    assert "Another crew is called" in visitor.post(reverse("crew-add"), form).content.decode()


def test_a_crew_and_a_person_sent_twice_are_made_once(visitor: Visitor) -> None:
    crew = {"name": "North", "hours_per_day": 8, "key": "k1", "version": 1}
    person = {"name": "Noor Haddad", "email": "noor@example.com", "role": Role.CREW}
    person |= {"password": "birch-and-chalk-7", "is_active": "on", "key": "k2"}
    for url, form in ((reverse("crew-add"), crew), (reverse("person-add"), person)):
        assert [visitor.post(url, form).status_code for _ in range(2)] == [303, 303]


def test_a_time_zone_that_does_not_exist_is_named(visitor: Visitor, owner: User) -> None:
    form = {"name": "Fernwood", "measured_in": "imperial", "paper": "letter", "currency": "USD"}
    form |= {"time_zone": "Mars/Base", "crew_day_hours": "16", "trip_hours": "1"}
    answer = visitor.post(reverse("company"), form | {"key": "k1", "version": "1"})
    assert "“Mars/Base” is no time zone" in answer.content.decode()


def test_changes_leave_an_audit_line_with_the_name(visitor: Visitor, owner: User) -> None:
    visitor.post(reverse("client-add"), {"name": "Ines Okafor", "key": "k1", "version": 1})
    assert AuditLine.objects.filter(who=owner.name, act="Added Ines Okafor").exists()


def company_form(**values: object) -> dict[str, object]:
    """A filled-in form of the company."""
    form = {"name": "Fernwood Floors", "measured_in": "imperial", "paper": "letter"}
    form |= {"currency": "USD", "time_zone": "America/Chicago", "key": "k1", "version": "1"}
    return {**form, "crew_day_hours": 16, "trip_hours": 1, **values}


@pytest.mark.parametrize(
    ("typed", "kept"), [("", None), ("0", Decimal(0)), ("3/8", Decimal("9.525"))]
)
def test_a_company_says_what_its_new_floors_are_planned_for(
    visitor: Visitor, owner: User, typed: str, kept: Decimal | None
) -> None:
    visitor.post(reverse("company"), company_form(wall_error=typed))
    assert Company.objects.get().wall_error_mm == kept


def test_the_company_reads_where_the_figure_for_walls_comes_from(visitor: Visitor) -> None:
    page = words(visitor.get(reverse("company")))
    assert 'Left empty: 1/4", in a metric job 6 mm†.' in page
    assert page.count("† Common practice, no source.") == 1


def test_a_wall_of_a_company_that_stands_off_a_foot_is_refused(visitor: Visitor) -> None:
    answer = visitor.post(reverse("company"), company_form(wall_error="1'"))
    assert "“1'” is too long; accepted: up to 6\"." in words(answer)
