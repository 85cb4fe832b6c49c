"""Products on their pages: every rule a field, refused where it can't be."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.floors.rule_sources import rule_source
from jobs.models import Product, Role, User
from tests.builders import make_company, make_person, make_product
from tests.reading import words

pytestmark = pytest.mark.django_db


def sent(**more: Any) -> dict[str, Any]:
    """Return a product's form: 7 by 48 in, ten to a carton of 35 lb."""
    form = {"key": "k1", "version": 1, "name": "Larch", "measured_in": "imperial"}
    form |= {"core": "rigid", "length": "48", "width": "7", "thickness": "1/4", "per_carton": 10}
    form |= {"carton_weight": "35", "lock": "angle-angle", "gap": "1/4", "saw_kerf": "1/8"}
    form |= {"min_end": "8", "min_offset": "8", "min_row": "2", "stagger": "free"}
    return form | {"acclimate_hours": 0, "rules_source": "Maker's sheet, 2026"} | more


def test_a_new_product_starts_at_what_is_common_practice(visitor: Visitor) -> None:
    page = words(visitor.get(reverse("product-add")))
    assert "Our default, common practice" in page
    assert 'value="1/4""' in page
    assert '<option value="high" selected>Toward the next row</option>' in page


def test_a_product_is_kept_in_millimeters_and_kilograms(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), sent())
    product = Product.objects.get()
    assert (product.length_mm, product.width_mm) == (Decimal("1219.2"), Decimal("177.8"))
    assert product.carton_weight_kg == Decimal("15.88")


def test_a_metric_sheet_reads_bare_numbers_as_millimeters(visitor: Visitor) -> None:
    metric = {"length": "1200", "width": "180", "thickness": "6.5", "gap": "6", "saw_kerf": "3"}
    metric |= {"min_end": "200", "min_offset": "200", "min_row": "50", "carton_weight": "15"}
    visitor.post(reverse("product-add"), sent(measured_in="metric", **metric))
    product = Product.objects.get()
    assert (product.length_mm, product.carton_weight_kg) == (Decimal(1200), Decimal(15))


def test_a_product_sent_twice_is_one_product(visitor: Visitor) -> None:
    for _ in range(2):
        visitor.post(reverse("product-add"), sent())
    assert Product.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"per_carton": ""}, "Nothing was typed; accepted: a whole number from 1 to 1000."),
        ({"per_carton": "0"}, "0 can't be used; accepted: a whole number from 1 to 1000."),
        ({"per_carton": "ten"}, "“ten” can't be used; accepted: a whole number from 1 to 1000."),
        ({"width": "50"}, "The board is wider than long: “50”; accepted: up to 4' 0\"."),
        ({"length": "forty"}, "“forty” is no length"),
        ({"min_end": "48"}, "An end piece this long is the whole board: “48”; accepted: less"),
        ({"min_row": "7"}, 'A row this wide is the whole board: “7”; accepted: less than 7".'),
        (
            {"min_offset": "30"},
            "“30” leaves no place for the joints of this board; accepted: up to 2' 0\".",
        ),
        ({"carton_weight": "-1"}, "“-1” can't be used; accepted: a number from 0.1 to 500."),
        ({"rules_source": ""}, "Nothing was typed; accepted: a text of up to 160 characters."),
        ({"name": " "}, "Nothing was typed; accepted: a text of up to 120 characters."),
        (
            {"variants": "A 4, B 3, C 2"},
            "“A 4, B 3, C 2” makes 9 boards; accepted: counts that make up one carton, 10 boards.",
        ),
        (
            {"variants": "A 6, B 4", "per_carton": "5", "width_2": "5", "count_2": "5"},
            "“A 6, B 4” makes 10 boards; accepted: counts that make up this width, 5 boards.",
        ),
        (
            {"per_carton": "5", "width_2": "5", "count_2": "3", "variants_2": "A 1, B 1"},
            "“A 1, B 1” makes 2 boards; accepted: counts that make up this width, 3 boards.",
        ),
        (
            {"variants": "A 6, B 4", "shades": "4"},
            "4 shades beside counts of each; accepted: one of the two.",
        ),
        (
            {"shades": "27"},
            "27 can't be used; accepted: a whole number from 2 to 26.",
        ),
        ({"variants": "A four"}, "“A four” can't be used; accepted: a name and a number"),
        ({"variants": "A 5, A 5"}, "“A” stands twice; accepted: each name once."),
        (
            {"width_2": "5"},
            "Nothing was typed; accepted: a width and its number of boards together.",
        ),
        ({"width_2": "7", "count_2": "3"}, '7" stands twice; accepted: each width once.'),
        ({"width_2": "50", "count_2": "3"}, "The board is wider than long: “50”"),
        ({"width_2": "1 1/2", "count_2": "3"}, "A row this wide is the whole board: “2”"),
        (
            {"attached_pad": "on", "separate_pad": "yes"},
            "Allowed, under a board with its pad attached; accepted: not allowed, or not said.",
        ),
        (
            {"from_gap_mm": "other"},
            "Gap at walls comes from another standard, which is not named; accepted: its name",
        ),
        (
            {"saw_kerf": "1/8", "rip_kerf": "1/16"},
            '“1/16” is less than a cut across takes; accepted: ⅛" or more.',
        ),
        ({"most_rh_pct": "101"}, "“101” can't be used; accepted: a number from 0.1 to 100."),
        ({"tilt_deg": "steep"}, "“steep” can't be used; accepted: a number from 1 to 60."),
    ],
)
def test_a_product_that_can_not_be_is_refused_at_its_field(
    visitor: Visitor, fields: dict[str, str], sentence: str
) -> None:
    answer = visitor.post(reverse("product-add"), sent(**fields))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert not Product.objects.exists()


def test_a_mixed_carton_is_kept_width_by_width(visitor: Visitor) -> None:
    more = {"width_2": "5", "count_2": "3", "width_3": "9", "count_3": "4"}
    visitor.post(reverse("product-add"), sent(per_carton=3, **more))
    product = Product.objects.get()
    assert product.sizes == ((Decimal("177.8"), 3), (Decimal(127), 3), (Decimal("228.6"), 4))
    page = words(visitor.get(reverse("product-edit", args=[product.pk])))
    assert 'value="9""' in page


def test_the_prints_of_a_carton_are_kept(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), sent(variants="A 6, B 4"))
    product = Product.objects.get()
    assert product.variants == {"A": 6, "B": 4}
    page = words(visitor.get(reverse("product-edit", args=[product.pk])))
    assert 'value="A 6, B 4"' in page


def test_every_rule_of_the_sheet_is_kept(visitor: Visitor) -> None:
    form = {"laid_over": ["slab", "tile"], "wettest": "damp", "heated_floor": "yes"}
    form |= {"separate_pad": "no", "tilt_deg": "25", "tapping": "block", "both_ways": "on"}
    form |= {"most_rh_pct": "85", "most_mver": "5", "most_wood_mc_pct": "12"}
    form |= {"max_run": "40'", "max_run_width": "30'", "tongue": "low", "first_end": "right"}
    visitor.post(reverse("product-add"), sent(**form))
    product = Product.objects.get()
    assert product.laid_over == ["slab", "tile"]
    assert (product.wettest, product.heated_floor, product.separate_pad) == ("damp", "yes", "no")
    assert (product.tilt_deg, product.tapping, product.both_ways) == (Decimal(25), "block", True)
    limits = (product.most_rh_pct, product.most_mver, product.most_wood_mc_pct)
    assert limits == (Decimal(85), Decimal(5), Decimal(12))
    assert product.max_run_width_mm == 9144
    assert (product.tongue, product.first_end) == ("low", "right")


def test_each_rule_says_where_it_comes_from(visitor: Visitor) -> None:
    form = {"from_gap_mm": "sheet", "from_min_offset_mm": "NWFA Installation Guidelines, 2008"}
    form |= {"from_min_end_mm": "default", "sheet_edition": "3 of 2026"}
    form |= {"from_wettest": "other", "other_standard": "Standard 12, 2020"}
    visitor.post(reverse("product-add"), sent(**form))
    product = Product.objects.get()
    named = ("gap_mm", "min_offset_mm", "min_end_mm", "wettest", "min_row_mm")
    assert [rule_source(product, name) for name in named] == [
        "Maker's sheet, 3 of 2026",
        "NWFA Installation Guidelines, 2008",
        "Our default, common practice",
        "Standard 12, 2020",
        "Maker's sheet, 2026",
    ]


def test_a_saved_product_keeps_every_figure_it_had(visitor: Visitor, owner: User) -> None:
    assert owner.company is not None
    product = make_product(owner.company, units="metric", length_mm=Decimal("1219.2"))
    page = words(visitor.get(reverse("product-edit", args=[product.pk])))
    assert 'value="1219.2 mm"' in page


def test_the_second_of_two_savers_is_told_what_changed(visitor: Visitor, owner: User) -> None:
    assert owner.company is not None
    url = reverse("product-edit", args=[make_product(owner.company).pk])
    visitor.post(url, sent(gap="3/8", key="theirs"))
    answer = visitor.post(url, sent(gap="1/2", key="mine"))
    assert answer.status_code == 409
    assert 'Gap at walls is now “⅜"”; you have “½"”.' in words(answer)


def test_a_retired_product_is_marked(visitor: Visitor, owner: User) -> None:
    assert owner.company is not None
    url = reverse("product-edit", args=[make_product(owner.company).pk])
    visitor.post(url, sent(retired="on"))
    assert Product.objects.get().retired_at is not None
    assert "retired" in words(visitor.get(reverse("product-list")))


def test_products_of_another_company_are_hidden(visitor: Visitor) -> None:
    other = make_product(make_company("Other Floors"), name="Secret oak")
    assert visitor.get(reverse("product-edit", args=[other.pk])).status_code == 404
    assert "Secret oak" not in words(visitor.get(reverse("product-list")))


def test_a_crew_member_sees_no_products(owner: User) -> None:
    assert owner.company is not None
    visitor = Visitor()
    visitor.force_login(make_person(owner.company, Role.CREW))
    assert visitor.get(reverse("product-list")).status_code == 403


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
    visitor: Visitor, core: str, typed: dict[str, str], saw: str, rip: str
) -> None:
    visitor.post(reverse("product-add"), sent(core=core, **typed))
    product = Product.objects.get()
    assert (product.saw_kerf_mm, product.rip_kerf_mm) == (Decimal(saw), Decimal(rip))


def test_a_product_of_before_shows_the_rip_that_it_always_had(
    visitor: Visitor, owner: User
) -> None:
    assert owner.company
    product = make_product(owner.company)
    page = words(visitor.get(reverse("product-edit", args=[product.pk])))
    assert 'name="rip_kerf" value="1/8""' in page


def test_shades_of_several_widths_stand_with_each(visitor: Visitor) -> None:
    widths = {"per_carton": "3", "variants": "A 1, B 2", "width_2": "5", "count_2": "4"}
    visitor.post(reverse("product-add"), sent(**widths, variants_2="A 3, C 1"))
    product = Product.objects.get()
    assert product.mixes == ({"A": 1, "B": 2}, {"A": 3, "C": 1})


def test_a_product_may_say_only_how_many_shades_there_are(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), sent(shades="4"))
    product = Product.objects.get()
    assert (product.shades, product.variants) == (4, {})
