"""One job priced by hand from end to end: every line, four ways of tax, to the cent.

    200 ft2 laid; an hour 48.00 with burden; overhead 12 % of cost; margin 25 % of the price;
    sales tax 6 % state, 1.5 % county, 0.5 % city; an allowance of four bags; a line of one's own;
    5 % off for a second job; rounded to the nearest 10.

Each line's share of the price is its cost (with the tax that we pay on it) times price over cost,
cut off at the cent; the cents that are then lacking go to the lines that lost most by the cut.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.price_book import Allowance, PriceBook
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import AddedLine, Discount, TaxRates
from jobs.domain.documents import digest
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from tests.estimates.a_price import a_material, a_quantity, a_task, terms

OAK = "Oak 7 x 48"
TAX = TaxRates(state=Decimal("0.06"), county=Decimal("0.015"), city=Decimal("0.005"))

# Item: how many, what one costs, what they cost.
BOUGHT = {
    "cartons": ("9", "61.00", "549.00"),
    "pad": ("2", "45.50", "91.00"),
    "transition_profile": ("1", "30.50", "30.50"),
    "base_stock": ("6", "14.25", "85.50"),
    "base_nails": ("64", "0.02", "1.28"),
    "caulk": ("2", "6.35", "12.70"),
    "disposal": ("200", "0.35", "70.00"),
}
# Task: hours, and what they cost at 48.00.
WORKED = {
    "setup": ("1.50", "72.00"),
    "tear_out": ("1.20", "57.60"),
    "lay": ("8.40", "403.20"),
    "base": ("3.25", "156.00"),
    "clean": ("1.30", "62.40"),
    "travel": ("2.00", "96.00"),
}


def the_scope() -> FrozenScope:
    bought = [
        a_quantity(code, amount, item=OAK if code == "cartons" else "")
        for code, (amount, _, _) in BOUGHT.items()
    ]
    return FrozenScope(
        zones=(ScopeZone(name="up", rows=18, area_ft2=Decimal(200), plan_sha256=digest("up")),),
        quantities=tuple(bought),
        tasks=tuple(a_task(code, hours) for code, (hours, _) in WORKED.items()),
    )


def the_book() -> PriceBook:
    prices = [
        a_material(code, each, taxable=code != "disposal") for code, (_, each, _) in BOUGHT.items()
    ]
    return PriceBook(prices=tuple(prices), burdened_rate=Decimal(48))


def priced(mode: str, **changes: object) -> Priced:
    bags = Allowance(
        code="bags",
        label="Leveler",
        unit="bag",
        units=Decimal(4),
        unit_price=Decimal(70),
        unit_cost=Decimal(45),
    )
    piano = AddedLine(label="Piano moved", quantity=Decimal(1), unit="job", unit_cost=Decimal(100))
    chosen = {
        "overhead": Decimal("0.12"),
        "margin": Decimal("0.25"),
        "minimum": Decimal(450),
        "allowances": (bags,),
        "added": (piano,),
        "discount": Discount(part=Decimal("0.05"), reason="a second job"),
        "round_to": 10,
        "tax_mode": mode,
        "tax_rates": TAX,
    }
    return price_scope(the_scope(), the_book(), terms(**chosen | changes))


def amounts(result: Priced) -> dict[str, Decimal]:
    return {line.code: line.amount for line in result.lines}


def in_cents(**typed: str) -> dict[str, Decimal]:
    return {code: Decimal(amount) for code, amount in typed.items()}


def test_every_line_costs_what_the_hand_reckons() -> None:
    by_hand = {code: cost for code, (*_, cost) in BOUGHT.items()}
    by_hand |= {code: cost for code, (*_, cost) in WORKED.items() if code not in BOUGHT}
    # Four bags at 45.00 and the piano at 100.00; discount and rounding cost nothing.
    by_hand |= {"bags": "180.00", "added-1": "100.00", "discount": "0", "rounding": "0"}

    assert {line.code: line.cost for line in priced("seller").lines} == in_cents(**by_hand)


def test_costs_add_up_by_kind() -> None:
    result = priced("seller")

    # 549.00 + 91.00 + 30.50 + 85.50 + 1.28 + 12.70 + 70.00; 17.65 h at 48.00.
    assert result.material_cost == Decimal("839.98")
    assert (result.hours, result.labor_cost) == (Decimal("17.65"), Decimal("847.20"))
    # 839.98 + 847.20 + 180.00 + 100.00 = 1 967.18; 12 % of it is 236.0616.
    assert (result.direct_cost, result.overhead) == (Decimal("1967.18"), Decimal("236.06"))


def test_with_tax_on_the_bill_every_line_has_its_share() -> None:
    # Material and labor 1 687.18, overhead 202.4616, so 1 889.64 / 0.75 = 2 519.52: 1.493332 times
    # the cost. Cut off at the cent the lines lack 8 cents, which go to the largest cuts, in parts
    # of a cent: setup .991, base .989 and .980, travel .988, cartons .931, profile .663, tear-out
    # .593, caulk .532; the next, clean with .392, gets none.
    # Piano: 100.00 x 1.12 / 0.75 = 149.33. Bags: 4 x 70.00.
    # 2 519.52 + 280.00 + 149.33 = 2 948.85; 5 % = 147.44; 2 801.41 goes down to 2 800.00.
    assert amounts(priced("seller")) == in_cents(
        cartons="819.84",
        pad="135.89",
        transition_profile="45.55",
        base_stock="127.68",
        base_nails="1.91",
        caulk="18.97",
        disposal="104.53",
        setup="107.52",
        tear_out="86.02",
        lay="602.11",
        base="232.96",
        clean="93.18",
        travel="143.36",
        bags="280.00",
        **{"added-1": "149.33"},
        discount="-147.44",
        rounding="-1.41",
    )


def test_with_tax_paid_when_we_buy_it_is_in_the_lines() -> None:
    # 8 % of 769.98 = 61.5984 is a cost: 1 687.18 + 61.60 = 1 748.78, overhead 209.8536, and
    # 1 958.63 / 0.75 = 2 611.51: 1.493334 times the cost with its tax, 1.08 of what is taxed.
    # 2 611.51 + 280.00 + 149.33 = 3 040.84; 5 % = 152.04; 2 888.80 goes up to 2 890.00.
    assert amounts(priced("consumer")) == in_cents(
        cartons="885.43",
        pad="146.77",
        transition_profile="49.19",
        base_stock="137.90",
        base_nails="2.06",
        caulk="20.48",
        disposal="104.53",
        setup="107.52",
        tear_out="86.02",
        lay="602.11",
        base="232.96",
        clean="93.18",
        travel="143.36",
        bags="280.00",
        **{"added-1": "149.33"},
        discount="-152.04",
        rounding="1.20",
    )


@pytest.mark.parametrize(
    ("mode", "changes", "subtotal", "use_tax", "tax", "total"),
    [
        # Paid by us on 769.98 of material; nothing on the bill.
        ("consumer", {}, "2890.00", "61.60", "0", "2890.00"),
        # Of 2 800.00 the taxed material is 778.46 + 129.03 + 43.25 + 121.24 + 1.81 + 18.01 =
        # 1 091.80 after its share of discount and rounding; 8 % of it is 87.344.
        ("seller", {}, "2800.00", "0", "87.34", "2887.34"),
        # Labor too: 102.09 + 81.68 + 571.72 + 221.20 + 88.48 + 136.12 = 1 201.29 more, so 8 % of
        # 2 293.09 = 183.4472; disposal, bags and piano stay untaxed.
        ("seller", {"labor_taxed": True}, "2800.00", "0", "183.45", "2983.45"),
        # 8 % of the whole 2 800.00.
        ("all", {}, "2800.00", "0", "224.00", "3024.00"),
        ("exempt", {"certificate": "EX-1047"}, "2800.00", "0", "0", "2800.00"),
    ],
)
def test_tax_in_each_of_four_ways(
    mode: str, changes: dict[str, object], subtotal: str, use_tax: str, tax: str, total: str
) -> None:
    result = priced(mode, **changes)

    expected = tuple(Decimal(figure) for figure in (subtotal, use_tax, tax, total))
    assert (result.subtotal, result.use_tax, result.tax, result.total) == expected


@pytest.mark.parametrize(
    ("mode", "cost", "profit", "margin", "markup"),
    [
        # 1 967.18 + 236.06; 2 800.00 less that; 596.76 / 2 800.00; 596.76 / 2 203.24.
        ("seller", "2203.24", "596.76", "0.2131", "0.2709"),
        # 2 028.78 + 243.45; 2 890.00 less that; 617.77 / 2 890.00; 617.77 / 2 272.23.
        ("consumer", "2272.23", "617.77", "0.2138", "0.2719"),
    ],
)
def test_what_is_left_after_the_discount(
    mode: str, cost: str, profit: str, margin: str, markup: str
) -> None:
    result = priced(mode)

    expected = tuple(Decimal(figure) for figure in (cost, profit, margin, markup))
    assert (result.cost, result.profit, result.margin, result.markup) == expected


def test_contribution_is_the_price_less_what_the_job_costs() -> None:
    # 2 800.00 - 1 967.18 = 832.82. 17.65 h fill a day of 16 and begin a second one, which is
    # booked as half: 832.82 / 1.5 = 555.2133.
    result = priced("seller")

    assert result.contribution == Decimal("832.82")
    assert (result.days_on_site, result.contribution_per_day) == (
        Decimal("1.5"),
        Decimal("555.21"),
    )
