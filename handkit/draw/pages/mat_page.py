"""Mat page: the sheet that things are laid on for a photo, and the page that tells how.

In: the paper, the fonts, the printer that the mat is corrected for. Out: the file's bytes: what to do, with
pictures, then the mat by itself, whose field stays bare.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.page_frame import Frame, corrected_words
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.listed.listing import plain_manifest
from handkit.draw.model import tags
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.lettering import centred
from handkit.draw.model.marks import Group, Ink, Mark, Page, Words
from handkit.draw.model.path_ops import box_ops, joined, line_ops, polyline_ops
from handkit.draw.pages.mat_pictures import photo_taken
from handkit.draw.pages.print_check import square_block
from handkit.draw.pdf.pdf_file import pdf_bytes
from handkit.geometry.straight import unit
from handkit.ink import STROKES, TEST_SQUARE_SIDE, Tag
from handkit.manifest.listed import UNTOLD, Origin
from handkit.paper import Paper
from handkit.photo.mat import HOLE, MARK, MARK_INSET, TICK, Bar, Mat, MatMark, mat_of
from handkit.printers.correction import Correction
from handkit.printers.page import INSET
from handkit.wording.figures import INCHES, METRIC

TITLE = "A mat to photograph things on"

# How high the lens is over the mat, as a multiple of its longer side; in cm at the most, as arms are.
LENS, MOST_HIGH = 2.0, 90


def mat_pdf(
    paper: Paper, fonts: Fonts, correction: Correction | None = None, *, origin: Origin = UNTOLD
) -> bytes:
    """The file of the mat for this paper, as it is or corrected. Raises PaperError where there is none."""
    mat = mat_of(paper.width, paper.height)
    frame = Frame(paper, 0.0, INSET)
    setter = Typesetter(fonts, frame.width, frame.height)
    told = frame.poured(tuple(_told(mat, paper, setter, correction)))
    labels = ["What to do", *(f"What to do {k}" for k in range(2, len(told) + 1)), "Mat"]
    bodies = (*told, (_mat(mat, paper, fonts),))
    pages = [Page(label, ((0, label),), body) for label, body in zip(labels, bodies, strict=True)]
    manifest = plain_manifest(pages, TITLE, paper, origin, correction)
    return pdf_bytes(pages, paper=paper, title=TITLE, fonts=fonts, manifest=manifest)


def _mat(mat: Mat, paper: Paper, fonts: Fonts) -> Group:
    """All that stands on the mat: marks, bars, and a line of words."""
    squares = Mark(Tag.PAGE, (), tuple(map(_square, mat.marks)))
    words = Mark(Tag.LABEL, (), (_words(mat, paper, fonts),))
    return Group((squares, *_bar(mat.across), *_bar(mat.up), words))


def _square(mark: MatMark) -> Ink:
    """Filled; the hole of a hollow one goes round the other way, and so stays white."""
    (x, y), half, hole = mark.centre, mark.size / 2, HOLE / 2
    square = box_ops(x - half, y - half, x + half, y + half)
    corners = ((x - hole, y - hole), (x - hole, y + hole), (x + hole, y + hole), (x + hole, y - hole))
    return Ink(joined((square, polyline_ops(corners, closed=True))) if mark.hollow else square)


def _bar(bar: Bar) -> tuple[Mark, Mark]:
    ux, uy = unit(bar.start, bar.end)
    ticks = joined(
        line_ops((x - uy * TICK, y + ux * TICK), (x + uy * TICK, y - ux * TICK))
        for x, y in (bar.start, bar.end)
    )
    return (
        Mark(Tag.BAR, tags.bar(bar.length), (Ink(line_ops(bar.start, bar.end), STROKES[Tag.BAR]),)),
        Mark(Tag.BAR_TICK, (), (Ink(ticks, STROKES[Tag.BAR_TICK]),)),
    )


def _words(mat: Mat, paper: Paper, fonts: Fonts) -> Words:
    """Which mat it is and what its bars should measure, over the field, midway to the marks."""
    across, up = METRIC.text(mat.across.length), METRIC.text(mat.up.length)
    bars = f"bars: {across} across, {up} up"
    texts = (f"handkit mat {_name(paper)} · {bars} · print at 100 %, measure both bars", bars)
    fitting = (text for text in texts if fonts.width(text, LEAST_SIZE) <= mat.field.width)
    middle = mat.height - (MARK_INSET + MARK / 2 + mat.height - mat.field.top) / 2
    return centred(next(fitting, ""), (mat.width / 2, middle), fonts)


def _name(paper: Paper) -> str:
    """ "" of a size that is written out, which has no room."""
    return "" if "x" in paper.name else paper.name


def _told(mat: Mat, paper: Paper, setter: Typesetter, correction: Correction | None) -> Iterator[Block]:
    """What to do, step by step."""
    side, high = TEST_SQUARE_SIDE, min(MOST_HIGH, ceil(LENS * max(mat.width, mat.height) / 100) * 10)
    size = f"{METRIC.rough.across(paper.width, paper.height)} mm"
    yield from setter.title(TITLE)
    yield from setter.texts(corrected_words(correction) for _ in (1,) if correction)
    yield from setter.texts(_before(paper, size), space=1.4)
    yield from setter.texts(_bars(mat), space=1.4)
    yield from setter.texts(_photo(paper, high), space=1.4)
    yield gap(1)
    yield photo_taken(setter.fonts, setter.width, mat, f"about {high} cm")
    yield gap(3)
    yield square_block(0.3, side, METRIC.text(side), setter.fonts)
    true = f"The square measures {METRIC.text(side)} both ways where a page is printed as large as drawn."
    yield from setter.text(true, space=1.0)


def _before(paper: Paper, size: str) -> tuple[str, ...]:
    return (
        "1. Print the last page of this file, the mat, on coloured paper: a full blue or green that none of "
        "the things has. On white paper light things and shadows can't be told from it, and no outline comes "
        f"out right. Print at 100 % on {_name(paper) or 'paper'} ({size}), on one side, with all that fits, "
        "shrinks, enlarges or lays out a page switched off. This page here is for reading.",
        "2. With a steel rule measure both bars of the mat, from the middle of a tick to the middle of a "
        "tick, to a quarter of a mm or 1/64 in. What they measure counts, not what they should:",
    )


def _bars(mat: Mat) -> Iterator[str]:
    for what, bar in (("across", mat.across), ("up", mat.up)):
        told = f"{METRIC.marked.text(bar.length)} ({INCHES.marked.text(bar.length)})"
        yield f"{what}: should be {told}, measures ________"


def _photo(paper: Paper, high: int) -> tuple[str, ...]:
    return (
        "3. Lay the mat on a table that is level, flat all over; hold its rim down with tape, clear of the "
        "squares.",
        "4. Lay the things inside the bars, 1 cm or more from them and from one another: what touches is one "
        "thing to a photo. Tall things in the middle. Nothing over a square or a bar, no hand, no cable. "
        "Blades shut or sheathed where they can be, else laid down last, with their edges away from you.",
        "5. Soft light from all sides: by a window without sun, or under a cloudy sky. No flash, no single "
        "lamp: hard shadows and shine hide edges.",
        f"6. Hold the phone level, over the middle of the mat, about {high} cm above it. All squares are in "
        "the picture and it is sharp. No filter, no portrait, no scanning of documents: the plain photo, as "
        "the phone takes it. Cut nothing off it, for its middle tells where the lens was.",
        "7. Count the things, and measure how thick each is as it lies there. Then, with your figures in "
        "place of the words:",
        f"handkit trace PHOTO --mat {paper.name} --bars ACROSS,UP --count N",
        "8. Print what handkit draws and lay the things on their outlines before any leather is cut. How "
        "near outlines come was tested on simulated photos, not on real ones.",
    )
