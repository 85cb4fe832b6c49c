"""How the strips of a packet are read: only what occurs in them, by their own pieces. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from jobs.domain.formats import Fields
from layout.cutsheet.strips.values import FloorStrips, StripCut, StripPiece, WallPiece

_ORDER = ("kneel", "hatch", "figure", "off", "slant", "disc", "each", "stack", "source", "offcut")
_ENDS = (
    "box",
    "expect",
    "notch",
    "rip",
    "line",
    "stick",
    "over",
    "plank",
    "split",
    "longer",
    "under",
    "apart",
    "call",
)
_EXAMPLES = frozenset(
    (
        *("stack", "expect", "notch", "rip", "line", "over", "plank"),
        *("split", "longer", "under", "apart"),
    )
)
"""The kinds that name a piece or a row of their floor."""
_NEW = " new to "


def how_to_read(floor: FloorStrips) -> list[Fields]:
    """Return sentences of what occurs in the strips of a floor, each with its key."""
    said = [*_strip_words(floor), *_box_words(floor)]
    return [{"key": key, "text": text} for key, text in said]


def read_together(floors: Iterable[tuple[str, Sequence[Fields]]]) -> list[Fields]:
    """Return the sentences of several floors together, of each kind the first.

    ``floors``: name and sentences; where a sentence takes an example, the floor's name is in it as
    ``floor``, since pieces of every floor have the same names.
    """
    first: dict[str, Fields] = {}
    for name, said in floors:
        for one in said:
            by = {"floor": name} if one["key"] in _EXAMPLES else {}
            first.setdefault(one["key"], {**one, **by})
    return [first[key] for key in (*_ORDER, *_ENDS) if key in first]


def read_apart(said: Sequence[Fields]) -> tuple[list[Fields], list[Fields]]:
    """Return of a floor's sentences those that hold for any floor, and its own examples."""
    general = [one for one in said if one["key"] not in _EXAMPLES]
    return general, [one for one in said if one["key"] in _EXAMPLES]


def _strip_words(floor: FloorStrips) -> Iterator[tuple[str, str]]:
    pieces = [piece for row in floor.rows for piece in row.pieces if not piece.whole]
    cuts = [cut for piece in pieces for cut in piece.cuts]
    yield (
        "kneel",
        (
            "Kneel on the laid floor, face the next row: left, right, near and far are as"
            " you see the"
            " plank, face up."
        ),
    )
    yield (
        "hatch",
        (
            "Hatched is cut off. A thick line is your cut, and the blade runs on the side"
            " that goes."
            " Planks without a name are whole."
        ),
    )
    yield (
        "figure",
        (
            "A figure over a piece: so much stays, from the end that is not cut. By the ring: the"
            " row's far face edge, from the start wall."
        ),
    )
    off = next((cut.far for cut in cuts if _off(cut)), None)
    if off is not None:
        yield "off", f"{off.figure}{off.off}: so much comes off the {off.end} end."
    if any(cut.kind == "slant" for cut in cuts):
        yield (
            "slant",
            "Over a slanted cut the figure is for the far edge, under it for the near edge.",
        )
    if any(cut.n for cut in cuts):
        yield (
            "disc",
            (
                "Discs 1, 2: the order of cuts where a plank has more than one in a row: 1 is"
                " made before 2."
            ),
        )
    if any(row.rip_last for row in floor.rows):
        yield (
            "each",
            ("Rip each, last: every piece of that row, once its length is taped and cut."),
        )
    yield from _source_words(pieces)


def _off(cut: StripCut) -> bool:
    return cut.kind == "end" and cut.far is not None and not cut.far.stays


def _source_words(pieces: Sequence[StripPiece]) -> Iterator[tuple[str, str]]:
    stacked = next((piece for piece in pieces if piece.source == "stack"), None)
    if stacked is not None:
        yield (
            "stack",
            f"{stacked.id} behind a boxed {stacked.stack}: take it from stack {stacked.stack}.",
        )
    hand = next((piece for piece in pieces if piece.source == "hand"), None)
    words = "New: any whole plank."
    if hand is not None:
        words += f" In hand, as {hand.id}: what you just cut off."
    yield "source", words
    if stacked is not None:
        yield (
            "offcut",
            (
                "Offcuts are named by the piece that each becomes: write stack and name on tape, on"
                " its face. One that breaks comes from a new plank while there are spares, or from"
                " what its line names. What no list names is scrap."
            ),
        )


def _box_words(floor: FloorStrips) -> Iterator[tuple[str, str]]:
    walls = [(row.row, wall) for row in floor.rows for wall in row.walls]
    if not walls:
        return
    yield (
        "box",
        (
            "Box at the end of a row: tape to the wall from the face edge of the plank"
            " before, never"
            " tongue or lip, write it, take the gap off, write what is left, cut to that. The"
            " floor's sheet says what the tape goes to."
        ),
    )
    expected = [one for _, one in walls if one.kind == "expect" and not one.part]
    if expected:
        whole = max(expected, key=lambda one: one.limits.split()[-1] != one.cut)
        most = whole.limits.split()[-1]
        hidden = f" To {most} it stays where a cover hides the gap."
        stays = hidden if most != whole.cut else " Else it stays as it is."
        yield (
            "expect",
            (
                f"Expect, as {whole.id}: measure all the same. Less than {whole.cut}: cut"
                f" to it.{stays}"
            ),
        )
    notched = [one for _, one in walls if one.part]
    if notched:
        names = " and ".join(dict.fromkeys(one.id for one in notched))
        yield (
            "notch",
            (
                f"Notch of {names}: cut the end across by its own box first, then mark the notch by"
                " its boxes; they go before the figures of the drawing, as"
                f" {notched[0].cut} at {notched[0].id}.{_mark_words(notched)}"
            ),
        )
    for row, one in walls:
        if one.kind == "rip":
            yield (
                "rip",
                (
                    f"Row {row}, rip: tape from the far edge of row {row - 1} to the wall,"
                    f" at both ends"
                    " and in the middle. Where the three differ, mark each plank at both its ends"
                    " by the tape there, less the gap, and rip from mark to mark. By its ring and"
                    f" on the stick stands that ripped edge.{_too_wide(one)}"
                ),
            )
    if floor.lines:
        yield "line", " ".join(line.words for line in floor.lines)
    yield (
        "stick",
        (
            "Story stick at the rows that a sheet names: more than 1/16 off, open the rows back to"
            " the last that held, close their joints. What can't be closed goes to the last row:"
            " its boxes go before the stick."
        ),
    )
    yield from _way_words([wall for _, wall in walls])


def _mark_words(notched: Sequence[WallPiece]) -> str:
    """Return what a mark is that a notch is taped from; empty where none is."""
    begin = next((one.begin for one in notched if one.begin.startswith("mark ")), "")
    if not begin:
        return ""
    row = begin.removeprefix("mark ")
    return f" Mark {row} is on the stick: there row {row}'s far edge will lie."


def _way_words(walls: Sequence[WallPiece]) -> Iterator[tuple[str, str]]:
    later = next((one for one in walls if one.over.endswith(" new")), None)
    if later is not None:
        name = later.over.removeprefix("cut it, ").removesuffix(" new")
        yield (
            "over",
            (
                f"Over {later.limits.split()[-1]} at {later.id}: cut it; {name} then comes from"
                f" a new plank."
            ),
        )
    plank = next((one for one in walls if one.over == "a new plank"), None)
    if plank is not None:
        yield (
            "plank",
            f"Over {plank.limits.split()[-1]} at {plank.id}: cut {plank.id} from a new plank.",
        )
    yield from _again_words(walls)
    yield (
        "call",
        (
            "Every plank beyond the plan is a spare less: tick it. Stop in a box, or past a limit"
            " that names no way: cut nothing, call. A cut end in mid-row is glued only where"
            " the maker allows it."
        ),
    )


def _too_wide(last: WallPiece) -> str:
    """Return why there is no way past a plank's width; empty where leftovers set the limit."""
    if last.over != "stop, call":
        return ""
    return f" Over {last.limits.split()[-1]}: no row more fits, call."


def _again_words(walls: Sequence[WallPiece]) -> Iterator[tuple[str, str]]:
    """Yield how a row is taken up where its end is too long or too short, and where it can't be."""
    again = next((one for one in walls if one.over.startswith("row up, cut")), None)
    if again is not None:
        yield (
            "split",
            (
                f"Over {again.limits.split()[-1]} at {again.id}: no plank reaches, and a cut end"
                f" locks into nothing. The row is not locked to the next yet: take it up,"
                f" {_shorter(again.over)} A new one ends the row, as at every such box."
            ),
        )
    longer = next((one for one in walls if _NEW in one.over and _up(one.over)), None)
    if longer is not None:
        yield (
            "longer",
            (
                f"Over {longer.limits.split()[-1]} at {longer.id}: take the row up,"
                f" {_shorter(longer.over)} Tape {longer.id} again."
            ),
        )
    short = next((one for one in walls if ": row up" in one.under), None)
    if short is not None:
        yield "under", _under_words(short)
    apart = next((one for one in walls if one.over.endswith(" apart")), None)
    if apart is not None:
        yield (
            "apart",
            (
                f"Stop, joints apart, as at {apart.id}: however the row is begun, its joints come"
                " no further from those beside than that, less than the rule asks. Call."
            ),
        )


def _up(over: str) -> bool:
    return over.startswith("row up, ")


def _under_words(short: WallPiece) -> str:
    """Return what is done where a last piece comes out too short."""
    least, _, words = short.under.partition(": ")
    head = f"{least[0].upper()}{least[1:]} at {short.id}: take the row up,"
    dropped = f", no {short.id}"
    if words.endswith(dropped):
        begun = f"{head} {_shorter(words.removesuffix(dropped))}"
        return (
            f"{begun} There is no {short.id} then: the plank before it is taped and ends the row."
        )
    return f"{head} {_shorter(words)} {short.id} is then measured again."


def _shorter(words: str) -> str:
    """Return in full how a row's first piece is cut again.

    ``words``: row up, cut 24-1 to 24; or row up, 24-1 new to 24, of a new plank.
    """
    cut = words.removeprefix("row up, ").removesuffix(", lay again")
    if _NEW in cut:
        name, _, long = cut.partition(_NEW)
        return f"begin it with a new {name} of {long}."
    return f"{cut} at its wall end, lay it again."
