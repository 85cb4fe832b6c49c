"""Three widths in four shades each: taken down, measured, planned, counted, laid; in a browser."""

from __future__ import annotations

from collections import Counter
from io import BytesIO

import pytest
from pypdf import PdfReader

from jobs.models import FloorPlan, Job, Packet, Product, User
from jobs.readers.stored_plan import stored_plan
from jobs.services.scope import freeze_scope
from jobs.worker.worker import carry_out_waiting
from layout.judge.check import check_plan
from layout.values.plan import Plan
from tests.browser.hands import Hands, look_at
from tests.builders import make_job
from tests.jobs.agreed import a_crew, laid_out

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("three widths"),
]

SHADES = "A 1, B 1, C 1, D 1"
WIDTHS = ('9"', '7"', '5"')
CARTONS = 4


def take_down_the_product(hands: Hands) -> Product:
    """A carton of three widths, each in four shades of its own."""
    hands.open("/products/add")
    hands.fill(name="Slate Oak", length="48", width="9", thickness="1/4", per_carton="4")
    hands.choose(core="Rigid vinyl core", attached_pad="No")
    hands.press("Save the product")
    hands.press("Mixed widths and shades")
    hands.fill(variants=SHADES, width_2="7", count_2="4", variants_2=SHADES)
    hands.fill(width_3="5", count_3="4", variants_3=SHADES)
    look_at(hands, "70-three-widths")
    hands.press("Save the step")
    hands.expect('Widths 9", 7", 5"')
    return Product.objects.get()


def measure_the_room(hands: Hands, job: Job) -> None:
    """A plain room, by two lengths, made a floor."""
    hands.open(f"/jobs/{job.pk}/rooms/add")
    hands.fill(name="Den", across="100", along="66")
    hands.expect("ft²")
    hands.press("Save the room")
    hands.step("Floor")
    hands.page.get_by_role("button", name="Make Den a floor").click()


def plan_the_floor(hands: Hands) -> FloorPlan:
    """The worker plans it; the judge finds nothing wrong, the drawing shows every shade."""
    hands.press("Plan the floor")
    hands.expect("Planning the floor")
    carry_out_waiting()
    hands.page.wait_for_url("**/plans/*")
    row = FloorPlan.objects.latest("number")
    stored = stored_plan(row)
    assert check_plan(stored.request, stored.plan) == ()
    drawn = hands.page.locator(".plan-view svg text").all_text_contents()
    assert any("planks by shade" in words for words in drawn)
    assert {"A", "B", "C", "D"} <= set(drawn)
    return row


def count_the_piles(hands: Hands, planks: int) -> None:
    """Plus beside every pile, one too many in the first, minus there; carton by carton."""
    hands.press("Count the open cartons")
    page = hands.page
    for width in WIDTHS:
        for shade in "ABCD":
            plus = page.get_by_role("button", name=f"One more: {shade}, {width} wide")
            for _ in range(planks):
                plus.click()
    page.get_by_role("button", name='One more: A, 9" wide').click()
    page.get_by_role("button", name='One fewer: A, 9" wide').click()
    assert page.locator("[name=pile_0]").input_value() == str(planks)


def lacks(plan: Plan) -> str:
    """Return what a plan says is missing of its first short pile."""
    short = plan.totals.short_piles[0]
    planks = f"{short.planks} plank{'' if short.planks == 1 else 's'}"
    return f'{planks} of {short.variant}, {short.width:g}" wide'


def packet_text(hands: Hands, row: FloorPlan) -> str:
    """Agree on the plan, print the packet from its page, open it; return what it says."""
    job = row.zone.job
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    laid_out(job, a_crew(job.company))
    hands.open(f"/jobs/{job.pk}/packets")
    hands.press("Print the packet")
    carry_out_waiting()
    hands.expect("Packet 1 (PDF)")
    answer = hands.page.request.get(f"{hands.base}/packets/{Packet.objects.get().pk}")
    pages = PdfReader(BytesIO(answer.body())).pages
    return " ".join(" ".join(sheet.extract_text() for sheet in pages).split())


def test_three_widths_in_four_shades_go_the_whole_way(hands: Hands, owner: User) -> None:
    assert owner.company
    job = make_job(owner.company)
    take_down_the_product(hands)
    measure_the_room(hands, job)

    by_carton = plan_the_floor(hands)
    look_at(hands, "71-plan-by-the-carton")
    hands.press("Back to Den")

    count_the_piles(hands, CARTONS)
    hands.fill(cartons="5")
    hands.press("Save the piles")
    hands.expect('16 boards 9" wide were counted in 5 cartons; accepted: 20')
    look_at(hands, "72-piles-that-do-not-add-up")
    hands.fill(cartons=str(CARTONS))
    look_at(hands, "73-piles")
    hands.press("Save the piles")
    hands.expect("48 whole planks in 12 piles")

    of_piles = stored_plan(plan_the_floor(hands)).plan
    hands.expect("48 whole ones at hand")
    assert of_piles.totals.short_piles == ()
    laid = Counter({p.plank: (p.size[1], p.variant) for p in of_piles.pieces}.values())
    assert max(laid.values()) <= CARTONS
    look_at(hands, "74-plan-of-piles")

    hands.press("Open the cut sheet")
    hands.expect("Keep the piles as they were counted")
    hands.expect("New planks of each row")
    look_at(hands, "75-cut-sheet")
    text = packet_text(hands, FloorPlan.objects.latest("number"))
    assert "Load and tools" in text
    assert "of A, " in text
    assert "Keep the piles as they were counted, and take every row from them." in text
    assert by_carton.number == 1


def test_piles_too_small_for_the_floor_are_told_by_width_and_shade(
    hands: Hands, owner: User
) -> None:
    assert owner.company
    job = make_job(owner.company)
    take_down_the_product(hands)
    measure_the_room(hands, job)
    count_the_piles(hands, 1)
    hands.press("Save the piles")
    hands.expect("12 whole planks in 12 piles")
    short = stored_plan(plan_the_floor(hands)).plan
    hands.expect("more than are at hand")
    hands.expect(lacks(short))
    look_at(hands, "76-piles-too-small")
