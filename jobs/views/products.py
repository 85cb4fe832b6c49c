"""Plank products: the list, a new one from its carton, one changed step by step."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, office, writable_job_for, writable_product_for
from jobs.domain.numerals import whole_number
from jobs.domain.products.steps import BY_CODE
from jobs.forms.base import files_sent, sent
from jobs.forms.products.carton import CartonForm, carton_initial, carton_units
from jobs.forms.products.more import STEP_FORMS, SheetForm
from jobs.http import Context, render_page
from jobs.models import Job, UnitSystem
from jobs.readers.products import (
    board_words,
    card_lines,
    carton_words,
    gap_words,
    step_lines,
    what_follows,
)
from jobs.services.files import serve
from jobs.services.products import products as services
from jobs.views.edit_page import edit_page, edits
from jobs.views.list_page import page_of


@require_safe
@office
def product_list(request: SignedInRequest) -> HttpResponse:
    """Every product with its board and carton, by name."""
    page = page_of(request, company_of(request).products.all())
    lines = [
        {
            "product": product,
            "board": board_words(product),
            "carton": carton_words(product),
            "gap": gap_words(product),
        }
        for product in page.object_list
    ]
    context = {"lines": lines, "page_obj": page}
    return render_page(request, "jobs/products/products.html", context)


@edits
@office
def product_add(request: SignedInRequest) -> HttpResponse:
    """Take down a product from its carton, its rules at common practice."""
    company, job = company_of(request), _waiting_job(request)
    first = str(request.GET.get("units") or company.units)
    units = carton_units(sent(request), first if first in UnitSystem.values else company.units)
    form = CartonForm(sent(request), units=units, initial={"measured_in": units})
    other = UnitSystem.METRIC if units == UnitSystem.IMPERIAL else UnitSystem.IMPERIAL
    context: Context = {"title": "New product", "product": None, "other_units": other}
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_product(
            company=company, user=request.user, key=form.once_key, values=form.values
        ),
        done="The product is in the book.",
        to=lambda product: (
            reverse("zone-list", args=[job.pk])
            if job
            else reverse("product-edit", args=[product.pk])
        ),
        context={**context, "job_waiting": job},
        template="jobs/products/product.html",
    )


def _waiting_job(request: SignedInRequest) -> Job | None:
    """Return the job whose floor waits for a product, None where none does."""
    number = whole_number(request.GET.get("job", ""))
    return None if number is None else writable_job_for(request, number)


@edits
@office
def product_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Show a product; change its carton. Plans made before stand and are marked as outdated."""
    product = writable_product_for(request, pk)
    form = CartonForm(
        sent(request),
        product=product,
        units=carton_units(sent(request), product.units),
        initial=carton_initial(product),
        version=product.version,
    )
    context: Context = {
        "title": product.name,
        "product": product,
        "size": {name: product.sized(f"{name}_mm") for name in ("length", "width", "thickness")},
        "follows": what_follows(product),
        "card": card_lines(product),
        "steps": step_lines(product),
    }
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
        to=lambda _: reverse("product-edit", args=[pk]),
        context=context,
        template="jobs/products/product.html",
    )


@edits
@office
def product_step(request: SignedInRequest, pk: int, step: str) -> HttpResponse:
    """Change one step of a product by what the maker's sheet says."""
    product = writable_product_for(request, pk)
    if step not in STEP_FORMS:
        raise Http404(f"A product has no step {step}.")
    form = STEP_FORMS[step](sent(request), files_sent(request), product=product)
    sheet = form if isinstance(form, SheetForm) else None
    title = BY_CODE[step].title
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_product(
            product=product,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
            sheet=sheet.sheet_sent if sheet else None,
            sheet_gone=bool(sheet and form.cleaned_data["sheet_gone"]),
        ),
        done=f"{title}: saved.",
        to=lambda _: reverse("product-edit", args=[pk]),
        context={"title": title, "product": product, "step": BY_CODE[step]},
        template="jobs/products/step.html",
    )


@require_safe
@office
def product_sheet(request: SignedInRequest, pk: int) -> HttpResponse:
    """The maker's sheet of a product."""
    product = writable_product_for(request, pk)
    if product.sheet is None:
        raise Http404("No sheet is attached to this product.")
    return serve(product.sheet)  # type: ignore[return-value]
