"""Dimension lines: a length with the two places between which it is measured (ISO 129: thin, with arrows,
the figure over the line).

In: what is measured, where the line stands, the figure. Out: a mark.
"""

from __future__ import annotations

from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.lettering import capital_height, centred
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.path_ops import PathOps, arrow_ops, joined, line_ops
from handkit.geometry.affine import Point
from handkit.geometry.straight import Straight, distance, unit
from handkit.ink import STROKES, Tag

# What extension lines reach past a dimension line, and how long its arrowheads are.
PAST, HEAD_LENGTH = 1.2, 2.2


def dimension(  # noqa: PLR0913 - each a thing of its own
    of: Straight, line: Straight, length: float, text: str, fonts: Fonts, *, size: float = LEAST_SIZE
) -> Mark:
    """A dimension line, level or upright, extension lines to it from the ends `of` what is measured, the
    figure over it. `length` is the true one, in mm."""
    (start, end), (a, b) = line, of
    upright = start[0] == end[0]
    mid = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    off = capital_height(size) / 2 + 0.8
    wide, long = fonts.width(text, size), distance(start, end)
    if upright and long > wide:
        words = Words(text, (mid[0] - 0.8, mid[1] - wide / 2), size, degrees=90.0)
    elif upright:
        words = Words(text, (mid[0] - wide - 1.2, mid[1] - off + 0.8), size)
    elif long > wide:
        words = centred(text, (mid[0], mid[1] + off), fonts, size=size)
    else:
        words = centred(text, (mid[0], mid[1] - off), fonts, size=size)
    extensions = (_extension(a, start), _extension(b, end))
    arrows = (arrow_ops(mid, start, head=HEAD_LENGTH), arrow_ops(mid, end, head=HEAD_LENGTH))
    ink = Ink(joined((*extensions, *arrows)), STROKES[Tag.MEASURE])
    return Mark(Tag.MEASURE, (("Length", length),), (ink, words))


def _extension(of: Point, to: Point) -> PathOps:
    """From a little off what is measured to a little past the dimension line."""
    ux, uy = unit(of, to)
    return line_ops((of[0] + ux, of[1] + uy), (to[0] + ux * PAST, to[1] + uy * PAST))
