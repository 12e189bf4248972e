"""Ink: the line styles on paper, and the names under which marks are tagged in the PDF.

One truth for `draw`, which uses them, and `proof`, which knows by them what a mark is. Line types
after ISO 128: continuous wide for outlines, dashed for what lies under, chain for centres and
folds. Black on white: kinds are told apart by width and dash, never by colour.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec


class Tag(StrEnum):
    """What a mark is. Written as marked content: /Tag <<properties>> BDC … EMC (ISO 32000 14.6).

    Properties, all mm or text: see `draw/model/tags.py` for who has which.
    """

    SQUARE = "hkTestSquare"  # one closed square; /Side its side
    BAR = "hkScaleBar"  # its long line; /Length what it claims
    BAR_TICK = "hkScaleBarTick"  # ticks and frame of a bar
    OUTLINE = "hkOutline"  # the knife's line; /Piece /Window
    TRIM = "hkTrim"  # finished edge inside a wider cut; /Piece /Window
    FINISHED = "hkFinishedEdge"  # inside a hem, a turned edge or a seam allowance; /Piece /Window
    HEM = "hkHemFold"  # where an edge is turned to the back; /Piece /Window
    STITCH = "hkStitchLine"
    FOLD = "hkFold"
    CENTRE = "hkCentre"  # centre crosses of openings
    SKIVE = "hkSkive"
    ONTOP = "hkOnTop"  # the outline of what lies on top, not to be cut
    ITEM = "hkItem"  # the outline of a thing that will be carried there, not to be cut
    MEET = "hkMeet"  # across a stitch line: here it meets the same mark of its mate
    NOTCH = "hkNotch"  # cut out of an edge, so that a flange lies flat round a corner
    TAPE = "hkTape"  # where a piece of tape holds a seam of a paper trial
    HOLE = "hkHole"  # one stitch hole: its tick (and slit) and its point; /Piece /Window /Seam /Run /Number
    OPENING = "hkOpening"  # its rim at true size; /Piece /Window /Opening /Number
    MARK = "hkRegistration"  # /Piece /Window /Join [i j] /Mark k
    RULE = "hkRuleLine"  # /Piece /Window /Join [i j]
    CUT = "hkTrimLine"  # where a window is trimmed for its join; /Piece /Window /Join [i j]
    BREAK = "hkBreak"  # a break line, where a straight part is left out; /Piece /Window /Break k /Length
    MAP = "hkMap"  # small, in grey: how a piece's portions go together; /Piece /Window
    GRAIN = "hkGrain"
    LABEL = "hkLabel"
    BODY = "hkBody"  # in a picture of the article: a piece where it lies; /Piece
    INNER = "hkInner"  # there: folds and holes of a piece; /Piece
    THING = "hkThing"  # there: an item in its place; /Item
    HIDDEN = "hkHidden"  # there: what lies under the piece drawn before; /Item /Fitting
    CAP = "hkCap"  # there: what of a rivet, snap or eyelet stands out; /Opening /Number
    THREAD = "hkThread"  # there: stitches that are seen; /Seam
    FITTING = "hkFitting"  # there: what is bought and put on; /Fitting
    MEASURE = "hkMeasure"  # there: a dimension line; /Length
    MEASURED = (
        "hkMeasured"  # any line of a piece that is drawn by its measures, at a scale of its own; /Piece
    )
    FAULTY = "hkFaulty"  # there: holes that a fault is about; /Number
    FAULT = "hkFault"  # there: the number of a fault in its ring; /Number
    PAGE = "hkSheet"  # what stands on a page and belongs to no piece: frame, texts, pictures


class Stroke(msgspec.Struct, frozen=True):
    """A pen: width in mm, dash lengths in mm (empty is continuous), grey 0 black to 1 white."""

    width: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0


WIDE = Stroke(0.5)
NARROW = Stroke(0.25)
HAIR = Stroke(0.13)

STROKES: dict[Tag, Stroke] = {
    Tag.SQUARE: NARROW,
    Tag.BAR: NARROW,
    Tag.BAR_TICK: HAIR,
    Tag.OUTLINE: WIDE,
    Tag.TRIM: Stroke(0.35, (6, 1.5)),
    Tag.FINISHED: Stroke(0.18),  # continuous narrow
    Tag.HEM: Stroke(0.3, (4, 1.5, 1, 1.5)),  # chain
    Tag.STITCH: HAIR,
    Tag.FOLD: Stroke(0.25, (8, 1.5, 1, 1.5, 1, 1.5)),  # chain with two dots
    Tag.CENTRE: Stroke(0.18, (5, 1, 1, 1)),  # chain
    Tag.SKIVE: Stroke(0.18, (1, 1)),
    Tag.ONTOP: Stroke(0.18, (3, 1.5)),
    Tag.ITEM: Stroke(0.18, (3, 0.9, 0.45, 0.9, 0.45, 0.9)),  # chain with two dots, ISO 128: adjacent parts
    Tag.MEET: Stroke(0.35),
    Tag.NOTCH: Stroke(0.25),
    Tag.TAPE: Stroke(0.25, (1.5, 0.7)),
    Tag.HOLE: Stroke(0.18),
    Tag.OPENING: Stroke(0.25),
    Tag.MARK: Stroke(0.18),
    Tag.RULE: Stroke(0.18, (12, 2)),
    Tag.CUT: Stroke(0.18, (2, 1)),
    Tag.BREAK: Stroke(0.25),  # narrow with a zigzag, ISO 128
    Tag.MAP: Stroke(0.13, (1.0, 0.7)),  # its joins; it has no outline
    Tag.GRAIN: NARROW,
    Tag.LABEL: NARROW,
    Tag.BODY: Stroke(0.3),
    Tag.INNER: Stroke(0.13),
    Tag.THING: Stroke(0.18, (3, 0.9, 0.45, 0.9, 0.45, 0.9)),  # chain with two dots, as on templates
    Tag.HIDDEN: Stroke(0.13, (1.2, 0.8)),
    Tag.CAP: Stroke(0.2),
    Tag.THREAD: Stroke(0.3),
    Tag.FITTING: Stroke(0.25),
    Tag.MEASURE: HAIR,
    Tag.MEASURED: HAIR,
    Tag.FAULTY: Stroke(0.7),
    Tag.FAULT: Stroke(0.35),
    Tag.PAGE: HAIR,
}

# Pens that some tags have beside their own: a slit, an opening's cross and the cap over it, the line from
# a text to what it names, the arrow at a seam's start.
SLIT = Stroke(0.35)
CROSS = Stroke(0.18)
CAP = Stroke(0.13, (1.5, 1.0))
LEADER = HAIR
ARROW = NARROW

# All pens of the marks that are audited on paper; other tags (pages' own, pictures of the article, measured
# drawings) have too many to tell them by.
_ONE_PEN = (
    Tag.SQUARE,
    Tag.BAR,
    Tag.BAR_TICK,
    Tag.OUTLINE,
    Tag.TRIM,
    Tag.FINISHED,
    Tag.HEM,
    Tag.STITCH,
    Tag.FOLD,
    Tag.SKIVE,
    Tag.ITEM,
    Tag.MEET,
    Tag.NOTCH,
    Tag.TAPE,
    Tag.OPENING,
    Tag.MARK,
    Tag.RULE,
    Tag.CUT,
    Tag.BREAK,
    Tag.GRAIN,
)
PENS: dict[Tag, tuple[Stroke, ...]] = {
    **{tag: (STROKES[tag],) for tag in _ONE_PEN},
    Tag.HOLE: (STROKES[Tag.HOLE], SLIT),
    Tag.CENTRE: (CROSS, STROKES[Tag.CENTRE]),
    Tag.ONTOP: (STROKES[Tag.ONTOP], CAP),
    Tag.LABEL: (LEADER, ARROW),
}

# What belongs to a page and to no piece, and is measured wherever it stands.
OF_PAGES = frozenset((Tag.SQUARE, Tag.BAR, Tag.BAR_TICK))

# The point of the awl's tick: "at most 0.5 mm".
HOLE_POINT_DIAMETER = 0.4
TICK_LENGTH = 2.4
TENTH_TICK_LENGTH = 5.0

# Every so many ticks one is longer and numbered.
NUMBERED_EVERY = 10

# A break line goes this far beyond the outline, and its zigzag this far to either side.
BREAK_OVER = 2.0
BREAK_DEPTH = 2.5

TEST_SQUARE_SIDE = 50.0
REGISTRATION_RADIUS = 2.5
REGISTRATION_ARM = 4.0

# A registration mark must lie in both windows of a join, half on either side of its middle.
LEAST_OVERLAP = 2 * REGISTRATION_ARM
