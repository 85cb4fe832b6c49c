"""A doorway on its page as pictures: both floors as they will stand, the wall that it is in."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Room, User
from tests.builders import make_job, make_room
from tests.jobs.views.openings.test_doorways import sent
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 12 by 10 ft."""
    assert owner.company is not None
    return make_room(make_job(owner.company), size=(144, 120))


def test_both_floors_are_drawn_while_the_figures_are_typed(visitor: Visitor, room: Room) -> None:
    url = reverse("doorway-add", args=[room.pk])
    lower, higher = (
        words(visitor.post(url, sent(do="propose", treatment="reducer", step=step)))
        for step in ("-1/4", "3/4")
    )
    assert 'class="levels"' in lower
    assert '<desc>Den; the porch: The floor beyond stands ¼" down. reducer</desc>' in lower
    assert '<desc>Den; the porch: The floor beyond stands ¾" up. reducer</desc>' in higher


def test_the_wall_is_picked_on_the_picture(visitor: Visitor, room: Room) -> None:
    url = reverse("doorway-add", args=[room.pk])
    assert 'href="?wall=2" hx-get="?wall=2" hx-select="#id_wall"' in words(visitor.get(url))
    assert '<option value="2" selected>' in words(visitor.get(url + "?wall=2"))
    assert visitor.get(url + "?wall=%C2%B2").status_code == 200
