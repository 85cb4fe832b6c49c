"""What goes on the truck and into the bucket, by phase of the work. Pure.

Materials come from the quantities of the scope; tools and small goods from the tasks that are on
the days. All of the latter is common practice, no source; the maker's sheet goes first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from jobs.domain.formats import Fields

PHASES: Mapping[str, str] = {
    "all": "Every day",
    "before": "Before the floor",
    "floor": "The floor",
    "after": "After the floor",
}
"""The phases in their order, by code, and what each is called."""

_EVERY_DAY = (
    *("glasses", "ear muffs", "dust masks", "knee pads", "gloves", "knife", "tape measure"),
    *("pencil", "masking tape", "vacuum", "broom", "trash bags", "extension cord", "lamp"),
    *("first-aid kit", "cart", "paper and tape to protect", "ramp strip for the night"),
)
_TOOLS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "setup": ("before", ("paper and tape to protect",)),
    "furniture": ("before", ("felt pads", "lifting straps")),
    "fixtures_off": ("before", ("wrench", "bucket", "sponge")),
    "base_off": ("before", ("pry bar", "hammer", "knife", "shims")),
    "doors_off": ("before", ("hammer", "nail set", "screwdriver")),
    "tear_out": ("before", ("pry bar", "scraper", "staple puller", "pliers", "knife")),
    "dispose": ("before", ("trash bags",)),
    "dump_run": ("before", ("straps", "tarpaulin")),
    "undercut": ("before", ("undercut saw", "gauge of the floor's thickness", "chisel")),
    "prep": (
        "before",
        (
            *("driver", "subfloor screws", "scraper", "straightedge, 10 ft", "plane"),
            *("patching compound", "putty knife", "moisture meter", "thermometer, humidity"),
        ),
    ),
    "paint": ("before", ("brush", "roller", "drop cloth")),
    "level": ("before", ("mixer", "bucket", "trowel", "spiked shoes", "straightedge, 10 ft")),
    "underlay": ("floor", ("knife", "straightedge, 10 ft", "masking tape")),
    "lay": (
        "floor",
        (
            *(
                "saw",
                "rip guide",
                "jigsaw",
                "T-square",
                "knife",
                "clamps",
                "story stick",
                "scriber",
            ),
            *("chalk line", "straightedge, 10 ft", "tapping block", "hammer", "pull bar"),
            *("spacers", "wedges", "wood glue", "rags", "block plane", "chisel", "hole saw"),
            *("moisture meter", "thermometer, humidity", "masking tape"),
        ),
    ),
    "stairs": ("floor", ("saw", "stair gauge", "wood glue", "caulk gun", "nailer", "level")),
    "transitions": ("after", ("saw", "driver", "hacksaw", "drill", "tape measure")),
    "base": ("after", ("miter saw", "coping saw", "nailer", "nail set", "caulk gun", "level")),
    "shoe": ("after", ("miter saw", "coping saw", "nailer", "nail set", "felt pads")),
    "doors_on": ("after", ("plane", "saw", "screwdriver", "hammer", "shims")),
    "fixtures_on": ("after", ("wrench", "level", "felt pads", "new wax ring for each toilet")),
    "clean": ("after", ("vacuum", "rags", "felt pads", "care sheet")),
}
"""By the code of a task: its phase, and what it takes in hand."""

_PHASE_OF_LOAD: Mapping[str, str] = {
    "Flooring": "floor",
    "Pad": "floor",
    "Vapor barrier": "floor",
    "Seam tape": "floor",
    "Spacers": "floor",
    "Stair nosing": "floor",
    "Adhesive": "floor",
    "Leveler": "before",
    "Primer": "before",
    "Subfloor screws": "before",
}
"""By the label of a material: when it is used; what is not listed comes after the floor."""


def tools_for(codes: Collection[str], *, readings: bool = False) -> dict[str, list[str]]:
    """Return by phase the tools and small goods of these tasks, each once, in order.

    What is carried every day stands there alone. ``readings``: something is read before the floor.
    """
    tools: dict[str, list[str]] = {phase: [] for phase in PHASES}
    tools["all"] = list(dict.fromkeys(_EVERY_DAY))
    seen = set(tools["all"])
    wanted = [_TOOLS[code] for code in _TOOLS if code in codes]
    if readings:
        wanted.insert(0, ("before", ("moisture meter", "thermometer, humidity")))
    for phase, names in wanted:
        for name in names:
            if name not in seen:
                seen.add(name)
                tools[phase].append(name)
    return tools


def _by_lengths(load: Mapping[str, object]) -> Mapping[str, object]:
    """Return a load with its sticks as lengths: a stick is the story stick to those who lay."""
    said = str(load["said"]).replace(" sticks", " lengths").replace(" stick", " length")
    return {**load, "said": said}


def phases_content(
    loads: Iterable[Mapping[str, object]], codes: Collection[str], *, readings: bool = False
) -> list[Fields]:
    """Return the phases that have something to carry: loads as counted, tools by task."""
    by_phase: dict[str, list[Mapping[str, object]]] = {phase: [] for phase in PHASES}
    for load in loads:
        by_phase[_PHASE_OF_LOAD.get(str(load["label"]), "after")].append(_by_lengths(load))
    tools = tools_for(codes, readings=readings) if codes or readings else {}
    counted = {str(load["label"]).lower() for of_phase in by_phase.values() for load in of_phase}
    phases = [
        {
            "phase": name,
            "loads": by_phase[phase],
            "tools": [tool for tool in tools.get(phase, ()) if tool not in counted],
        }
        for phase, name in PHASES.items()
    ]
    return [phase for phase in phases if phase["loads"] or phase["tools"]]
