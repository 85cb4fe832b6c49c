"""Stairs on their pages."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, StairFlight
from tests.builders import make_company, make_job, make_person, make_room, make_stair
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job with a room."""
    job = make_job(make_company())
    make_room(job)
    return job


@pytest.fixture
def visitor(job: Job) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(make_person(job.company))
    return signed_in


def sent(**more: Any) -> dict[str, Any]:
    """A flight of three risers of 7 1/2 in."""
    form = {"key": "k1", "version": 1, "name": "Main stair", "product": "", "treads": 2}
    form |= {"riser_boards": 3, "nosings": 3, "width": "36", "tread": "10"}
    return form | {"risers": "7 1/2\n7 1/2\n7 1/2"} | more


def test_a_stair_is_kept_with_its_risers_as_typed(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("stair-add", args=[job.pk]), sent())
    stair = StairFlight.objects.get()
    assert (stair.treads, stair.risers) == (2, ["7 1/2", "7 1/2", "7 1/2"])


def test_a_riser_that_is_none_is_refused_by_its_number(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("stair-add", args=[job.pk]), sent(risers="7 1/2\nseven\n7"))
    assert answer.status_code == 422
    assert "Riser 2: “seven” is no length" in words(answer)
    assert not StairFlight.objects.exists()


def test_the_check_draws_the_flight_it_is_made_of(visitor: Visitor, job: Job) -> None:
    form = sent(do="propose", treads_raised="1/2", above_raised="1/2")
    page = words(visitor.post(reverse("stair-add", args=[job.pk]), form))
    # The treads come up 1/2 in and the floor below does not: 8 in, then 7 1/2 twice.
    assert 'From the bottom: riser 1 8", riser 2 7½", riser 3 7½".' in page


def test_two_stairs_of_a_job_have_names_of_their_own(visitor: Visitor, job: Job) -> None:
    make_stair(job)
    answer = visitor.post(reverse("stair-add", args=[job.pk]), sent())
    assert "“Main stair” is another flight of this job" in words(answer)


def test_the_check_is_shown_before_anything_is_saved(visitor: Visitor, job: Job) -> None:
    form = sent(do="propose", below_raised="5/8")
    answer = visitor.post(reverse("stair-add", args=[job.pk]), form)
    assert "Uneven risers" in words(answer)
    assert not StairFlight.objects.exists()


def test_the_rooms_page_tells_how_the_risers_stand(visitor: Visitor, job: Job) -> None:
    make_stair(job, risers=["7", "7 3/4"])
    assert "Uneven risers" in words(visitor.get(reverse("room-list", args=[job.pk])))


def test_a_stair_can_be_removed(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("stair-remove", args=[make_stair(job).pk]))
    assert not StairFlight.objects.exists()


def test_the_second_of_two_savers_is_told(visitor: Visitor, job: Job) -> None:
    url = reverse("stair-edit", args=[make_stair(job).pk])
    visitor.post(url, sent(width="38", key="theirs"))
    answer = visitor.post(url, sent(width="40", key="mine"))
    assert answer.status_code == 409
    assert "Width of the stair is now" in words(answer)
