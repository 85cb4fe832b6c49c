"""A quote from its draft: choices frozen each as an estimate, what was seen is what is issued."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from estimates.models import Acceptance, Quote, QuoteDraft
from estimates.readers.draft.preview import digest_of, previewed
from estimates.readers.draft.rows import draft_row
from estimates.readers.draft.ways import offered_ways
from estimates.readers.prices import priced_of
from estimates.readers.quote import acceptance_of, agreed_estimate, stored_quote
from estimates.services.draft.drafts import issue_draft, save_draft
from jobs.domain.checks import BadValueError
from jobs.models import Company, ExistingFloor, Job, SiteFacts, User
from jobs.services.records import StaleError
from jobs.services.scope import changes_since_agreed, work_basis, work_out
from tests.builders import make_note, make_plan, make_planned_job, make_room, make_run, make_zone
from tests.estimates.a_job import TODAY, accepted, company_of, set_price

pytestmark = pytest.mark.django_db


def a_planned_job(owner: User) -> Job:
    """A room whose base comes off and goes back, over a tile floor that comes out."""
    job = make_planned_job(company_of(owner))
    room = job.rooms.get()
    room.furniture = "full"
    room.save()
    make_run(room)
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    return job


def drafted(owner: User, job: Job, **values: object) -> QuoteDraft:
    row = draft_row(job)
    return save_draft(row=row, user=owner, key="draft", expected=row.version, values=values)


def issued(owner: User, job: Job, key: str = "issue") -> Quote:
    seen = digest_of(previewed(draft_row(job), TODAY))
    return issue_draft(job=job, user=owner, key=key, today=TODAY, seen=seen)


def with_base_choice(owner: User) -> Quote:
    job = a_planned_job(owner)
    drafted(owner, job, second_way="base_new", second_name="New baseboard, 3¼ in")
    return issued(owner, job)


def test_what_is_issued_is_what_was_previewed(owner: User) -> None:
    job = a_planned_job(owner)
    drafted(owner, job, detail="room", second_way="base_new", color="Demo Sand")
    seen = previewed(draft_row(job), TODAY)
    quote = stored_quote(issued(owner, job))
    blank = tuple(replace(choice, scope_sha256="", estimate_sha256="") for choice in quote.choices)
    assert replace(quote, choices=blank, scope_sha256=seen.scope_sha256) == replace(
        seen, choices=blank
    )
    assert [choice.total for choice in seen.choices] == [each.total for each in quote.choices]


def test_each_choice_is_frozen_as_an_estimate_of_its_own(owner: User) -> None:
    quote = with_base_choice(owner)
    options = list(quote.options.all())
    assert [(option.key, option.way, option.name) for option in options] == [
        ("a", "", "Your baseboard back"),
        ("b", "base_new", "New baseboard, 3¼ in"),
    ]
    shown = stored_quote(quote).choices
    assert [choice.total for choice in shown] == [option.estimate.total for option in options]
    assert [choice.estimate_sha256 for choice in shown] == [
        option.estimate.document.sha256 for option in options
    ]
    assert options[1].estimate.total != options[0].estimate.total


def test_the_job_as_it_is_priced_has_the_newest_estimate(owner: User) -> None:
    quote = with_base_choice(owner)
    assert quote.job.estimates.first() == quote.estimate
    assert quote.estimate == quote.options.all()[0].estimate


def test_a_quote_with_choices_is_not_accepted_without_one(owner: User) -> None:
    quote = with_base_choice(owner)
    with pytest.raises(BadValueError, match=r"nothing chosen.*New baseboard"):
        accepted(quote)
    with pytest.raises(BadValueError, match="one of: Your baseboard back"):
        accepted(quote, choice="c")
    assert not Acceptance.objects.exists()


WAYS: dict[str, Callable[[Job], object]] = {
    "base_new": lambda job: job.rooms.get().base,
    "lay_over": lambda job: SiteFacts.objects.get(job=job).tear_out,
    "pad_separate": lambda job: job.zones.get().pad,
}


def without_pad(job: Job) -> None:
    job.zones.update(pad=False)


@pytest.mark.parametrize("way", [*WAYS, "lay_over+base_new"])
def test_the_chosen_way_is_agreed_and_leaves_nothing_pending(owner: User, way: str) -> None:
    job = a_planned_job(owner)
    without_pad(job)
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE)
    drafted(owner, job, second_way=_as_offered(job, way))
    quote = issued(owner, job)
    option = quote.options.get(key="b")
    accepted(quote, choice="b")
    agreed = Job.objects.get(pk=job.pk)
    assert agreed.agreed_scope == option.estimate.scope
    assert changes_since_agreed(agreed) == ()
    assert work_out(agreed).quantities == work_out(agreed, otherwise=None).quantities
    word = acceptance_of(agreed)
    assert word is not None
    assert agreed_estimate(word) == option.estimate


def _as_offered(job: Job, way: str) -> str:
    """The key under which two ways are offered together, whichever stands first."""
    wanted = set(way.split("+"))
    return next(
        key for key in offered_ways(work_basis(job)).by_key if set(key.split("+")) == wanted
    )


def test_the_first_choice_changes_nothing_in_the_job(owner: User) -> None:
    quote = with_base_choice(owner)
    accepted(quote, choice="a")
    job = Job.objects.get(pk=quote.job_id)
    assert job.agreed_scope == quote.estimate.scope
    assert changes_since_agreed(job) == ()


def test_a_quote_of_one_way_needs_no_choice(owner: User) -> None:
    quote = issued(owner, a_planned_job(owner))
    assert accepted(quote).choice == "a"


def test_a_price_that_moved_since_the_preview_is_not_issued(owner: User) -> None:
    job = a_planned_job(owner)
    seen = digest_of(previewed(draft_row(job), TODAY))
    set_price(company_of(owner), "cartons", "99.00", TODAY)
    with pytest.raises(BadValueError, match="changed since you looked"):
        issue_draft(job=job, user=owner, key="issue", today=TODAY, seen=seen)
    assert not Quote.objects.exists()
    assert not job.estimates.exists()


def test_of_two_who_issue_what_both_saw_one_does(owner: User) -> None:
    job = a_planned_job(owner)
    seen = digest_of(previewed(draft_row(job), TODAY))
    issue_draft(job=job, user=owner, key="first", today=TODAY, seen=seen)
    with pytest.raises(BadValueError, match="look at it again"):
        issue_draft(job=job, user=owner, key="second", today=TODAY, seen=seen)
    assert job.quotes.count() == 1


def test_a_draft_sent_twice_issues_once(owner: User) -> None:
    job = a_planned_job(owner)
    seen = digest_of(previewed(draft_row(job), TODAY))
    both = [issue_draft(job=job, user=owner, key="once", today=TODAY, seen=seen) for _ in range(2)]
    assert both[0] == both[1]


def test_a_company_without_an_address_issues_nothing(owner: User) -> None:
    job = a_planned_job(owner)
    Company.objects.update(address="")
    with pytest.raises(BadValueError, match="the company's address; type it in the company's set"):
        issue_draft(job=Job.objects.get(pk=job.pk), user=owner, key="k", today=TODAY, seen="")


def test_a_way_that_is_no_longer_offered_is_named(owner: User) -> None:
    job = a_planned_job(owner)
    drafted(owner, job, second_way="base_new")
    job.rooms.update(base="keep")
    with pytest.raises(BadValueError, match="choice is 'New baseboard'"):
        previewed(draft_row(job), TODAY)


def test_a_draft_that_somebody_else_saved_first_is_not_overwritten(owner: User) -> None:
    job = a_planned_job(owner)
    drafted(owner, job, color="Demo Sand")
    row = draft_row(job)
    with pytest.raises(StaleError):
        save_draft(row=row, user=owner, key="late", expected=1, values={"color": "Ash"})
    assert draft_row(job).color == "Demo Sand"


def test_ticked_photographs_stand_on_the_quote_with_their_words(owner: User) -> None:
    job = a_planned_job(owner)
    note = make_note(job.rooms.get(), text="Stain by the window", for_quote=True)
    hidden = make_note(job.rooms.get(), text="Not for the client")
    drafted(owner, job, photos=[note.pk, hidden.pk])
    (photo,) = stored_quote(issued(owner, job)).photos
    assert note.photo is not None
    assert (photo.sha256, photo.caption) == (note.photo.sha256, "Den: Stain by the window")


def test_two_rooms_by_room_sum_to_the_same_total_as_whole(owner: User) -> None:
    job = a_planned_job(owner)
    second = make_room(job, name="Hall", size=(120, 48))
    make_plan(make_zone(second))
    whole = previewed(draft_row(job), TODAY)
    drafted(owner, job, detail="room")
    by_room = previewed(draft_row(job), TODAY)
    assert by_room.total == whole.total
    assert [room.name for room in by_room.rooms] == ["Den", "Hall"]
    assert sum(room.amount or 0 for room in by_room.rooms) == whole.total


def test_a_new_version_says_what_changed_since_the_first(owner: User) -> None:
    job = a_planned_job(owner)
    first = issued(owner, job)
    set_price(company_of(owner), "cartons", "99.00", TODAY)
    second = issued(owner, job, key="again")
    assert stored_quote(first).changed == ()
    old, new = (f"${quote.total:,.2f}" for quote in (first, second))
    assert stored_quote(second).changed[0] == f"Total {new} in place of {old}."


def test_the_days_of_a_quote_are_those_of_its_frozen_scope(owner: User) -> None:
    quote = issued(owner, a_planned_job(owner))
    schedule = work_out(quote.job).schedule
    assert schedule is not None
    assert len(stored_quote(quote).days) == len(schedule.days)
    assert priced_of(quote.estimate).total == quote.total
