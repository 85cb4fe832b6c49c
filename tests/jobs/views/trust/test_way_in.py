"""A packet that tells the way in opens to a crew only while it has days there."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse

from jobs.clock import today_of
from jobs.models import Packet, Role, WorkDay
from tests.builders import (
    make_company,
    make_crew,
    make_day,
    make_document,
    make_packet,
    make_person,
    make_planned_job,
)
from tests.reading import words

pytestmark = pytest.mark.django_db

CODE = "Key box 0142"


@pytest.fixture(name="day")
def the_day() -> WorkDay:
    """A day of a crew on a job, today."""
    company = make_company()
    crew = make_crew(company, make_person(company, Role.CREW))
    return make_day(make_planned_job(company), crew, date=today_of(company))


def a_packet(day: WorkDay, access: str | None) -> Packet:
    """Return a packet whose cover tells the way in, or does not."""
    packet = make_packet(day.job)
    packet.document = make_document(day.job.company, "packet", cover={"access": access})
    packet.save()
    return packet


def answer(day: WorkDay, packet: Packet, name: str = "packet-file", role: str = "crew") -> int:
    browser = Client()
    company = day.job.company
    member = day.crew.members.get() if role == "crew" else make_person(company, role)
    browser.force_login(member)
    return browser.get(reverse(name, args=[packet.pk])).status_code


@pytest.mark.parametrize("name", ["packet-file", "packet-changed"])
def test_it_opens_today_and_no_more_tomorrow(day: WorkDay, name: str) -> None:
    packet = a_packet(day, CODE)
    assert answer(day, packet, name) == 200
    WorkDay.objects.update(date=day.date - timedelta(days=1))
    assert answer(day, packet, name) == 403
    assert answer(day, packet, name, "owner") == 200
    assert answer(day, packet, name, "estimator") == 200


@pytest.mark.parametrize("access", [None, ""])
def test_a_packet_without_it_opens_as_ever(day: WorkDay, access: str | None) -> None:
    packet = a_packet(day, access)
    WorkDay.objects.update(date=day.date - timedelta(days=1))
    assert answer(day, packet) == 200


def test_the_page_of_the_job_tells_it_on_the_day_alone(day: WorkDay) -> None:
    day.job.site.access = CODE
    day.job.site.save()
    browser = Client()
    browser.force_login(day.crew.members.get())
    url = reverse("job", args=[day.job.pk])
    assert CODE in words(browser.get(url))
    WorkDay.objects.update(date=day.date - timedelta(days=1))
    assert CODE not in words(browser.get(url))
