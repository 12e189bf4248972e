"""Otherwise: what the first sheet tells of a kit that is drafted otherwise than its file has it.

In: what was punched. Out: blocks under the sheet's title; none where the kit is as its file has it.
"""

from __future__ import annotations

from handkit.draw.layout.flow import Block, gap
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.words.headed import MIRRORED, trial_words
from handkit.draw.words.listing import Column
from handkit.geometry.affine import Point
from handkit.punch.punched import Punched, Trial
from handkit.wording.figures import Units, counted

# What a maker has to know before he lays a mirrored template on leather.
_MIRRORED = (
    "All of this kit is the mirror image of what its file draws: pieces, holes, slits, openings, pictures. "
    "Words are not: corner letters, numbers and names are the file's; what it calls left lies on the right.",
    "The sewing is mirrored, too: the {leads} hand leads, and slits lean the other way. If your {other} "
    "hand leads all the same, begin each seam at its last hole. What was found is told of the file as drawn.",
)


# A trial is cut from what lies about, and taped: nothing of it is punched or sewn.
_TRIAL = (
    "Drafted for card or felt as thick as that, in place of each piece's own leather: cut it out, fold it, "
    "and put tape over each dashed box of a seam and over its like on the other piece. Punch and sew "
    "nothing, and cut no leather by these sheets: the kit's own differ.",
)
_ALIKE = "In size and in number of holes no piece differs from the kit's own."
_COLUMNS = (Column("what differs", 3), Column("in the kit", 2), Column("in this trial", 2))
MOST_ROWS = 12


def otherwise_blocks(punched: Punched, setter: Typesetter) -> tuple[Block, ...]:
    """All that is to be told."""
    mirrored = _mirrored(punched, setter) if punched.project.mirrored else ()
    return (*(_tried(punched, punched.trial, setter) if punched.trial else ()), *mirrored)


def _tried(punched: Punched, trial: Trial, setter: Typesetter) -> tuple[Block, ...]:
    """How a trial is made, and a table of what differs from the kit itself."""
    words = trial_words(punched.project)
    rows = _rows(trial, punched.project.units)
    more = len(rows) - MOST_ROWS
    texts = (
        *(() if rows else (_ALIKE,)),
        *((f"{counted(more, 'difference')} more: compare the sheets.",) if more > 0 else ()),
    )
    return (
        *setter.heading(words[0].upper() + words[1:]),
        *setter.texts(_TRIAL, space=0.8),
        *setter.table(_COLUMNS, rows[:MOST_ROWS], space=0.2),
        *setter.texts(texts, space=0.4),
        gap(1.5),
    )


def _rows(trial: Trial, units: Units) -> list[tuple[str, str, str]]:
    """Sizes of pieces, width by height, and holes of seams, as in leather and in the trial."""

    def size(of: Point) -> str:
        return f"{units.text(of[0])} x {units.text(of[1])}"

    pieces = [(each.piece, size(each.own), size(each.tried)) for each in trial.pieces]
    holes = [(f"seam {each.seam}", f"{each.own} holes", f"{each.tried} holes") for each in trial.seams]
    return [*pieces, *holes]


def _mirrored(punched: Punched, setter: Typesetter) -> tuple[Block, ...]:
    seams = punched.seams
    left = not seams or seams[0].pattern.stitching.left_handed
    leads, other = ("left", "right") if left else ("right", "left")
    texts = [text.format(leads=leads, other=other) for text in _MIRRORED]
    head = MIRRORED[0].upper() + MIRRORED[1:]
    return (*setter.heading(head), *setter.texts(texts, space=0.4), gap(1.5))
