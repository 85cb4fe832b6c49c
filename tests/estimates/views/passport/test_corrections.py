"""A passport tells the floor as it was handed over; later entries have their day."""

from __future__ import annotations

import pytest
from django.db.migrations import Migration
from django.test import Client as Visitor
from django.urls import reverse

from estimates.apps import freeze_older
from estimates.models import FloorPassport, PassportEdition
from jobs.clock import day_of
from jobs.models import Document, Job, Product, SiteFacts, User
from tests.estimates.a_job import TODAY
from tests.estimates.a_passport import a_passport_of
from tests.reading import words

pytestmark = pytest.mark.django_db


def read(passport: FloorPassport, query: str = "", status: int = 200) -> str:
    answer = Visitor().get(reverse("passport-public", args=[passport.token]) + query)
    assert answer.status_code == status
    return words(answer)


def closed(job: Job, visitor: Visitor) -> FloorPassport:
    """The passport of a job that was closed after the passport was made."""
    passport = a_passport_of(job)
    visitor.post(reverse("job-close", args=[job.pk]))
    return passport


def leave_in_the_attic(job: Job, planks: int, lot: str) -> None:
    fields = {"kind": "attic", "code": "cartons", "label": "Flooring", "amount": 0}
    job.purchases.create(**fields, quantity=planks, unit="plank", lot=lot, bought_on=TODAY)


def correct(visitor: Visitor, passport: FloorPassport, seen: int, note: str = "") -> None:
    form = {"number": seen, "note": note}
    answer = visitor.post(reverse("passport-correct", args=[passport.pk]), form)
    assert answer.status_code == 303


def test_closing_the_job_freezes_what_it_tells(job: Job, visitor: Visitor) -> None:
    passport = closed(job, visitor)
    before = read(passport)
    assert "As handed over" in before
    leave_in_the_attic(job, 3, "B7")
    noted = {"method": "rh", "value": "78", "where": "By the door", "on": "2027-02-20"}
    SiteFacts.objects.filter(job=job).update(readings=[noted])
    Product.objects.filter(zones__job=job).update(name="Another oak", wettest="dry")
    Job.objects.filter(pk=job.pk).update(address="1 Elsewhere Street")
    assert read(passport) == before


def test_the_signed_slip_is_the_hand_over_and_closing_adds_only_what_differs(
    job: Job, visitor: Visitor
) -> None:
    passport = a_passport_of(job)
    assert "As handed over" not in read(passport)
    slip = {"key": "s", "name": "Ines Okafor", "done": "on"}
    visitor.post(reverse("completion-slip", args=[job.pk]), slip)
    visitor.post(reverse("job-close", args=[job.pk]))
    assert [one.handed_over for one in passport.editions.all()] == [False, True]
    visitor.post(reverse("job-reopen", args=[job.pk]))
    leave_in_the_attic(job, 3, "B7")
    visitor.post(reverse("job-close", args=[job.pk]))
    assert "Den: in the attic 3 planks of lot B7, before none noted." in read(passport)
    assert passport.editions.count() == 3


def test_a_correction_is_a_dated_entry_beside_what_was_handed_over(
    job: Job, visitor: Visitor
) -> None:
    passport = closed(job, visitor)
    leave_in_the_attic(job, 3, "B7")
    office = words(visitor.get(reverse("job-passport", args=[job.pk])))
    assert "Not told yet" in office
    assert "Den: lot B7." in office
    correct(visitor, passport, 2, "A carton was found behind the stairs.")
    correct(visitor, passport, 2, "A carton was found behind the stairs.")
    assert passport.editions.count() == 3
    page = read(passport)
    day = day_of(passport.editions.latest("number").frozen_at, passport.job.company)
    assert f"{day:%B} {day.day}, {day.year}" in page
    assert "A carton was found behind the stairs." in page
    assert "Den: in the attic 3 planks of lot B7, before none noted." in page
    assert "<dd>Not noted</dd>" in page.replace(" </dd>", "</dd>").replace("<dd> ", "<dd>")
    as_corrected = read(passport, "?edition=3")
    assert "This page shows the floor as of that day." in as_corrected
    assert "<dd>B7</dd>" in as_corrected
    assert "Row 1, plank 1" in read(passport, "?edition=3&floor=1&row=1&plank=1")
    assert "Not told yet" not in words(visitor.get(reverse("job-passport", args=[job.pk])))


@pytest.mark.parametrize("edition", ["1", "9", "x", "-1"])
def test_an_edition_that_is_none_is_not_there(job: Job, visitor: Visitor, edition: str) -> None:
    read(closed(job, visitor), f"?edition={edition}", 404)


def test_an_edition_is_a_document_that_is_held_against_its_digest(
    job: Job, visitor: Visitor
) -> None:
    passport = closed(job, visitor)
    row = passport.editions.last()
    assert row is not None
    assert (row.document.kind, row.document.format) == ("passport", 1)
    text = row.document.text.replace("Den", "Hen")
    Document.objects.filter(pk=row.document_id).update(text=text)
    assert "passport" in read(passport, "", 409)


def test_a_note_that_is_too_long_is_refused_and_stays(job: Job, visitor: Visitor) -> None:
    passport = closed(job, visitor)
    form = {"number": "2", "note": "x" * 301}
    answer = visitor.post(reverse("passport-correct", args=[passport.pk]), form)
    assert answer.status_code == 422
    assert "x" * 301 in answer.content.decode()
    assert passport.editions.count() == 2


def test_a_passport_made_before_editions_gets_its_first_after_the_migration(
    job: Job, owner: User
) -> None:
    passport = a_passport_of(job)
    PassportEdition.objects.all().delete()
    read(passport, "", 404)
    migration = Migration("0099_floor_passports_frozen", "estimates")
    freeze_older(plan=[(migration, False)])
    freeze_older(plan=[(migration, False)])
    assert "Den" in read(passport)
    assert passport.editions.count() == 1
