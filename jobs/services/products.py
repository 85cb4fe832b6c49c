"""Plank products of a company."""

from __future__ import annotations

from typing import Any

from django.utils import timezone

from jobs.models import Company, Product, User
from jobs.records import audit, write_once
from jobs.services.told import save_told

FIELDS = (
    *("name", "units", "core", "length_mm", "width_mm", "thickness_mm", "per_carton"),
    *("carton_weight_kg", "attached_pad", "lock", "gap_mm", "saw_kerf_mm", "min_end_mm"),
    *("min_offset_mm", "min_row_mm", "stagger", "max_run_mm", "acclimatise_hours"),
    *("moisture_limit", "rules_source", "retired_at"),
)


def add_product(*, company: Company, user: User, key: str, values: dict[str, Any]) -> Product:
    """Return the new product of ``company``."""

    def write() -> Product:
        product = Product.objects.create(company=company, **values)
        subject = f"product {product.pk}"
        audit(user=user, company=company, subject=subject, act=f"Added {product}")
        return product

    rows = company.products.all()
    return write_once(company=company, key=key, action="add product", rows=rows, write=write)


def change_product(
    *,
    product: Product,
    user: User,
    key: str,
    expected: int,
    values: dict[str, Any],
    retired: bool,
) -> Product:
    """Return the product with its new values. Raises StaleError where somebody saved first."""
    company = product.company

    def write() -> Product:
        for name, value in values.items():
            setattr(product, name, value)
        if bool(product.retired_at) != retired:
            product.retired_at = timezone.now() if retired else None
        save_told(product, expected=expected, names=FIELDS, system=product.units)
        act = f"{'Retired' if retired else 'Changed'} {product}"
        audit(user=user, company=company, subject=f"product {product.pk}", act=act)
        return product

    rows = company.products.all()
    return write_once(company=company, key=key, action="change product", rows=rows, write=write)
