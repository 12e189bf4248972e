"""Legend: what each line and mark on the sheets means, with the mark itself beside the words.

In: the pattern, its sheets, the typesetter. Out: blocks. The samples stand for no piece.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import Pattern
from handkit.draw.layout.flow import Block, beside, picture, side_by_side, stacked
from handkit.draw.layout.typesetter import TextCell, Typesetter
from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE
from handkit.draw.model.lettering import BODY, LEADING
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import (
    PathOps,
    arrow_ops,
    circle_ops,
    joined,
    line_ops,
    polyline_ops,
)
from handkit.draw.templates.extra_hole import saltire
from handkit.draw.templates.hole_ink import tick
from handkit.draw.templates.join_ink import registration
from handkit.draw.templates.opening_ink import centre_cross
from handkit.ink import (
    CAP,
    SLIT,
    STROKES,
    TENTH_TICK_LENGTH,
    TICK_LENGTH,
    Tag,
)
from handkit.kinds.materials import Family
from handkit.read.project import MarkKind, SlitHole
from handkit.sheets.laid import Sheets

# How long a sample is and how wide an entry with its words, mm.
SAMPLE = 15.0
COLUMN = 60.0

Sample = tuple[Ink | Words, ...]


def legend(pattern: Pattern, sheets: Sheets, setter: Typesetter) -> tuple[Block, ...]:
    """In as many columns as have room."""
    head = setter.heading("Reading the sheets")
    columns = max(1, int(setter.width // COLUMN))
    apart = setter.width / columns
    rows = [_entry(sample, text, setter.narrowed(apart - 3)) for sample, text in entries(pattern, sheets)]
    if columns == 1:
        return (*head, *rows)
    return (*head, side_by_side([stacked(part) for part in _balanced(rows, columns)], apart=apart))


def _balanced(entries: Sequence[Block], columns: int) -> list[list[Block]]:
    """Entries in order over columns of about one height."""
    share = sum(entry.height for entry in entries) / columns
    parts: list[list[Block]] = [[] for _ in range(columns)]
    depth = 0.0
    for entry in entries:
        parts[min(columns - 1, int((depth + entry.height / 2) / share))].append(entry)
        depth += entry.height
    return parts


def _entry(sample: Sample, text: str, setter: Typesetter) -> Block:
    """The sample before the first line of its words."""
    words = setter.row([TextCell(text, SAMPLE + 2, setter.width - SAMPLE - 2)], space=0.6)
    depth = BODY * LEADING
    return beside(words, picture(depth, *sample).shifted(0, -depth / 2), offset=0.0)


def _ink(tag: Tag, *paths: PathOps) -> Ink:
    """Paths as marks of a kind are drawn."""
    return Ink(joined(paths), STROKES[tag])


def _line(tag: Tag) -> Sample:
    return (_ink(tag, line_ops((0, 0), (SAMPLE, 0))),)


def _slit(x: float) -> Sample:
    across = Ink(line_ops((x - 0.8, -0.8), (x + 0.8, 0.8)), SLIT)
    return (_ink(Tag.HOLE, line_ops((x, -1.1), (x, 1.1))), across)


X = SAMPLE / 2
OPENING_DIAMETER = 3.0
REGISTRATION_SCALE = 0.6
TIPS = ((0.5, 0.0), (SAMPLE - 0.5, 0.0))
ZIGZAG = ((0, 0), (X - 1.5, 0), (X - 0.75, 1.5), (X + 0.75, -1.5), (X + 1.5, 0), (SAMPLE, 0))
TICKS = ((1.5, TICK_LENGTH), (5.0, TICK_LENGTH), (8.5, TICK_LENGTH), (12.0, TENTH_TICK_LENGTH))

# Samples that are more than a line, each as it is drawn on the sheets.
SAMPLES: dict[str, Sample] = {
    "notches": (
        _ink(
            Tag.NOTCH, *(polyline_ops(((x - 0.9, -1.2), (x, 1.6), (x + 0.9, -1.2))) for x in (X - 3, X + 3))
        ),
        _ink(Tag.OUTLINE, line_ops((0, -1.2), (SAMPLE, -1.2))),
    ),
    "tape": (
        *_line(Tag.STITCH),
        _ink(Tag.TAPE, polyline_ops(((X - 4, -1.6), (X + 4, -1.6), (X + 4, 1.6), (X - 4, 1.6)), closed=True)),
    ),
    "corner": (
        _ink(Tag.OUTLINE, polyline_ops(((SAMPLE, 1.9), (4.0, 1.9), (4.0, -1.9)))),
        Words("A", (5.5, -1.6), LEAST_SIZE, bold=True),
    ),
    "holes": (
        *_line(Tag.STITCH),
        *(part for x, length in TICKS for part in tick((x, 0), (0, length / 2 * 0.9))),
    ),
    "slits": (*_line(Tag.STITCH), *(part for x in (2.0, 5.5, 9.0, 12.5) for part in _slit(x))),
    "start": (
        Words("S3·1", (0, -CAPITAL * LEAST_SIZE / 2), LEAST_SIZE, bold=True),
        _ink(Tag.GRAIN, arrow_ops((10.0, 0), (SAMPLE, 0), head=1.4)),
    ),
    "opening": (
        _ink(Tag.OPENING, circle_ops((X, 0), OPENING_DIAMETER / 2)),
        centre_cross((X, 0), (1, 0), OPENING_DIAMETER),
    ),
    "cap": (Ink(circle_ops((X, 0), 2.2), CAP), _ink(Tag.OPENING, circle_ops((X, 0), 0.8))),
    "grain": (_ink(Tag.GRAIN, *(arrow_ops(*tips, head=2.5) for tips in (TIPS, TIPS[::-1]))),),
    "registration": registration((X, 0), (1, 0), scale=REGISTRATION_SCALE),
    "break": (_ink(Tag.BREAK, polyline_ops(ZIGZAG)),),
}


def _pierced(families: Sequence[Family]) -> str:
    """What the points of stitch holes are for."""
    if Family.CLOTH not in families:
        return "awl on the point"
    if Family.LEATHER not in families:
        return "mark the point, never punch it"
    return "awl on the point; in cloth only mark it"


def entries(pattern: Pattern, sheets: Sheets) -> tuple[tuple[Sample, str], ...]:
    """Only what the sheets of this project have on them."""
    pieces, openings = pattern.pieces, [entry.opening for entry in pattern.openings]
    seams = bool(pattern.seams)
    slits = any(isinstance(entry.stitching.hole, SlitHole) for entry in pattern.seams)
    twice = any(len({run.piece for run in seam.runs}) < len(seam.runs) for seam in pattern.seams)
    start = "seam 3, hole 1; arrow to hole 2"
    lines = "; S3a, S3b: twice on one piece" if twice else ""
    cap = any(opening.cap > opening.diameter for opening in openings)
    tops = any(pattern.tops_of(piece.name) for piece in pieces)
    works = [work for piece in pieces for work in piece.works if work.is_inside]
    grained = [piece.traits for piece in pieces if piece.traits.grained]
    warp = ": cloth's warp" if any(not traits.is_leather for traits in grained) else ""
    joins = bool(sheets.joins)
    marked = {mark.kind for piece in pieces for mark in piece.marks}
    settings = [entry.stitching for entry in pattern.seams]
    past = any(setting.past_start or setting.past_end for setting in settings)
    found: tuple[tuple[bool, Sample, str], ...] = (
        (True, _line(Tag.OUTLINE), "cut here"),
        (any(piece.trims for piece in pieces), _line(Tag.TRIM), "trim here after stitching"),
        (bool(works), _line(Tag.FINISHED), "finished edge, when it is turned or sewn"),
        (any(work.folds for work in works), _line(Tag.HEM), "turn over here, to the side named"),
        (any(piece.folds for piece in pieces), _line(Tag.FOLD), "fold here"),
        (any(piece.skives for piece in pieces), _line(Tag.SKIVE), "skive from here to the edge"),
        (tops, _line(Tag.ONTOP), "lies on it (named): don't cut"),
        (any(piece.items for piece in pieces), _line(Tag.ITEM), _lies_here(pattern)),
        (MarkKind.MEET in marked, _line(Tag.MEET), "across a seam: mates' middles meet here"),
        (MarkKind.NOTCH in marked, SAMPLES["notches"], "cut these notches out of the edge"),
        (MarkKind.TAPE in marked, SAMPLES["tape"], "tape here, on the same mark of its mate"),
        (True, SAMPLES["corner"], "corner; A-B is an edge"),
        (seams, SAMPLES["holes"], f"stitch holes, each tenth long: {_pierced(pattern.families)}"),
        (slits, SAMPLES["slits"], "slits, as the awl or iron makes them"),
        (seams, SAMPLES["start"], start + lines),
        (bool(openings), SAMPLES["opening"], "opening, true size; O2: see plan"),
        (cap, SAMPLES["cap"], "its cap: don't cut"),
        (past, saltire((X, 0)), "extra hole past a mouth, for a turn of the thread"),
        (bool(grained), SAMPLES["grain"], "must not stretch this way" + warp),
        (joins, _line(Tag.CUT), "trim one portion here, lay it on the other"),
        (joins, SAMPLES["registration"], "meets its like at the join"),
        (joins, _line(Tag.RULE), "lay a steel rule across the join"),
        (bool(sheets.breaks), SAMPLES["break"], "straight on, not drawn: measure between"),
    )
    return tuple((sample, text) for needed, sample, text in found if needed)


def _lies_here(pattern: Pattern) -> str:
    """What outlined things do on the templates: items are carried, fittings are put on."""
    carried, put_on = bool(pattern.item_fits), bool(pattern.fittings)
    does = " or ".join(word for word, there in (("carried", carried), ("put on", put_on)) if there)
    return f"(named) is {does} here: don't cut"
