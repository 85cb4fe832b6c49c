"""How planks are joined, by lock: the words of the joining card. Pure.

Common practice, no source; the maker's sheet goes first.
"""

from __future__ import annotations

from collections.abc import Mapping

JOINING: Mapping[str, str] = {
    "angle-angle": "The end first, tilted; then both up together and the long side in.",
    "angle-drop": "The long side in, slid to the end, folded down; then the end struck.",
    "tap": "Lay the plank flat and tap it home with a block.",
    "glue": "Glue the tongue, lay the plank flat and tap it home with a block; wipe at once.",
}
TONGUE: Mapping[str, str] = {
    "low": "The tongue goes to the start wall.",
    "high": "The tongue goes to the next row.",
}
JOINING_CARE = (
    "Strike the core edge only, never the lip or the pad; use the pull bar at walls. "
    "The maker's sheet goes before this card."
)
_ACROSS: Mapping[bool, str] = {True: "scored and snapped", False: "sawn"}


def cutting_words(saw_kerf_mm: object, rip_kerf_mm: object, saw: str, rip: str) -> str:
    """Return how a plank is cut and what that takes; ``saw`` and ``rip`` are the kerfs in words."""
    if not saw_kerf_mm and not rip_kerf_mm:
        return "Scored and snapped across, ripped along a guide: a cut takes nothing."
    across = f"{_ACROSS[not saw_kerf_mm]} across".capitalize()
    if not saw_kerf_mm:
        return f"{across}, which takes nothing; ripped by saw, which takes {rip}."
    return f"{across}, which takes {saw}; ripped by saw, which takes {rip}."
