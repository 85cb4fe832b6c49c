"""A room's page as a browser sends it."""

from __future__ import annotations

from typing import Any


def sheet(*walls: str, **more: Any) -> dict[str, Any]:
    """Return a room's page as sent: these wall lengths, every corner to the left."""
    sent = {"name": "Den", "key": "k1", "version": 1, "moisture": "dry", "base": "replace"}
    sent |= {"furniture": "empty", "toilets": 0, "appliances": 0, "leveler_bags": 0}
    sent |= {"wall-rows": len(walls), "hole-rows": 0}
    for row, length in enumerate(walls):
        sent |= {f"wall-{row}-length": length, f"wall-{row}-turn": "left"}
    return sent | more


FOUR = ("12' 4 1/2\"", "10'", "148.5", "120 in")
