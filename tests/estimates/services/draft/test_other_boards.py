"""A thicker plank as a choice: priced from its own plan, and taken whole when it is accepted.

The house is a den and a hall. Beyond the den lies tile that stands 3/4 in up: 1/2 in above
planks of 1/4 in, 3/8 in above those of 3/8 in; that door rubs on the strip either way. The hall's
door has 0.7 in under it: less 1/4 in of plank and 1/4 in of strip 0.2 in stay, with 3/8 in of plank
0.075 in, where 1/8 in is needed.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.quotes.content import IssuedQuote
from estimates.models import Acceptance, Quote, QuoteDraft
from estimates.readers.draft.preview import digest_of, previewed
from estimates.readers.draft.rows import draft_row
from estimates.readers.draft.ways import offered_ways
from estimates.readers.options.options import options_of
from estimates.readers.quote import stored_quote
from estimates.services.draft.drafts import issue_draft, save_draft
from jobs.domain.checks import BadValueError
from jobs.domain.figures import NO_BREAK
from jobs.domain.lengths import MM_PER_IN
from jobs.models import (
    AlternativePlan,
    FloorPlan,
    FloorZone,
    Job,
    LogEntry,
    Product,
    Room,
    User,
)
from jobs.readers.plan_request import whats_changed
from jobs.readers.scope import scope_value
from jobs.services.scope import changes_since_agreed, outdated_floors, work_basis, work_out
from tests.builders import (
    make_plan,
    make_product,
    make_stair,
)
from tests.estimates.a_job import TODAY, accepted
from tests.jobs.plans import planned_in

pytestmark = pytest.mark.django_db

INCH = MM_PER_IN


def drafted(owner: User, job: Job, **values: object) -> QuoteDraft:
    row = draft_row(job)
    return save_draft(
        row=row, user=owner, key=f"draft-{row.version}", expected=row.version, values=values
    )


def issued(owner: User, job: Job, *ways: str) -> Quote:
    drafted(owner, job, second_way=ways[0], third_way=(*ways, "")[1])
    seen = digest_of(previewed(draft_row(job), TODAY))
    return issue_draft(job=job, user=owner, key="issue", today=TODAY, seen=seen)


def way_of(product: Product) -> str:
    return f"product-{product.pk}"


def facts_of(quote: IssuedQuote) -> list[dict[str, str]]:
    """What follows from each choice, by its label, with plain blanks."""
    return [
        {fact.label: fact.text.replace(NO_BREAK, " ") for fact in way.facts}
        for way in quote.choices
    ]


def everything(job: Job) -> list[object]:
    """All rows that an acceptance in other boards writes."""
    rows = (job.zones, job.rooms, FloorPlan.objects.filter(zone__job=job), Acceptance.objects)
    return [list(each.order_by("pk").values()) for each in rows]


def test_each_planned_product_is_offered_alone_and_with_new_base(job: Job, thick: Product) -> None:
    ways = offered_ways(work_basis(job)).by_key
    assert ways[way_of(thick)].name == "Thicker plank"
    assert ways[way_of(thick)].listed == "Thicker plank: Harbor Oak"
    both = ways[f"{way_of(thick)}+base_new"]
    assert both.name == "Thicker plank, new baseboard"
    assert both.text.replace(NO_BREAK, " ").startswith(
        "The plank is ⅜ in thick in place of ¼ in. The floor stands ⅛ in"
    )


def test_a_product_with_only_its_counts_is_told_to_be_compared(job: Job, thick: Product) -> None:
    AlternativePlan.objects.all().delete()
    offered = offered_ways(work_basis(job))
    assert not [key for key in offered.by_key if key.startswith("product-")]


def test_a_product_planned_on_one_floor_says_where(job: Job, thick: Product) -> None:
    AlternativePlan.objects.filter(zone__name="Den").delete()
    assert offered_ways(work_basis(job)).by_key[way_of(thick)].name == "Thicker plank in the hall"


def test_a_plan_of_other_rooms_is_not_offered(job: Job, thick: Product) -> None:
    Room.objects.filter(name="Den").update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])
    make_plan(FloorZone.objects.get(name="Den"))
    assert offered_ways(work_basis(job)).by_key[way_of(thick)].name == "Thicker plank in the hall"


def test_a_retired_product_is_not_offered(job: Job, thick: Product) -> None:
    Product.objects.filter(pk=thick.pk).update(retired_at="2027-01-01T00:00Z")
    assert way_of(thick) not in offered_ways(work_basis(job)).by_key


def test_stairs_in_a_product_of_their_own_keep_it_from_being_offered(
    job: Job, thick: Product
) -> None:
    make_stair(job, product=Product.objects.get(name="Slate Oak"))
    assert way_of(thick) not in offered_ways(work_basis(job)).by_key


def test_the_choice_is_counted_from_its_own_plan(owner: User, job: Job, thick: Product) -> None:
    quote = issued(owner, job, way_of(thick))
    plain, other = quote.options.all()
    scopes = [scope_value(option.estimate.scope) for option in (plain, other)]
    kept = set(AlternativePlan.objects.values_list("document__sha256", flat=True))
    assert {zone.plan_sha256 for zone in scopes[1].zones} == kept
    assert {zone.product for zone in scopes[1].zones} == {"Harbor Oak"}
    assert {zone.product for zone in scopes[0].zones} == {"Slate Oak"}
    planks = [sum(q.amount for q in scope.quantities if q.code == "planks") for scope in scopes]
    assert planks[0] != planks[1]


def test_the_options_page_and_the_quote_have_one_price(
    owner: User, job: Job, thick: Product
) -> None:
    quote = issued(owner, job, way_of(thick))
    plain, other = quote.options.all()
    choice = next(each for each in options_of(job, TODAY).choices if each.way.key == way_of(thick))
    assert choice.priced is not None
    assert choice.priced.price_rise == other.estimate.total - plain.estimate.total


def test_what_follows_is_said_in_a_homeowners_words(owner: User, job: Job, thick: Product) -> None:
    quote = stored_quote(issued(owner, job, "base_new", f"{way_of(thick)}+base_new"))
    assert [way.name for way in quote.choices] == [
        "Your baseboard back",
        "New baseboard",
        "Thicker plank, new baseboard",
    ]
    facts = facts_of(quote)
    assert facts[0]["Plank"] == "rigid vinyl plank, ¼ in thick, 7 in wide"
    assert facts[2]["Plank"] == "rigid vinyl plank, ⅜ in thick, 9 in wide"
    # The tile stands 3/4 in: 1/2 in over 1/4 in of plank, 3/8 in over one of 3/8 in.
    assert facts[1]["At the doors"].startswith("the tile stands ½ in higher")
    assert facts[2]["At the doors"].startswith("the tile stands ⅜ in higher")
    assert any(text.startswith("Thicker plank, new baseboard: ") for text in quote.floor_words)
    assert quote.drawing_notes[-1] == "Drawn: Your baseboard back."


def test_without_another_option_the_planks_tell_the_choices_apart(
    owner: User, job: Job, thick: Product
) -> None:
    quote = stored_quote(issued(owner, job, way_of(thick)))
    assert [way.name for way in quote.choices] == ["Thinner plank", "Thicker plank"]


@pytest.mark.parametrize("more", ["", "+base_new"])
def test_accepted_the_job_is_that_choices(owner: User, job: Job, thick: Product, more: str) -> None:
    quote = issued(owner, job, f"{way_of(thick)}{more}")
    option = quote.options.get(key="b")
    accepted(quote, choice="b")
    agreed = Job.objects.get(pk=job.pk)
    assert agreed.agreed_scope == option.estimate.scope
    assert changes_since_agreed(agreed) == ()
    assert outdated_floors(agreed) == ()
    zones = list(agreed.zones.all())
    assert [zone.product for zone in zones] == [thick, thick]
    newest = [zone.plans.first() for zone in zones]
    assert [whats_changed(plan) for plan in newest if plan] == ["", ""]
    agreed_scope = scope_value(option.estimate.scope)
    assert [plan.document.sha256 for plan in newest if plan] == [
        zone.plan_sha256 for zone in agreed_scope.zones
    ]
    now = work_out(agreed)
    assert now.quantities == agreed_scope.quantities
    assert now.tasks == agreed_scope.tasks
    assert now.schedule == agreed_scope.schedule


def test_boards_that_are_only_thicker_have_the_same_plan_and_are_taken(
    owner: User, job: Job
) -> None:
    """The plan says nothing of thickness: what tells the two apart is the product."""
    thick = make_product(job.company, name="Harbor Oak", thickness_mm=INCH * 3 / 8)
    for zone in job.zones.all():
        planned_in(zone, thick)
    quote = issued(owner, job, way_of(thick))
    plain, other = stored_quote(quote).choices
    assert [fact.text for fact in plain.facts] != [fact.text for fact in other.facts]
    accepted(quote, choice="b")
    assert {zone.product for zone in job.zones.all()} == {thick}
    assert changes_since_agreed(Job.objects.get(pk=job.pk)) == ()


def test_the_first_choice_leaves_the_product(owner: User, job: Job, thick: Product) -> None:
    quote = issued(owner, job, way_of(thick))
    accepted(quote, choice="a")
    assert not job.zones.filter(product=thick).exists()
    assert FloorPlan.objects.filter(zone__job=job).count() == 2


def test_a_pad_is_laid_under_boards_that_lost_theirs(owner: User, job: Job, thick: Product) -> None:
    Product.objects.filter(name="Slate Oak").update(attached_pad=True)
    fresh = Job.objects.get(pk=job.pk)
    quote = issued(owner, fresh, way_of(thick))
    accepted(quote, choice="b")
    assert all(zone.pad for zone in fresh.zones.all())
    assert changes_since_agreed(Job.objects.get(pk=job.pk)) == ()


def widened() -> None:
    Room.objects.filter(name="Den").update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])


def plan_gone() -> None:
    AlternativePlan.objects.filter(zone__name="Hall").delete()


def begun() -> None:
    FloorZone.objects.filter(name="Den").update(going_on={"plan": 0, "laid": ["1-1"]})


def too_wet() -> None:
    Product.objects.filter(name="Harbor Oak").update(wettest="dry")
    Room.objects.update(moisture="wet")


def floor_gone() -> None:
    FloorZone.objects.filter(name="Hall").delete()


@pytest.mark.parametrize(
    ("happened", "why"),
    [
        (widened, "Den changed since it was priced"),
        (plan_gone, "the plan of Hall is gone"),
        (floor_gone, "the plan of Hall is gone"),
        (begun, "the floor Den is begun"),
        (too_wet, "Harbor Oak may not lie in Den"),
    ],
)
def test_a_choice_that_cannot_be_laid_any_more_is_refused_and_nothing_written(
    owner: User, job: Job, thick: Product, happened: object, why: str
) -> None:
    quote = issued(owner, job, f"{way_of(thick)}+base_new")
    assert callable(happened)
    happened()
    before = everything(job)
    with pytest.raises(BadValueError, match=why):
        accepted(quote, choice="b")
    assert everything(job) == before
    assert Job.objects.get(pk=job.pk).agreed_scope is None
    assert not LogEntry.objects.exists()


def test_the_other_choice_can_still_be_accepted(owner: User, job: Job, thick: Product) -> None:
    quote = issued(owner, job, way_of(thick))
    plan_gone()
    assert accepted(quote, choice="a").choice == "a"


def test_a_newer_comparison_leaves_the_plan_of_an_issued_quote(
    owner: User, job: Job, thick: Product
) -> None:
    quote = issued(owner, job, way_of(thick))
    for zone in job.zones.all():
        planned_in(zone, thick, "90")
    accepted(quote, choice="b")
    assert {zone.direction_deg for zone in job.zones.all()} == {Decimal(0)}


def test_a_door_that_rubs_over_the_thicker_plank_is_trimmed(
    owner: User, job: Job, thick: Product
) -> None:
    quote = stored_quote(issued(owner, job, way_of(thick)))
    assert [fact["Doors trimmed"] for fact in facts_of(quote)] == ["1 door", "2 doors"]
