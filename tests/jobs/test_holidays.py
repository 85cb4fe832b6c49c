"""Holidays by country and state; a calendar for nowhere is refused with what is accepted."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.calendar import HolidayPlace, holiday_name, working_days
from jobs.domain.checks import BadValueError
from jobs.models import Company, Job
from tests.builders import make_company, make_person
from tests.jobs.agreed import a_crew, agreed_job, laid_out


@pytest.mark.parametrize(
    ("day", "country", "state", "name"),
    [
        # State laws, from memory: Massachusetts keeps the third Monday of April (M.G.L. c. 4 s. 7),
        # Hawaii June 11 (HRS 8-1).
        (date(2027, 4, 19), "US", "MA", "Patriots"),
        (date(2027, 6, 11), "US", "HI", "Kamehameha"),
        (date(2027, 4, 19), "US", "", ""),
        # Ontario, Family Day Act 2007, from memory: the third Monday of February.
        (date(2027, 2, 15), "CA", "ON", "Family Day"),
    ],
)
def test_holidays_are_those_of_country_and_state(
    day: date, country: str, state: str, name: str
) -> None:
    found = holiday_name(day, HolidayPlace(country=country, state=state))
    assert (name in found) if name else found == ""


def test_a_holiday_of_the_state_is_not_worked() -> None:
    patriots = date(2027, 4, 19)
    assert working_days()(patriots)
    assert not working_days(place=HolidayPlace(state="MA"))(patriots)
    assert working_days(place=HolidayPlace(state="MA"), holidays_too=True)(patriots)


@pytest.mark.parametrize(
    ("country", "state", "said"),
    [
        ("ZZ", "", "country is 'ZZ'; accepted: a country by its two letters: "),
        ("US", "ON", "state is 'ON'; accepted: of US one of: AK, AL"),
        ("", "", "country is 'none'"),
    ],
)
def test_a_calendar_for_nowhere_is_refused(country: str, state: str, said: str) -> None:
    with pytest.raises(BadValueError, match=said):
        HolidayPlace(country=country, state=state)


def company_page(company: Company, **typed: str) -> tuple[int, str]:
    """Send the company page with the particulars that it shows, some typed over."""
    visitor = Visitor()
    visitor.force_login(make_person(company))
    fields = visitor.get(reverse("company")).context["form"]
    data = {one.name: one.value() or "" for one in fields}
    answer = visitor.post(reverse("company"), data | typed)
    return answer.status_code, answer.content.decode()


@pytest.mark.django_db
def test_the_company_says_where_it_is() -> None:
    company = make_company()
    assert company_page(company, country="us", state="ma")[0] == 303
    company.refresh_from_db()
    assert (company.country, company.state) == ("US", "MA")


@pytest.mark.django_db
def test_a_company_nowhere_is_refused_at_its_field() -> None:
    company = make_company()
    status, page = company_page(company, country="US", state="ON")
    assert status == 422
    assert "Needed: of US one of: AK" in page
    company.refresh_from_db()
    assert company.state == ""


@pytest.mark.django_db
def test_days_skip_the_holidays_of_the_companys_state() -> None:
    """April 19, 2027 is Patriots' Day in Massachusetts; the job begins on the Friday before."""
    friday = date(2027, 4, 16)
    job: Job = agreed_job(make_company(state="MA"))
    dates = [day.date for day in laid_out(job, a_crew(job.company), start=friday)]
    assert dates[:2] == [friday, friday + timedelta(days=4)]
