"""What is typed into the box finds jobs and clients by what is known of them."""

from __future__ import annotations

import pytest
from django.utils import timezone

from jobs.models import Client, Company, Job
from jobs.readers.archive.search import matching_clients, matching_jobs
from tests.builders import make_client, make_company, make_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def company() -> Company:
    """A company with three jobs, one archived and one closed."""
    company = make_company()
    ines = make_client(company, "Ines Okafor", phone="(614) 555-0142", email="ines@example.com")
    umlaut = make_client(company, "Jörg Ölmann", address="9 Quarry Road")
    make_job(company, ines, title="Two bedrooms", address="4 Cooper Lane")
    make_job(company, umlaut, title="Kitchen", address="9 Quarry Road", archived_at=timezone.now())
    hall = {"title": "100% of the hall_way", "address": "7 Mill Street"}
    make_job(company, ines, closed_at=timezone.now(), **hall)
    return company


def titles(text: str) -> set[str]:
    """Return the titles of the jobs that a text finds."""
    return {job.title for job in matching_jobs(Job.objects.all(), text)}


@pytest.mark.parametrize(
    ("text", "first_words"),
    [
        ("bedrooms", {"Two"}),
        ("BEDR", {"Two"}),
        ("cooper ines", {"Two"}),
        ("okafor", {"Two", "100%"}),
        ("555-0142 cooper", {"Two"}),
        ("6145550142 cooper", {"Two"}),
        ("(614)555.0142 cooper", {"Two"}),
        ("6145550143", set()),
        ("ines@example.com closed", {"100%"}),
        ("quarry", {"Kitchen"}),
        ("ölmann", {"Kitchen"}),
        ("ÖLMANN", {"Kitchen"}),
        ("archived", {"Kitchen"}),
        ("Archived kitchen", {"Kitchen"}),
        ("closed", {"100%"}),
        ("100%", {"100%"}),
        ("hall_way", {"100%"}),
        ("%", {"100%"}),
        ("bedrooms quarry", set()),
        ("'; DROP TABLE jobs_job; --", set()),
        ("a\x00zzz", set()),
        ("", set()),
        ("   ", set()),
    ],
)
def test_every_word_must_stand_somewhere(
    company: Company, text: str, first_words: set[str]
) -> None:
    assert {title.split()[0] for title in titles(text)} == first_words


def test_a_number_is_a_jobs_own_or_stands_in_its_words(company: Company) -> None:
    job = Job.objects.get(title="Kitchen")
    assert "Kitchen" in titles(str(job.number))
    assert titles(f"#{job.number}") == {"Kitchen"}
    assert titles("9" * 40) == set()


def test_clients_are_looked_for_by_name_phone_mail_and_address(company: Company) -> None:
    def names(text: str) -> list[str]:
        return [client.name for client in matching_clients(Client.objects.all(), text)]

    assert names("0142") == ["Ines Okafor"]
    assert names("ines example") == ["Ines Okafor"]
    assert names("quarry") == ["Jörg Ölmann"]
    assert names("") == []
