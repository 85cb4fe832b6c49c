"""What is removed comes back as it was, with all that went with it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core import serializers
from django.db.models import Model
from django.utils import timezone

from estimates.models import JobLine
from jobs.domain.checks import BadValueError
from jobs.models import (
    Client,
    Doorway,
    FloorPlan,
    Job,
    Product,
    Removal,
    Room,
    RoomNote,
    SiteFacts,
    StairFlight,
    TrimRun,
    User,
)
from jobs.services.archive import archive
from jobs.services.floors.floors import remove_zone
from jobs.services.openings.doorways import remove_doorway
from jobs.services.openings.stairs import remove_stair
from jobs.services.rooms import remove_room
from jobs.services.trim import derive_trim
from tests.builders import (
    make_client,
    make_company,
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_note,
    make_person,
    make_product,
    make_room,
    make_stair,
    make_zone,
)
from tests.jobs.agreed import make_scope
from tests.jobs.plans import planned_alike

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company())


@pytest.fixture
def job(owner: User) -> Job:
    """A job of two rooms with a doorway between them, one of them in a planned floor."""
    assert owner.company is not None
    job = make_job(owner.company)
    den, hall = make_room(job), make_room(job, "Hall")
    place = {"beyond": hall, "beyond_wall": 2, "beyond_offset_mm": Decimal("355.6")}
    make_doorway(den, offset_mm=Decimal("304.8"), width_mm=Decimal("762"), **place)
    planned_alike(make_zone(den))
    derive_trim(job=job)
    return job


def standing(job: Job) -> list[str]:
    """Return every row of the job but derived ones, as text, to be held against another time."""
    rows: list[Model] = [*job.rooms.all(), *job.zones.all(), *job.stairs.all()]
    rows += [*Doorway.objects.filter(room__job=job), *FloorPlan.objects.filter(zone__job=job)]
    return [serializers.serialize("json", [row]) for row in rows]


def runs(job: Job) -> list[tuple[object, ...]]:
    """Return the runs of trim of a job, without their keys."""
    rows = TrimRun.objects.filter(room__job=job).order_by("room", "kind", "wall", "place")
    return list(rows.values_list("room", "wall", "place", "length_mm"))


def test_a_room_comes_back_with_doorway_floor_and_trim(job: Job, owner: User) -> None:
    before, trim = standing(job), runs(job)
    removal = remove_room(room=job.rooms.get(name="Den"), user=owner)
    assert not Doorway.objects.exists()
    archive.bring_back(removal=removal, user=owner)
    assert standing(job) == before
    assert runs(job) == trim


def test_the_doorway_into_a_room_leads_there_again(job: Job, owner: User) -> None:
    before = standing(job)
    removal = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    assert Doorway.objects.get().beyond_floor == "Hall"
    archive.bring_back(removal=removal, user=owner)
    assert standing(job) == before


def test_a_doorway_that_leads_elsewhere_since_stays_there(job: Job, owner: User) -> None:
    removal = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    closet = make_room(job, "Closet")
    Doorway.objects.update(beyond=closet)
    archive.bring_back(removal=removal, user=owner)
    assert Doorway.objects.get().beyond == closet


def test_a_floor_comes_back_with_its_plan_and_its_rooms(job: Job, owner: User) -> None:
    before = standing(job)
    removal = remove_zone(zone=job.zones.get(), user=owner)
    assert not FloorPlan.objects.exists()
    assert job.rooms.get(name="Den").zone is None
    archive.bring_back(removal=removal, user=owner)
    assert standing(job) == before


def test_a_doorway_and_a_stair_come_back(job: Job, owner: User) -> None:
    make_stair(job)
    before, trim = standing(job), runs(job)
    door = remove_doorway(doorway=Doorway.objects.get(), user=owner)
    stair = remove_stair(row=job.stairs.get(), user=owner)
    assert runs(job) != trim
    for removal in (door, stair):
        archive.bring_back(removal=removal, user=owner)
    assert standing(job) == before
    assert runs(job) == trim


def test_a_job_comes_back_whole(job: Job, owner: User) -> None:
    before, site = standing(job), serializers.serialize("json", SiteFacts.objects.all())
    removal = archive.remove_job(job=job, user=owner)
    assert not Room.objects.exists()
    archive.bring_back(removal=removal, user=owner)
    again = Job.objects.get()
    assert (again.pk, again.number, again.address) == (removal.row, job.number, job.address)
    assert standing(again) == before
    assert serializers.serialize("json", SiteFacts.objects.all()) == site


def test_price_and_notes_of_a_job_come_back_with_it(job: Job, owner: User) -> None:
    note = make_note(job.rooms.get(name="Den"))
    line = JobLine.objects.create(job=job, label="Piano", quantity=1, unit="job", unit_cost=90)
    removal = archive.remove_job(job=job, user=owner)
    assert not JobLine.objects.exists()
    assert not RoomNote.objects.exists()
    archive.bring_back(removal=removal, user=owner)
    assert (JobLine.objects.get(), JobLine.objects.get().unit_cost) == (line, Decimal(90))
    assert (RoomNote.objects.get(), RoomNote.objects.get().photo) == (note, note.photo)


def test_brought_back_twice_it_is_there_once(job: Job, owner: User) -> None:
    removal = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    for _ in range(2):
        archive.bring_back(removal=removal, user=owner)
    assert job.rooms.count() == 2


def test_a_name_given_to_another_meanwhile_gets_a_number(job: Job, owner: User) -> None:
    removal = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    make_room(job, "hall")
    archive.bring_back(removal=removal, user=owner)
    assert {room.name for room in job.rooms.all()} == {"Den", "hall", "Hall 2"}


def test_a_room_waits_for_its_job(job: Job, owner: User) -> None:
    room = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    whole = archive.remove_job(job=job, user=owner)
    with pytest.raises(BadValueError, match="of a job that is gone"):
        archive.bring_back(removal=room, user=owner)
    for removal in (whole, room):
        archive.bring_back(removal=removal, user=owner)
    assert job.rooms.count() == 2


def test_a_room_comes_back_without_a_floor_that_is_gone(job: Job, owner: User) -> None:
    room = remove_room(room=job.rooms.get(name="Den"), user=owner)
    remove_zone(zone=job.zones.get(), user=owner)
    archive.bring_back(removal=room, user=owner)
    assert job.rooms.get(name="Den").zone is None


def test_nothing_comes_back_into_a_closed_job(job: Job, owner: User) -> None:
    removal = remove_room(room=job.rooms.get(name="Hall"), user=owner)
    Job.objects.update(closed_at=timezone.now())
    with pytest.raises(BadValueError, match="which is closed"):
        archive.bring_back(removal=removal, user=owner)
    assert job.rooms.count() == 1
    assert Removal.objects.get().restored_at is None


def test_a_job_from_which_something_was_issued_is_never_removed(job: Job, owner: User) -> None:
    make_day(job, make_crew(job.company), scope=make_scope(job))
    with pytest.raises(BadValueError, match="1 frozen scope, 1 day of work"):
        archive.remove_job(job=job, user=owner)
    assert Job.objects.exists()
    assert not Removal.objects.exists()


def test_a_product_in_use_is_not_removed(job: Job, owner: User) -> None:
    product = job.zones.get().product
    with pytest.raises(BadValueError, match="needed by Den"):
        archive.remove_product(product=product, user=owner)
    assert Product.objects.exists()


def test_a_client_and_a_product_that_nothing_needs_come_back(owner: User) -> None:
    assert owner.company is not None
    client, product = make_client(owner.company), make_product(owner.company)
    gone = [
        archive.remove_client(client=client, user=owner),
        archive.remove_product(product=product, user=owner),
    ]
    assert not Client.objects.exists()
    assert not Product.objects.exists()
    for removal in gone:
        archive.bring_back(removal=removal, user=owner)
    assert Client.objects.get() == client
    assert Product.objects.get() == product


def test_a_column_lost_or_added_since_stops_nothing(job: Job, owner: User) -> None:
    stair = make_stair(job)
    removal = remove_stair(row=stair, user=owner)
    older = removal.rows.replace('"treads": 12, ', '"carpet": "red", ')
    assert older != removal.rows
    Removal.objects.update(rows=older)
    archive.bring_back(removal=removal, user=owner)
    assert StairFlight.objects.get().treads == 0


def test_what_cant_be_read_any_more_is_refused(job: Job, owner: User) -> None:
    removal = remove_stair(row=make_stair(job), user=owner)
    Removal.objects.update(rows=removal.rows.replace("jobs.stairflight", "jobs.ladder"))
    with pytest.raises(BadValueError, match="can't be read any more"):
        archive.bring_back(removal=removal, user=owner)


def test_a_job_is_archived_and_brought_back(job: Job, owner: User) -> None:
    first = archive.archive_job(job=job, user=owner).archived_at
    assert first is not None
    assert archive.archive_job(job=job, user=owner).archived_at == first
    assert archive.unarchive_job(job=job, user=owner).archived_at is None
