"""A quote of an older form as the newest has it: the same words and amounts, nothing reckoned anew.

Format 2 told the price by lines under headings; they stay as they were under `older`. It knew one
way to do the job, charged its allowances in the total, and said nothing of days or stages.
"""

from __future__ import annotations

import re
from calendar import month_name
from datetime import date
from decimal import Decimal

from jobs.domain.figures import counted, money
from jobs.domain.formats import Fields

ONLY_WAY = "a"
"""The key of the first choice of any quote, which an older one has alone."""
_WEEK = re.compile(r"in the week of ([A-Z][a-z]+) (\d{1,2}), (\d{4})")
_MONTHS = list(month_name)
_NOTE = "Every line is a row or a joint as planned."


def upgraded(fields: Fields) -> Fields:
    """Return the fields of a quote of format 2 as those of format 3."""
    company, client = fields["company"], fields["client"]
    kept = {name: fields[name] for name in _SAME}
    return (
        kept
        | _UNKNOWN
        | _money(fields)
        | {
            "detail": "whole",
            "letterhead": _UNKNOWN_OF_COMPANY
            | {"name": company["name"], "address": list(company["lines"])},
            "client": client["name"],
            "client_lines": list(client["lines"]),
            "floor_words": list(dict.fromkeys(floor["product"] for floor in fields["floors"])),
            "drawing": "".join(floor["drawing"] for floor in fields["floors"]),
            "drawing_notes": [_NOTE] if fields["floors"] else [],
            "rooms": [_room(floor) for floor in fields["floors"]],
            "exclusions": [line for line in fields["exclusions"].splitlines() if line.strip()],
            "cautions": list(fields["cautions"]),
            "terms": [{"title": "Terms", "text": fields["terms"]}] if fields["terms"] else [],
            "older": _older(fields),
        }
    )


_SAME = (
    *("number", "job_number", "title", "currency", "issued_on", "valid_until", "scope_sha256"),
    *("site", "total", "tax", "tax_note", "deposit"),
)
_UNKNOWN_OF_COMPANY: Fields = dict.fromkeys(
    ("phone", "email", "license", "registration", "insurance", "logo_sha256"), ""
)
_UNKNOWN: Fields = (
    {key: [] for key in ("units", "allowances", "inclusions", "photos", "days", "nights", "clear")}
    | {key: [] for key in ("stages", "notices", "changed")}
    | dict.fromkeys(("order_number", "start", "payment_words", "warranty", "changes", "label"), "")
    | dict.fromkeys(("cancel", "lead"))
)


def with_start_week(fields: Fields) -> Fields:
    """Return a quote with the Monday that its sentence says; None where it says none."""
    said = _WEEK.search(fields["start"])
    if said is None:
        return fields | {"start_week": None}
    monday = date(int(said[3]), _MONTHS.index(said[1]), int(said[2]))
    return fields | {"start_week": monday.isoformat()}


def _money(fields: Fields) -> Fields:
    """Return the one way of an older quote; its allowances are in its total already."""
    balance = Decimal(fields["total"]) - Decimal(fields["deposit"])
    way = {
        "key": ONLY_WAY,
        "name": "",
        "text": "",
        "facts": [],
        "total": fields["total"],
        "tax": fields["tax"],
        "most": fields["total"],
        "deposit": fields["deposit"],
        "balance": f"{balance:f}",
        "scope_sha256": fields["scope_sha256"],
        "estimate_sha256": "",
    }
    return {"most": fields["total"], "choices": [way]}


def _room(floor: Fields) -> Fields:
    return {
        "name": ", ".join(floor["rooms"]) or floor["name"],
        "floor": floor["name"],
        "area_ft2": floor["area_ft2"],
        "text": floor["product"],
        "amount": None,
    }


def _older(fields: Fields) -> list[Fields]:
    """Return the price as it was told: by headings, then what they come to."""
    currency = fields["currency"]
    sections = [
        {
            "title": group["title"],
            "text": "\n".join(
                [
                    *(_line(line, currency) for line in group["lines"]),
                    f"{group['title']}, total: {_in_money(group['amount'], currency)}",
                ]
            ),
        }
        for group in fields["groups"]
    ]
    return [*sections, {"title": "Total", "text": "\n".join(_sums(fields))}]


def _line(line: Fields, currency: str) -> str:
    quantity = line["quantity"]
    much = "" if quantity is None else f": {counted(Decimal(quantity), line['unit'])}"
    return f"{line['label']}{much}, {_in_money(line['amount'], currency)}"


def _sums(fields: Fields) -> list[str]:
    currency, share = fields["currency"], Decimal(str(fields["deposit_percent"])).normalize()
    lines = [f"Materials and work: {_in_money(fields['subtotal'], currency)}"]
    if Decimal(fields["tax"]):
        lines.append(f"Sales tax: {_in_money(fields['tax'], currency)}")
    lines.append(f"Total: {_in_money(fields['total'], currency)}")
    if Decimal(fields["deposit"]):
        deposit = _in_money(fields["deposit"], currency)
        lines.append(f"Deposit, {share:f}% on acceptance: {deposit}")
    return lines


def _in_money(amount: str, currency: str) -> str:
    return money(Decimal(amount), currency)
