"""Tolerances: which lengths are one, which areas are nothing. Their only home.

What nobody can measure has a value for each unit of the form. What rounding alone may do is one
number in either unit. Shares and counts have no unit.
"""

# Measured lengths and areas, in the unit of the form.
LENGTH_TOLERANCE = {"in": 0.01, "mm": 0.25}  # two lengths closer than this are the same
# A notch no thicker is none: the outline counts as straight. Common practice, no source.
THIN_NOTCH_TOLERANCE = {"in": 1 / 32, "mm": 1.0}
AREA_TOLERANCE = {"in": 0.5, "mm": 300.0}  # an area smaller than this is nothing

# Lengths, in either unit.
COINCIDENT_TOLERANCE = 1e-12  # sums that differ by no more are one
COVER_TOLERANCE = 1e-9  # a mark this near to a cut counts as not covered
LINE_TOLERANCE = 1e-9  # ends of level lines closer than this are one
PLACE_TOLERANCE = 1e-7  # places along a board closer than this are one
STRAIGHT_TOLERANCE = 1e-7  # a corner this near to the line between its neighbors is none
TOUCHING_TOLERANCE = 1e-6  # what lies closer than this touches: rounding alone parts it
LINE_SHORTENING = 1e-6  # taken off each end of a line, in favor of the plan
SEAM_WIDTH = 2e-6  # cut away beside a laid piece, so that rounding leaves nothing there
NECK_TOLERANCE = 5e-6  # half the width of what may seem to join two parts
BAND_TOLERANCE = 1e-5  # bands no higher than this are left out
CUT_LINE_TOLERANCE = 1e-5  # a corner of a cut this near to a straight line is none
JOINT_TOLERANCE = 1e-4  # a joint this much too near still keeps the rule
LAID_END_TOLERANCE = 1e-4  # what rounding and the seam beside a laid piece take from a length
MARK_TOLERANCE = 1e-4  # a mark this near to a side lies on it
MEETING_TOLERANCE = 1e-4  # pieces closer than this meet
ROW_EDGE_TOLERANCE = 1e-4  # rows are looked at without so much: corners may lie on row lines
SLIVER_PADDING = 1e-4  # added above and below thin parts, so that none is without area
STRETCH_TOLERANCE = 1e-4  # stretches this near to each other along the row are joined
ACROSS_TOLERANCE = 1e-3  # rows may come to so much less than the floor across
BIN_TOLERANCE = 1e-3  # bins this near to the offset touch it with their edges alone
CORNER_TOLERANCE = 1e-3  # two corners closer than this are one corner typed twice
FIGURE_TOLERANCE = 1e-3  # a figure this short is no distance and needs no line
LEVEL_TOLERANCE = 1e-3  # an edge that rises by less is level
LAID_JOINT_TOLERANCE = 1e-3  # a joint this much too near to one that is down keeps the rule
PATH_TOLERANCE = 1e-3  # so far off a cut's path a point lies beside it; so far a path is run on
PHASE_TOLERANCE = 1e-3  # levels closer than this are one
WARNING_TOLERANCE = 1e-3  # what a rule lacks by less is nothing to warn of
WHOLE_TOLERANCE = 1e-3  # nothing as wide as this is missing from a whole plank
BESIDE_TOLERANCE = 0.01  # what lies so much more than the kerf from a cut lies beside it
SAME_JOINT_TOLERANCE = 0.01  # joints closer than this are one
DRAWN_GAP_TOLERANCE = 0.02  # drawn lines with no more between them are one
RUN_GAP_TOLERANCE = 0.1  # pieces of a row with no more between them make one run

# Areas, in either unit.
OVERLAP_TOLERANCE = 1e-6  # an area this small comes from rounding
BOX_TOLERANCE = 1e-4  # a part that lacks less of its box is the box
SCRAP_TOLERANCE = 1e-3  # a piece that lacks less of its plank is a whole one
FLOOR_AREA_TOLERANCE = 0.5  # the floor's area may be told so far off

# Shares, counts and angles.
COUNT_TOLERANCE = 1e-9  # a count this little above a whole number is that number
PARALLEL_TOLERANCE = 1e-9  # sine of the angle between edges that run one way
PRICE_TOLERANCE = 1e-9  # prices of thresholds, in planks, that differ by no more are one
TURN_TOLERANCE = 1e-9  # degrees: a turn that changes by no more has settled
RATIO_TOLERANCE = 1e-9  # shares that differ by no more are one
ANGLE_TOLERANCE = 1e-6  # degrees: angles that differ by no more are one
BOUND_TOLERANCE = 1e-6  # a bound this little above a whole number is that number
RECTANGLE_TOLERANCE = 1e-6  # share of its box that a rectangle may lack
STRETCH_SHARE = 1e-5  # of a board width: shorter stretches of a line are left out
NOTCH_TOLERANCE = 1e-4  # share of its box that a square notch may lack
BAND_EDGE_SHARE = 1e-3  # of a band's height: left out at either side, where corners lie
LEAST_RIP_SHARE = 1e-3  # of a board width: the narrowest first rip that is looked at
WASTE_TOLERANCE = 1e-3  # the share of waste may be told so far off
RUN_TOLERANCE_SHARE = 1 / 200  # of the least run: lengths that differ by less are the same
