"""Silica: what is ground, cut or chipped out, and how its dust is held down. Pure."""

from __future__ import annotations

from jobs.domain.site.facts import Caution, VisitFacts

SILICA_SOURCE = "29 CFR 1926.1153(c), Table 1"
GRINDING = (
    "Concrete, stone and tile are cut or ground wet, or with a shroud and a dust collector whose "
    "filter holds 99 % or more, 25 cubic feet of air a minute for each inch of a hand grinder's "
    "wheel; never dry swept. A hand-held saw is fed water, with a respirator of APF 10 indoors, or "
    "outdoors for more than 4 h a day; a hand grinder indoors for more than 4 h, likewise."
)
FIBER_CEMENT = (
    "Fiber cement backer is scored and snapped, or cut outdoors alone, by a blade of 8 in or less "
    "with a dust collector whose filter holds 99 % or more; then no respirator is asked for."
)
TEARING_OUT = (
    "Tile and its mortar are chipped out wet, or with a shroud and a dust collector at the tool; "
    "what lies there is taken up with a HEPA vacuum, never dry swept."
)
OTHERS = (
    "Others stay out. The rule holds from 25 micrograms of silica in a cubic meter of air over "
    "8 h; nobody breathes more than 50. Who keeps to its table of tools need not measure. "
    "Local codes and licensed people go before this note."
)


def dust_cautions(facts: VisitFacts) -> list[Caution]:
    """Return the caution of silica, where concrete, stone, tile or mortar makes dust."""
    said = [GRINDING, FIBER_CEMENT] if facts.grinding else []
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
