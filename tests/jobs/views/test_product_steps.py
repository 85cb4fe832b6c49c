"""The steps of a product after its carton: what stands, what is saved, where it comes from."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.floors.rule_sources import is_practice, rule_source
from jobs.domain.products.steps import STEPS
from jobs.models import Product, User
from tests.builders import make_company, make_product
from tests.jobs.views.test_products import company_of, page_of
from tests.reading import words

pytestmark = pytest.mark.django_db

STEP_FORMS: dict[str, dict[str, Any]] = {
    "joining": {"lock": "angle-angle", "tongue": "low", "first_end": "left"},
    "laying": {
        "gap": "1/4",
        "saw_kerf": "1/8",
        "min_end": "8",
        "min_offset": "8",
        "min_row": "2",
        "stagger": "free",
    },
    "place": {},
    "rest": {"acclimate_hours": 0},
    "mix": {},
    "sheet": {"rules_source": "Maker's sheet, 2026"},
}


def form_of(step: str, **more: Any) -> dict[str, Any]:
    """Return what a step's form sends as it stands, with ``more``."""
    return {"key": "k1", "version": 1} | STEP_FORMS[step] | more


@pytest.fixture
def product(owner: User) -> Product:
    """A plank of 7 by 48 in, ten to a carton, its rules at common practice."""
    return make_product(company_of(owner), name="Larch")


def step_url(product: Product, step: str) -> str:
    """Return the address of a step."""
    return reverse("product-step", args=[product.pk, step])


def save(visitor: Visitor, product: Product, step: str, **more: Any) -> Product:
    """Save a step and return the product as it stands then."""
    answer = visitor.post(step_url(product, step), form_of(step, **more))
    assert answer.status_code == 303, words(answer)
    product.refresh_from_db()
    return product


@pytest.mark.parametrize("step", [step.code for step in STEPS])
def test_every_step_opens_from_the_product_and_leads_back(
    visitor: Visitor, product: Product, step: str
) -> None:
    assert step_url(product, step) in page_of(visitor, product)
    answer = visitor.post(step_url(product, step), form_of(step))
    assert answer.headers["Location"] == reverse("product-edit", args=[product.pk])


@pytest.mark.parametrize("step", [step.code for step in STEPS])
def test_a_step_saved_as_it_stands_changes_no_rule(
    visitor: Visitor, product: Product, step: str
) -> None:
    def rules() -> dict[str, object]:
        names = [rule for one in STEPS for rule in one.rules if rule != "rip_kerf_mm"]
        return {name: getattr(product, name) for name in names} | {"rip": product.rip_mm}

    before = rules()
    page = visitor.get(step_url(product, step))
    form = page.context["form"]
    values = {name: form[name].value() for name in form.fields}
    shown = {
        name: form.fields[name].prepare_value(value)
        for name, value in values.items()
        if value is not None and value is not False and value != []
    }
    visitor.post(step_url(product, step), shown)
    product.refresh_from_db()
    assert product.version == 2
    assert rules() == before


def test_an_unknown_step_and_one_of_others_are_not_there(
    visitor: Visitor, product: Product
) -> None:
    assert visitor.get(step_url(product, "paint")).status_code == 404
    other = make_product(make_company("Other Floors"))
    assert visitor.get(step_url(other, "laying")).status_code == 404


def test_every_rule_of_the_sheet_is_kept(visitor: Visitor, product: Product) -> None:
    save(visitor, product, "joining", tilt_deg="25", tapping="block", both_ways="on")
    save(visitor, product, "place", version=2, laid_over=["slab", "tile"], wettest="damp")
    save(visitor, product, "rest", version=3, most_rh_pct="85", most_mver="5")
    save(visitor, product, "laying", version=4, max_run="40'", max_run_width="30'")
    assert (product.tilt_deg, product.tapping, product.both_ways) == (Decimal(25), "block", True)
    assert (product.laid_over, product.wettest) == (["slab", "tile"], "damp")
    assert (product.most_rh_pct, product.most_mver) == (Decimal(85), Decimal(5))
    assert product.max_run_width_mm == 9144


def test_a_step_says_what_stands_there_now(visitor: Visitor, product: Product) -> None:
    save(visitor, product, "joining", tilt_deg="25", tapping="block", both_ways="on")
    save(visitor, product, "place", version=2, laid_over=["slab", "tile"], heated_floor="yes")
    page = page_of(visitor, product)
    assert "Angle both sides† at 25°. With a tapping block only. Rows both ways." in page
    assert "Over a concrete slab, ceramic or stone tile. Wet rooms not said. A heated" in page


def test_where_it_comes_from_is_answered_once_a_step(visitor: Visitor, product: Product) -> None:
    save(visitor, product, "sheet", sheet_edition="7, 2026", rules_source=product.rules_source)
    save(visitor, product, "laying", version=2, comes_from="sheet", page="3")
    assert rule_source(product, "gap_mm") == "Maker's sheet, 7, 2026, page 3"
    assert rule_source(product, "lock") == "Our default, common practice"
    page = page_of(visitor, product)
    assert "Maker's sheet, 7, 2026, page 3" in page
    assert 'Gap ¼", end pieces 8", joints 8" apart' in page


def test_a_single_rule_may_differ_from_its_step(visitor: Visitor, product: Product) -> None:
    single = {"from_min_row_mm": "default", "from_saw_kerf_mm": "default"}
    standard = {"from_min_offset_mm": "NWFA Installation Guidelines, 2008"}
    other = {"from_gap_mm": "other", "other_standard": "Standard 12, 2020"}
    save(visitor, product, "laying", comes_from="sheet", page="3", **single, **standard, **other)
    named = ("min_end_mm", "min_row_mm", "min_offset_mm", "gap_mm")
    assert [rule_source(product, name) for name in named] == [
        "Maker's sheet, edition not noted, page 3",
        "Our default, common practice",
        "NWFA Installation Guidelines, 2008",
        "Standard 12, 2020",
    ]
    assert is_practice(product, "min_row_mm")
    page = page_of(visitor, product)
    assert "2 are ours †" in page
    assert 'rows 2"† or more' in page


def test_a_step_leaves_the_sources_of_the_others(visitor: Visitor, product: Product) -> None:
    save(visitor, product, "laying", comes_from="sheet", page="3", from_gap_mm="default")
    save(visitor, product, "joining", version=2, comes_from="sheet", page="2")
    assert product.step_sources["laying"] == {"from": "sheet", "page": "3"}
    assert product.rule_sources == {"gap_mm": "default"}


@pytest.mark.parametrize(
    ("step", "fields", "sentence"),
    [
        ("laying", {"min_end": "48"}, "An end piece this long is the whole plank: “48”; accepted:"),
        (
            "laying",
            {"min_row": "7"},
            "A row this wide is the whole plank: “7”; accepted: less than",
        ),
        ("laying", {"min_offset": "30"}, "“30” leaves no place for the joints of this plank;"),
        ("laying", {"rip_kerf": "1/16"}, '“1/16” is less than a cut across takes; accepted: ⅛"'),
        ("laying", {"gap": "7,05"}, '“7,05” is no length; accepted: 7", 7 1/16, 7.05'),
        ("laying", {"gap": ""}, 'Nothing was typed; accepted: 7"'),
        (
            "laying",
            {"from_gap_mm": "other"},
            "Expansion gap comes from another standard, which is not named; accepted: its name",
        ),
        (
            "joining",
            {"comes_from": "other"},
            "How it joins comes from another standard, which is not named; accepted: its name",
        ),
        ("joining", {"tilt_deg": "steep"}, "“steep” can't be used; accepted: a number from 1 to"),
        ("rest", {"most_rh_pct": "101"}, "“101” can't be used; accepted: a number from 0.1 to 100"),
        ("sheet", {"rules_source": ""}, "Nothing was typed; accepted: a text of up to 160"),
        ("mix", {"variants": "A 4, B 3, C 2"}, "makes 9 planks; accepted: counts that make up one"),
        (
            "mix",
            {"variants": "A 6, B 4", "width_2": "5", "count_2": "5", "variants_2": "A 1, B 1"},
            "“A 1, B 1” makes 2 planks; accepted: counts that make up this width, 5 planks.",
        ),
        (
            "mix",
            {"variants": "A 6, B 4", "shades": "4"},
            "4 shades beside counts of each; accepted: one of the two.",
        ),
        ("mix", {"shades": "27"}, "27 can't be used; accepted: a whole number from 2 to 26."),
        ("mix", {"variants": "A four"}, "“A four” can't be used; accepted: a name and a number"),
        ("mix", {"variants": "A 5, A 5"}, "“A” stands twice; accepted: each name once."),
        ("mix", {"width_2": "5"}, "Nothing was typed; accepted: a width and its number of planks"),
        ("mix", {"width_2": "7", "count_2": "3"}, "“7” stands twice; accepted: each width once."),
        ("mix", {"width_2": "50", "count_2": "3"}, "The plank is wider than long: “50”; accepted:"),
        ("mix", {"width_2": "1 1/2", "count_2": "3"}, "“1 1/2” is no wider than the minimum row"),
    ],
)
def test_what_can_not_be_is_refused_at_its_field(
    visitor: Visitor, product: Product, step: str, fields: dict[str, str], sentence: str
) -> None:
    answer = visitor.post(step_url(product, step), form_of(step, **fields))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert Product.objects.get().version == 1


def test_a_separate_pad_is_not_allowed_under_an_attached_one(
    visitor: Visitor, product: Product
) -> None:
    Product.objects.update(attached_pad=True)
    answer = visitor.post(step_url(product, "place"), form_of("place", separate_pad="yes"))
    assert "Allowed, under a plank with its pad attached; accepted: not allowed" in words(answer)


@pytest.mark.parametrize(
    ("core", "typed", "saw", "rip"),
    [
        ("rigid", {"saw_kerf": "", "rip_kerf": ""}, "0", "3.175"),
        ("rigid", {"saw_kerf": "", "rip_kerf": "0"}, "0", "0"),
        ("laminate", {"saw_kerf": "", "rip_kerf": ""}, "3.175", "3.175"),
        ("wood", {"saw_kerf": "3/16", "rip_kerf": ""}, "4.7625", "4.7625"),
    ],
)
def test_what_a_cut_takes_goes_by_the_core_unless_it_is_typed(
    visitor: Visitor, product: Product, core: str, typed: dict[str, str], saw: str, rip: str
) -> None:
    Product.objects.update(core=core)
    save(visitor, product, "laying", **typed)
    assert (product.saw_kerf_mm, product.rip_kerf_mm) == (Decimal(saw), Decimal(rip))


def test_a_product_of_before_shows_the_rip_that_it_always_had(
    visitor: Visitor, product: Product
) -> None:
    page = words(visitor.get(step_url(product, "laying")))
    assert 'name="rip_kerf" value="1/8""' in page


def test_a_mixed_carton_is_kept_width_by_width_as_typed(visitor: Visitor, product: Product) -> None:
    save(visitor, product, "mix", width_2="5.05", count_2="3", width_3="9", count_3="4")
    assert product.sizes == ((Decimal("177.8"), 10), (Decimal("128.27"), 3), (Decimal("228.6"), 4))
    assert product.widths[1:] == ("5.05\u00a0in", '9"')
    page = words(visitor.get(step_url(product, "mix")))
    assert 'value="5.05"' in page
    assert "5.05 in" in words(visitor.get(reverse("product-list")))


def test_shades_of_several_widths_stand_with_each(visitor: Visitor, product: Product) -> None:
    widths = {"variants": "A 4, B 6", "width_2": "5", "count_2": "4", "variants_2": "A 3, C 1"}
    save(visitor, product, "mix", **widths)
    assert product.mixes == ({"A": 4, "B": 6}, {"A": 3, "C": 1})
    assert 'value="A 4, B 6"' in words(visitor.get(step_url(product, "mix")))


def test_a_product_may_say_only_how_many_shades_there_are(
    visitor: Visitor, product: Product
) -> None:
    save(visitor, product, "mix", shades="4")
    assert (product.shades, product.variants) == (4, {})


def test_two_who_save_different_steps_do_not_write_over_each_other(
    visitor: Visitor, product: Product
) -> None:
    save(visitor, product, "rest", acclimate_hours="48", key="theirs")
    answer = visitor.post(step_url(product, "laying"), form_of("laying", gap="3/8", key="mine"))
    assert answer.status_code == 409
    product.refresh_from_db()
    assert product.acclimate_hours == 48
