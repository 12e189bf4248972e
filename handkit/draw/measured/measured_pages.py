"""Measured pages: a page for each piece that is marked out by its measures in place of a template.

In: the kit's plan, the sheets, the page's frame, the typesetter. Out: for each such piece its name and the
groups of its page: a picture at a scale that is told, and all figures in the largest letters with which one
page holds them.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draw.article.setting import SCALES, scale_words
from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.page_frame import Frame
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.measured.figure_table import led_blocks, table_blocks
from handkit.draw.measured.picture import picture_block
from handkit.draw.measured.scaled import ScaledPiece
from handkit.draw.measured.tables import lone_tables, row_tables
from handkit.draw.measured.words import MeasuredKit, count_text, head_texts, hole_texts, how_texts
from handkit.draw.model.lettering import BENCH, BODY, HEAD
from handkit.draw.model.marks import Group
from handkit.draw.templates.extra_hole import extra_holes
from handkit.draw.words.names import KitPlan
from handkit.sheets.laid import MeasuredPiece, Sheets

# Units as a sentence has them.
UNIT_WORDS = {"mm": "mm", "in": "inches"}

# Sizes of the figures, and how much of the width that is to be had a picture takes at least, with each.
SIZES = ((6.0, 0.8), (BENCH, 0.8), (BENCH, 0.5), (HEAD, 0.5), (4.0, 0.4), (BODY, 0.3), (BODY, 0.0))


def measured_pages(
    kit: KitPlan, sheets: Sheets, frame: Frame, setter: Typesetter
) -> Iterator[tuple[str, tuple[tuple[Group, ...], ...]]]:
    """Each piece's name, and its page; more of them where the paper is too small for one."""
    for measured in sheets.measured:
        yield measured.piece, frame.poured(_blocks(_told(kit, measured), setter))


def _told(kit: KitPlan, measured: MeasuredPiece) -> MeasuredKit:
    extras = tuple(hole for hole in extra_holes(kit.plan, kit.codes) if hole.piece == measured.piece)
    pattern = kit.punched.pattern
    return MeasuredKit(kit, pattern.piece(measured.piece), measured, pattern.project.source.units, extras)


def _blocks(told: MeasuredKit, setter: Typesetter) -> tuple[Block, ...]:
    """The page in the largest letters that leave the picture its room."""
    widest = _largest(told, setter.width, setter.height / 2)
    for size, share in SIZES:
        figures = _figures(told, setter, size)
        head = _head(told, setter, size, "1 : 88")
        left = setter.height - sum(block.height for block in (*head, *figures))
        picture = _largest(told, setter.width, left)
        if picture is not None and widest is not None and picture.scale >= share * widest.scale:
            break
    else:
        picture = widest
    if picture is None:
        return (*_head(told, setter, size, ""), *figures)
    return (
        *_head(told, setter, size, scale_words(picture.scale)),
        picture_block(picture, setter),
        *figures,
    )


def _largest(told: MeasuredKit, width: float, height: float) -> ScaledPiece | None:
    """The picture at the largest scale that has room; never at full scale, which would be taken for a
    template."""
    for scale in SCALES:
        picture = ScaledPiece(told, scale, width)
        if scale != 1.0 and picture.fits and picture.height <= height:
            return picture
    return None


def _head(told: MeasuredKit, setter: Typesetter, size: float, scale: str) -> tuple[Block, ...]:
    """Name, the warning, what is cut, how it is marked."""
    drawn = f", drawn {scale}" if scale else ""
    warning = f"NOT FULL SCALE{drawn}: the figures count, in {UNIT_WORDS[told.measure.unit]}."
    return (
        *setter.title(f"{told.piece.name}, by its measures"),
        *setter.text(warning, size=BENCH, bold=True, space=1.0),
        *(block for text in head_texts(told) for block in setter.text(text, size=min(size, HEAD))),
        *setter.text(" ".join(how_texts(told)), space=1.0),
    )


def _figures(told: MeasuredKit, setter: Typesetter, size: float) -> tuple[Block, ...]:
    """All tables, how holes are made, how many there are."""
    rows, *alike = row_tables(told)
    texts = [text for text in (*hole_texts(told), count_text(told)) if text]
    return (
        *table_blocks(lone_tables(told), setter, size),
        *led_blocks(rows, alike, setter, size),
        *setter.texts(texts, size=min(size, HEAD), space=0.3),
        gap(0.5),
    )
