"""What a product's sheet rules out is a fault with its source; what nobody said is a note."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.floors.suitability import Demands, SiteConditions, fitness
from jobs.domain.site.moisture import Reading

SHEET = "Maker's sheet, 3 of 2026"
RULES = ("laid_over", "wettest", "heated_floor", "separate_pad")
LIMITS = ("most_rh_pct", "most_mver", "most_wood_mc_pct")


def larch(**more: Any) -> Demands:
    """Return a product that allows slab and wood, damp rooms, no heat and no separate pad."""
    rules: dict[str, Any] = {"laid_over": ("slab", "wood subfloor"), "wettest": "damp"}
    rules |= {"heated_floor": "no", "separate_pad": "no"}
    limits = {"most_rh_pct": Decimal(85), "most_mver": Decimal(5), "most_wood_mc_pct": Decimal(12)}
    sources = dict.fromkeys((*RULES, *LIMITS), SHEET)
    return Demands(**({"product": "Larch", "limits": limits, "sources": sources} | rules | more))


def place(**more: Any) -> SiteConditions:
    """Return a place that suits that product: a dry room on a slab, read once."""
    known: dict[str, Any] = {"ground": "slab", "heated": False, "rooms": {"Den": "dry"}}
    known["readings"] = (Reading(method="rh", value=Decimal(85)),)
    return SiteConditions(**(known | more))


def read(method: str, value: str) -> SiteConditions:
    """Return that place with one reading."""
    return place(readings=(Reading(method=method, value=Decimal(value), where="by the door"),))


def test_a_place_that_suits_has_neither_fault_nor_note() -> None:
    fit = fitness(larch(), place())
    assert (fit.faults, fit.notes) == ((), ())


@pytest.mark.parametrize(
    ("demands", "surroundings", "sentence"),
    [
        (
            larch(),
            place(ground="carpet"),
            (
                f"Larch would lie over carpet; accepted: over a concrete slab or a wood subfloor "
                f"({SHEET})."
            ),
        ),
        (
            larch(),
            place(rooms={"Den": "dry", "Bath": "wet"}),
            f"Bath is wet; accepted: rooms up to damp at times for Larch ({SHEET}).",
        ),
        (
            larch(wettest="dry"),
            place(rooms={"Bath": "damp"}),
            f"Bath is damp at times; accepted: dry rooms for Larch ({SHEET}).",
        ),
        (
            larch(),
            place(heated=True),
            (
                "The floor is heated and Larch is not laid over a heated floor; accepted: a floor "
                f"that is not heated ({SHEET})."
            ),
        ),
        (
            larch(),
            place(pad=True),
            f"A separate pad is to lie under Larch; accepted: no separate pad ({SHEET}).",
        ),
        (
            larch(attached_pad=True, separate_pad=""),
            place(pad=True),
            (
                "A separate pad is to lie under Larch, which has its pad attached; accepted: no "
                f"separate pad under it ({SHEET})."
            ),
        ),
        (
            larch(),
            read("rh", "85.1"),
            f"Relative humidity in the slab (by the door) is 85.1%; accepted: up to 85% ({SHEET}).",
        ),
        (
            larch(),
            read("mver", "5.5"),
            (
                "Moisture emission, calcium chloride (by the door) is 5.5 lb per 1000 ft² in 24 h; "
                f"accepted: up to 5 lb per 1000 ft² in 24 h ({SHEET})."
            ),
        ),
        (
            larch(),
            read("wood", "14"),
            (
                "Moisture content of a wood subfloor (by the door) is 14%; accepted: up to 12% "
                f"({SHEET})."
            ),
        ),
    ],
)
def test_what_the_sheet_rules_out_is_a_fault(
    demands: Demands, surroundings: SiteConditions, sentence: str
) -> None:
    assert [fault.sentence for fault in fitness(demands, surroundings).faults] == [sentence]


@pytest.mark.parametrize(
    ("demands", "surroundings", "note"),
    [
        (
            larch(laid_over=(), wettest=""),
            place(),
            "The sheet of Larch doesn't say: what it may be laid over, wettest room it may lie in.",
        ),
        (
            larch(heated_floor="", separate_pad=""),
            place(heated=True, pad=True),
            "The sheet of Larch doesn't say: heated floor, separate pad.",
        ),
        (larch(), place(ground=""), "Not known yet: what the floor is laid over."),
        (
            larch(),
            place(readings=()),
            "No moisture reading is noted yet; the product has a limit.",
        ),
        (
            larch(limits={}),
            place(),
            "Relative humidity in the slab was read; the sheet of Larch names no limit.",
        ),
        (
            larch(),
            read("other", "3"),
            "Another method (by the door) was read; the sheet of Larch names no limit.",
        ),
    ],
)
def test_what_is_not_known_is_a_note_and_no_fault(
    demands: Demands, surroundings: SiteConditions, note: str
) -> None:
    fit = fitness(demands, surroundings)
    assert (fit.faults, fit.notes) == ((), (note,))
