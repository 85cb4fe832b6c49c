"""Plank products: the list, a new one, a changed one."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from jobs import figures
from jobs.access import SignedInRequest, company_of, office, writable_product_for
from jobs.forms.base import sent
from jobs.forms.products import DEFAULTS, KG_PER_LB, LENGTHS, ProductForm, sheet_units
from jobs.http import render_page
from jobs.models import Product, UnitSystem
from jobs.services import products as services
from jobs.views.editing import edit_page
from jobs.words import MM2_PER_FT2, length_words

edits = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@office
def product_list(request: SignedInRequest) -> HttpResponse:
    """Every product with its board and carton."""
    lines = [_line(product) for product in company_of(request).products.all()]
    return render_page(request, "jobs/products.html", {"lines": lines})


@edits
@office
def product_add(request: SignedInRequest) -> HttpResponse:
    """Take down a product, rules at their common values."""
    company = company_of(request)
    units = sheet_units(sent(request), str(request.GET.get("units") or company.units))
    units = units if units in UnitSystem.values else company.units
    source = Product._meta.get_field("rules_source").default  # noqa: SLF001  public in Django
    initial = {**DEFAULTS[units], "measured_in": units, "rules_source": source}
    initial["acclimatise_hours"] = 0
    form = ProductForm(sent(request), units=units, initial=initial)
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_product(
            company=company, user=request.user, key=form.once_key, values=form.values
        ),
        done="The product is in the book.",
        to=lambda _: reverse("product-list"),
        context={"title": "New product", "product": None},
        template="jobs/product.html",
    )


@edits
@office
def product_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a product; plans made with it before stand and are marked as outdated."""
    product = writable_product_for(request, pk)
    form = ProductForm(
        sent(request),
        units=sheet_units(sent(request), product.units),
        initial=_initial(product),
        version=product.version,
    )
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_product(
            product=product,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
            retired=form.cleaned_data["retired"],
        ),
        done="The product is changed.",
        to=lambda _: reverse("product-list"),
        context={"title": product.name, "product": product},
        template="jobs/product.html",
    )


def _initial(product: Product) -> dict[str, Any]:
    """Return what the form of a product shows first."""
    names = ("name", "core", "per_carton", "attached_pad", "lock", "stagger")
    told = ("acclimatise_hours", "moisture_limit", "rules_source")
    initial = {name: getattr(product, name) for name in (*names, *told)}
    initial |= {name: getattr(product, f"{name}_mm") for name in LENGTHS}
    weight = product.carton_weight_kg
    if weight is not None and product.units == UnitSystem.IMPERIAL:
        weight = round(weight / KG_PER_LB, 2)
    retired = product.retired_at is not None
    return {**initial, "measured_in": product.units, "carton_weight": weight, "retired": retired}


def _line(product: Product) -> dict[str, Any]:
    """Return a product's sizes in words, in the units of its sheet."""
    board = product.length_mm * product.width_mm
    width, length, thickness, gap = (
        length_words(mm, product.units)
        for mm in (product.width_mm, product.length_mm, product.thickness_mm, product.gap_mm)
    )
    return {
        "product": product,
        "board": f"{width} by {length}, {thickness} thick",
        "carton": figures.area(Fraction(board) * product.per_carton / MM2_PER_FT2, product.units),
        "gap": gap,
    }
