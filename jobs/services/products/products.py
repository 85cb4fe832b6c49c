"""Plank products of a company."""

from __future__ import annotations

from django.utils import timezone

from jobs.models import Company, Product, StoredFile, User
from jobs.models.base import Values
from jobs.services.products.sheets import SheetSent, store_sheet
from jobs.services.records import audit, put_values, writes_once
from jobs.services.saving import save_measured

FIELDS = (
    *("name", "units", "core", "length_mm", "width_mm", "thickness_mm", "per_carton"),
    *("carton_weight_kg", "attached_pad", "lock", "gap_mm", "saw_kerf_mm", "rip_kerf_mm"),
    "min_end_mm",
    *("min_offset_mm", "min_row_mm", "stagger", "max_run_mm", "acclimate_hours"),
    *("moisture_limit", "rules_source", "retired_at", "more_boards", "variants", "shades"),
    "tongue",
    *("first_end", "both_ways", "max_run_width_mm", "laid_over", "wettest", "heated_floor"),
    *("separate_pad", "flatness"),
    *("tilt_deg", "tapping", "most_rh_pct", "most_mver", "most_wood_mc_pct"),
    *("sheet", "sheet_edition", "rule_sources", "step_sources"),
    *("typed_sizes", "covers_ft2", "weight_assumed"),
)


def add_product(
    *,
    company: Company,
    user: User,
    key: str,
    values: Values,
    sheet: SheetSent | None = None,
) -> Product:
    """Return the new product of ``company``. Raises BadValueError for a sheet that is none.

    The sheet is written anew before anything is kept, so that others may write meanwhile.
    """
    stored = store_sheet(company=company, sent=sheet) if sheet else None
    return _add(company=company, user=user, key=key, values=values, stored=stored)


@writes_once(Product, "add product")
def _add(
    *, company: Company, user: User, key: str, values: Values, stored: StoredFile | None
) -> Product:
    product = Product(company=company, sheet=stored, **values)
    product.save(force_insert=True)
    subject = f"product {product.pk}"
    audit(user=user, company=company, subject=subject, act=f"Added {product}")
    return product


def change_product(
    *,
    product: Product,
    user: User,
    key: str,
    expected: int,
    values: Values,
    retired: bool | None = None,
    sheet: SheetSent | None = None,
    sheet_gone: bool = False,
) -> Product:
    """Return the product with its new values; a sheet that was sent takes the old one's place.

    ``retired``: whether it is no longer offered; None leaves that as it stands. Raises StaleError
    where somebody saved first, BadValueError for a sheet that is none.
    """
    stored = store_sheet(company=product.company, sent=sheet) if sheet else None
    return _change(
        product=product,
        user=user,
        key=key,
        expected=expected,
        values=values,
        retired=retired,
        stored=stored,
        sheet_gone=sheet_gone,
    )


@writes_once(Product, "change product")
def _change(
    *,
    product: Product,
    user: User,
    key: str,
    expected: int,
    values: Values,
    retired: bool | None,
    stored: StoredFile | None,
    sheet_gone: bool,
) -> Product:
    company = product.company
    put_values(product, values)
    if retired is not None and bool(product.retired_at) != retired:
        product.retired_at = timezone.now() if retired else None
    if stored or sheet_gone:
        product.sheet = stored
    silent = ("typed_sizes",)
    save_measured(product, expected=expected, names=FIELDS, system=product.units, silent=silent)
    act = f"{'Retired' if retired else 'Changed'} {product}"
    audit(user=user, company=company, subject=f"product {product.pk}", act=act)
    return product
