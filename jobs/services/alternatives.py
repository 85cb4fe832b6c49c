"""One alternative of a comparison taken for the floor."""

from __future__ import annotations

from decimal import Decimal

from jobs.models import FloorZone, Product, User
from jobs.records import audit, write_once
from jobs.services.told import save_told


def take_alternative(
    *,
    zone: FloorZone,
    product: Product,
    direction_deg: Decimal,
    user: User,
    key: str,
    expected: int,
) -> FloorZone:
    """Return the floor in another product or direction. Raises StaleError if overtaken."""
    job = zone.job

    def write() -> FloorZone:
        zone.product, zone.direction_deg = product, direction_deg
        names = ("product", "direction_deg")
        save_told(zone, expected=expected, names=names, system=job.units)
        act = f"Took {product} at {direction_deg:g}° for {zone}"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
        return zone

    rows, action = job.zones.all(), "take alternative"
    return write_once(company=job.company, key=key, action=action, rows=rows, write=write)
