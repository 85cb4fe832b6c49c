"""The company's clock: an evening in New York is still that day, on every page and paper."""

from __future__ import annotations

import json
import logging
from datetime import date, datetime
from io import BytesIO
from typing import Any

import pytest
import time_machine
from django.template import Context, Template
from django.test import Client as Visitor
from django.urls import reverse
from icalendar import Calendar
from pypdf import PdfReader

from jobs.clock import day_of, is_time_zone, local_to, now_of, today_of
from jobs.models import Company, Crew, Errand, Job, Packet, User
from jobs.readers.packets.gather import gather
from jobs.services.days import Wish, lay_out_days
from jobs.services.files import read_file
from jobs.services.packets import ask_for_packet
from jobs.services.records import audit
from jobs.services.site import clear_hold
from jobs.worker.errands import ask
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_company, make_day, make_person
from tests.evening import AUCKLAND, EVENING, NEW_YORK, days_named, each_place
from tests.jobs.agreed import a_crew, agreed_job, hold_asbestos
from tests.jobs.plans import agreed_rooms


def signed_in(company: Company) -> Visitor:
    """A browser of the owner of a company."""
    visitor = Visitor()
    visitor.force_login(make_person(company))
    return visitor


def seen(job: Job, name: str, *keys: int) -> str:
    """The page that the owner of a job's company sees."""
    answer = signed_in(job.company).get(reverse(name, args=keys or [job.pk]))
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def at(zone: str) -> Company:
    """A company of this time zone that is not saved."""
    return Company(name="Fernwood Floors", time_zone=zone)


def job_at(zone: str) -> Job:
    """A job with an agreed scope of a company of this time zone."""
    return agreed_job(make_company(time_zone=zone))


def shown() -> str:
    """The evening as a template shows it."""
    return Template("{{ made|date:'M j, H:i' }}").render(Context({"made": EVENING}))


# The clock itself


@each_place
def test_today_is_the_day_where_the_company_works(evening: None, zone: str, day: int) -> None:
    assert today_of(at(zone)) == date(2026, 3, day)


def test_a_site_in_another_time_zone_has_its_own_day(evening: None) -> None:
    assert today_of(at(NEW_YORK), AUCKLAND) == date(2026, 3, 10)


def test_now_is_what_the_clock_on_the_wall_shows(evening: None) -> None:
    assert f"{now_of(at(NEW_YORK)):%b %d, %H:%M}" == "Mar 09, 22:30"
    assert now_of(at(NEW_YORK)) == EVENING


@each_place
def test_a_stored_moment_has_the_day_where_the_company_works(zone: str, day: int) -> None:
    assert day_of(EVENING, at(zone)) == date(2026, 3, day)


def test_a_moment_without_a_time_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="naive"):
        day_of(EVENING.replace(tzinfo=None), at(NEW_YORK))


@pytest.mark.parametrize(
    ("moment", "shown"),
    [
        # 15 U.S.C. 260a: from the second Sunday of March to the first of November, from 2 h on.
        ("2026-03-08T06:59:00+00:00", "Mar 08, 01:59"),
        ("2026-03-08T07:00:00+00:00", "Mar 08, 03:00"),
        ("2026-03-09T03:59:00+00:00", "Mar 08, 23:59"),
        ("2026-03-09T04:00:00+00:00", "Mar 09, 00:00"),
        ("2026-11-01T05:59:00+00:00", "Nov 01, 01:59"),
        ("2026-11-01T06:00:00+00:00", "Nov 01, 01:00"),
        ("2026-11-02T04:59:00+00:00", "Nov 01, 23:59"),
    ],
)
def test_the_day_of_summer_time_ends_at_its_own_midnight(moment: str, shown: str) -> None:
    with time_machine.travel(datetime.fromisoformat(moment), tick=False):
        assert f"{now_of(at(NEW_YORK)):%b %d, %H:%M}" == shown
        assert f"{today_of(at(NEW_YORK)):%b %d}" == shown[:6]


def test_a_stored_name_that_no_clock_knows_is_logged_and_stops_no_page(
    evening: None, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR):
        assert today_of(at("Mars/Base")) == date(2026, 3, 10)
    assert "'Mars/Base' of Fernwood Floors" in caplog.text


@pytest.mark.parametrize("name", ["", "Mars/Base", "localtime", "Factory", "../../etc/passwd"])
def test_a_name_that_is_no_time_zone_everywhere_is_none(name: str) -> None:
    assert not is_time_zone(name)


@pytest.mark.parametrize("name", [NEW_YORK, AUCKLAND, "UTC"])
def test_a_time_zone_is_known_by_its_name(name: str) -> None:
    assert is_time_zone(name)


def test_templates_show_local_time_only_while_asked_to() -> None:
    with local_to(at(NEW_YORK)):
        inside = shown()
    assert (inside, shown()) == ("Mar 9, 22:30", "Mar 10, 02:30")


# Requests, errands, the server's own pages


@pytest.mark.django_db
def test_a_request_leaves_no_time_zone_behind_it(evening: None) -> None:
    signed_in(make_company(time_zone=AUCKLAND)).get(reverse("company"))
    assert shown() == "Mar 10, 02:30"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("zone", "moment"), [(NEW_YORK, "Mar 9, 22:30"), (AUCKLAND, "Mar 10, 15:30")]
)
def test_an_errand_runs_in_the_time_of_its_company(evening: None, zone: str, moment: str) -> None:
    from tests.jobs.errand_lab import handlers  # noqa: F401  registers the handler

    errand = ask(
        company=make_company(time_zone=zone), kind="lab-clock", subject="zone:12", payload={}
    )
    assert carry_out_waiting() == 1
    assert json.loads(Errand.objects.get(pk=errand.pk).result)["moment"] == moment


@pytest.mark.django_db
def test_the_servers_own_pages_show_the_time_of_who_looks(evening: None) -> None:
    company = make_company(time_zone=NEW_YORK)
    keeper = make_person(company, is_staff=True, is_superuser=True)
    audit(user=keeper, company=company, subject="company", act="Looked at the clock")
    visitor = Visitor()
    visitor.force_login(keeper)
    page = visitor.get(reverse("admin:jobs_auditline_changelist")).content.decode()
    assert "March 9, 2026, 10:30 p.m." in page


@pytest.mark.django_db
def test_the_servers_own_pages_refuse_a_bad_time_zone_at_its_field() -> None:
    company = make_company()
    visitor = Visitor()
    visitor.force_login(make_person(company, is_staff=True, is_superuser=True))
    page = visitor.post(
        reverse("admin:jobs_company_change", args=[company.pk]), {"time_zone": "Mars/Base"}
    )
    fault = "“Mars/Base” is no time zone; accepted: a name such as America/Chicago."
    assert page.context["adminform"].form.errors["time_zone"] == [fault]


# Pages and papers of a job


@pytest.mark.django_db
@each_place
def test_the_week_marks_the_companys_today(evening: None, zone: str, day: int) -> None:
    company = make_company(time_zone=zone)
    a_crew(company)
    page = signed_in(company).get(reverse("day-list")).content.decode()
    marked = [row for row in page.split("<tr>") if ">today<" in row]
    assert [days_named(row) for row in marked] == [{day}]


@pytest.mark.django_db
@each_place
def test_the_days_of_a_job_begin_with_the_companys_today(
    evening: None, zone: str, day: int
) -> None:
    job = job_at(zone)
    a_crew(job.company)
    assert f'value="2026-03-{day:02}"' in seen(job, "job-days")


@pytest.mark.django_db
@each_place
def test_a_log_of_another_day_names_the_companys_today(evening: None, zone: str, day: int) -> None:
    job = job_at(zone)
    worked = make_day(job, a_crew(job.company), scope=job.agreed_scope, date=date(2026, 3, 6))
    assert f"This day is March 6; today is March {day}." in seen(job, "log-add", worked.pk)


@pytest.mark.django_db
@each_place
def test_an_audit_line_stands_at_the_companys_hour(evening: None, zone: str, day: int) -> None:
    company = make_company(time_zone=zone)
    audit(user=None, company=company, subject="company", act="Looked at the clock")
    hour = {NEW_YORK: "22:30", AUCKLAND: "15:30"}[zone]
    page = signed_in(company).get(reverse("company")).content.decode()
    assert f"Mar {day}, 2026, {hour}" in page


@pytest.mark.django_db
@each_place
def test_a_reading_of_the_companys_tomorrow_is_refused(evening: None, zone: str, day: int) -> None:
    job = job_at(zone)
    form = {"key": "k", "version": 1, "method": "rh", "value": "70", "on": "2026-03-11"}
    page = signed_in(job.company).post(reverse("moisture", args=[job.pk]), form).content.decode()
    assert f"2026-03-11 lies ahead; accepted: up to 2026-03-{day:02}." in page


@pytest.fixture
def packet_job(evening: None) -> Job:
    """A planned job whose hold point was cleared, laid onto days of a crew."""
    job = agreed_rooms("Den")
    hold_asbestos(job)
    owner, crew = make_person(job.company), a_crew(job.company)
    clear_hold(job=job, user=owner, code="asbestos", by="Ada Noor", note="Report 7")
    wish, today = Wish(crew=crew, start=date(2026, 3, 12)), date(2026, 3, 9)
    lay_out_days(job=job, user=owner, wish=wish, today=today)
    return Job.objects.get(pk=job.pk)


def of_zone(job: Job, zone: str) -> Job:
    """The job, its company moved to this time zone."""
    Company.objects.update(time_zone=zone)
    return Job.objects.get(pk=job.pk)


@pytest.mark.usefixtures("set_paper")
@pytest.mark.django_db
@each_place
def test_packet_and_list_name_one_day(evening: None, packet_job: Job, zone: str, day: int) -> None:
    job = of_zone(packet_job, zone)
    ask_for_packet(job=job, user=User.objects.get(role="owner"))
    assert carry_out_waiting() == 1
    packet = Packet.objects.select_related("document", "pdf").get()
    text = PdfReader(BytesIO(read_file(packet.pdf))).pages[0].extract_text()
    row = seen(job, "packet-list").split('data-label="Printed">')[1].split("<")[0]
    assert json.loads(packet.document.text)["issued_on"] == f"2026-03-{day:02}"
    assert f"Issued Mar {day}, 2026" in text
    assert days_named(row) == {day}


@pytest.mark.django_db
@each_place
def test_packet_and_page_name_one_day_of_a_clearance(packet_job: Job, zone: str, day: int) -> None:
    job = of_zone(packet_job, zone)
    cleared = [one["cleared"] for one in gather(job)["gates"] if one["cleared"]]
    assert [one["on"] for one in cleared] == [f"2026-03-{day:02}"]
    assert f"by Ada Noor, Mar {day}, 2026: Report 7" in seen(job, "job")


# The calendar over the night on which the clocks are set


def calendar_events(job: Job, crew: Crew) -> list[Any]:
    """The events of a crew's calendar file as the owner gets it."""
    stream = signed_in(job.company).get(reverse("crew-calendar", args=[crew.pk])).content
    return list(Calendar.from_ical(stream.decode()).walk("VEVENT"))


@pytest.mark.django_db
@pytest.mark.parametrize("zone", [NEW_YORK, AUCKLAND])
@pytest.mark.parametrize(
    ("now", "stamp"),
    [("2026-03-08T06:59:00+00:00", "065900"), ("2026-03-08T07:00:00+00:00", "070000")],
)
def test_a_day_in_the_calendar_stays_whole_when_the_clocks_are_set(
    zone: str, now: str, stamp: str
) -> None:
    with time_machine.travel(datetime.fromisoformat(now), tick=False):
        job = job_at(zone)
        crew = a_crew(job.company)
        for number, on in enumerate((date(2026, 3, 7), date(2026, 3, 8), date(2026, 3, 9)), 1):
            make_day(job, crew, scope=job.agreed_scope, number=number, date=on)
        events = calendar_events(job, crew)
    spans = [(event["DTSTART"].dt, event["DTEND"].dt) for event in events]
    assert spans == [(date(2026, 3, day), date(2026, 3, day + 1)) for day in (7, 8, 9)]
    # RFC 5545, 3.8.7.2: the stamp is in UTC, whatever the clock on the wall shows.
    assert {event["DTSTAMP"].to_ical().decode() for event in events} == {f"20260308T{stamp}Z"}


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("now", "monday"),
    [("2026-03-09T03:59:00+00:00", "March 2"), ("2026-03-09T04:00:00+00:00", "March 9")],
)
def test_the_week_after_the_clocks_are_set_begins_at_midnight_of_summer_time(
    now: str, monday: str
) -> None:
    with time_machine.travel(datetime.fromisoformat(now), tick=False):
        page = signed_in(make_company(time_zone=NEW_YORK)).get(reverse("day-list"))
    assert f"Week of {monday}, 2026" in page.content.decode()
