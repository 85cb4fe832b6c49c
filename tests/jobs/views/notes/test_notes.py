"""Notes and photographs of a room: taken, offered, refused, seen by those they are for."""

from __future__ import annotations

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image

from jobs.models import Role, Room, RoomNote, User
from tests.builders import make_crew, make_day, make_job, make_note, make_person, make_room
from tests.jobs.agreed import make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(owner: User) -> Room:
    """A room of the owner's company."""
    assert owner.company is not None
    return make_room(make_job(owner.company))


def a_picture(name: str = "den.png", size: tuple[int, int] = (2000, 10)) -> SimpleUploadedFile:
    """Return a photograph as a phone sends it, with remarks that must not be kept."""
    out, exif = BytesIO(), Image.Exif()
    exif[270] = "secret place"  # 270: the description of the picture
    remarks = {"comment": b"secret place", "xmp": b"secret place", "exif": exif}
    Image.new("RGB", size, "tan").save(out, "JPEG", **remarks)
    assert out.getvalue().count(b"secret place") == len(remarks)
    return SimpleUploadedFile(name, out.getvalue(), "image/jpeg")


def test_several_photographs_are_a_note_each_written_anew(visitor: Visitor, room: Room) -> None:
    photos = [a_picture("a.jpg"), a_picture("b.jpg", (20, 10))]
    sent = {"key": "1", "text": "Hump by the window", "photos": photos, "for_packet": "on"}
    visitor.post(reverse("room-notes", args=[room.pk]), sent)
    notes = list(room.notes.all())
    assert [(n.text, n.for_packet, n.for_quote) for n in notes] == [
        ("Hump by the window", True, False)
    ] * 2
    content = visitor.get(reverse("room-note-photo", args=[notes[0].pk])).getvalue()
    assert b"secret place" not in content
    assert Image.open(BytesIO(content)).size == (1600, 8)


def test_words_alone_are_a_note(visitor: Visitor, room: Room) -> None:
    visitor.post(reverse("room-notes", args=[room.pk]), {"key": "1", "text": "<b>Dog</b>"})
    page = words(visitor.get(reverse("room-edit", args=[room.pk])))
    assert "&lt;b&gt;Dog" in page
    assert "<b>Dog" not in page


@pytest.mark.parametrize(
    ("sent", "message"),
    [
        ({"text": "  "}, "Nothing was noted"),
        ({"photos": [SimpleUploadedFile("a.svg", b"<svg onload=alert(1)>")]}, "a picture: JPEG"),
        ({"photos": [a_picture(f"{n}.jpg", (2, 2)) for n in range(11)]}, "too many"),
        ({"text": "x" * 1001}, "1001"),
    ],
)
def test_what_is_no_note_is_refused(
    visitor: Visitor, room: Room, sent: dict[str, object], message: str
) -> None:
    answer = visitor.post(reverse("room-notes", args=[room.pk]), {"key": "1", **sent})
    assert answer.status_code == 422
    assert message in words(answer)
    assert not RoomNote.objects.exists()


def test_a_note_is_changed_and_never_emptied(visitor: Visitor, room: Room) -> None:
    note = RoomNote.objects.create(room=room, text="Dog")
    url = reverse("room-note", args=[note.pk])
    sent = {"key": "1", "version": "1", "text": "", "for_quote": "on"}
    assert visitor.post(url, sent).status_code == 422
    visitor.post(url, sent | {"text": "Two dogs"})
    note.refresh_from_db()
    assert (note.text, note.for_quote, note.version) == ("Two dogs", True, 2)


def test_a_note_overtaken_is_told_of(visitor: Visitor, room: Room) -> None:
    note = make_note(room)
    RoomNote.objects.update(version=2, text="Cat")
    sent = {"key": "1", "version": "1", "text": "Dog"}
    answer = visitor.post(reverse("room-note", args=[note.pk]), sent)
    assert answer.status_code == 409
    assert "Note is now “Cat”" in words(answer)


def test_the_crew_sees_what_is_offered_to_it(visitor: Visitor, room: Room) -> None:
    shown = make_note(room, "Saw stands here", for_packet=True)
    hidden = make_note(room, "Haggles over the price", for_quote=True)
    member = make_person(room.job.company, Role.CREW)
    make_day(room.job, make_crew(room.job.company, member), scope=make_scope(room.job))
    visitor.force_login(member)
    page = words(visitor.get(reverse("packet-list", args=[room.job_id])))
    assert shown.text in page
    assert hidden.text not in page
    assert visitor.get(reverse("room-note-photo", args=[shown.pk])).status_code == 200
    assert visitor.get(reverse("room-note-photo", args=[hidden.pk])).status_code == 404


def test_a_removed_note_comes_back_with_its_photograph(visitor: Visitor, room: Room) -> None:
    note = make_note(room)
    page = words(visitor.post(reverse("room-note-remove", args=[note.pk]), follow=True))
    undo = page.split('action="/removed/')[1].split('"')[0]
    answer = visitor.post(f"/removed/{undo}")
    assert answer["Location"] == reverse("room-notes", args=[room.pk])
    assert RoomNote.objects.get().photo == note.photo
