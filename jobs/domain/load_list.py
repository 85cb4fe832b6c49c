"""What goes on the truck, and what cartons are sorted into once they are opened. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.formats import Fields
from jobs.domain.plans.sorting import BoardPile, Sorting, piles_words
from jobs.domain.quantities import Quantity, in_units


def load_list(
    quantities: Iterable[Quantity], floors: Iterable[Fields] = ()
) -> list[dict[str, object]]:
    """Return what goes on the truck: materials with amounts, floors together, in catalog order.

    What is thrown away is no load. Cartons also say which planks the plans of ``floors`` (as a
    packet has them) take of each width and shade, and how opened cartons are sorted. A scope of
    earlier has cartons by floor: they are loaded together all the same.
    """
    counted = list(quantities)
    attic = {entry.item for entry in counted if entry.code == "cartons_attic"}
    amounts: dict[tuple[str, str], Decimal] = {}
    materials: dict[tuple[str, str], Quantity] = {}
    for entry in counted:
        if entry.kind == "material" and entry.amount and entry.code != "disposal":
            key = (entry.code, entry.item)
            materials.setdefault(key, entry)
            amounts[key] = amounts.get(key, ZERO) + entry.amount
    laid = list(floors)
    return [
        {
            "label": load.label,
            "item": load.item,
            "unit": load.unit,
            "amount": amounts[key],
            "said": _said(load, amounts[key], attic=load.item in attic),
            **_opened([one for one in laid if _is_of(one, load)]),
        }
        for key, load in materials.items()
    ]


def _said(load: Quantity, amount: Decimal, *, attic: bool) -> str:
    """Return how much is loaded; of several cartons of the job that they are of one lot.

    Cartons by floor, of an earlier scope, are told as they were: their packets are issued.
    """
    said = in_units(amount, load.unit)
    if load.code != "cartons" or load.zone or amount == 1:
        return said
    return f"{said}, one lot" + (", one of them for the attic" if attic else "")


def sorting_content(sorting: Sorting | None) -> Fields:
    """Return how a floor's cartons are sorted, as a packet keeps it; none where all are alike."""
    if sorting is None:
        return {"piles": [], "sort": ""}
    piles = [
        {"width": pile.width, "wide": pile.wide, "variant": pile.variant, "planks": pile.planks}
        for pile in sorting.piles
    ]
    return {"piles": piles, "sort": sorting.how}


def _is_of(floor: Mapping[str, object], load: Quantity) -> bool:
    """Whether a floor is laid of these cartons."""
    return load.code == "cartons" and floor["product"] == load.item


def _opened(floors: list[Fields]) -> dict[str, object]:
    """Return the planks by pile of some floors together, in words, and how they are sorted."""
    counts: dict[tuple[float, str, str], int] = {}
    for floor in floors:
        for pile in floor["piles"]:
            kind = (pile["width"], pile["wide"], pile["variant"])
            counts[kind] = counts.get(kind, 0) + pile["planks"]
    ranked = sorted(counts.items(), key=lambda entry: (-entry[0][0], entry[0][2]))
    piles = tuple(
        BoardPile(width=width, wide=wide, variant=variant, planks=planks)
        for (width, wide, variant), planks in ranked
    )
    sorts = dict.fromkeys(floor["sort"] for floor in floors if floor["sort"])
    return {"piles": piles_words(piles), "sort": " ".join(sorts)}
