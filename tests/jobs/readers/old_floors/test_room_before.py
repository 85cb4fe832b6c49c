"""What was in a room, typed on its page, and what follows from it where the decision is made.

Limits: 29 CFR 1910.1001(j) and 1926.1101(k), 1980; 40 CFR 745.83, before 1978, 6 ft2 of paint.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import ExistingFloor, HoldClearance, Job, Room, SiteFacts, User
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from jobs.readers.scope import room_take
from jobs.readers.site import cautions_of, site_facts
from tests.builders import make_job, make_room, make_run
from tests.reading import words

pytestmark = pytest.mark.django_db

IN = Decimal("25.4")
NOTHING = {"layer_below": "unknown", "old_adhesive": "unknown", "painted_base": "unknown"}


@pytest.fixture
def job(owner: User) -> Job:
    """A house of 1968 whose carpet of 2004 comes out, over wood."""
    assert owner.company is not None
    job = make_job(owner.company)
    facts = {"year_built": 1968, "existing_floor": ExistingFloor.CARPET, "floor_year": 2004}
    SiteFacts.objects.filter(job=job).update(**facts, tear_out=True)
    return job


@pytest.fixture
def den(job: Job) -> Room:
    """A room of it with 20 ft of base that comes off."""
    den = make_room(job, "Den", (144, 120), base="reinstall")
    make_run(den, length_mm=240 * IN)
    return den


def noted(visitor: Visitor, room: Room, status: int = 303, **typed: object) -> str:
    """Send the page of a room; return what it answers, in words."""
    room.refresh_from_db()
    sent = NOTHING | {"key": f"k-{room.version}", "version": room.version} | typed
    answer = visitor.post(reverse("room-before", args=[room.pk]), sent)
    assert answer.status_code == status
    return words(answer) if status != 303 else ""


def codes(job: Job) -> set[str]:
    """The cautions of a job but for those of every job; ! for a stop."""
    every = {one.code + "!" * (one.severity == "hold") for one in cautions_of(job)}
    return every - {"work", "lifting"}


def test_what_is_not_known_errs_to_caution(job: Job, den: Room) -> None:
    # 240 in by 5-1/4 in taken for it are 8.75 ft2; an older floor may lie under the carpet.
    assert codes(job) == {"lead!", "hidden-floor"}
    assert site_facts(job).rooms[0].painted_ft2 == Decimal("8.75")


def test_a_base_without_paint_and_nothing_below_leave_little_to_warn_of(
    visitor: Visitor, job: Job, den: Room
) -> None:
    noted(visitor, den, layer_below="none", old_adhesive="none", painted_base="no")
    assert codes(job) == {"lead-minor"}


def test_base_that_stays_disturbs_no_paint(visitor: Visitor, job: Job, den: Room) -> None:
    Room.objects.filter(pk=den.pk).update(base="keep")
    noted(visitor, den, painted_base="yes", layer_below="none")
    assert codes(job) == {"lead-minor"}


@pytest.mark.parametrize(
    ("feet", "height", "code"), [("20.57", '3 1/2"', "lead-minor"), ("20.58", '3 1/2"', "lead!")]
)
def test_so_much_painted_base_is_six_square_feet(
    visitor: Visitor, job: Job, den: Room, feet: str, height: str, code: str
) -> None:
    # 40 CFR 745.83: 6 ft2 or less of paint in a room; 20.57 ft of 3-1/2 in are 5.9996 ft2.
    den.trim_runs.update(length_mm=Decimal(feet) * 12 * IN)
    noted(visitor, den, painted_base="yes", base_height=height, layer_below="none")
    assert codes(job) == {code}


def test_an_old_floor_of_one_room_stops_the_job_and_says_which(
    visitor: Visitor, job: Job, den: Room
) -> None:
    kitchen = make_room(job, "Kitchen", (100, 100))
    noted(visitor, kitchen, old_floor="resilient", old_floor_year=1970, painted_base="no")
    page = words(visitor.get(reverse("job", args=[job.pk])))
    assert "Kitchen: A resilient or unknown floor that may be from 1970 or later" in page
    assert "asbestos!" in codes(job)
    house = SiteFacts.objects.get(job=job)
    rooms = Room.objects.filter(job=job).order_by("name")
    assert [str(room_take(room, house).old_floor) for room in rooms] == ["carpet", "resilient"]


def test_a_hold_of_a_room_is_cleared_by_a_name_and_by_nobody_without(
    visitor: Visitor, job: Job, den: Room
) -> None:
    noted(visitor, den, old_floor="resilient", old_floor_year=1984, layer_below="resilient")
    address = reverse("hold-clear", args=[job.pk, "asbestos"])
    assert visitor.post(address, {"key": "a", "by": "", "note": "Report 7"}).status_code == 422
    assert visitor.post(address, {"key": "b", "by": " ", "note": "Report 7"}).status_code == 422
    assert not HoldClearance.objects.exists()
    visitor.post(address, {"key": "c", "by": "R. Vance, inspector", "note": "Report 7"})
    assert "asbestos" not in open_holds_of(job)


def test_many_jobs_are_told_the_same_holds_as_one(visitor: Visitor, job: Job, den: Room) -> None:
    noted(visitor, den, old_floor="resilient", layer_below="resilient")
    assert (
        set(open_holds_by_job([job.pk])[job.pk])
        == set(open_holds_of(job))
        == {*("asbestos", "lead")}
    )


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"old_floor": "tile", "old_floor_year": 2999}, "2999 lies ahead; accepted: 1600 to"),
        ({"old_floor": "tile", "old_floor_year": 0}, "1600"),
        ({"old_floor_year": 1990}, "Say which floor is down here, then its year."),
        ({"base_height": "0"}, "Height of the base"),
        ({"base_height": "tall"}, "tall"),
        ({"layer_below": "lava"}, "lava"),
    ],
)
def test_what_can_not_be_is_refused_and_what_was_typed_stays(
    visitor: Visitor, den: Room, typed: dict[str, object], said: str
) -> None:
    assert said in noted(visitor, den, 422, **typed)
    den.refresh_from_db()
    assert (den.version, den.old_floor_year, den.base_height_mm) == (1, None, None)


def test_two_who_note_at_once_are_told(visitor: Visitor, den: Room) -> None:
    noted(visitor, den, painted_base="no")
    late = NOTHING | {"key": "late", "version": 1}
    assert visitor.post(reverse("room-before", args=[den.pk]), late).status_code == 409


def test_the_site_facts_lead_to_each_room_and_its_figure_says_where_it_is_from(
    visitor: Visitor, job: Job, den: Room
) -> None:
    facts = visitor.get(reverse("site-edit", args=[job.pk])).content.decode()
    assert reverse("room-before", args=[den.pk]) in facts
    page = words(visitor.get(reverse("room-before", args=[den.pk])))
    assert "8.75" in page
    assert "40 CFR 745.83" in page


@pytest.mark.parametrize(
    ("method", "value", "fits"),
    [("rh", "100", True), ("rh", "100.1", False), ("mver", "40", True), ("mver", "41", False)],
)
def test_a_reading_lies_within_what_its_method_can_show(
    visitor: Visitor, job: Job, method: str, value: str, fits: bool
) -> None:
    sent = {"key": "r", "version": job.site.version, "method": method, "value": value}
    answer = visitor.post(reverse("moisture", args=[job.pk]), sent)
    assert (answer.status_code == 303) == fits
    if not fits:
        assert f"{value} is more than any reading by this method" in words(answer)


def test_three_readings_of_two_methods_leave_a_slab_to_be_tested(
    visitor: Visitor, job: Job, den: Room
) -> None:
    # ASTM F2170 and F1869, from memory: three tests, of one method.
    noted(visitor, den, lies_on="slab", painted_base="no")
    for number, method in enumerate(("rh", "rh", "mver", "rh")):
        site = SiteFacts.objects.get(job=job)
        sent = {"key": f"m{number}", "version": site.version, "method": method, "value": "4"}
        visitor.post(reverse("moisture", args=[job.pk]), sent)
        assert ("moisture-tests" in codes(job)) == (number < 3)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"year_built": "2999"}, "2999"),
        ({"year_built": "0"}, "1600"),
        ({"floor_year": "2999", "existing_floor": "tile"}, "2999"),
        ({"painted_ft2_per_room": "-1"}, "0"),
    ],
)
def test_years_and_areas_that_can_not_be_are_refused_on_the_page_of_the_site(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    address = reverse("site-edit", args=[job.pk])
    form = visitor.get(address).context["form"]
    shown = {
        f.html_name: f.value()
        for f in form
        if f.value() not in (None, "") and f.value() is not False
    }
    answer = visitor.post(address, shown | typed)
    assert answer.status_code == 422
    assert said in words(answer)
    assert visitor.post(address, shown | {"painted_ft2_per_room": "0"}).status_code == 303


def test_a_house_of_unknown_age_is_taken_for_an_old_one(
    visitor: Visitor, job: Job, den: Room
) -> None:
    SiteFacts.objects.filter(job=job).update(year_built=None)
    assert codes(job) == {"lead!", "hidden-floor"}
    assert "of unknown age" in words(visitor.get(reverse("job", args=[job.pk])))
