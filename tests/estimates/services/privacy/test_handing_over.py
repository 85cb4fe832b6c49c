"""All that is kept of one client as one file: theirs whole, nobody else's, nothing of our costs."""

from __future__ import annotations

import json
from io import BytesIO
from zipfile import ZipFile

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import Quote
from jobs.models import Client, RoomNote, User
from jobs.services.files import path_of, read_file
from tests.access_world import World, build_world
from tests.builders import make_client, make_job, make_photo, make_room

pytestmark = pytest.mark.django_db


def client_of(world: World) -> Client:
    """Return the client of the world's job."""
    return Client.objects.get(pk=str(world.rows["client"][0]))


@pytest.fixture(name="world")
def a_world() -> World:
    """One of everything."""
    return build_world()


def handed_to(visitor: Visitor, client: Client) -> ZipFile:
    answer = visitor.post(reverse("client-data-file", args=[client.pk]))
    assert answer.status_code == 200
    assert answer["Content-Disposition"] == f'attachment; filename="client-{client.pk}.zip"'
    return ZipFile(BytesIO(answer.content))


def test_it_has_particulars_papers_and_photographs(world: World) -> None:
    client = client_of(world)
    archive = handed_to(world.browsers["owner"], client)
    kept = json.loads(archive.read("kept.json"))
    assert kept["client"][0]["name"] == client.name
    assert kept["quotes"][0]["pdf"] in archive.namelist()
    assert kept["notes of rooms"][0]["photo"] in archive.namelist()
    quote = Quote.objects.get(pk=kept["quotes"][0]["pk"])
    assert archive.read(kept["quotes"][0]["pdf"]) == read_file(quote.pdf)


def test_nothing_of_another_client_is_in_it(world: World) -> None:
    owner = User.objects.get(pk=world.browsers["owner"].session["_auth_user_id"])
    assert owner.company
    other = make_client(owner.company, "Zerafina Quill")
    room = make_room(make_job(owner.company, client=other))
    note = RoomNote.objects.create(room=room, text="Hers", photo=make_photo(owner.company))
    client = client_of(world)
    kept = handed_to(world.browsers["owner"], client).read("kept.json").decode()
    assert "Zerafina" not in kept
    assert "Hers" not in kept
    theirs = handed_to(world.browsers["owner"], other)
    assert json.loads(theirs.read("kept.json"))["notes of rooms"][0]["pk"] == note.pk


def test_our_costs_are_left_out(world: World) -> None:
    client = client_of(world)
    kept = handed_to(world.browsers["owner"], client).read("kept.json").decode()
    assert not {word for word in ("cost", "margin", "hours", "estimate") if f'"{word}' in kept}


def test_a_file_that_is_gone_is_said_to_be(world: World) -> None:
    client = client_of(world)
    note = RoomNote.objects.filter(room__job__client=client, photo__isnull=False).first()
    assert note
    assert note.photo
    path_of(note.photo.sha256).unlink()
    kept = json.loads(handed_to(world.browsers["owner"], client).read("kept.json"))
    assert "not in the folder of files" in kept["notes of rooms"][0]["photo"]
