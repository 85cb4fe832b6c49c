"""No page says twice that something is common practice: a dagger each, and one footnote."""

from __future__ import annotations

import pytest

from tests.access_doors import TABLE
from tests.access_world import build_world
from tests.test_access_table import ROLES, address

PHRASE = "common practice, no source"


@pytest.mark.django_db
def test_what_has_no_source_is_said_once_on_every_page() -> None:
    world = build_world()
    said = {}
    for door in TABLE:
        for role in ("owner", "crew", "nobody"):
            if door.get[ROLES.index(role)] != "k":
                continue
            answer = world.browsers[role].get(address(door, world))
            if answer.headers.get("Content-Type", "").startswith("text/html"):
                said[door.name, role] = answer.content.decode().lower().count(PHRASE)
    assert len(said) > 200
    assert {page: times for page, times in said.items() if times > 1} == {}
    assert said["job-price", "owner"] == 1
