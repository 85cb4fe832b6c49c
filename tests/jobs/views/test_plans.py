"""Plans on their pages: asked for, shown, kept as files, read by the crew."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Errand, FloorPlan, FloorZone, Product, Role, Room, User
from jobs.readers.stored_plan import stored_plan
from jobs.services.plans import ask_for_plan, errand_of
from jobs.worker import worker
from layout.cutsheet.sheet import cut_sheet
from layout.values.sheet import CutSheet, SawCut
from tests.builders import (
    make_crew,
    make_day,
    make_job,
    make_person,
    make_plan,
    make_product,
    make_room,
    make_zone,
)
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone(owner: User) -> FloorZone:
    """A den of 60 by 49 in as a floor."""
    assert owner.company is not None
    return make_zone(make_room(make_job(owner.company)))


@pytest.fixture
def plan(zone: FloorZone) -> FloorPlan:
    """A plan of the den."""
    return make_plan(zone)


def sheet_of(plan: FloorPlan) -> CutSheet:
    """Return the sheet of a stored plan."""
    stored = stored_plan(plan)
    return cut_sheet(stored.request, stored.plan)


def cuts_of(plan: FloorPlan, piece: str) -> list[SawCut]:
    """Return the cuts of one piece."""
    planks = sheet_of(plan).planks
    return [cut for plank in planks for cut in plank.cuts if cut.then.in_hand == piece]


def test_the_page_opens_on_the_drawing_and_stacks_its_cartons(
    visitor: Visitor, plan: FloorPlan
) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert page.index("data-plan-view") < page.index("In the plan") < page.index('class="cartons"')
    read = stored_plan(plan)
    cartons, planks = read.plan.totals.cartons, read.plan.totals.planks
    per = read.request.product.per_carton
    assert f"{cartons} × {per} = {cartons * per} planks: {planks} laid" in page


def test_the_button_asks_the_worker_once(visitor: Visitor, zone: FloorZone) -> None:
    for _ in range(2):
        visitor.post(reverse("zone-plan", args=[zone.pk]))
    assert Errand.objects.filter(kind="plan-floor", subject=f"zone:{zone.pk}").count() == 1


def test_planning_shows_how_far_it_is(visitor: Visitor, zone: FloorZone, owner: User) -> None:
    ask_for_plan(zone=zone, user=owner)
    Errand.objects.update(progress=0.4, progress_text="9 planks, 8 at least")
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "40%: 9 planks, 8 at least" in page
    assert "No worker is running" in page


def test_planning_is_polled_for_its_part_alone(
    visitor: Visitor, zone: FloorZone, owner: User
) -> None:
    ask_for_plan(zone=zone, user=owner)
    url = reverse("zone-progress", args=[zone.pk])
    answer = visitor.get(url, headers={"HX-Request": "true"})
    assert words(answer).strip().startswith('<div id="planning"')


def test_polling_leads_to_the_plan_once_it_is_made(
    visitor: Visitor, zone: FloorZone, owner: User
) -> None:
    ask_for_plan(zone=zone, user=owner)
    worker.carry_out_waiting()
    url = reverse("zone-progress", args=[zone.pk])
    answer = visitor.get(url, headers={"HX-Request": "true"})
    plan = FloorPlan.objects.get(zone=zone)
    assert answer.headers["HX-Redirect"] == reverse("plan", args=[plan.pk])


def test_stop_asks_for_the_best_so_far(visitor: Visitor, zone: FloorZone, owner: User) -> None:
    errand = ask_for_plan(zone=zone, user=owner)
    visitor.post(reverse("zone-stop", args=[zone.pk]))
    errand.refresh_from_db()
    assert errand.stop_asked


def test_cancel_ends_planning(visitor: Visitor, zone: FloorZone, owner: User) -> None:
    errand = ask_for_plan(zone=zone, user=owner)
    visitor.post(reverse("zone-stop", args=[zone.pk]), {"do": "cancel"})
    errand.refresh_from_db()
    assert errand.state == Errand.State.CANCELED


def test_failed_planning_says_why(visitor: Visitor, zone: FloorZone, owner: User) -> None:
    Room.objects.update(outline=[[0, 0], [10, 0], [10, 10], [0, 10]])
    Product.objects.update(gap_mm=Decimal("152.4"))
    zone.product.refresh_from_db()
    ask_for_plan(zone=zone, user=owner)
    worker.carry_out_waiting()
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "The last planning failed" in page
    assert "The expansion gaps leave no floor to lay" in page


def test_rooms_that_make_no_floor_are_not_planned(visitor: Visitor, zone: FloorZone) -> None:
    hall = make_room(zone.job, name="Hall", place_x_mm=3000)
    Room.objects.filter(pk=hall.pk).update(zone=zone)
    answer = visitor.post(reverse("zone-plan", args=[zone.pk]))
    assert answer.status_code == 422
    assert "Den and Hall don't touch: they lie 4' 10⅛\" apart" in words(answer)
    assert errand_of(zone) is None


def test_a_plan_says_what_it_takes_and_what_custom_buys(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    # 60 x 49 in and ten percent over boards of 48 x 7 in: 3234 / 336 = 9.6
    assert "10 % more than the area would have bought 10." in page
    assert f"{plan.planks} planks; no plan in this direction takes fewer." in page


def test_a_plan_is_drawn_and_told_as_a_table(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    rows = {piece["row"] for piece in json.loads(plan.document.text)["pieces"]}
    assert "<svg" in page
    assert all(f">Row {number}</a></td>" in page for number in rows)


def test_every_cut_piece_is_listed(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
    pieces = json.loads(plan.document.text)["pieces"]
    assert all(f">{p['id']}</a></td>" in page for p in pieces if p["cuts"])


def test_the_cut_sheet_shows_every_cut_of_the_sheet_once(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
    cuts = [cut for plank in sheet_of(plan).planks for cut in plank.cuts]
    assert cuts
    for cut in cuts:
        same = [one for one in cuts if (one.n, one.text) == (cut.n, cut.text)]
        assert page.count(f"<b>{cut.n}</b>&nbsp;{cut.text} ") == len(same)


def test_the_rack_names_the_stack_of_every_leftover(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
    for offcut in stored_plan(plan).plan.offcuts:
        assert f'<td class="lead">{offcut.id}</td><td data-label="Size">' in page
        assert offcut.stack is None or f'<td data-label="Stack">{offcut.stack}</td>' in page


def test_a_piece_numbers_its_cuts_as_the_plank_is_sawn(visitor: Visitor, plan: FloorPlan) -> None:
    cut = next(cut for plank in sheet_of(plan).planks for cut in plank.cuts if cut.n > 1)
    piece = {"piece": cut.then.in_hand}
    page = words(visitor.get(reverse("plan", args=[plan.pk]), piece))
    first = min(one.n for one in cuts_of(plan, cut.then.in_hand))
    assert f'<ol start="{first}">' in page
    assert f"<li>{cut.text}</li>" in page


def test_a_piece_is_told_with_its_plank_and_its_neighbors(
    visitor: Visitor, plan: FloorPlan
) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk]), {"piece": "2-1"}))
    assert "<h2>Piece 2-1</h2>" in page
    assert ">1-1</a> in the row before" in page


def test_htmx_gets_the_piece_alone(visitor: Visitor, plan: FloorPlan) -> None:
    piece = {"piece": "1-1"}
    answer = visitor.get(reverse("plan", args=[plan.pk]), piece, headers={"HX-Request": "true"})
    assert words(answer).strip().startswith("<h2>Piece 1-1</h2>")


def test_a_piece_that_is_not_in_the_plan_is_not_found(visitor: Visitor, plan: FloorPlan) -> None:
    assert visitor.get(reverse("plan", args=[plan.pk]), {"piece": "99-1"}).status_code == 404


def test_rows_are_stepped_through_by_links(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk]), {"row": "2"}))
    assert "<h2>Row 2</h2>" in page
    assert 'data-row-step="1"' in page
    assert 'data-row-step="3"' in page


def test_the_room_is_checked_by_hand_both_ways(visitor: Visitor, plan: FloorPlan) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    # 60 less two gaps of 1/4 in over 48 in; 49 less two gaps over 7 in: 6 rows and 6 1/2 in
    assert 'less two gaps of ¼" is 4\' 11½", over 4\' 0"' in page
    assert '6 rows and 6½"' in page


def test_a_plan_can_be_kept_as_it_is_frozen(visitor: Visitor, plan: FloorPlan) -> None:
    answer = visitor.get(reverse("plan-file", args=[plan.pk]))
    assert answer.content.decode() == plan.document.text
    assert answer.headers["Content-Type"] == "application/json; charset=utf-8"


def test_what_was_asked_can_be_kept_too(visitor: Visitor, plan: FloorPlan) -> None:
    answer = visitor.get(reverse("plan-request", args=[plan.pk]))
    assert answer.content.decode() == plan.request.text


def test_the_drawing_can_be_kept(visitor: Visitor, plan: FloorPlan) -> None:
    answer = visitor.get(reverse("plan-drawing", args=[plan.pk]))
    assert answer.headers["Content-Type"] == "image/svg+xml; charset=utf-8"
    assert answer.content.decode().lstrip().startswith("<svg")


def test_a_plan_older_than_its_room_says_so(visitor: Visitor, plan: FloorPlan) -> None:
    Room.objects.update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert "Changed since this plan: rooms." in page


def test_a_superseded_plan_can_still_be_read(
    visitor: Visitor, plan: FloorPlan, zone: FloorZone
) -> None:
    newer = make_plan(zone)
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert f"{newer}</a> has taken the place of this one." in page


def test_both_preferences_stand_side_by_side_with_what_each_costs(
    visitor: Visitor, plan: FloorPlan
) -> None:
    FloorZone.objects.filter(pk=plan.zone_id).update(prefer="cartons")
    other = make_plan(FloorZone.objects.get(pk=plan.zone_id))
    page = words(visitor.get(reverse("zone", args=[plan.zone_id])))
    assert page.count("Looks, then fewer cuts, with what the last carton leaves</td>") == 1
    cuts = json.loads(other.document.text)["totals"]["crosscuts"]
    assert page.count("Fewest planks</td>") == 1
    assert f'<td class="num" data-label="Crosscuts">{cuts}</td>' in page


def test_the_crew_reads_the_plans_of_its_own_jobs(plan: FloorPlan) -> None:
    company = plan.zone.job.company
    crew_member = make_person(company, Role.CREW)
    make_day(plan.zone.job, make_crew(company, crew_member))
    visitor = Visitor()
    visitor.force_login(crew_member)
    assert visitor.get(reverse("plan", args=[plan.pk])).status_code == 200
    assert "Plan the floor" not in words(visitor.get(reverse("zone", args=[plan.zone.pk])))


def test_the_crew_of_another_job_finds_no_plan(plan: FloorPlan) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(plan.zone.job.company, Role.CREW))
    assert visitor.get(reverse("plan", args=[plan.pk])).status_code == 404


def test_a_crew_member_asks_for_no_plan(plan: FloorPlan) -> None:
    company = plan.zone.job.company
    crew_member = make_person(company, Role.CREW)
    make_day(plan.zone.job, make_crew(company, crew_member))
    visitor = Visitor()
    visitor.force_login(crew_member)
    assert visitor.post(reverse("zone-plan", args=[plan.zone.pk])).status_code == 403


def test_a_floor_of_several_shades_says_what_is_brought_to_each_row(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company
    product = make_product(owner.company, variants={"A": 6, "B": 4})
    plan = make_plan(make_zone(make_room(make_job(owner.company)), product))
    cuts = words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
    assert "one pile for each shade" in cuts
    assert "New planks of each row" in cuts
    page = words(visitor.get(reverse("plan", args=[plan.pk]), {"row": "1"}))
    assert "New planks by pile" in page
    assert "New planks: " in page


def test_a_floor_of_boards_all_alike_is_not_sorted(visitor: Visitor, plan: FloorPlan) -> None:
    assert "New planks" not in words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
