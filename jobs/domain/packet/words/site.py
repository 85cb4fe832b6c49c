"""What a floor's sheet says of its walls before row one: doorways, base and shoe. Pure."""

from __future__ import annotations

from collections.abc import Collection

OFF, ON, SHOE = "base_off", "base", "shoe"
"""Codes of the tasks that change what stands at a wall."""


def wall_words(codes: Collection[str], gap: str) -> str:
    """Return what the tape goes to and what covers the gap, by the tasks of a floor."""
    after = " and ".join([*["base"] * (ON in codes), *["shoe"] * (SHOE in codes)])
    if OFF in codes:
        to = "Base comes off first: tape to the drywall."
    elif ON in codes:
        to = "New base comes after the floor: tape to the drywall."
    else:
        to = "Base stays on: tape to its face, to the drywall where there is none."
    if after:
        return f"{to} {after.capitalize()} over the gap after the floor."
    return f"{to} No task covers the gap of {gap}: ask the office what does."


def door_words(*, doorways: int) -> str:
    """Return what is said of a floor that no doorway was measured of; else nothing."""
    if doorways:
        return ""
    return (
        "No doorway measured here. Find wall 1, the start wall, by its length: with your back to it"
        " left and right are as drawn. Door in wall"
    )


def under_words(*, thick: str, attached: bool, pad: bool, barrier: bool) -> str:
    """Return how thick a plank is, and what lies under it, as a gauge for casings is made."""
    layers = [*["a separate pad"] * pad, *["a vapor barrier"] * barrier]
    backing = "its own pad on its back" if attached else "no pad of its own"
    under = f"under it {' and '.join(layers)}" if layers else "nothing else under it"
    return f"Plank {thick} thick, {backing}; {under}."
