"""The pages of extra work."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import JobExtra, Role
from jobs.views.extras.extras import AGREED_STAYS
from tests.builders import make_company, make_job, make_person

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("agreed", [True, False])
def test_only_extra_work_that_is_not_agreed_on_is_taken_off(
    agreed: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = make_job(make_company())
    extra = JobExtra.objects.create(job=job, text="Shelf in the closet")
    keys = {extra.pk} if agreed else set()
    monkeypatch.setattr("jobs.readers.crews_day.extras._AGREED", [lambda _: keys])
    visitor, address = Visitor(), reverse("extra-drop", args=[extra.pk])
    visitor.force_login(make_person(job.company, Role.OWNER))
    opened = visitor.get(address, follow=True).content.decode()
    assert (AGREED_STAYS in opened, "Take it off the list" in opened) == (agreed, not agreed)
    key = opened.partition('name="once_key" value="')[2].partition('"')[0]
    visitor.post(address, {"once_key": key})
    extra.refresh_from_db()
    assert (extra.dropped_at is None) == agreed
