"""Help by pictures: a page a step, from the page itself and from one step to the next."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.readers.guide.pictures import STEPS, pictures_of
from jobs.models import User
from tests.builders import make_job, make_room
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("step", STEPS)
def test_a_page_shows_its_pictures_to_anybody(step: str) -> None:
    page = words(Visitor().get(reverse(f"help-{step}")))
    assert page.count("help-picture") == len(pictures_of(step))
    assert f'href="{reverse("help")}#{step}"' in page


def test_steps_follow_each_other_to_the_last() -> None:
    first, last = (words(Visitor().get(reverse(f"help-{step}"))) for step in ("site", "review"))
    assert "Next: Rooms" in first
    assert "Back to Log" in last
    assert "Next:" not in last


def test_a_page_of_the_path_leads_to_the_pictures_of_its_step(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company is not None
    room = make_room(make_job(owner.company))
    page = words(visitor.get(reverse("room-edit", args=[room.pk])))
    assert f'href="{reverse("help-rooms")}">Rooms in pictures</a>' in page


def test_the_words_of_every_step_lead_to_its_pictures() -> None:
    page = words(Visitor().get(reverse("help")))
    assert all(f'href="{reverse(f"help-{step}")}"' in page for step in STEPS)


def test_each_step_leads_to_every_other(client: Visitor) -> None:
    for step in STEPS:
        page = client.get(reverse(f"help-{step}")).content.decode()
        others = [reverse(f"help-{name}") for name in STEPS if name != step]
        assert all(f'href="{address}"' in page for address in others)
