"""Every address, every role, GET and POST: the table of who may do what.

The table must name exactly the addresses of the URLconf. Six people knock at every door:

    nobody     not signed in
    stranger   the owner of another company
    other      a crew member of this company whose crew has no day on the job
    crew       a crew member whose crew has a day on the job
    estimator  of this company
    owner      of this company

A POST is sent without any field. The answers, one letter a role:

    k  200 or 204, the page   r  302 or 303, led on (nobody: to sign in)
    n  404, hidden            f  403, refused
    m  405, no such door      u  422, the door is open and the empty form was refused

What the estimator removed is gone when the owner comes: n.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.access_doors import TABLE, Door
from tests.access_world import World, build_world

ROLES = ("nobody", "stranger", "other", "crew", "estimator", "owner")
ANSWERS = {"k": {200, 204}, "r": {302, 303}, "n": {404}, "f": {403}, "m": {405}, "u": {422}}


def names_in(patterns: list[URLPattern | URLResolver]) -> Iterator[str]:
    """Yield the names of all addresses but those of the server's own back door."""
    for pattern in patterns:
        if isinstance(pattern, URLPattern):
            yield str(pattern.name)
        elif pattern.namespace != "admin":
            yield from names_in(pattern.url_patterns)


def test_the_table_names_every_address() -> None:
    assert sorted(door.name for door in TABLE) == sorted(names_in(get_resolver().url_patterns))


def address(door: Door, world: World) -> str:
    """Return the address of a door in this world."""
    return reverse(door.name, args=world.rows[door.row] if door.row else [])


@pytest.fixture
def world(db: None) -> World:
    """A world in which every kind of row exists once."""
    return build_world()


def heard(door: Door, world: World, method: str) -> str:
    """Return the answers of a door to everybody, a letter each; `?` for one not in the table."""
    letters = []
    url = address(door, world)
    for role in ROLES:
        browser = world.browsers[role]
        status = (browser.get(url) if method == "get" else browser.post(url)).status_code
        letters.append(next((key for key, codes in ANSWERS.items() if status in codes), "?"))
    return "".join(letters)


def test_every_door_answers_everybody_who_looks_in(world: World) -> None:
    answers = {door.name: heard(door, world, "get") for door in TABLE if door.name != "sign-out"}
    assert answers == {door.name: door.get for door in TABLE if door.name != "sign-out"}


def test_every_door_answers_everybody_who_sends_an_empty_form(world: World) -> None:
    sent = [door for door in TABLE if door.name not in ("sign-out", "sign-in")]
    answers = {door.name: heard(door, world, "post") for door in sent}
    assert answers == {door.name: door.post for door in sent}


def test_the_back_door_lets_only_the_servers_own_people_in(world: World) -> None:
    statuses = {role: world.browsers[role].get("/admin/").status_code for role in ROLES}
    assert set(statuses.values()) == {302}
