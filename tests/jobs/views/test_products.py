"""Products on their pages: the carton first, refused at its field where it can't be."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Product, Role, User
from tests.builders import make_company, make_job, make_person, make_product, make_room
from tests.reading import words

pytestmark = pytest.mark.django_db

INCH = Decimal("25.4")


def carton(**more: Any) -> dict[str, Any]:
    """Return the form of a carton: 7 by 48 in, ten planks, 35 lb."""
    form = {"key": "k1", "version": 1, "name": "Larch", "measured_in": "imperial"}
    form |= {"core": "rigid", "length": "48", "width": "7", "thickness": "1/4", "per_carton": 10}
    return form | {"carton_weight": "35", "attached_pad": "no"} | more


def company_of(owner: User) -> Any:
    """Return the company of an owner."""
    assert owner.company is not None
    return owner.company


def page_of(visitor: Visitor, product: Product) -> str:
    """Return the words of a product's page, spaces plain."""
    return words(visitor.get(reverse("product-edit", args=[product.pk]))).replace("\u00a0", " ")


def test_a_new_product_is_eight_things_and_what_its_carton_covers(visitor: Visitor) -> None:
    form = visitor.get(reverse("product-add")).context["form"]
    typed = [name for name in form.fields if not form[name].is_hidden]
    assert typed == [
        *("name", "core", "length", "width", "thickness", "per_carton", "carton_weight"),
        *("attached_pad", "covers", "retired"),
    ]
    assert 'name="retired"' not in words(visitor.get(reverse("product-add")))
    assert [name for name in typed if form.fields[name].required] == [
        *("name", "core", "length", "width", "thickness", "per_carton", "attached_pad")
    ]


def test_a_product_is_kept_in_millimeters_and_kilograms(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), carton())
    product = Product.objects.get()
    assert (product.length_mm, product.width_mm) == (Decimal("1219.2"), Decimal("177.8"))
    assert product.carton_weight_kg == Decimal("15.88")


def test_a_product_leads_to_its_page_with_what_follows(visitor: Visitor) -> None:
    """Ten of 7 × 48 cover 23.33 ft²; 144 over 48 is 3; 35 lb over 23.33 ft² is 150 lb for 100."""
    answer = visitor.post(reverse("product-add"), carton())
    product = Product.objects.get()
    assert answer.headers["Location"] == reverse("product-edit", args=[product.pk])
    page = page_of(visitor, product)
    for line in ("23.33 ft²", "3 planks", "150 lb"):
        assert line in page


def test_a_new_product_stands_at_what_is_common_practice(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), carton())
    product = Product.objects.get()
    assert (product.gap_mm, product.min_end_mm) == (INCH / 4, 8 * INCH)
    assert (product.saw_kerf_mm, product.rip_kerf_mm) == (0, INCH / 8)
    assert (product.lock, product.tongue) == ("angle-drop", "low")
    page = page_of(visitor, product)
    assert 'Gap ¼"†, end pieces 8"†, joints 8"† apart, rows 2"† or more' in page
    assert "The long side in, slid to the end, folded down; then the end struck." in page
    assert "The tongue goes to the start wall." in page


def test_a_job_that_waits_for_a_product_is_gone_back_to(visitor: Visitor, owner: User) -> None:
    job = make_job(company_of(owner))
    make_room(job)
    add = f"{reverse('product-add')}?job={job.pk}"
    assert f'href="{add}"' in words(visitor.get(reverse("zone-list", args=[job.pk])))
    answer = visitor.post(add, carton())
    assert answer.headers["Location"] == reverse("zone-list", args=[job.pk])


def test_a_job_of_others_is_not_gone_to_and_nothing_is_written(visitor: Visitor) -> None:
    job = make_job(make_company("Other Floors"))
    answer = visitor.post(f"{reverse('product-add')}?job={job.pk}", carton())
    assert answer.status_code == 404
    assert not Product.objects.exists()


def test_a_size_is_shown_as_it_was_typed(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), carton(width="7.05"))
    product = Product.objects.get()
    assert product.width_mm == Decimal("179.07")
    for page in (page_of(visitor, product), words(visitor.get(reverse("product-list")))):
        assert "7.05" in page
        assert "₁₆" not in page
    assert 'value="7.05"' in page_of(visitor, product)


def test_a_carton_in_millimeters_is_a_metric_one(visitor: Visitor) -> None:
    metric = {"length": "1285 mm", "width": "192 mm", "thickness": "10", "carton_weight": "15.2"}
    visitor.post(reverse("product-add"), carton(core="laminate", **metric))
    product = Product.objects.get()
    assert product.units == "metric"
    assert (product.thickness_mm, product.carton_weight_kg) == (10, Decimal("15.20"))
    assert (product.gap_mm, product.saw_kerf_mm, product.min_end_mm) == (6, 3, 200)


def test_a_metric_form_reads_bare_numbers_as_millimeters(visitor: Visitor) -> None:
    metric = {"length": "1200", "width": "180", "thickness": "6.5", "carton_weight": "15"}
    visitor.post(reverse("product-add"), carton(measured_in="metric", **metric))
    product = Product.objects.get()
    assert (product.length_mm, product.carton_weight_kg) == (Decimal(1200), Decimal(15))


def test_a_carton_that_says_no_weight_weighs_what_is_common(visitor: Visitor) -> None:
    """1.9 lb/ft² over 23.33 ft² is 44.5 lb, 20.18 kg."""
    visitor.post(reverse("product-add"), carton(carton_weight=""))
    product = Product.objects.get()
    assert (product.carton_weight_kg, product.weight_assumed) == (Decimal("20.18"), True)
    assert "Left empty: 44.5 lb, common practice." in page_of(visitor, product)


def test_a_product_sent_twice_is_one_product(visitor: Visitor) -> None:
    for _ in range(2):
        visitor.post(reverse("product-add"), carton())
    assert Product.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"per_carton": ""}, "Nothing was typed; accepted: a whole number from 1 to 1000."),
        ({"per_carton": "0"}, "0 can't be used; accepted: a whole number from 1 to 1000."),
        ({"per_carton": "ten"}, "“ten” can't be used; accepted: a whole number from 1 to 1000."),
        ({"width": "50"}, "The plank is wider than long: “50”; accepted: up to 4' 0\"."),
        ({"length": "forty"}, '“forty” is no length; accepted: 7", 7 1/16, 7.05 (inches'),
        ({"width": "7,05"}, '“7,05” is no length; accepted: 7", 7 1/16, 7.05 (inches, with a'),
        ({"width": "-7"}, '“-7” is too short; accepted: ½" or more.'),
        ({"width": "0"}, '“0” is too short; accepted: ½" or more.'),
        ({"length": "9999999"}, "“9999999” is too long"),
        ({"thickness": "6 ft"}, '“6 ft” is too long; accepted: up to 2⅜".'),
        ({"carton_weight": "-1"}, "“-1” can't be used; accepted: a weight such as 32 lb or 14.5"),
        ({"carton_weight": "900"}, "“900” can't be used; accepted: a weight such as 32 lb"),
        ({"name": " "}, "Nothing was typed; accepted: a text of up to 120 characters."),
        ({"core": ""}, "Nothing was chosen; accepted: one of the list."),
        ({"attached_pad": ""}, "Nothing was chosen; accepted: one of the list."),
        ({"covers": "0"}, "“0” can't be used; accepted: a number from 0.01 to 2000."),
        ({"covers": "-5"}, "“-5” can't be used; accepted: a number from 0.01 to 2000."),
        (
            {"covers": "18.9"},
            '10 planks of 7" by 4\' 0" cover 23.33 ft²; accepted: from 23.10 to 23.56, or another',
        ),
    ],
)
def test_a_product_that_can_not_be_is_refused_at_its_field(
    visitor: Visitor, fields: dict[str, str], sentence: str
) -> None:
    answer = visitor.post(reverse("product-add"), carton(**fields))
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert not Product.objects.exists()
    assert 'value="Larch"' in words(answer) or "name" in fields


def test_a_printed_coverage_is_kept_and_shown_again(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), carton(covers="23.3"))
    product = Product.objects.get()
    assert product.covers_ft2 == Decimal("23.3")
    assert 'name="covers" value="23.3"' in page_of(visitor, product)


def test_a_metric_coverage_is_held_against_the_carton_in_square_meters(visitor: Visitor) -> None:
    """Eight of 192 by 1285 mm cover 1.974 m²."""
    metric = {"length": "1285", "width": "192", "thickness": "10", "per_carton": 8}
    metric |= {"measured_in": "metric", "carton_weight": "15.2"}
    answer = visitor.post(reverse("product-add"), carton(**metric, covers="2.4"))
    assert "cover 1.97 m²; accepted: from 1.95 to 1.99" in words(answer)
    visitor.post(reverse("product-add"), carton(**metric, covers="1.97"))
    assert 'name="covers" value="1.97"' in page_of(visitor, Product.objects.get())


def test_a_name_with_tags_is_shown_and_never_carried_out(visitor: Visitor) -> None:
    visitor.post(reverse("product-add"), carton(name="<script>alert(1)</script>"))
    product = Product.objects.get()
    for url in (reverse("product-edit", args=[product.pk]), reverse("product-list")):
        body = visitor.get(url).content.decode()
        assert "<script>alert(1)" not in body
        assert "&lt;script&gt;alert(1)" in body


def test_a_core_corrected_takes_along_what_stood_at_common_practice(
    visitor: Visitor, owner: User
) -> None:
    visitor.post(reverse("product-add"), carton())
    product = Product.objects.get()
    Product.objects.update(rule_sources={"lock": "sheet"})
    visitor.post(reverse("product-edit", args=[product.pk]), carton(core="laminate", key="k2"))
    product.refresh_from_db()
    assert (product.saw_kerf_mm, product.acclimate_hours) == (INCH / 8, 48)
    assert product.lock == "angle-drop"


@pytest.mark.parametrize(
    ("rules", "fields", "sentence"),
    [
        (
            {"rules_source": "Maker's sheet, 2026"},
            {"length": "8"},
            "“8” leaves no place for a rule of step 3, minimum end piece (Maker's sheet, 2026)",
        ),
        (
            {"rules_source": "Maker's sheet, 2026"},
            {"width": "2", "length": "12"},
            "“2” leaves no place for a rule of step 3, minimum row width (Maker's sheet, 2026)",
        ),
        (
            {"rules_source": "Maker's sheet, 2026"},
            {"length": "12"},
            "“12” leaves no place for a rule of step 3, minimum stagger (Maker's sheet,",
        ),
        ({"variants": {"A": 6, "B": 4}}, {"per_carton": "8"}, "step 6 make 10 planks, not 8"),
        ({"separate_pad": "yes"}, {"attached_pad": "yes"}, "a separate pad is allowed in step 4"),
        (
            {"more_boards": [{"width_mm": "127", "per_carton": 3}]},
            {"width": "5"},
            "“5” is a further width in step 6; accepted: each width once.",
        ),
    ],
)
def test_a_carton_that_its_other_steps_contradict_is_refused(
    visitor: Visitor,
    owner: User,
    rules: dict[str, object],
    fields: dict[str, str],
    sentence: str,
) -> None:
    product = make_product(company_of(owner), **rules)
    answer = visitor.post(reverse("product-edit", args=[product.pk]), carton(**fields))
    assert answer.status_code == 422
    assert sentence in words(answer)


def test_a_saved_product_keeps_every_figure_it_had(visitor: Visitor, owner: User) -> None:
    product = make_product(company_of(owner), units="metric", length_mm=Decimal("1219.2"))
    assert 'value="1219.2 mm"' in page_of(visitor, product)


def test_an_old_product_without_texts_names_its_width_unrounded(
    visitor: Visitor, owner: User
) -> None:
    product = make_product(company_of(owner), width_mm=Decimal("179.07"))
    page = page_of(visitor, product)
    assert 'value="7.05 in"' in page
    assert "₁₆" not in page


def test_the_second_of_two_savers_is_told_what_changed(visitor: Visitor, owner: User) -> None:
    url = reverse("product-edit", args=[make_product(company_of(owner), name="Larch").pk])
    visitor.post(url, carton(thickness="3/8", key="theirs"))
    answer = visitor.post(url, carton(thickness="1/2", key="mine"))
    assert answer.status_code == 409
    assert 'Thickness is now “⅜"”; you have “½"”.' in words(answer)


def test_a_size_that_was_overtaken_is_told_unrounded(visitor: Visitor, owner: User) -> None:
    url = reverse("product-edit", args=[make_product(company_of(owner), name="Larch").pk])
    visitor.post(url, carton(width="7.05", key="theirs"))
    answer = visitor.post(url, carton(width="7.1", key="mine"))
    assert "Width mm is now" not in words(answer)
    assert "Width is now “7.05 in”; you have “7.1 in”." in words(answer)


def test_a_retired_product_is_marked(visitor: Visitor, owner: User) -> None:
    url = reverse("product-edit", args=[make_product(company_of(owner)).pk])
    visitor.post(url, carton(retired="on"))
    assert Product.objects.get().retired_at is not None
    assert "retired" in words(visitor.get(reverse("product-list")))


def test_products_of_another_company_are_hidden(visitor: Visitor) -> None:
    other = make_product(make_company("Other Floors"), name="Secret oak")
    assert visitor.get(reverse("product-edit", args=[other.pk])).status_code == 404
    assert "Secret oak" not in words(visitor.get(reverse("product-list")))


def test_a_crew_member_sees_no_products(owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(company_of(owner), Role.CREW))
    assert visitor.get(reverse("product-list")).status_code == 403
