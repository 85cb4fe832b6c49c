"""The quote on paper: frozen content in, PDF out."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from typing import Any

from django.template.loader import render_to_string

from estimates.models import Quote
from jobs.models import Company
from jobs.pdf import render_pdf


def quote_pdf(company: Company, content: dict[str, Any]) -> bytes:
    """Return the quote as a tagged PDF, made from its frozen content alone."""
    context = {
        "quote": content,
        "paper": company.paper,
        "company_name": content["company"]["name"],
        "job_number": content["job_number"],
        "issue": f"Quote {content['number']}",
        "title": f"Quote {content['number']}: {content['title']}",
        "system": company.units,
    }
    return render_pdf(html=render_to_string("estimates/quotes/print.html", context))


def quote_told(quote: Quote) -> dict[str, Any]:
    """Return the frozen content of an issued quote, with money as decimals and days as dates."""
    content: dict[str, Any] = json.loads(quote.document.text)
    return read_quote(content)


def read_quote(content: dict[str, Any]) -> dict[str, Any]:
    """Return a quote's stored content with money as decimals and days as dates."""
    told = dict(content)
    for name in ("subtotal", "tax", "total", "deposit", "deposit_percent"):
        told[name] = Decimal(content[name])
    for name in ("issued_on", "valid_until"):
        told[name] = date.fromisoformat(content[name])
    told["groups"] = [_read_group(group) for group in content["groups"]]
    told["floors"] = [
        {**floor, "area_ft2": Decimal(floor["area_ft2"])} for floor in content["floors"]
    ]
    return told


def _read_group(group: dict[str, Any]) -> dict[str, Any]:
    lines = [
        {
            **line,
            "amount": Decimal(line["amount"]),
            "quantity": None if line["quantity"] is None else Decimal(line["quantity"]),
        }
        for line in group["lines"]
    ]
    return {"title": group["title"], "amount": Decimal(group["amount"]), "lines": lines}
