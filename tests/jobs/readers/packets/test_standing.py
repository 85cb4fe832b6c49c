"""A packet is out of date as soon as its plans, scope, days, site or holds change, and says so."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorZone, Job, Packet, Product, Room, SiteFacts, User
from jobs.readers.current_plan.floors import current_floors
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.packets.standing import packet_standing
from jobs.readers.scope import scope_value
from jobs.services.floors.rules import set_going_on
from jobs.services.packets import keep_packet, print_packet
from jobs.services.scope import freeze_scope
from jobs.services.site import clear_hold
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.resume.remaining import pieces_down
from tests.builders import make_company, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import MONDAY, a_crew, hold_asbestos, laid_out
from tests.jobs.plans import planned

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _no_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    """Set no sheets: what stands on them is looked at elsewhere."""
    monkeypatch.setattr("jobs.services.packets.packet_pdf", lambda *_, **__: b"%PDF-")


@pytest.fixture
def job() -> Job:
    """A job of one floor of thirty rows, laid onto days, its packet printed."""
    job = make_job(make_company())
    planned(make_zone(make_room(job, "Den", size=(150, 206.5))))
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    laid_out(job, a_crew(job.company))
    printed_again(job)
    return fresh(job)


@pytest.fixture
def owner(job: Job) -> User:
    """The owner of the job's company."""
    return make_person(job.company)


def fresh(job: Job) -> Job:
    """The job as it stands in the books."""
    return Job.objects.select_related("agreed_scope__document", "client", "company").get(pk=job.pk)


def printed_again(job: Job) -> Packet:
    """The next packet of a job, which must have something new to say."""
    packet = print_packet(fresh(job))
    assert packet is not None
    return keep_packet(job=job, printed=packet, user=None)


def changed(job: Job) -> tuple[str, ...]:
    """What has changed since the newest packet of a job."""
    standing = packet_standing(fresh(job))
    assert standing is not None
    return standing.changed


def replanned(zone: FloorZone, owner: User, *, rows: int = 12) -> None:
    """Note so many rows as down, find the room 3/8 in deeper and plan what is left."""
    plan = zone.plans.latest("number")
    (floor,) = current_floors(zone.job)
    set_going_on(
        zone=zone,
        user=owner,
        key="k1",
        expected=zone.version,
        plan=plan,
        laid=pieces_down(floor.stored().plan, rows=rows),
        planks=150,
        gone=(),
    )
    Room.objects.filter(zone=zone).update(outline=[[0, 0], [150, 0], [150, 206.875], [0, 206.875]])
    planned(FloorZone.objects.get(pk=zone.pk))


def test_a_packet_just_printed_holds(job: Job) -> None:
    assert changed(job) == ()


def test_an_unagreed_plan_of_the_whole_floor_is_no_crews_business(job: Job) -> None:
    Room.objects.update(outline=[[0, 0], [150, 0], [150, 180], [0, 180]])
    planned(job.zones.get())
    assert changed(job) == ()
    assert [floor.number for floor in current_floors(fresh(job))] == [1]


def moved(job: Job, owner: User) -> None:
    """Move the last day by a week."""
    last = job.days.order_by("date").last()
    assert last is not None
    last.date += timedelta(days=7)
    last.save()


def widened(job: Job, owner: User) -> None:
    """Agree on a wider room, as an accepted change order does."""
    Room.objects.filter(job=job).update(outline=[[0, 0], [162, 0], [162, 206.5], [0, 206.5]])
    planned(job.zones.get())
    job.agreed_scope = freeze_scope(job=fresh(job), user=None)
    job.save()


def begun(job: Job, owner: User) -> None:
    """Plan again what is left after twelve rows."""
    replanned(job.zones.get(), owner)


def cleared(job: Job, owner: User) -> None:
    """Clear a hold."""
    hold_asbestos(job)
    clear_hold(job=job, user=owner, code="asbestos", by="Ada Brandt", note="Report 1182")


CHANGES: dict[str, tuple[Callable[[Job, User], None], str]] = {
    "moved": (moved, "is on "),
    "widened": (widened, "Scope 2 is agreed on now, not scope 1."),
    "replanned": (begun, "Den is laid by plan 2 now, not by plan 1."),
    "cleared": (cleared, "A hold was cleared."),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_outdates_the_packet_on_every_page_that_offers_it(
    name: str, job: Job, owner: User
) -> None:
    change, said = CHANGES[name]
    change(job, owner)
    assert any(said in line for line in changed(job))
    day = job.days.order_by("date")[0]
    visitor, crew = Visitor(), Visitor()
    visitor.force_login(owner)
    crew.force_login(day.crew.members.get())
    pages = {
        "job-list": visitor.get(reverse("job-list")),
        "packet-list": visitor.get(reverse("packet-list", args=[job.pk])),
        "job": visitor.get(reverse("job", args=[job.pk])),
        "job-days": visitor.get(reverse("job-days", args=[job.pk])),
        "day": crew.get(reverse("day", args=[day.pk])),
        "log": crew.get(reverse("job-log", args=[job.pk])),
    }
    for page, answer in pages.items():
        assert "out of date" in answer.content.decode(), page


def test_todays_page_says_that_the_paper_is_old(job: Job, owner: User) -> None:
    moved(job, owner)
    day = job.days.order_by("date")[0]
    crew = Visitor()
    crew.force_login(day.crew.members.get())
    page = crew.get(reverse("today")).content.decode()
    assert "Packet 1 is out of date" in page
    assert "call the office" in page


def test_the_next_packet_says_what_changed_and_holds(job: Job, owner: User) -> None:
    moved(job, owner)
    packet = printed_again(job)
    said = packet.document.text
    assert '"since":1' in said
    assert f"Day {job.days.count()} is on " in said
    assert packet.changed_pdf is not None
    assert changed(job) == ()


def test_a_replan_after_row_12_is_what_the_next_packet_prints(job: Job, owner: User) -> None:
    replanned(job.zones.get(), owner)
    plan = job.zones.get().plans.latest("number")
    printed = print_packet(fresh(job))
    assert printed is not None
    (floor,) = printed.content["floors"]
    assert (floor["plan"], floor["plan_sha256"]) == (2, plan.document.sha256)
    (current,) = current_floors(fresh(job))
    stored = current.stored()
    rows = RowsOfSheet(stored.request, stored.plan, cut_sheet(stored.request, stored.plan)).rows()
    # 206.875 in less two gaps of 1/4 in: the last row is 3/8 in wider than the old plan's.
    assert [row.row for row in rows] == list(range(13, 31))
    assert printed.content["changed"]["said"] == ["Den is laid by plan 2 now, not by plan 1."]
    assert "floor 1" in printed.content["changed"]["parts"]
    assert not any(part.startswith("load") for part in printed.content["changed"]["parts"])


def test_a_widened_room_once_agreed_on_is_what_the_next_packet_prints(
    job: Job, owner: User
) -> None:
    widened(job, owner)
    printed = print_packet(fresh(job))
    assert printed is not None
    (floor,) = printed.content["floors"]
    assert floor["plan_sha256"] == job.zones.get().plans.latest("number").document.sha256
    assert printed.content["changed"]["said"][0] == "Scope 2 is agreed on now, not scope 1."


def test_a_packet_of_before_is_held_against_what_it_says_itself(job: Job, owner: User) -> None:
    Packet.objects.update(basis={})
    assert changed(job) == ()
    moved(job, owner)
    assert changed(job)[0].startswith(f"Day {job.days.count()} is on ")


def test_nobody_lays_from_the_packet_of_a_closed_job(job: Job, owner: User) -> None:
    moved(job, owner)
    Job.objects.update(closed_at="2027-04-01T12:00:00Z")
    assert changed(job) == ()


def test_what_only_the_phone_shows_outdates_no_paper(job: Job) -> None:
    SiteFacts.objects.update(access="Code 4711")
    assert changed(job) == ()


def read(job: Job, value: str) -> None:
    """Note the wood subfloor as it read on the morning of row one; the maker's limit is 12 %."""
    site = SiteFacts.objects.get(job=job)
    reading = {"method": "wood", "value": value, "where": "row one", "on": str(MONDAY)}
    SiteFacts.objects.filter(pk=site.pk).update(readings=[*site.readings, reading])


@pytest.fixture
def on_wood(job: Job) -> Job:
    """The job on a wood subfloor whose floor's maker allows 12 %, its packet printed again."""
    SiteFacts.objects.filter(job=job).update(subfloor="wood")
    Product.objects.update(most_wood_mc_pct=12)
    printed = printed_again(job)
    assert [*printed.basis["moisture"]] == ["moisture-open"]
    return job


def test_a_reading_that_the_packet_asks_for_outdates_nothing_where_it_passes(on_wood: Job) -> None:
    read(on_wood, "12")
    assert changed(on_wood) == ()


def test_a_reading_over_the_limit_outdates_the_packet(on_wood: Job) -> None:
    read(on_wood, "13")
    assert changed(on_wood) == ("Moisture stops the work: the subfloor is too wet.",)


def test_a_reading_that_is_taken_back_stops_the_work_again(on_wood: Job) -> None:
    read(on_wood, "9")
    assert [*printed_again(on_wood).basis["moisture"]] == []
    SiteFacts.objects.filter(job=on_wood).update(readings=[])
    assert changed(on_wood) == ("Moisture stops the work: no moisture reading yet.",)


def test_a_way_in_that_was_printed_outdates_it(job: Job) -> None:
    SiteFacts.objects.update(access="Key under the blue pot.")
    packet = print_packet(fresh(job), with_access=True)
    assert packet is not None
    keep_packet(job=job, printed=packet, user=None)
    assert changed(job) == ()
    SiteFacts.objects.update(access="Code 4711")
    assert changed(job) == ("The way in changed, which is printed on it.",)


def test_days_laid_out_again_have_the_rows_of_the_plan_that_is_laid(job: Job, owner: User) -> None:
    replanned(job.zones.get(), owner)
    tasks = tasks_as_laid(fresh(job), scope_value(job.agreed_scope))  # type: ignore[arg-type]
    (lay,) = (task for task in tasks if task.code == "lay")
    (agreed,) = (
        task
        for task in scope_value(job.agreed_scope).tasks  # type: ignore[arg-type]
        if task.code == "lay"
    )
    # The last row is wider now; what was agreed for laying is shared among the same 30 rows anew.
    assert (lay.rows, lay.hours, sum(lay.row_hours)) == ((1, 30), agreed.hours, agreed.hours)
    assert lay.row_hours[-1] > agreed.row_hours[-1]
