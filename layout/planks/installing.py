"""How a piece goes in: by its lock, what overhangs it and what is down when its turn comes.

Seen by the person who lays: *near* is the side of the start wall, *far* the side away from it,
*begin* the end where rows begin, *end* the other one. A row is joined at one long side, its
*joined* side (near, or far in rows that go backward from a control row); the other one is *open*.

Ways of the locks. angle-angle: tilted in at the joined side, the end tilted as well; all of a row
can be joined first and tilted as one. angle-drop: tilted in at the joined side while the end is
folded down on the piece before it. tap, glue: laid flat, then pushed home along and across.

    what is in the way                        angle-angle  angle-drop  tap, glue
    ----------------------------------------  -----------  ----------  ---------
    nothing                                   free         free        free
    a row that joins no row down (row 1),
      under something at one side or its ends free         free        free
      under something at near and far         slide        slide       slide
    open side under a toe kick or radiator    row *)       shave       slide
    open side under a casing                  shave        shave       slide
    one end under something,
      the other one not joined to a piece     free         free        free
      the other one (or this one) joined      row *)       shave       free
    both ends under something                 shave        shave       slide
    joined side under something (a notch)     shave        shave       free
    pieces down at near and far, or both ends lower        lower       lower

    *) shave where the row can't be tilted as one: joined side under something, a casing at its
       open side, both its ends under something, or its open side and one end

    Where several lines apply, the last of these counts: free, row, slide, shave, lower. To a row
    that joins no row down only its own two lines and the last one apply.

    row    tilt as a row    the row is joined off its place, tilted in as one, pushed along
    slide  slide flat       set down clear of what is over it, pushed under, pulled back with a bar
    shave  shave and slide  the lip of the lock cut off, glued, pushed in flat (if the maker allows)
    lower  shave and lower  all lips cut off, glued, let down between what is down (likewise)

Toe kick and radiator leave room for the slight tilt of a whole row, not for that of a single
piece; a casing leaves none. Row 1 lies free: it is joined off the wall and pushed back. An end
under something, with nothing joined at the other, is set down clear of it and pushed along the
joint. Without a lock the marks are those of angle-drop, which take in all others, and the maker is
asked. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from layout.values.material import GoesIn, Lock


class Flank(StrEnum):
    """A side or an end of a piece as the person who lays sees it."""

    NEAR = "near"
    FAR = "far"
    BEGIN = "begin"
    END = "end"


SIDES = frozenset({Flank.NEAR, Flank.FAR})
ENDS = frozenset({Flank.BEGIN, Flank.END})
Flanks = frozenset[Flank]
NONE: Flanks = frozenset()

_FLAT = frozenset({Lock.TAP, Lock.GLUE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What lies over and beside a piece when its turn comes.

    ``over``: where something overhangs it; ``down``: where it meets pieces that are down. The same
    of its whole run: ``run_over``, ``run_down`` (sides only), ``run_cased`` (under a casing).
    """

    over: Flanks = NONE
    down: Flanks = NONE
    run_over: Flanks = NONE
    run_down: Flanks = NONE
    run_cased: Flanks = NONE

    @property
    def joined(self) -> Flank:
        """The side at which it is joined to a row that is down."""
        if Flank.NEAR not in self.down and (Flank.FAR in self.down or self.run_down == {Flank.FAR}):
            return Flank.FAR
        return Flank.NEAR

    @property
    def opened(self) -> Flank:
        """The side that is free when its turn comes."""
        return Flank.NEAR if self.joined is Flank.FAR else Flank.FAR

    @property
    def tilts_as_row(self) -> bool:
        """Whether its run can be joined off its place and tilted in as one."""
        if self.joined in self.run_over or self.opened in self.run_cased:
            return False
        return len(self.run_over & ENDS) < (1 if self.opened in self.run_over else 2)


def way_in(lock: Lock | None, it: Situation) -> GoesIn | None:
    """Return how a trapped piece goes in, None for one that its lock's own way gets in."""
    if lock is None:
        return GoesIn.MAKER if way_in(Lock.ANGLE_DROP, it) else None
    if it.down >= SIDES or it.down >= ENDS:
        return GoesIn.LOWER
    if not it.run_down:
        return GoesIn.SLIDE if it.over >= SIDES else None
    if lock in _FLAT:
        return GoesIn.SLIDE if it.opened in it.over or it.over >= ENDS else None
    return _tilted(lock, it)


def _tilted(lock: Lock, it: Situation) -> GoesIn | None:
    """Return how a piece of a lock that is tilted in goes in, None where it can be tilted."""
    if it.joined in it.over or it.over >= ENDS:
        return GoesIn.SHAVE
    held = bool(it.over & ENDS and it.down & ENDS)
    if it.opened not in it.over and not held:
        return None
    as_row = lock is Lock.ANGLE_ANGLE and it.tilts_as_row
    return GoesIn.ROW if as_row else GoesIn.SHAVE
