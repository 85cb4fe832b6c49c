"""A copied room, floor or job is drawn as the first was, and read anew."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import (
    ClientKind,
    Company,
    Doorway,
    Errand,
    FloorZone,
    HoldClearance,
    Job,
    JobPayer,
    Product,
    Room,
    SiteFacts,
    Transition,
    TrimRun,
    User,
)
from jobs.readers.openings.openings import openings_of
from jobs.readers.plan_request import request_of
from jobs.services.copies.copies import copy_floor, copy_job, copy_room, plan_copies
from jobs.services.trim import derive_trim
from tests.builders import (
    make_client,
    make_company,
    make_doorway,
    make_job,
    make_person,
    make_product,
    make_room,
    make_stair,
    make_zone,
)
from tests.jobs.plans import planned_alike

pytestmark = pytest.mark.django_db
_WALL = Decimal("114.3")  # 4 1/2 in between the two rooms


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company())


@pytest.fixture
def product(owner: User) -> Product:
    """The plank of the house plan."""
    assert owner.company is not None
    return make_product(owner.company)


@pytest.fixture
def job(owner: User, product: Product) -> Job:
    """A house plan: den and hall joined through a doorway as one floor, a stair, an edited run.

    +---- den 60 ----+ +--- hall 60 ---+
    |                [ ]               | 49
    +----------------+ +---------------+
    """
    assert owner.company is not None
    job = make_job(owner.company, trim_stock=["2438.4"])
    Company.objects.update(next_job_number=job.number + 1)
    den = make_room(job, depths=[{"x": "10", "y": "10", "depth": "1/4"}], leveler_bags=3)
    piles = [{"width_mm": "177.8", "variant": "", "planks": 4}]
    zone = make_zone(den, product, name="Ground floor", piles=piles)
    east = Decimal(60) * Decimal("25.4") + _WALL
    hall = make_room(job, "Hall", zone=zone, place_x_mm=east, order=1)
    sizes = {"wall": 1, "offset_mm": 254, "width_mm": 762, "depth_mm": _WALL, "swing": "in"}
    make_doorway(den, beyond=hall, beyond_wall=3, beyond_offset_mm=Decimal("228.6"), **sizes)
    make_doorway(hall, wall=0, beyond_kind="carpet", treatment="end cap")
    make_stair(job)
    derive_trim(job=job)
    TrimRun.objects.filter(room=den, wall=0).update(edited=True, length_mm=1000)
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor="carpet", tear_out=True, access="Door code 4711", readings=[{}])
    HoldClearance.objects.create(job=job, code="asbestos", by="Ines", note="Tested")
    return job


def drawn(room: Room) -> tuple[object, ...]:
    """Return what was measured in a room."""
    return room.measured, room.outline, room.holes, room.edges, room.base, room.moisture


def lengths(room: Room) -> list[Decimal]:
    """Return the lengths of trim along the walls of a room."""
    return list(
        room.trim_runs.order_by("kind", "wall", "place").values_list("length_mm", flat=True)
    )


def to_lots(job: Job, owner: User, addresses: list[str], key: str = "1") -> list[Job]:
    """Return the copies of a job at these addresses, for the same client."""
    return copy_job(
        job=job, user=owner, key=key, client=job.client, title="Plan B", addresses=addresses
    )


def test_the_payer_of_a_house_plan_pays_for_its_lots(job: Job, owner: User) -> None:
    builder = make_client(job.company, "Birch Homes", kind=ClientKind.BUILDER)
    given = {"order_number": "4711", "retainage_percent": 10, "prices": "payer"}
    JobPayer.objects.create(job=job, payer=builder, **given)
    (lot,) = to_lots(job, owner, ["Lot 7"])
    paid = JobPayer.objects.get(job=lot)
    assert (paid.payer, paid.order_number, paid.prices) == (builder, "", "payer")
    assert paid.retainage_percent == 10


def test_a_copied_room_is_drawn_alike_and_read_anew(job: Job, owner: User) -> None:
    den = job.rooms.get(name="Den")
    new = copy_room(room=den, to=job, user=owner, key="1", name="Den")
    assert (new.name, new.zone, new.depths, new.leveler_bags) == ("Den 2", None, [], 0)
    assert drawn(new) == drawn(den)
    assert lengths(new) == lengths(den)


def test_an_opening_measured_from_beyond_comes_with_the_room(job: Job, owner: User) -> None:
    hall = job.rooms.get(name="Hall")
    new = copy_room(room=hall, to=make_job(job.company), user=owner, key="1", name="Hall")
    assert [(one.wall, one.offset_mm, one.doorway.beyond) for one in openings_of(new)] == [
        (0, Decimal(300), None),
        (3, Decimal("228.6"), None),
    ]
    assert new.doorways.get(wall=3).swing == "out"
    assert lengths(new) == lengths(hall)


def test_a_copied_opening_has_its_strip(job: Job, owner: User) -> None:
    den = job.rooms.get(name="Hall")
    new = copy_room(room=den, to=job, user=owner, key="1", name="Hall")
    strips = Transition.objects.filter(doorway__room=new).values_list("profile", "length_mm")
    assert ("end cap", Decimal(812)) in list(strips)


def test_a_copied_floor_is_the_same_floor_to_be_planned(job: Job, owner: User) -> None:
    zone, to = job.zones.get(), make_job(job.company)
    new = copy_floor(zone=zone, to=to, user=owner, key="1")
    assert (new.name, new.piles, new.product) == ("Ground floor", [], zone.product)
    mine, other = request_of(zone), request_of(new)
    assert mine.pop("name") != other.pop("name")
    in_the_first_house = {"on_hand", "laid"}  # its counted piles
    assert {name: mine[name] for name in mine.keys() - in_the_first_house} == other


def test_a_floor_copied_within_its_job_gets_names_of_its_own(job: Job, owner: User) -> None:
    new = copy_floor(zone=job.zones.get(), to=job, user=owner, key="1")
    assert new.name == "Ground floor 2"
    assert {room.name for room in new.rooms.all()} == {"Den 2", "Hall 2"}
    inner = Doorway.objects.get(room__name="Den 2")
    assert (inner.beyond.name if inner.beyond else "", inner.beyond_wall) == ("Hall 2", 3)


def test_a_house_plan_goes_to_lots(job: Job, owner: User) -> None:
    lots = ["12 Larch Court", "14 Larch Court"]
    new = to_lots(job, owner, lots)
    assert [one.address for one in new] == lots
    assert len({job.number, *(one.number for one in new)}) == 3
    for one in new:
        assert [drawn(room) for room in one.rooms.all()] == [drawn(r) for r in job.rooms.all()]
        assert [lengths(room) for room in one.rooms.all()] == [lengths(r) for r in job.rooms.all()]
        assert [stair.treads for stair in one.stairs.all()] == [12]
        assert one.trim_stock == ["2438.4"]
        site = SiteFacts.objects.get(job=one)
        assert (site.existing_floor, site.tear_out, site.year_built) == ("carpet", True, 1994)
        assert (site.readings, site.access, one.clearances.count()) == ([], "", 0)


def test_a_copy_sent_twice_is_there_once(job: Job, owner: User) -> None:
    first = to_lots(job, owner, ["12 Larch Court"], key="k" * 64)
    assert to_lots(job, owner, ["12 Larch Court"], key="k" * 64) == first
    assert Job.objects.count() == 2


def test_what_was_broken_off_goes_on_where_it_ended(job: Job, owner: User) -> None:
    first = to_lots(job, owner, ["12 Larch Court"])
    assert to_lots(job, owner, ["12 Larch Court", "14 Larch Court"])[:1] == first
    assert Job.objects.count() == 3


def test_the_floors_of_the_lots_are_planned_where_the_first_one_was(job: Job, owner: User) -> None:
    FloorZone.objects.update(piles=[])
    planned_alike(job.zones.get())
    make_zone(make_room(job, "Attic"), job.zones.get().product, name="Attic")
    lots = to_lots(job, owner, ["12 Larch Court"])
    assert plan_copies(job=job, copies=lots, user=owner) == 1
    assert Errand.objects.get().subject == f"zone:{lots[0].zones.get(name='Ground floor').pk}"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"closed_at": timezone.now()}, "a closed job"),
        ({"archived_at": timezone.now()}, "an archived job"),
        ({"units": "metric"}, "measured in metric"),
    ],
)
def test_nothing_is_copied_where_it_doesnt_belong(
    job: Job, owner: User, changes: dict[str, object], words: str
) -> None:
    to = make_job(job.company)
    Job.objects.filter(pk=to.pk).update(**changes)
    to.refresh_from_db()
    with pytest.raises(BadValueError, match=words):
        copy_room(room=job.rooms.get(name="Den"), to=to, user=owner, key="1", name="Den")
    with pytest.raises(BadValueError, match=words):
        copy_floor(zone=job.zones.get(), to=to, user=owner, key="2")
    assert not to.rooms.exists()
