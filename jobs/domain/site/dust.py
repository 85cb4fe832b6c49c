"""Silica: what is ground, cut or chipped out, and how its dust is held down. Pure."""

from __future__ import annotations

from jobs.domain.site.facts import Caution, VisitFacts

SILICA_SOURCE = "29 CFR 1926.1153(c), Table 1"
GRINDING = (
    "Concrete, stone and tile are cut or ground wet, or with a shroud and a dust collector whose "
    "filter holds 99 % or more, 25 cubic feet of air a minute for each inch of a hand grinder's "
    "wheel; never dry swept."
)
TEARING_OUT = (
    "Tile and its mortar are chipped out wet, or with a shroud and a dust collector at the tool; "
    "what lies there is taken up with a HEPA vacuum, never dry swept."
)
OTHERS = (
    "Others stay out. The table of the rule says which respirator goes with which tool and how "
    "long a day. Local codes and licensed people go before this note."
)


def dust_cautions(facts: VisitFacts) -> list[Caution]:
    """Return the caution of silica, where concrete, stone, tile or mortar makes dust."""
    said = [GRINDING] if facts.grinding else []
    said += [TEARING_OUT] if tile_comes_out(facts) else []
    if not said:
        return []
    return [
        Caution(
            code="silica",
            title="Silica dust",
            text=" ".join((*said, OTHERS)),
            source=SILICA_SOURCE,
            severity="caution",
        )
    ]


def tile_comes_out(facts: VisitFacts) -> bool:
    """Whether tile is torn out, as the floor of a room or as a layer below it."""
    return facts.tear_out and any(
        "tile" in (room.existing_floor, room.layer_below) for room in facts.each_room
    )
