"""The demo company's rate card; every figure is invented, and one of them is too low to pay."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.card.rows import BY_KEY
from estimates.services.rate_card import save_rate
from jobs.models import Company, User

RATES = {
    ("floor_area", ""): "4.60",
    ("tear_out", ""): "1.25",
    ("tear_out", "carpet"): "0.55",
    ("tear_out", "tile"): "4.75",
    ("disposal", ""): "0.95",
    ("leveller", ""): "92.00",
    ("casings", ""): "16.00",
    ("doors_off", ""): "25.00",
    ("doors_trimmed", ""): "32.00",
    ("transitions", ""): "38.00",
    ("base_on", ""): "5.25",
    ("shoe_on", ""): "2.60",
    ("toilets", ""): "55.00",
    ("appliances", ""): "40.00",
    ("furniture", ""): "120.00",
    ("trips", ""): "85.00",
    ("half_day", ""): "475.00",
}


def tell_card(company: Company, owner: User, today: date) -> None:
    """Set the rates of the card as somebody did who typed them long ago."""
    since = today - timedelta(days=120)
    for (code, item), amount in RATES.items():
        values = {"amount": Decimal(amount), "taxable": False, "effective_from": since}
        save_rate(
            company=company,
            row=BY_KEY[code, item],
            user=owner,
            key=f"demo-rate-{code}-{item}",
            seen=None,
            expected=1,
            values=values,
            today=today,
        )
