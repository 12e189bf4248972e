"""Legend: what each line and mark on the sheets means, with the mark itself beside the words.

In: the pattern, its sheets, the fonts, a width. Out: blocks. The samples stand
for no piece.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from handkit.draft.pattern import MarkKind, Pattern
from handkit.draw.layout.flow import Block, TextCell, beside, paragraph, row, stacked
from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.lettering import BODY, HEAD, LEADING
from handkit.draw.model.marks import Group, Ink, Mark, Words, shifted
from handkit.draw.model.path_ops import arrow_ops, circle_ops, dot_ops, joined, line_ops, polyline_ops
from handkit.draw.templates.extra_hole import saltire
from handkit.draw.templates.hole_ink import SLIT
from handkit.draw.templates.opening_ink import CAP
from handkit.ink import (
    HOLE_POINT_DIAMETER,
    REGISTRATION_ARM,
    REGISTRATION_RADIUS,
    STROKES,
    TENTH_TICK_LENGTH,
    TICK_LENGTH,
    Tag,
)
from handkit.read.project import SlitHole
from handkit.sheets.laid import Sheets

SAMPLE = 17.0
COLUMN = 60.0

Sample = Callable[[], tuple[Ink | Words, ...]]


def legend(pattern: Pattern, sheets: Sheets, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """In as many columns as have room."""
    rows = [_entry(sample, text, fonts, _column(width)) for sample, text in entries(pattern, sheets)]
    columns = max(1, int(width // COLUMN))
    if columns == 1:
        return (*_head(fonts, width), *rows)
    parts = [stacked(part) for part in _balanced(rows, columns)]
    block = parts[0]
    for index, part in enumerate(parts[1:], start=1):
        block = beside(block, part, offset=index * width / columns)
    return (*_head(fonts, width), block)


def _head(fonts: Fonts, width: float) -> tuple[Block, ...]:
    return paragraph("Reading the sheets", width, fonts, size=HEAD, bold=True, kept=True, space=0.5)


def _balanced(entries: Sequence[Block], columns: int) -> list[list[Block]]:
    """Entries in order over columns of about one height."""
    share = sum(entry.height for entry in entries) / columns
    parts: list[list[Block]] = [[] for _ in range(columns)]
    depth = 0.0
    for entry in entries:
        parts[min(columns - 1, int((depth + entry.height / 2) / share))].append(entry)
        depth += entry.height
    return parts


def _column(width: float) -> float:
    return width / max(1, int(width // COLUMN)) - 3


def _entry(sample: Sample, text: str, fonts: Fonts, width: float) -> Block:
    """The sample before the first line of its words."""
    words = row([TextCell(text, SAMPLE + 2, width - SAMPLE - 2)], fonts, size=BODY, space=0.6)
    middle = BODY * LEADING / 2
    picture = Group((Mark(Tag.PAGE, (), sample()),))
    return beside(words, Block(middle * 2, (shifted(picture, 0, -middle),)), offset=0.0)


def _line(tag: Tag) -> Sample:
    return lambda: (Ink(line_ops((0, 0), (SAMPLE, 0)), STROKES[tag]),)


def _holes() -> tuple[Ink | Words, ...]:
    parts: list[Ink | Words] = [Ink(line_ops((0, 0), (SAMPLE, 0)), STROKES[Tag.STITCH])]
    for k in range(4):
        reach = (TENTH_TICK_LENGTH if k == 3 else TICK_LENGTH) / 2 * 0.9
        x = 1.5 + 4.0 * k
        parts.append(Ink(line_ops((x, -reach), (x, reach)), STROKES[Tag.HOLE]))
        parts.append(Ink(dot_ops((x, 0), HOLE_POINT_DIAMETER)))
    return tuple(parts)


def _start() -> tuple[Ink | Words, ...]:
    words = Words("S3·1", (0, -CAPITAL * LEAST_SIZE / 2), LEAST_SIZE, bold=True)
    return (words, Ink(arrow_ops((10.5, 0), (SAMPLE, 0), head=1.4), STROKES[Tag.GRAIN]))


def _opening() -> tuple[Ink | Words, ...]:
    x, r = SAMPLE / 2, 1.5
    cross = joined((line_ops((x - 2.4, 0), (x + 2.4, 0)), line_ops((x, -2.4), (x, 2.4))))
    return (Ink(circle_ops((x, 0), r), STROKES[Tag.OPENING]), Ink(cross, STROKES[Tag.HOLE]))


def _cap() -> tuple[Ink | Words, ...]:
    x = SAMPLE / 2
    return (Ink(circle_ops((x, 0), 2.2), CAP), Ink(circle_ops((x, 0), 0.8), STROKES[Tag.OPENING]))


def _extra() -> tuple[Ink | Words, ...]:
    return saltire((SAMPLE / 2, 0))


def _slit() -> tuple[Ink | Words, ...]:
    parts: list[Ink | Words] = [Ink(line_ops((0, 0), (SAMPLE, 0)), STROKES[Tag.STITCH])]
    for x in (2.5, 6.5, 10.5, 14.5):
        parts.append(Ink(line_ops((x, -1.1), (x, 1.1)), STROKES[Tag.HOLE]))
        parts.append(Ink(line_ops((x - 0.8, -0.8), (x + 0.8, 0.8)), SLIT))
    return tuple(parts)


def _corner() -> tuple[Ink | Words, ...]:
    edge = polyline_ops(((SAMPLE, 1.9), (4.0, 1.9), (4.0, -1.9)))
    return (Ink(edge, STROKES[Tag.OUTLINE]), Words("A", (5.5, -1.6), LEAST_SIZE, bold=True))


def _break() -> tuple[Ink | Words, ...]:
    x = SAMPLE / 2
    zigzag = ((0, 0), (x - 1.5, 0), (x - 0.75, 1.5), (x + 0.75, -1.5), (x + 1.5, 0), (SAMPLE, 0))
    return (Ink(polyline_ops(zigzag), STROKES[Tag.BREAK]),)


def _registration() -> tuple[Ink | Words, ...]:
    x, arm = SAMPLE / 2, REGISTRATION_ARM * 0.7
    cross = joined((line_ops((x - arm, 0), (x + arm, 0)), line_ops((x, -arm), (x, arm))))
    ring = circle_ops((x, 0), REGISTRATION_RADIUS * 0.7)
    return (Ink(joined((ring, cross)), STROKES[Tag.MARK]),)


def _grain() -> tuple[Ink | Words, ...]:
    tips = ((0.5, 0.0), (SAMPLE - 0.5, 0.0))
    both = joined((arrow_ops(*tips, head=2.5), arrow_ops(tips[1], tips[0], head=2.5)))
    return (Ink(both, STROKES[Tag.GRAIN]),)


def _notch() -> tuple[Ink, ...]:
    """Two notches in an edge."""
    places = (SAMPLE / 2 - 3, SAMPLE / 2 + 3)
    cuts = joined(polyline_ops([(x - 0.9, -1.2), (x, 1.6), (x + 0.9, -1.2)], closed=False) for x in places)
    edge = line_ops((0, -1.2), (SAMPLE, -1.2))
    return (Ink(cuts, STROKES[Tag.NOTCH]), Ink(edge, STROKES[Tag.OUTLINE]))


def entries(pattern: Pattern, sheets: Sheets) -> tuple[tuple[Sample, str], ...]:
    """Only what the sheets of this project have on them."""
    pieces, openings = pattern.pieces, [entry.opening for entry in pattern.openings]
    seams = bool(pattern.seams)
    slits = any(isinstance(entry.stitching.hole, SlitHole) for entry in pattern.seams)
    twice = any(len({run.piece for run in seam.runs}) < len(seam.runs) for seam in pattern.seams)
    start = "seam 3 of the plan, hole 1; the arrow points to hole 2"
    lines = "; S3a, S3b: both its lines on one piece" if twice else ""
    cap = any(opening.cap > opening.diameter for opening in openings)
    tops = any(pattern.tops_of(piece.name) for piece in pieces)
    joins = bool(sheets.joins)
    marked = {mark.kind for piece in pieces for mark in piece.marks}
    settings = [entry.stitching for entry in pattern.seams]
    past = any(setting.past_start or setting.past_end for setting in settings)
    found: tuple[tuple[bool, Sample, str], ...] = (
        (True, _line(Tag.OUTLINE), "cut here"),
        (any(piece.trims for piece in pieces), _line(Tag.TRIM), "trim here after stitching"),
        (any(piece.folds for piece in pieces), _line(Tag.FOLD), "fold here"),
        (any(piece.skives for piece in pieces), _line(Tag.SKIVE), "skive from here to the edge"),
        (tops, _line(Tag.ONTOP), "(named) lies on it: don't cut"),
        (any(piece.items for piece in pieces), _line(Tag.ITEM), "(named) is carried here: don't cut"),
        (MarkKind.MEET in marked, _line(Tag.MEET), "across a seam: mates' middles meet here"),
        (MarkKind.NOTCH in marked, _notch, "cut these notches out of the edge"),
        (True, _corner, "corner: A-B is the edge from A to B"),
        (seams, _holes, "stitch holes: awl on the point; long ticks at every ten"),
        (slits, _slit, "slits, as the awl or iron makes them"),
        (seams, _start, start + lines),
        (bool(openings), _opening, "opening at true size; O2 is in the plan"),
        (cap, _cap, "its cap: don't cut"),
        (past, _extra, "extra hole past a mouth, for a turn of the thread"),
        (True, _grain, "the way that must not stretch"),
        (joins, _line(Tag.CUT), "trim one part here, lay it on the other"),
        (joins, _registration, "these meet on both parts of a join"),
        (joins, _line(Tag.RULE), "one line through both: lay a steel rule on it"),
        (bool(sheets.breaks), _break, "straight on, not drawn: measure between"),
    )
    return tuple((sample, text) for needed, sample, text in found if needed)
