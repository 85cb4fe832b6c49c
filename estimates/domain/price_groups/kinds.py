"""In which group of a price a material or a task stands, in the order of the page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from estimates.domain.book.groups import GROUP_OF

DISPOSAL = "disposal"


class GroupKind(NamedTuple):
    """A group by its key, as an address has it, and in words."""

    key: str
    title: str


SUNDRIES = GroupKind("sundries", "Sundries")
MATERIAL_GROUPS = (
    GroupKind("floor", "Floor"),
    GroupKind("underlay", "Pad and barrier"),
    GroupKind("transitions", "Transitions"),
    GroupKind("trim", "Trim"),
    SUNDRIES,
    GroupKind(DISPOSAL, "Disposal"),
)
_OF_BOOK: Mapping[str, str] = {
    "Planks": "floor",
    "Pads": "underlay",
    "Barriers": "underlay",
    "Transitions": "transitions",
    "Trim": "trim",
}
"""Groups of the price book that have a group of their own; all others are sundries."""

OTHER_WORK = GroupKind("other-work", "Other work")
WORK_GROUPS = (
    GroupKind("ready", "Get ready"),
    GroupKind("out", "Take out"),
    GroupKind("subfloor", "Subfloor and casings"),
    GroupKind("lay", "Lay"),
    GroupKind("back", "Put back and clean"),
    GroupKind("drive", "Drive out and home"),
    GroupKind("pick-up", "Pick-up"),
    GroupKind("load", "Loading"),
    GroupKind("dump-run", "Dump run"),
    OTHER_WORK,
)
_TASKS_IN: Mapping[str, tuple[str, ...]] = {
    "ready": ("setup", "carry", "acclimatise", "furniture"),
    "out": ("fixtures_off", "base_off", "doors_off", "tear_out", "dispose"),
    "subfloor": ("prep", "level", "paint", "undercut"),
    "lay": ("underlay", "lay", "stairs", "transitions"),
    "back": ("base", "shoe", "doors_on", "fixtures_on", "clean"),
    "drive": ("travel",),
    "pick-up": ("pick_up",),
    "load": ("load",),
    "dump-run": ("dump_run",),
}
_GROUP_OF_TASK = {task: key for key, tasks in _TASKS_IN.items() for task in tasks}

BESIDE_GROUPS = (
    GroupKind("card", "Charged by the rate card"),
    GroupKind("allowances", "Allowances"),
    GroupKind("added", "Lines of your own"),
    GroupKind("adjusted", "Minimum, discount, rounding"),
)
"""What stands in a price beside material and labor."""


def material_group(code: str) -> str:
    """Return the key of the group in which a material stands."""
    if code == DISPOSAL:
        return DISPOSAL
    return _OF_BOOK.get(GROUP_OF.get(code, ""), SUNDRIES.key)


def work_group(task: str) -> str:
    """Return the key of the group in which a task stands."""
    return _GROUP_OF_TASK.get(task, OTHER_WORK.key)
