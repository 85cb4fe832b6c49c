"""Plank products: the list, a new one, a changed one."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, office, writable_product_for
from jobs.domain import figures
from jobs.domain.floors.rule_sources import OTHER, RULES, rule_source
from jobs.domain.lengths import MM2_PER_FT2, length_words
from jobs.forms.base import files_sent, sent
from jobs.forms.boards import FURTHER, KG_PER_LB
from jobs.forms.products import DEFAULTS, LENGTHS, PLAIN_RULES, ProductForm, sheet_units
from jobs.http import render_page
from jobs.models import Product, UnitSystem
from jobs.services.files import serve
from jobs.services.products import products as services
from jobs.views.edit_page import edit_page, edits
from jobs.views.list_page import page_of


@require_safe
@office
def product_list(request: SignedInRequest) -> HttpResponse:
    """Every product with its board and carton, by name."""
    page = page_of(request, company_of(request).products.all())
    lines = [_line(product) for product in page.object_list]
    context = {"lines": lines, "page_obj": page}
    return render_page(request, "jobs/products/products.html", context)


@edits
@office
def product_add(request: SignedInRequest) -> HttpResponse:
    """Take down a product, rules at their common values."""
    company = company_of(request)
    units = sheet_units(sent(request), str(request.GET.get("units") or company.units))
    units = units if units in UnitSystem.values else company.units
    source = Product._meta.get_field("rules_source").default  # noqa: SLF001  public in Django
    initial = {**DEFAULTS[units], "measured_in": units, "rules_source": source}
    initial |= {"acclimate_hours": 0, "tongue": "high", "first_end": "left"}
    form = ProductForm(sent(request), files_sent(request), units=units, initial=initial)
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_product(
            company=company,
            user=request.user,
            key=form.once_key,
            values=form.values,
            sheet=form.sheet_sent,
        ),
        done="The product is in the book.",
        to=lambda _: reverse("product-list"),
        context={
            "title": "New product",
            "product": None,
            "further_open": _further_refused(form),
        },
        template="jobs/products/product.html",
    )


@edits
@office
def product_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a product; plans made with it before stand and are marked as outdated."""
    product = writable_product_for(request, pk)
    form = ProductForm(
        sent(request),
        files_sent(request),
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
            sheet=form.sheet_sent,
            sheet_gone=form.cleaned_data["sheet_gone"],
        ),
        done="The product is changed.",
        to=lambda _: reverse("product-list"),
        context={
            "title": product.name,
            "product": product,
            "further_open": bool(product.more_boards) or _further_refused(form),
        },
        template="jobs/products/product.html",
    )


@require_safe
@office
def product_sheet(request: SignedInRequest, pk: int) -> HttpResponse:
    """The maker's sheet of a product."""
    product = writable_product_for(request, pk)
    if product.sheet is None:
        raise Http404("No sheet is attached to this product.")
    return serve(product.sheet)  # type: ignore[return-value]


def _further_refused(form: ProductForm) -> bool:
    """Whether a further width was refused or typed, so that it must be in sight."""
    return any(one.errors or (form.is_bound and one.data) for pair in form.further for one in pair)


def _initial(product: Product) -> dict[str, object]:
    """Return what the form of a product shows first."""
    names = ("name", "core", "per_carton", "attached_pad", "separate_pad", "variants", "shades")
    initial = {name: getattr(product, name) for name in (*names, *PLAIN_RULES)}
    initial |= {name: getattr(product, f"{name}_mm") for name in LENGTHS}
    initial["rip_kerf"] = product.rip_mm
    weight = product.carton_weight_kg
    if weight is not None and product.units == UnitSystem.IMPERIAL:
        weight = round(weight / KG_PER_LB, 2)
    for number, more in zip(FURTHER, product.more_boards, strict=False):
        initial |= {f"width_{number}": Decimal(more["width_mm"])}
        initial |= {f"count_{number}": more["per_carton"]}
        initial |= {f"variants_{number}": more.get("variants")}
    initial |= {f"from_{rule}": product.rule_sources.get(rule, "") for rule in RULES}
    initial["other_standard"] = product.rule_sources.get(OTHER, "")
    retired = product.retired_at is not None
    return {**initial, "measured_in": product.units, "carton_weight": weight, "retired": retired}


def _line(product: Product) -> dict[str, object]:
    """Return a product's sizes in words, in the units of its sheet."""
    across = sum((width * count for width, count in product.sizes), Decimal(0))
    across_each = [length_words(width, product.units) for width, _ in product.sizes]
    widths = " and ".join(filter(None, (", ".join(across_each[:-1]), across_each[-1])))
    length, thickness, gap = (
        length_words(mm, product.units)
        for mm in (product.length_mm, product.thickness_mm, product.gap_mm)
    )
    area = figures.area(Fraction(product.length_mm * across) / MM2_PER_FT2, product.units)
    return {
        "product": product,
        "board": f"{widths} by {length}, {thickness} thick",
        "carton": f"{product.carton_boards} boards, {area}",
        "gap": f"{gap} ({_as_inside(rule_source(product, 'gap_mm'))})",
    }


def _as_inside(source: str) -> str:
    """Return a source as it stands inside a sentence."""
    lower = source.startswith(("Our", "Maker", "Set"))
    return f"{source[:1].lower()}{source[1:]}" if lower else source
