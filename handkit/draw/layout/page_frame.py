"""Page frame: what stands on every page outside the drawing: the head line, the scale bars, and of pages that
are corrected the one printer that they are true on.

In: the paper with its edge and margin, mm; what the printer does. Out: marks.

    edge ──┐  title                    sheet 2 of 9 · page 3 of 14     top band, edge to margin
           │ ┌────────────────────────────────────────────┐
      280 ─┤ │ drawing                                    │ corrected for …   right band
           │ │                                            │
        0 ─┴ └────────────────────────────────────────────┘
              0 ├────┼────┼────┼────┤ 190 mm                           bottom band

The bars lie in the bands between edge and margin, their lines a little outside the margin, as long
as fits in tens of mm, or whole inches. Letters that can be read take 2.5 mm of a band; where it is
narrower, the figures are left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

import msgspec

from handkit.draw.layout.flow import Block, poured
from handkit.draw.model import tags
from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.lettering import right_aligned, shortened
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import joined, line_ops
from handkit.ink import STROKES, Tag
from handkit.paper import Paper
from handkit.printers.correction import Correction
from handkit.units import MM_PER_INCH
from handkit.wording.figures import METRIC, Units

# Of the room that the figures of a bar leave in its band: shares for the gap between margin and
# bar, and for its long and short ticks.
GAP_SHARE = 0.4
LONG_SHARE = 0.54
TICK_SHARE = 0.33

# Height of a bar's figures and the room below them.
FIGURES = CAPITAL * LEAST_SIZE + 0.1


class Ticks(msgspec.Struct, frozen=True):
    """Of a bar: from tick to tick, from long tick to long tick, what its length is a multiple of; mm."""

    step: float
    long: float
    whole: float


# By the unit that lengths are told in.
TICKS = {"mm": Ticks(10.0, 50.0, 10.0), "in": Ticks(MM_PER_INCH / 4, MM_PER_INCH, MM_PER_INCH)}


class Frame(msgspec.Struct, frozen=True):
    """A page's paper and bands; `band` is the room between edge and margin. The bars are in these units."""

    paper: Paper
    edge: float
    margin: float
    units: Units = METRIC

    @property
    def band(self) -> float:
        """Room for the head line and the bars."""
        return self.margin - self.edge

    @property
    def spare(self) -> float:
        """What a bar's figures leave of a band; all of one that is too narrow for them."""
        return self.band - FIGURES if self.figured else self.band

    @property
    def figured(self) -> bool:
        """Whether the band has room for figures and for the bar."""
        return self.band >= FIGURES + 1.0

    @property
    def width(self) -> float:
        """Of the drawing's room."""
        return self.paper.width - 2 * self.margin

    @property
    def height(self) -> float:
        """Of the drawing's room."""
        return self.paper.height - 2 * self.margin

    @property
    def bar_across(self) -> float:
        """Length of the longest bar that fits across."""
        return self._longest(self.paper.width - self.margin - self.edge)

    @property
    def bar_down(self) -> float:
        """Length of the longest bar that fits down."""
        return self._longest(self.paper.height - self.margin - self.edge)

    @property
    def ticks(self) -> Ticks:
        """Of its bars."""
        return TICKS[self.units.unit]

    def _longest(self, room: float) -> float:
        whole = self.ticks.whole
        return max(1, floor(room / whole + 1e-9)) * whole

    def poured(self, blocks: Sequence[Block]) -> tuple[tuple[Group, ...], ...]:
        """Blocks over as many pages as they take."""
        top = self.paper.height - self.margin
        return poured(blocks, left=self.margin, top=top, height=self.height)


def head_line(
    frame: Frame, fonts: Fonts, *, title: str, place: str, correction: Correction | None = None
) -> Mark:
    """The title on the left and the page's place in the kit on the right, in the top band; the printer that
    the page is corrected for before the title, and all about it in the right band."""
    title = f"for the printer {correction.name} alone · {title}" if correction else title
    size = min(LEAST_SIZE, max(frame.band, 1.5))
    base = frame.paper.height - frame.edge - CAPITAL * size - 0.2
    right = right_aligned(place, (frame.paper.width - frame.margin, base), fonts, size=size, bold=True)
    room = right.at[0] - frame.margin - 6
    short = shortened(title, room, fonts, size=size)
    left = (Words(short, (frame.margin, base), size),) if short else ()
    return Mark(Tag.PAGE, (), (*left, right, *_corrected(frame, fonts, correction, size)))


def corrected_words(correction: Correction) -> str:
    """What a page says that is corrected."""
    return (
        f"Corrected for the printer {correction.name}: {correction.factors}; on another printer it is wrong."
    )


def _corrected(frame: Frame, fonts: Fonts, correction: Correction | None, size: float) -> tuple[Words, ...]:
    """The same up the right band, as much of it as has room."""
    if correction is None:
        return ()
    text = shortened(corrected_words(correction), frame.height, fonts, size=size)
    return (Words(text, (frame.paper.width - frame.edge - 0.3 * size, frame.margin), size, degrees=90.0),)


def scale_bars(frame: Frame, fonts: Fonts) -> tuple[Mark, ...]:
    """Both bars, each with its ticks and figures."""
    return (*_bar(frame, fonts, frame.bar_across, down=False), *_bar(frame, fonts, frame.bar_down, down=True))


def _bar(frame: Frame, fonts: Fonts, length: float, *, down: bool) -> tuple[Mark, ...]:
    """A bar from the margin on; `down` turns it a quarter, the figures read from the left."""
    line = frame.margin - GAP_SHARE * frame.spare
    long, short = LONG_SHARE * frame.spare, TICK_SHARE * frame.spare

    def at(along: float, off: float) -> tuple[float, float]:
        return (line - off, frame.margin + along) if down else (frame.margin + along, line - off)

    step, every = frame.ticks.step, round(frame.ticks.long / frame.ticks.step)
    ticks = joined(
        line_ops(at(k * step, 0), at(k * step, short if k % every else long))
        for k in range(round(length / step) + 1)
    )
    ink = Ink(line_ops(at(0, 0), at(length, 0)), STROKES[Tag.BAR])
    figures = _figures(frame, fonts, length, down=down)
    return (
        Mark(Tag.BAR, tags.bar(length), (ink,)),
        Mark(Tag.BAR_TICK, (), (Ink(ticks, STROKES[Tag.BAR_TICK]), *figures)),
    )


def _figures(frame: Frame, fonts: Fonts, length: float, *, down: bool) -> tuple[Words, ...]:
    """Figures at every long tick and at the end, between the ticks and the sheet's edge."""
    size = LEAST_SIZE
    if not frame.figured:
        return ()
    long, units = frame.ticks.long, frame.units
    stops = [k * long for k in range(round(length / long) + 1) if k * long < length - 15]
    named = [*((k, units.number(k)) for k in stops), (length, units.text(length))]
    words = []
    for k, text in named:
        width = fonts.width(text, size)
        along = 0.0 if k == 0 else k - width / 2 if k < length else k - width
        if down:
            x, y = frame.edge + FIGURES, frame.margin + along
            words.append(Words(text, (x, y), size, degrees=90))
        else:
            words.append(Words(text, (frame.margin + along, frame.edge + 0.1), size))
    return tuple(words)
