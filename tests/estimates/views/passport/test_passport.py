"""The floor passport behind its link, and how the homeowner comes to it."""

from __future__ import annotations

import pytest
from django.conf import settings
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import FloorPassport
from jobs.models import Job, SiteFacts, User
from tests.builders import make_crew, make_day, make_person
from tests.estimates.a_passport import a_passport_of
from tests.reading import words

pytestmark = pytest.mark.django_db


def public(passport: FloorPassport, query: str = "") -> str:
    answer = Visitor().get(reverse("passport-public", args=[passport.token]) + query)
    assert answer.status_code == 200
    assert answer["X-Robots-Tag"] == "noindex"
    return words(answer)


def test_nothing_private_stands_on_it(job: Job) -> None:
    member = make_person(job.company, "crew", name="Ruben Ashdown", phone="555-0177")
    make_day(job, make_crew(job.company, member))
    SiteFacts.objects.filter(job=job).update(access="Key box 4411", pets="A terrier")
    said = public(a_passport_of(job), "?floor=1&row=1&plank=1")
    private = ("$", "4411", "terrier", "Ashdown", "555-0177", job.client.name, "man-hour")
    assert [word for word in private if word in said] == []


def test_a_plank_is_picked_without_a_script(job: Job) -> None:
    passport = a_passport_of(job)
    said = public(passport, "?floor=1&row=1&plank=1")
    assert "Row 1, plank 1" in said
    assert "How far the floor is lifted" in said
    assert "No whole plank is noted in the attic" in said


def test_on_paper_it_says_where_a_plank_is_picked(job: Job) -> None:
    passport = a_passport_of(job)
    address = f"{settings.SITE_URL}/p/{passport.token}"
    assert f"Pick a damaged plank at {address}" in public(passport)


def test_a_plank_that_is_not_there_is_refused_and_kept(job: Job) -> None:
    address = reverse("passport-public", args=[a_passport_of(job).token])
    answer = Visitor().get(f"{address}?floor=1&row=99&plank=1")
    assert answer.status_code == 422
    assert "99 can't be used" in words(answer).replace("’", "'")
    assert 'value="99"' in answer.content.decode()


def test_a_word_that_was_revoked_or_renewed_opens_nothing(job: Job, visitor: Visitor) -> None:
    visitor.post(reverse("passport-open", args=[job.pk]), {"version": "0"})
    passport = FloorPassport.objects.get()
    first = passport.token
    visitor.post(reverse("passport-open", args=[job.pk]), {"version": "1"})
    assert Visitor().get(reverse("passport-public", args=[first])).status_code == 404
    passport.refresh_from_db()
    public(passport)
    visitor.post(reverse("passport-revoke", args=[passport.pk]))
    assert Visitor().get(reverse("passport-public", args=[passport.token])).status_code == 404


def test_the_office_sees_the_link_and_what_is_left(job: Job, visitor: Visitor) -> None:
    page = reverse("job-passport", args=[job.pk])
    assert "No link was made yet." in words(visitor.get(page))
    visitor.post(reverse("passport-open", args=[job.pk]), {"version": "0"})
    passport = FloorPassport.objects.get()
    assert f"/p/{passport.token}" in words(visitor.get(page))
    visitor.post(reverse("passport-leftovers", args=[passport.pk]), {"stay": "on"})
    passport.refresh_from_db()
    assert passport.leftovers_stay


def test_the_signed_slip_shows_its_address(job: Job, visitor: Visitor, owner: User) -> None:
    slip = reverse("completion-slip", args=[job.pk])
    passport = a_passport_of(job)
    assert passport.token not in words(visitor.get(slip))
    visitor.post(slip, {"key": "s", "name": "Ines Okafor", "done": "on"})
    assert passport.token in words(visitor.get(slip))
    FloorPassport.objects.all().delete()
    assert "Make the floor passport" in words(visitor.get(slip))


def test_another_companys_passport_is_not_there(job: Job) -> None:
    from tests.builders import make_company

    passport = a_passport_of(job)
    stranger = Visitor()
    stranger.force_login(make_person(make_company("Harrow Floors")))
    for name in ("passport-revoke", "passport-leftovers"):
        assert stranger.post(reverse(name, args=[passport.pk])).status_code == 404
