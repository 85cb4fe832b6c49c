"""The joining card: what to do with a plank, step by step, and how a piece slides in flat. Pure.

Common practice, no source; the maker's own sheet goes first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

STEPS: Mapping[str, tuple[str, ...]] = {
    "angle-angle": (
        "End first: tilt the plank and set its end into the plank before it.",
        "Then both up together, and the long side in; lower both.",
    ),
    "angle-drop": (
        "Long side in: tilt the plank and set it into the row before.",
        "Slide it to the end of the plank before it.",
        "Fold it down, then strike the end shut.",
    ),
    "tap": (
        "Lay the plank flat against the row before.",
        "Tap the long side home with a block, then the end.",
    ),
    "glue": (
        "Spread glue along the whole tongue.",
        "Lay the plank flat, tap the long side home with a block, then the end.",
        "Wipe at once.",
    ),
}
CORE_EDGE = (
    "Strike the core edge only, with a block: never the lip, never the pad. Pull bar at walls."
)
MAKER_FIRST = "The maker's own sheet goes first. The rest: common practice, no source."

TRY_DRY, PULL, WEDGE = (
    "try it dry",
    "pull it home with the pull bar",
    (
        "hold it shut as long as the glue's label says, by a wedge at the wall or jamb beyond it,"
        " by tape over the joint where none stands; the next row waits"
    ),
)
ASK = (
    "does the maker allow glue there? if not, shave nothing: raise the casing's cut until the plank"
    " tilts in, else call"
)
GLUE = "glue the joint"


def joining_card(
    lock: str, *, tongue_to_start: bool, from_left: bool, card: Sequence[str] = ()
) -> dict[str, object]:
    """Return the card of a lock; ``card``: what the maker's sheet says, each with its source."""
    tongue = "start wall" if tongue_to_start else "next row"
    return {
        "lock": lock,
        "maker": list(card),
        "steps": list(STEPS.get(lock, ())),
        "tongue": f"Tongue to the {tongue}. Rows begin at the {'left' if from_left else 'right'}.",
        "care": CORE_EDGE,
        "source": MAKER_FIRST,
    }


def lip_words(
    lock: str,
    *,
    tongue_near: bool,
    row: int,
    behind: Sequence[str] = (),
    first: bool = False,
) -> str:
    """Return whose lip is shaved so that a piece slides in flat against the row behind it.

    The lip lies under the groove. Where the tongue of a piece points to the row that is down, the
    groove and its lip are that row's; where its groove does, the lip is the piece's own. ``behind``
    are the pieces of that row which it meets; ``first``: no plank lies before it in its row.
    """
    if lock not in ("angle-angle", "angle-drop"):
        return "no lip is shaved: this lock goes in flat"
    long = f"the far edge of row {row - 1}, which is down" if tongue_near else "its own near edge"
    if tongue_near and row <= 1:
        long = "the far edge of what is down"
    if tongue_near and behind:
        long = f"the far edge of {' and '.join(behind)}, which {_lie(behind)}"
    joint = "of the plank before it, or its own if the groove is there"
    if first:
        joint = "of the plank that has the groove there"
    return f"shave the raised edge of the lower lip of {long}; at the end, {joint}"


def _lie(names: Sequence[str]) -> str:
    return "is down" if len(names) == 1 else "are down"


def lower_words(*, tongue_near: bool) -> str:
    """Return what is cut off so that a piece can be let down between two that are down."""
    tongue, groove = ("near", "far") if tongue_near else ("far", "near")
    return (
        f"cut off its own tongue ({tongue} edge) and the lower lip of its own groove"
        f" ({groove} edge), the same at its ends"
    )
