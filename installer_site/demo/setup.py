"""The demo company's set-up: letterhead, logo, terms and a notice; all of it is invented."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from itertools import pairwise

from PIL import Image, ImageDraw

from estimates.models import SalesTerms, StateNotice
from estimates.services.setup.logo import logo_png, set_logo
from jobs.models import Company, User

INK, WOOD, PALE = "#1E2329", "#8A5A2B", "#D9B98A"

TERMS = {
    "state": "PA",
    "deposit_dollars": Decimal(2000),
    "deposit_adds_special_order": True,
    "payment_ways": "Check to Example Floors, card, or bank transfer.",
    "late_fee_percent": Decimal("1.5"),
    "late_fee_words": "From the 31st day after the invoice.",
    "warranty_months": 24,
    "warranty_words": (
        "Seams that open, strips that come loose and trim that we set are put right free of "
        "charge. Water from above, pets' claws and furniture without felt are not covered."
    ),
    "lead_certificate": "NAT-F000000-1",
    "lead_pamphlet": "Renovate Right: Important Lead Hazard Information for Families",
    "changes_words": (
        "Work that is not in this quote is written down with its price, and starts once you have "
        "agreed to it."
    ),
}
NOTICE = {
    "title": "Contractor registration",
    "text": "Our registration can be checked with the Attorney General's office.",
}


def tell_setup(company: Company, owner: User) -> None:
    """Set the demo company up as its owner would."""
    drawn = _logo()
    png = logo_png(BytesIO(drawn), size=len(drawn), name="wren.png")
    set_logo(company=company, user=owner, key="demo-logo", expected=company.version, png=png)
    SalesTerms.objects.create(company=company, **TERMS)
    StateNotice.objects.create(company=company, place=1, **NOTICE)


def _logo() -> bytes:
    """Return a gable over three rows of planks, as PNG."""
    picture = Image.new("RGB", (480, 320), "white")
    draw = ImageDraw.Draw(picture)
    draw.line([(20, 150), (240, 20), (460, 150)], fill=INK, width=18, joint="curve")
    for row, joints in enumerate(((150, 330), (90, 270, 400), (200, 360))):
        top = 176 + row * 46
        ends = (40, *joints, 440)
        for place, (left, right) in enumerate(pairwise(ends)):
            shade = PALE if (place + row) % 2 else WOOD
            draw.rectangle((left, top, right - 4, top + 40), fill=shade, outline=INK, width=2)
    out = BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
