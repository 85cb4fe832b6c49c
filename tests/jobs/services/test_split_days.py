"""Days, log and packet of a job of which the homeowner does a part, or all."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.tasks import TASKS
from jobs.models import Job, Scope, User, WorkDay
from jobs.readers.log import hours_by_task
from jobs.readers.packets.gather import gather
from jobs.readers.scope import scope_value
from jobs.services.packets import packet_pdf, print_packet
from tests.builders import make_company, make_job, make_log_entry, make_person
from tests.jobs.agreed import MONDAY, a_crew, agree, agreed_job, laid_out, make_scope
from tests.jobs.plans import agreed_rooms
from tests.jobs.services.test_packets import sheets
from tests.reading import words

pytestmark = pytest.mark.django_db

ALL = tuple(TASKS)


def split_job(*left: str, agreed: bool = True) -> Job:
    """25 h, of which setup 1.5, tear_out 4, lay 16 in 8 rows, base 3, clean 0.5."""
    job = make_job(make_company())
    return agree(job, make_scope(job, left=left)) if agreed else job


def page(job: Job, name: str, pk: int, user: User | None = None) -> str:
    visitor = Visitor()
    visitor.force_login(user or make_person(job.company))
    return words(visitor.get(reverse(name, args=[pk])))


def worked(days: list[WorkDay]) -> list[list[tuple[str, str]]]:
    return [[(entry["task"], entry["hours"]) for entry in day.entries] for day in days]


def test_only_the_crews_own_work_lies_on_days() -> None:
    job = split_job("tear_out", "clean")
    days = laid_out(job, a_crew(job.company))
    # 8 h of one person, rows of 2 h: 1.5 + 3 rows | 4 rows | 1 row + 3.
    assert worked(days) == [
        [("setup", "1.50"), ("lay", "6.00")],
        [("lay", "8.00")],
        [("lay", "2.00"), ("base", "3.00")],
    ]


def test_the_first_day_says_once_what_must_be_done_before_it() -> None:
    job = split_job("setup", "tear_out")
    first, *later = laid_out(job, a_crew(job.company))
    said = "The homeowner does: Setup, Take the old floor out (Den); must be done before this day."
    assert said in first.notes
    assert not any("homeowner" in note for day in later for note in day.notes)
    assert said in page(job, "day", first.pk)
    assert said not in page(job, "day", later[0].pk)


def test_nobody_waits_for_the_crew_to_set_up() -> None:
    job = split_job("tear_out")
    first, *_ = laid_out(job, a_crew(job.company))
    said = "The homeowner does: Take the old floor out (Den); must be done before this day."
    assert first.notes[0] == said


def test_days_laid_out_again_do_not_tell_it_twice() -> None:
    job = split_job("setup", "tear_out", "clean")
    crew = a_crew(job.company)
    first, *_ = laid_out(job, crew)
    make_log_entry(first, crew.members.get(), task="lay", zone="Den", row_from=1, row_to=4)
    days = laid_out(job, crew, start=MONDAY.replace(day=8))
    assert not any("must be done before" in note for day in days[1:] for note in day.notes)
    assert days[-1].notes[0] == "The homeowner does once the crew is done: Clean and hand over."


def test_the_days_page_says_before_which_day_it_is_done() -> None:
    job = split_job("setup", "clean")
    laid_out(job, a_crew(job.company))
    said = page(job, "job-days", job.pk)
    assert "Done by the homeowner before day 1" in said
    assert "Done by the homeowner after day 3" in said


def test_the_log_form_gives_no_hours_of_it() -> None:
    job = split_job("tear_out")
    crew = a_crew(job.company)
    first, *_ = laid_out(job, crew)
    form = page(job, "log-add", first.pk, crew.members.get())
    assert "Take the old floor out" not in form
    assert "Lay the floor (Den)" in form


def test_the_log_holds_hours_against_the_crews_own() -> None:
    job = split_job("tear_out")
    assert job.agreed_scope is not None
    rows = {row.name: row.planned for row in hours_by_task(job.agreed_scope, ())}
    assert "Take the old floor out (Den)" not in rows
    assert sum(rows.values()) == job.agreed_scope.hours == 21


def test_a_scope_that_did_not_keep_the_split_follows_its_job() -> None:
    job = split_job()
    scope = make_scope(job, left=None)
    agree(job, scope)
    assert scope_value(scope).crews_hours == 25
    Job.objects.filter(pk=job.pk).update(left_to_homeowner=["tear_out"])
    assert scope_value(Scope.objects.get(pk=scope.pk)).crews_hours == 21


def test_days_from_before_the_split_say_that_they_give_it_to_the_crew() -> None:
    job = agreed_job()
    laid_out(job, a_crew(job.company))
    said = "The homeowner does work that lies on these days"
    assert said not in page(job, "job-days", job.pk)
    agree(job, make_scope(job, left=("tear_out",)))
    assert said in page(job, "job-days", job.pk)


def test_with_all_the_laying_left_there_are_no_crew_days() -> None:
    job = split_job(*ALL)
    a_crew(job.company)
    said = page(job, "job-days", job.pk)
    assert "No crew days" in said
    assert "The homeowner does all the work, the laying too." in said
    assert "Plan the days" not in said
    assert laid_out(job, job.company.crews.get()) == []


def test_days_that_were_laid_out_go_once_all_is_left() -> None:
    job = agreed_job()
    crew = a_crew(job.company)
    laid_out(job, crew)
    agree(job, make_scope(job, left=ALL))
    assert "Take the days out" in page(job, "job-days", job.pk)
    laid_out(job, crew)
    assert not job.days.exists()


def test_the_path_does_not_wait_for_days_that_there_are_not() -> None:
    job = split_job(*ALL)
    Job.objects.filter(pk=job.pk).update(left_to_homeowner=list(ALL))
    said = page(job, "job", job.pk)
    assert "No crew days" in said
    assert "Plan the days with a crew." not in said


def test_a_packet_says_it_on_the_day_and_gives_the_crew_none_of_it() -> None:
    job = agreed_rooms("Den", left=("setup",))
    laid_out(job, a_crew(job.company))
    first, *later = gather(job)["days"]
    assert "Set up and protect" not in {
        task["name"] for day in (first, *later) for task in day["tasks"]
    }
    assert any(
        "The homeowner does" in note and "Set up and protect" in note for note in first["notes"]
    )
    assert not any("homeowner" in note for day in later for note in day["notes"])


@pytest.mark.usefixtures("set_paper")
def test_with_all_left_the_packet_is_plan_and_cut_sheet() -> None:
    job = agreed_rooms("Den", left=ALL)
    packet = print_packet(job)
    assert packet is not None
    assert (packet.content["days"], packet.content["phases"]) == ([], [])
    text = "\n".join(sheets(packet_pdf(packet.content, paper="letter")))
    assert "Den: the floor" in text
    assert "Rows 1 to 7, Den" in text
    assert "No crew days: the homeowner does all the work." in " ".join(text.split())
    for part in ("Load list", "Checks", "Lot numbers", "Doorways", "Day 1"):
        assert part not in text
    assert "it is the plan and the cut sheet alone" in page(job, "packet-list", job.pk)
    assert job.agreed_scope is not None
    assert job.agreed_scope.hours == Decimal(0)
