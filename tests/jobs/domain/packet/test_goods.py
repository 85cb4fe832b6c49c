"""Each thing named under a step of the packet stands among its loads or its tools."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from jobs.domain.load_list import load_list
from jobs.domain.packet.checks import BEFORE_TOUCHING, as_you_go, going_home
from jobs.domain.packet.goods import PHASES, phases_content, tools_for
from jobs.domain.products.joining import JOINING, JOINING_CARE
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import VisitFacts
from jobs.domain.tasks import TASKS
from tests.jobs.domain.packet.test_checks import DEN
from tests.jobs.kept import quantities

THINGS: Mapping[str, str] = {
    "block": "tapping block",
    "broom": "broom",
    "cart": "cart",
    "chisel": "chisel",
    "coping saw": "coping saw",
    "gauge": "gauge of the floor's thickness",
    "glasses": "glasses",
    "glue": "wood glue",
    "hammer": "hammer",
    "jigsaw": "jigsaw",
    "knee pads": "knee pads",
    "knife": "knife",
    "mask": "dust masks",
    "meter": "moisture meter",
    "plane": "plane",
    "pull bar": "pull bar",
    "ramp": "ramp strip for the night",
    "saw": "saw",
    "spacers": "spacers",
    "story stick": "story stick",
    "straightedge": "straightedge, 10 ft",
    "tape": "masking tape",
    "vacuumed": "vacuum",
    "wedge": "wedges",
}
"""A thing as steps name it, by a word of theirs, and what it is called on the truck."""


def carried(phases: list[Any]) -> set[str]:
    """The names of all loads and tools of these phases, in lower case."""
    loads = {load["label"].lower() for phase in phases for load in phase["loads"]}
    return loads | {tool.lower() for phase in phases for tool in phase["tools"]}


def named(text: str) -> set[str]:
    """What a text names of the things that somebody has to bring."""
    said = text.lower()
    return {name for word, name in THINGS.items() if re.search(rf"\b{word}", said)}


def test_each_thing_named_by_checks_cautions_and_joining_is_carried() -> None:
    codes = list(TASKS)
    checks = [*as_you_go(codes, [DEN]), *going_home(codes, [DEN])]
    cautions = cautions_for(VisitFacts(carton_weight_lb=Decimal(40), grinding=True))
    texts = [
        *(check.text for check in checks),
        *(caution.text for caution in cautions),
        *BEFORE_TOUCHING,
        *JOINING.values(),
        JOINING_CARE,
    ]
    steps = set().union(*(named(text) for text in texts))
    assert {"tapping block", "pull bar", "story stick", "straightedge, 10 ft", "vacuum"} <= steps
    assert steps - carried(phases_content(load_list(quantities()), codes)) == set()


def test_every_task_of_the_crew_but_hauling_has_its_tools() -> None:
    bare = {
        code
        for code in TASKS
        if not any(tools_for([code])[phase] for phase in ("before", "floor", "after"))
    }
    assert bare == {"pick_up", "load", "carry", "acclimatise", "travel", "setup", "dispose"}


def test_nothing_is_carried_twice() -> None:
    tools = tools_for(list(TASKS), readings=True)
    names = [name for phase in PHASES for name in tools[phase]]
    assert len(names) == len(set(names))


def test_what_is_counted_as_a_load_is_no_tool_besides() -> None:
    loads = [{"label": "Spacers", "said": "19"}]
    phases = phases_content(loads, ["lay"])
    assert not any("spacers" in phase["tools"] for phase in phases)
    assert any(load["label"] == "Spacers" for phase in phases for load in phase["loads"])


def test_where_the_crew_does_nothing_nothing_is_carried() -> None:
    assert phases_content([], []) == []
