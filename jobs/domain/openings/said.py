"""How a doorway and what lies beyond it are told to a crew: by places that people name. Pure."""

from __future__ import annotations

_DOORS = {
    "door": "door",
    "cased": "opening",
    "exterior": "outside door",
    "slider": "sliding door",
    "closet": "closet door",
    "stairs": "stairs",
}
_BEYOND = {
    "same": "The same floor",
    "plank": "The other floor",
    "carpet": "Carpet",
    "tile": "Tile",
    "wood": "Wood",
    "resilient": "Resilient floor",
    "slab": "The slab",
    "stairs": "The stair",
    "outside": "The sill",
}
_PLAIN = frozenset(
    (
        *("attic", "basement", "bath", "bathroom", "bedroom", "closet", "den", "dining", "entry"),
        *("foyer", "garage", "hall", "hallway", "kitchen", "landing", "laundry", "living"),
        *("mudroom", "nursery", "office", "pantry", "porch", "powder", "room", "stair", "stairs"),
        *("study", "sunroom", "utility"),
    )
)


def near_words(name: str) -> str:
    """Return a place as it stands in a sentence: "the bathroom"; a name of its own stays."""
    place = name.split(",")[0].strip()
    words = place.split()
    plain = words and all(word.lower() in _PLAIN for word in words)
    return f"the {place.lower()}" if plain else place


def door_words(room: str, kind: str, beyond: str) -> str:
    """Return which doorway is meant: "Hall, door to the bathroom"."""
    return f"{room}, {_DOORS[kind]} to {near_words(beyond)}"


def opening_words(kind: str, beyond: str) -> str:
    """Return a doorway as a drawing calls it: "door to the bathroom"; "door" if none knows."""
    name = _DOORS[kind]
    return f"{name} to {near_words(beyond)}" if beyond else name


def strip_words(treatment: str, kind: str, beyond: str) -> str:
    """Return which strip is meant: "reducer, bathroom door"."""
    place = near_words(beyond).removeprefix("the ")
    return f"{treatment}, {place} {_DOORS[kind].split()[-1]}"


def beyond_words(kind: str, step: str, *, up: bool) -> str:
    """Return how what lies beyond stands: "Tile stands 3/8 in up"; without a step it is level."""
    what = _BEYOND.get(kind, "The floor beyond")
    if not step:
        return f"{what} lies level"
    return f"{what} stands {step} {'up' if up else 'down'}"
