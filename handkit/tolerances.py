"""Tolerances: every small number that decides something, in mm, with its reason."""

# An arc is drawn as straight bits that leave it by no more than this. A steel rule is read to
# 0.25 mm; the promise on paper is 0.01 mm; a fifth of that is left to the drawing of arcs.
SAGITTA = 0.002

# Holes nearer than this are one hole: what "coincide" means for layers that lie flat.
COINCIDE = 0.01

# Points nearer than this are the same point of a drawing: rounding noise of the arithmetic.
SAME_POINT = 1e-6

# A line that turns by more than this, in degrees, has a corner, and a corner fixes a hole.
CORNER_TURN_DEGREES = 30.0

# A fold of so many degrees lays a leaf on the other; one of less makes a corner (common practice, no source).
FOLDED_OVER = 135.0

# A hole this near to the outline's inside still counts as inside it.
EDGE_SLACK = 0.01

# A cut line of a join keeps this far from the edge of a hole or opening, or is counted as
# running through it: a trimmed and taped edge is good to about 1 mm, and the awl needs paper.
JOIN_CLEARANCE = 3.0

# A cut line of a join keeps this far from the middle of a corner letter where another cut is as good:
# a wish that ranks cuts, no promise. As for holes.
LETTER_CLEARANCE = JOIN_CLEARANCE

# A window's rim lies on its break line: up to the rounding of what the report writes.
ON_BREAK_LINE = 0.01

# The proof: what a reading of the file may differ by from what the page claims.
FULL_SCALE = 0.01

# The proof: how far a mark may lie from where the kit's own list has it. Its coordinates are written to
# 0.0001 mm, and a steel rule is read to 0.25.
AS_LISTED = 0.02

# So far beside a blade's way thread and metal keep; what a blade has beside it in a sheath where nothing
# tells; mm: common practice, no source.
BLADE_CLEAR, BLADE_PLAY = 5.0, 2.0


def blade_clear(beyond: float, play: float, length: float) -> float:
    """How far beside its way thread keeps off a blade, so far beyond its sheath's mouth, mm: it leans by its
    play while half of its length is still in.

    >>> blade_clear(0, 2, 100), blade_clear(50, 2, 100)
    (5.0, 7.0)
    """
    return BLADE_CLEAR + beyond * play / (length / 2)
