"""A copied room and job, an archive undone, a photograph: what an owner does, click by click."""

from __future__ import annotations

import sys
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, expect

from jobs.models import Company, Job, Room, RoomNote, User
from jobs.services.trim import derive_trim
from tests.browser.hands import Hands, look_at
from tests.builders import make_doorway, make_job, make_product, make_room, make_zone
from tests.conftest import PHONE
from tests.estimates.a_job import company_of
from tests.jobs.plans import planned_alike

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A house plan: a bedroom of 12 by 10 ft and a hall of 10 by 4 ft, joined, the bedroom planned.

    120 and 40 ft2.
    """
    company = company_of(owner)
    job = make_job(company, title="Plan B", address="Lot 1, Larch Court")
    Company.objects.update(next_job_number=job.number + 1)
    bedroom = make_room(job, "Bedroom", (144, 120))
    make_zone(bedroom, make_product(company))
    hall = make_room(job, "Hall", (120, 48), order=1)
    make_doorway(bedroom, beyond=hall, beyond_wall=2, beyond_offset_mm=300)
    derive_trim(job=job)
    planned_alike(job.zones.get())
    return job


def areas(job: Job) -> list[float]:
    """Return the areas of a job's rooms in square feet, from their corners."""
    return [room.outline[2][0] * room.outline[2][1] / 144 for room in job.rooms.all()]


def test_a_room_is_copied(hands: Hands, job: Job) -> None:
    hands.open(f"/rooms/{job.rooms.get(name='Bedroom').pk}")
    hands.press("Copy the room")
    look_at(hands, "80-room-copy")
    hands.press("Copy the room")
    hands.expect("The room is copied.")
    sys.stdout.write(f"a room copied: {hands.clicks} clicks, no key\n")
    assert hands.clicks == 2
    expect(hands.page.get_by_role("heading", level=1)).to_have_text("Bedroom 2")
    look_at(hands, "81-room-copied")
    hands.open(f"/jobs/{job.pk}/rooms")
    # 120 + 40 + 120
    hands.expect("280 ft²")
    assert sorted(areas(job)) == [40, 120, 120]


def test_a_copy_into_no_job_is_refused(hands: Hands, job: Job) -> None:
    hands.open(f"/rooms/{job.rooms.get(name='Hall').pk}/copy")
    hands.fill(number="77777")
    hands.press("Copy the room")
    hands.expect("No job has the number 77777")
    look_at(hands, "82-room-copy-refused")


def test_a_house_plan_goes_to_three_lots(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}")
    look_at(hands, "79-job")
    hands.press("Copy the job")
    look_at(hands, "83-job-copy")
    lots = ["Lot 2, Larch Court", "Lot 3, Larch Court", "Lot 4, Larch Court"]
    hands.fill(addresses="\n".join(lots))
    hands.press("Copy the job")
    hands.expect("are there. 3 floors are being planned.")
    sys.stdout.write(f"a house plan to three lots: {hands.clicks} clicks, three addresses typed\n")
    look_at(hands, "84-job-copied")
    copies = Job.objects.exclude(pk=job.pk).order_by("number")
    assert [copy.address for copy in copies] == lots
    # Each lot 120 + 40 ft2; with the first house 4 x 160.
    assert [sum(areas(copy)) for copy in copies] == [160, 160, 160]
    assert sum(sum(areas(each)) for each in Job.objects.all()) == 640


def test_an_archived_job_comes_back(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}")
    hands.press("Archive the job")
    hands.expect(f"Job {job.number} is archived.")
    look_at(hands, "85-job-archived")
    hands.press("Undo")
    hands.expect("is in the lists again.")
    job.refresh_from_db()
    assert job.archived_at is None
    hands.press("Archive the job")
    hands.open("/")
    hands.press("Archived jobs")
    hands.expect("Plan B")
    look_at(hands, "86-archived-jobs")


def test_a_removed_room_comes_back(hands: Hands, job: Job) -> None:
    hands.open(f"/rooms/{job.rooms.get(name='Hall').pk}")
    hands.press("Remove the room")
    look_at(hands, "87-room-remove")
    hands.press("Remove the room")
    hands.expect("Hall is removed.")
    look_at(hands, "88-room-removed")
    hands.open("/removed")
    look_at(hands, "89-removed")
    hands.page.get_by_role("button", name="Bring back Hall").click()
    hands.expect("Hall is back.")
    assert sorted(areas(job)) == [40, 120]


def test_photographs_are_taken_in_a_room(hands: Hands, job: Job) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    room = Room.objects.get(name="Bedroom")
    hands.open(f"/rooms/{room.pk}/notes")
    look_at(hands, "90-notes-empty")
    photos = [a_photo(n, color) for n, color in enumerate(("tan", "gray"))]
    hands.page.locator("[name=photos]").set_input_files(photos)
    hands.fill(text="Hump by the window")
    hands.tick("Show it to the crew")
    hands.press("Save the note")
    hands.expect("It is noted.")
    assert RoomNote.objects.filter(room=room, for_packet=True).count() == 2
    look_at(hands, "91-notes")
    hands.open(f"/rooms/{room.pk}")
    expect(hands.page.locator("#drawing")).not_to_contain_text("Note of")
    look_at(hands, "92-room-with-notes")
    hands.open(f"/jobs/{job.pk}/packets")
    hands.expect("Hump by the window")
    look_at(hands, "93-packet-with-notes")


def test_a_job_is_looked_for_by_keys_alone(hands: Hands, job: Job) -> None:
    hands.open("/")
    box = hands.page.get_by_role("searchbox")
    box.focus()
    hands.page.keyboard.type("larch bed")
    hands.page.keyboard.press("Enter")
    hands.expect("has all of “larch bed”")
    look_at(hands, "94-search-empty")
    hands.page.get_by_role("searchbox").fill("larch")
    hands.page.keyboard.press("Enter")
    hands.expect("Plan B")
    look_at(hands, "95-search")


def a_photo(number: int, color: str) -> FilePayload:
    """Return a photograph as the browser hands it on."""
    out = BytesIO()
    Image.new("RGB", (1200, 900), color).save(out, "JPEG")
    return {"name": f"{number}.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}
