"""The link of a floor passport: made once, renewed, revoked; its word is kept nowhere."""

from __future__ import annotations

import pytest

from estimates.models import FloorPassport
from estimates.services.passport.links import (
    address_of,
    open_address,
    open_passport,
    revoke_passport,
    set_leftovers,
)
from jobs.domain.checks import BadValueError
from jobs.domain.link_token import token_hash
from jobs.models import AuditLine, Job, User
from tests.builders import make_job
from tests.estimates.a_job import company_of

pytestmark = pytest.mark.django_db


def test_only_the_hash_of_its_word_is_kept(job: Job, owner: User) -> None:
    passport = open_passport(job=job, user=owner, version=0)
    word = address_of(passport).rpartition("/p/")[2]
    assert len(word) == 43
    row = FloorPassport.objects.values().get()
    assert word not in " ".join(str(value) for value in row.values())
    assert row["token_hash"] == token_hash(word)


def test_a_form_sent_twice_renews_it_once(job: Job, owner: User) -> None:
    first = open_passport(job=job, user=owner, version=0)
    again = open_passport(job=job, user=owner, version=0)
    assert (again.pk, again.version) == (first.pk, 1)
    before = address_of(first)
    renewed = open_passport(job=job, user=owner, version=1)
    late = open_passport(job=job, user=owner, version=1)
    assert (renewed.version, late.version) == (2, 2)
    assert address_of(renewed) != before


def test_a_revoked_link_has_no_address_until_it_is_made_anew(job: Job, owner: User) -> None:
    passport = open_passport(job=job, user=owner, version=0)
    assert open_address(job).endswith(passport.token)
    revoke_passport(passport=passport, user=owner)
    revoke_passport(passport=passport, user=owner)
    assert open_address(job) == ""
    open_passport(job=job, user=owner, version=1)
    assert open_address(job) != ""
    acts = list(AuditLine.objects.values_list("act", flat=True))
    assert acts.count("Revoked the link of the floor passport") == 1


def test_before_anything_is_agreed_there_is_no_floor_to_tell_of(owner: User) -> None:
    with pytest.raises(BadValueError, match="a job whose quote is accepted"):
        open_passport(job=make_job(company_of(owner)), user=owner, version=0)


def test_a_secret_that_was_changed_ends_what_was_sent_before(job: Job, owner: User) -> None:
    passport = open_passport(job=job, user=owner, version=0)
    FloorPassport.objects.update(token_hash="of another secret")
    passport.refresh_from_db()
    assert address_of(passport).endswith(passport.token)
    assert FloorPassport.objects.get().token_hash == token_hash(passport.token)


def test_leftovers_are_said_to_stay_once(job: Job, owner: User) -> None:
    passport = open_passport(job=job, user=owner, version=0)
    for _ in range(2):
        assert set_leftovers(passport=passport, user=owner, stay=True).leftovers_stay
    acts = AuditLine.objects.filter(act="Floor passport: cut leftovers stay with the homeowner")
    assert acts.count() == 1
