"""One cut of the sheet in words, for a person who kneels on the laid floor and faces the next row.

The board lies face up before them as it will lie on the floor; where rows are laid from the high
side (``lay.behind(row)``), that is the sheet turned half round.

        far edge                  rows go this way
    +----------------+                  ^
    | left     right |                  |
    +----------------+                person
        near edge

A text is a cut and what becomes of the part that goes, one sentence each: ``CUT. What goes: KEPT.``

    CUT      cut square F from the END end; the SIDE part goes                            crosscut
             rip F from the EDGE edge; the SIDE part goes                                 rip
             mark MARK and MARK; cut along the line, rise F over run F;
                 the SIDE part goes                                                       angle
             notch: mark F from the END end and F from the EDGE edge, square to each
                 other; the CORNER corner goes                                            notch
             mark MARKS; cut from mark to mark; GOES                                      notch
             cut out F to F from the END end, F to F from the EDGE edge                   hole
             cut out inside the marks MARKS                                               hole
    on site  measure on site, between F and F; as drawn, CUT                   crosscut and rip
             measure on site, the nearer mark between F and F; as drawn, CUT              angle
             measure on site; as drawn, CUT                         limits that leave no choice
    MARK     F from the END end on the EDGE edge      on the part's own edge at that place
             F from the EDGE edge on the END end      on the part's own end at that place
             F from the END end and F from the EDGE edge
             the CORNER corner                        of the part in hand
    MARKS    MARK, MARK and MARK                      two or more, the last after "and"
    GOES     the CORNER corner goes                   the part that has that corner
             the SIDE part goes                       the part that lies furthest that way
             only the CORNER corner stays
             what lies between them and the EDGE edge goes     (END end; or "stays")
             what holds the mark F from the END end and F from the EDGE edge goes
    KEPT     waste | kept as a leftover | keep in hand for PIECES | stack LETTER for PIECES
    END      left | right        EDGE  near | far        SIDE  left | right | near | far
    CORNER   near left | near right | far left | far right
    PIECES   3-5 | 3-5 and 4-7 | 3-5, 4-7 and 5-1
    F        in the plan's unit, as a tape shows it: 20", 20¼", 3⁵⁄₁₆", 514 mm

A sentence begins with a capital letter. Ends and edges that F is measured from are those of the
board as it came, still there when the cut is made. Where F starts at the side that goes, F is what
goes, saw cut included: ``Cut square 4" from the left end; the left part goes.`` A cut line is the
edge of what stays; the blade runs on the side that goes. A straight cut goes through all of the
part in hand, a notch only from mark to mark.

Every F is rounded by itself, from ``at`` for square cuts and rips, from a point of ``path`` for
marks, to the nearest 1/16 in or 1 mm (half up), so that no edge is off by more than half a step,
with two exceptions: a straight cut that would then take nothing of the part in hand is told a step
further in, and limits are rounded inward, but hold the figure as told. Rise is the difference of
the marks as told across the board, run that along it.
"""
