"""What may be asked before the work: the company's rule, and no more than the state allows.

The table holds states whose law was read in published copies and summaries; a state that isn't
there may cap deposits all the same. Each row names the law and when it was read, and defers to it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from estimates.domain.money import rounded_down
from jobs.domain.checks import ZERO, require_number
from jobs.domain.figures import money, percent

SpecialOrders = Literal["", "added", "instead"]
"""What special orders do to a cap: nothing, they come on top, or they count where they are more."""
CappedBy = Literal["", "company", "state"]

THIRD = Fraction(1, 3)
READ_ON = date(2026, 11, 29)


@dataclass(frozen=True, kw_only=True, slots=True)
class StateCap:
    """The most that a state lets a deposit be: a part of the price, perhaps no more than so much.

    It holds for prices of more than `above`. `also` is what the same law says beside it.
    """

    name: str
    share: Fraction
    source: str
    dollars: Decimal | None = None
    above: Decimal = ZERO
    special_orders: SpecialOrders = ""
    also: str = ""
    read_on: date = READ_ON

    def most(self, total: Decimal, special_order: Decimal = ZERO) -> Decimal | None:
        """Return the most, rounded down to the cent; None where the law does not reach."""
        if total <= self.above:
            return None
        part = total * self.share.numerator / self.share.denominator
        if self.dollars is not None:
            part = min(part, self.dollars)
        if self.special_orders == "added":
            part += special_order
        elif self.special_orders == "instead":
            part = max(part, special_order)
        return rounded_down(min(part, total))


STATE_CAPS: Mapping[str, StateCap] = {
    "CA": StateCap(
        name="California",
        share=Fraction(1, 10),
        dollars=Decimal(1000),
        source="Cal. Bus. & Prof. Code 7159.5(a)(3) and (5)",
        also="No later payment may run ahead of work done and material delivered.",
    ),
    "MA": StateCap(
        name="Massachusetts",
        share=THIRD,
        special_orders="instead",
        source="M.G.L. c. 142A, section 2(a)(6)",
        also="No final payment may be asked before both sides are satisfied that all is done.",
    ),
    "MD": StateCap(
        name="Maryland",
        share=THIRD,
        source="Md. Code, Bus. Reg. 8-617",
        also="Nothing may be asked or taken before the contract is signed.",
    ),
    "ME": StateCap(
        name="Maine",
        share=THIRD,
        source="10 M.R.S. 1487",
        also="More may be agreed in writing.",
    ),
    "PA": StateCap(
        name="Pennsylvania",
        share=THIRD,
        above=Decimal(5000),
        special_orders="added",
        source="73 P.S. 517.9",
        also="The contract bears the registration number and the days of start and completion.",
    ),
}
"""By the two letters of the state. All are of home improvement for a homeowner."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Deposit:
    """What is asked before the work.

    `words` is for the homeowner, `advice` for the company: what the law says beside it, or that
    nobody has looked. `source` is the law that was held against it, with the day it was read.
    """

    amount: Decimal
    words: str
    capped_by: CappedBy
    source: str
    advice: str


def deposit_for(
    *,
    total: Decimal,
    percent_of_total: Decimal,
    cap: Decimal | None = None,
    state: str = "",
    special_order: Decimal = ZERO,
    adds_special_order: bool = False,
    currency: str = "USD",
) -> Deposit:
    """Return the lowest of percent, the company's cap and the state's, rounded down to the cent.

    The cost of special orders is added to the company's part where it says so, and to the
    state's where the law does.
    """
    require_number("total", total, least=0)
    require_number("percent of the total", percent_of_total, least=0, most=100)
    require_number("special order", special_order, least=0)
    by_percent = rounded_down(total * percent_of_total / 100)
    part = by_percent if cap is None else min(by_percent, cap)
    added = special_order if adds_special_order else ZERO
    ours = rounded_down(min(part + added, total))
    state_cap = STATE_CAPS.get(state.upper())
    most = state_cap.most(total, special_order) if state_cap else None
    by_state = most is not None and most < ours
    return Deposit(
        amount=most if most is not None and by_state else ours,
        words=_words(percent_of_total, cap, added, currency, state_cap if by_state else None),
        capped_by="state" if by_state else "company" if part < by_percent else "",
        source=_source(state_cap),
        advice=_advice(state, state_cap),
    )


def _words(
    percent_of_total: Decimal,
    cap: Decimal | None,
    added: Decimal,
    currency: str,
    state_cap: StateCap | None,
) -> str:
    if not percent_of_total and not added:
        return "Nothing is paid before the work."
    said = f"{percent(percent_of_total / 100, 2)} of the price"
    if cap is not None:
        said += f", no more than {money(cap, currency)}"
    if added:
        said += f", and {money(added, currency)} for what is ordered for this house alone"
    if state_cap:
        said += f", but no more than {state_cap.name} allows"
    return f"{said}."


def _source(state_cap: StateCap | None) -> str:
    if state_cap is None:
        return ""
    read = state_cap.read_on
    return f"{state_cap.source}, read in {read:%B} {read.year}"


def _advice(state: str, state_cap: StateCap | None) -> str:
    if not state:
        return "Check your state: it may cap what is asked before the work. None is chosen here."
    if state_cap is None:
        return (
            f"Check your state: we know of no cap on deposits in {state.upper()}; it may have one."
        )
    return f"{_source(state_cap)}. Laws change; check it. {state_cap.also}".rstrip()
