"""A change written down, priced as the quote was, sent and answered."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from estimates.models import ChangeDraft, ChangeLineKind, ChangeOffer, ChangeOrder
from estimates.readers.orders.agreed import agreed_totals
from estimates.readers.orders.offers import offer_state
from estimates.readers.orders.stored import stored_order
from estimates.services.orders.answers import Whence, accept_change, decline_change
from estimates.services.orders.drafts import (
    add_change_line,
    agreed_extras_of,
    drop_draft,
    remove_change_line,
    write_draft,
)
from estimates.services.orders.figures import draft_price
from estimates.services.orders.offers import renew_link, send_change, withdraw_change, word_of
from estimates.services.orders.pending import OutdatedPlanError, pending_change
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.services.extras.extras import note_extra
from tests.estimates.a_job import LATER, TODAY
from tests.estimates.a_price import Given
from tests.orders.two_rooms import learn, make_dearer, plan_hall, two_rooms, widen

pytestmark = pytest.mark.django_db

BY_LINK = Whence(ip="192.0.2.7", agent="Phone")
# Two hours at the quote's 48 = 96, with 12 % 107.52, at a margin of 25 % 107.52 / 0.75.
TWO_HOURS = Decimal("143.36")
# Four brackets of 5.50 = 22, with 12 % 24.64, / 0.75.
BRACKETS = Decimal("32.85")


@pytest.fixture
def job(owner: User) -> Job:
    """The agreed job, after rates were learned and everything became dearer."""
    agreed = two_rooms(owner)
    learn(agreed.company)
    make_dearer(agreed.company, LATER)
    return Job.objects.get(pk=agreed.pk)


def a_draft(job: Job, owner: User, key: str = "d1", **changes: object) -> ChangeDraft:
    values: Given = {"text": "Take the shelf down", "noted_on": TODAY, "asked_by": "Ines Okafor"}
    return write_draft(job=job, user=owner, key=key, values=values | changes)


def a_line(draft: ChangeDraft, owner: User, key: str = "l1", **changes: object) -> None:
    values: Given = {
        "kind": ChangeLineKind.HOURS,
        "label": "Take the shelf down",
        "quantity": Decimal(2),
        "unit": "h",
        "each": None,
        "taxable": False,
    }
    add_change_line(draft=draft, user=owner, key=key, values=values | changes)


def a_shelf(job: Job, owner: User, key: str = "s") -> ChangeDraft:
    draft = a_draft(job, owner, key)
    a_line(draft, owner, f"{key}-line")
    return draft


def send(draft: ChangeDraft, owner: User, key: str = "o1", **changes: object) -> ChangeOffer:
    price = draft_price(draft, LATER)
    fields: Given = {"amount": price.difference, "seen": price.seen, "today": LATER}
    return send_change(draft=draft, user=owner, key=key, **fields | changes)


def accept(offer: ChangeOffer, name: str = "Ines Okafor") -> ChangeOrder:
    return accept_change(offer=offer, name=name, today=LATER, whence=BY_LINK)


def test_hours_are_at_the_rate_and_material_at_the_margin_of_the_quote(
    job: Job, owner: User
) -> None:
    draft = a_shelf(job, owner)
    material = {"kind": "material", "label": "Brackets", "quantity": Decimal(4), "unit": "each"}
    a_line(draft, owner, "l2", **material, each=Decimal("5.50"))
    fixed = {"kind": "price", "label": "Skip", "quantity": Decimal(1), "unit": "each"}
    a_line(draft, owner, "l3", **fixed, each=Decimal("80"))
    price = draft_price(draft, LATER)
    assert [line.amount for line in price.lines] == [TWO_HOURS, BRACKETS, Decimal(80)]
    assert price.difference == TWO_HOURS + BRACKETS + 80
    assert price.total == Decimal("903.21") + price.difference


def test_what_the_plan_changes_comes_with_it_where_it_is_said(job: Job, owner: User) -> None:
    draft = a_draft(plan_hall(widen(job)), owner, with_plan=True)
    a_line(draft, owner)
    price = draft_price(draft, LATER)
    assert price.difference == Decimal("174.19") + TWO_HOURS


def test_by_place_the_client_reads_areas_and_sums_that_come_to_the_amount(
    job: Job, owner: User
) -> None:
    draft = a_draft(plan_hall(widen(job)), owner, with_plan=True)
    a_line(draft, owner)
    order = stored_order(send(draft, owner))
    (hall,) = order.areas
    assert (hall.place, hall.before, hall.after) == ("Hall", Decimal("40.83"), Decimal("73.50"))
    assert [place.place for place in order.places] == ["Hall", ""]
    extras = sum(line.amount for line in order.extras)
    assert sum(place.amount for place in order.places) + extras == order.amount
    assert order.total == Decimal("903.21") + order.amount


def test_accepted_by_link_it_is_a_change_order_of_the_new_scope(job: Job, owner: User) -> None:
    offer = send(a_draft(plan_hall(widen(job)), owner, with_plan=True), owner)
    order = accept(offer)
    job.refresh_from_db()
    assert (job.agreed_scope, order.amount) == (offer.scope, Decimal("174.19"))
    assert pending_change(job, LATER) is None
    offer.refresh_from_db()
    assert (offer.answered_by, offer.by_link, offer.ip) == ("Ines Okafor", True, "192.0.2.7")
    assert offer_state(offer, LATER) == "accepted"


def test_an_extra_of_ones_words_leaves_the_scope_as_it_was(job: Job, owner: User) -> None:
    before = job.agreed_scope
    order = accept(send(a_shelf(job, owner), owner))
    job.refresh_from_db()
    assert job.agreed_scope == before == order.scope
    totals = agreed_totals(job)
    assert totals is not None
    assert totals.total == Decimal("903.21") + TWO_HOURS


def test_a_second_word_changes_nothing(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    assert accept(offer) == accept(offer, "Somebody Else")
    assert job.change_orders.get().agreed_by == "Ines Okafor"


def test_sent_twice_it_is_made_once(job: Job, owner: User) -> None:
    draft = a_shelf(job, owner)
    assert send(draft, owner) == send(draft, owner)
    assert job.change_offers.count() == 1


def test_on_an_outdated_plan_nothing_is_sent(job: Job, owner: User) -> None:
    draft = a_draft(widen(job), owner, with_plan=True)
    with pytest.raises(OutdatedPlanError, match="the plan of Hall"):
        send(draft, owner)
    assert not job.change_offers.exists()


def test_what_comes_to_something_else_than_was_seen_is_not_sent(job: Job, owner: User) -> None:
    draft = a_shelf(job, owner)
    seen = draft_price(draft, LATER).seen
    a_line(draft, owner, "more")
    with pytest.raises(BadValueError, match="changed meanwhile"):
        send(draft, owner, seen=seen)


def test_a_draft_of_nothing_is_not_sent(job: Job, owner: User) -> None:
    with pytest.raises(BadValueError, match="change is 'nothing'"):
        send(a_draft(job, owner), owner)


def test_a_withdrawn_one_is_not_accepted(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    withdraw_change(offer=offer, user=owner)
    with pytest.raises(BadValueError, match="withdrawn"):
        accept(offer)


def test_an_accepted_one_is_not_withdrawn(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    accept(offer)
    with pytest.raises(BadValueError, match="accepted"):
        withdraw_change(offer=offer, user=owner)


def test_a_declined_one_is_not_accepted(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    decline_change(offer=offer, reason="Too dear", whence=BY_LINK)
    with pytest.raises(BadValueError, match="declined"):
        accept(offer)


def test_past_its_date_it_is_not_accepted(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    late = offer.valid_until + timedelta(days=1)
    with pytest.raises(BadValueError, match="valid until"):
        accept_change(offer=offer, name="Ines Okafor", today=late, whence=BY_LINK)


def test_sent_again_the_one_before_is_withdrawn(job: Job, owner: User) -> None:
    draft = a_shelf(job, owner)
    first, second = send(draft, owner), send(draft, owner, "o2", amount=Decimal(100))
    first.refresh_from_db()
    assert (first.withdrawn_at is not None, second.number) == (True, first.number + 1)
    assert stored_order(second).rest == 100 - TWO_HOURS


def test_once_another_change_is_agreed_on_its_totals_are_overtaken(job: Job, owner: User) -> None:
    one, other = send(a_shelf(job, owner), owner), send(a_shelf(job, owner, "t"), owner, "o2")
    accept(one)
    fresh = ChangeOffer.objects.get(pk=other.pk)
    assert offer_state(fresh, LATER) == "overtaken"
    with pytest.raises(BadValueError, match="overtaken"):
        accept(fresh)


def test_the_words_of_two_links_differ_and_a_renewed_one_is_another(job: Job, owner: User) -> None:
    one, other = send(a_shelf(job, owner), owner), send(a_shelf(job, owner, "t"), owner, "o2")
    word = word_of(one.link)
    assert word != word_of(other.link)
    assert word not in one.link.token_hash
    renewed = renew_link(offer=one, user=owner)
    assert word_of(renewed) != word


def test_extra_work_noted_by_the_crew_is_a_draft_with_its_hours(job: Job, owner: User) -> None:
    extra = note_extra(
        job=job,
        user=owner,
        key="x",
        text="Take the shelf down",
        asked_by="Ines Okafor",
        hours=Decimal(2),
    )
    draft = job.change_drafts.get()
    assert (draft.extra, draft.asked_by) == (extra, "Ines Okafor")
    assert draft_price(draft, LATER).difference == TWO_HOURS


def test_extra_work_is_agreed_on_once_its_change_order_is_accepted(job: Job, owner: User) -> None:
    extra = note_extra(job=job, user=owner, key="x", text="Shelf", hours=Decimal(2))
    offer = send(job.change_drafts.get(), owner)
    assert not agreed_extras_of(job)
    accept(offer)
    assert agreed_extras_of(job) == {extra.pk}


def test_before_acceptance_extra_work_makes_no_draft(owner: User, job: Job) -> None:
    Job.objects.filter(pk=job.pk).update(agreed_scope=None)
    note_extra(job=Job.objects.get(pk=job.pk), user=owner, key="x", text="Take the shelf down")
    assert not job.change_drafts.exists()


def test_a_dropped_draft_withdraws_what_was_sent_of_it(job: Job, owner: User) -> None:
    draft = a_shelf(job, owner)
    offer = send(draft, owner)
    drop_draft(draft=draft, user=owner)
    offer.refresh_from_db()
    assert offer.withdrawn_at is not None


def test_an_agreed_draft_is_changed_no_more(job: Job, owner: User) -> None:
    draft = a_shelf(job, owner)
    accept(send(draft, owner))
    with pytest.raises(BadValueError, match="agreed on"):
        a_line(draft, owner, "late")
    with pytest.raises(BadValueError, match="agreed on"):
        remove_change_line(line=draft.lines.get(), user=owner)
    with pytest.raises(BadValueError, match="agreed on"):
        drop_draft(draft=draft, user=owner)


def test_material_without_what_it_costs_is_refused(job: Job, owner: User) -> None:
    draft = a_draft(job, owner)
    with pytest.raises(BadValueError, match="what one unit costs"):
        a_line(draft, owner, kind="material", each=None)


def test_a_closed_job_takes_no_draft_and_no_word(job: Job, owner: User) -> None:
    offer = send(a_shelf(job, owner), owner)
    Job.objects.filter(pk=job.pk).update(closed_at=f"{LATER}T12:00:00Z")
    closed = Job.objects.get(pk=job.pk)
    with pytest.raises(BadValueError, match="closed"):
        a_draft(closed, owner, "late")
    with pytest.raises(BadValueError, match="closed"):
        accept(offer)


def test_the_payers_order_number_stands_on_it(job: Job, owner: User) -> None:
    draft = a_draft(job, owner, order_number="PO 88-2")
    a_line(draft, owner)
    assert stored_order(send(draft, owner)).order_number == "PO 88-2"
