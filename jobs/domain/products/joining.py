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
EARLIER: Mapping[str, str] = {
    "Tilt the long side in, then the end the same way. No tapping is needed.": "angle-angle",
    "Tilt the long side in, lay the end over its neighbor and press it down to lock.": "angle-drop",
    "Lay the board flat and tap it home with a block.": "tap",
    "Glue the tongue, lay the board flat and tap it home with a block; wipe at once.": "glue",
}
"""Words of before, as packets have them that were issued then, and the lock they were said of."""
TONGUE: Mapping[str, str] = {
    "low": "The tongue goes to the start wall.",
    "high": "The tongue goes to the next row.",
}
JOINING_CARE = (
    "Strike the core edge only, never the lip or the pad; use the pull bar at walls. "
    "The maker's sheet goes before this card."
)
_ACROSS: Mapping[bool, str] = {True: "scored and snapped", False: "sawn"}


def words_as_issued(now: str, issued: str) -> str:
    """Return the words of a packet that was issued, where they were said of the same lock.

    A card said better is no other card: what is in the crew's hands stays.
    """
    return issued if JOINING.get(EARLIER.get(issued, "")) == now else now


def cutting_words(saw_kerf_mm: object, rip_kerf_mm: object, saw: str, rip: str) -> str:
    """Return how a plank is cut and what that takes; ``saw`` and ``rip`` are the kerfs in words."""
    if not saw_kerf_mm and not rip_kerf_mm:
        return "Scored and snapped across, ripped along a guide: a cut takes nothing."
    across = f"{_ACROSS[not saw_kerf_mm]} across".capitalize()
    if not saw_kerf_mm:
        return f"{across}, which takes nothing; ripped by saw, which takes {rip}."
    return f"{across}, which takes {saw}; ripped by saw, which takes {rip}."
